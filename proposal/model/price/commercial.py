"""Commercial rules: how costs become prices, taxes and payments.

What a client may not see (margins, markups, contingency) is never listed as an assumption, since assumptions
are printed for every reader; what is agreed with the client is.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from proposal.model.base import Written, asked, assumed, unwritten
from proposal.model.equipment.entry import ModelCode
from proposal.model.labour.labour import SITE_PHASES, Phase
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.price.contract_terms import TaxExemption
from proposal.model.price.selling import ChangePrices, ClientDetail
from proposal.model.programme import PaymentEvent, Programme
from proposal.quantities.general_conditions import COUNTED_IN_TIME, GeneralCondition, TimeCount
from proposal.quantities.messages import refusal, shown
from proposal.quantities.money import WholeAmount
from proposal.quantities.parsing import Fraction
from proposal.quantities.percentages import A_HAIR
from proposal.quantities.rounding import rounded

TaxKind = Literal["goods", "services", "exempt"]
TaxedAs = Literal["goods", "services", "goods and services", "exempt"]
Group = Literal["equipment", "materials", "labour", "travel"]
CountedBy = Literal["room", "storey", "delivery", "room at height", "trade on site"] | TimeCount


class PriceRule(Written):
    """How a cost becomes a price: by exactly one of its fields."""

    margin: Annotated[Fraction, Field(ge=0, lt=1)] | None = Field(
        default=None, description="Share of the price that is not cost: price = cost / (1 − margin)."
    )
    markup: Annotated[Fraction, Field(ge=0, le=10)] | None = Field(
        default=None, description="Share added to the cost: price = cost · (1 + markup)."
    )
    discount: Annotated[Fraction, Field(ge=0, le=1)] | None = Field(
        default=None, description="Share taken off the list price: price = list · (1 − discount)."
    )

    @model_validator(mode="after")
    def _is_one_rule(self) -> "PriceRule":
        """Refuse a margin and a markup side by side, which nobody could tell apart in the price."""
        given = [name for name in type(self).model_fields if getattr(self, name) is not None]
        if len(given) != 1:
            raise refusal(
                "one of margin, markup, discount, such as `margin: 25 %`", " and ".join(given) or "none"
            )
        return self


class PriceRules(Written):
    """Which rule prices what: that of the model code, else of the kind, else of the group, else the rest."""

    models: Mapping[ModelCode, PriceRule] = Field(default={}, description="Rules by model code.")
    kinds: Mapping[str, PriceRule] = Field(
        default={}, description="Rules by kind of entry, such as access_point."
    )
    groups: Mapping[Group, PriceRule] = Field(
        default={}, description="Rules for equipment, materials, labour and travel."
    )
    rest: PriceRule = Field(
        default=PriceRule.model_construct(margin=0.25),
        description="Rule for all that has no other; a margin of 25 %.",
    )

    def rule(self, model: str, kind: str, group: Group) -> PriceRule:
        """Return the rule for something by its model code, kind and group; empty texts have no rule."""
        return self.models.get(model) or self.kinds.get(kind) or self.groups.get(group) or self.rest


class SumStep(Written):
    """One step of a sliding scale: the share of what the sum is above an amount."""

    above: WholeAmount = Field(description="Amount from which the share holds, in any currency with a rate.")
    share: Annotated[Fraction, Field(ge=0, lt=1)] = Field(
        description="Share of the part of the sum above it, up to the next step."
    )


class Surcharge(Written):
    """Something added on top: freight, insurance, permits, bond, contingency."""

    name: str = Field(min_length=1, description="What it is called in the proposal.")
    share: Annotated[Fraction, Field(ge=0, le=1)] | None = Field(
        default=None, description="Share of the cost of the groups it is computed on."
    )
    amount: WholeAmount | None = Field(default=None, description="Cost of it, instead of a share.")
    each: WholeAmount | None = Field(
        default=None, description="Cost of it for one of what it is counted by, instead of a share."
    )
    by: CountedBy = Field(
        default="room",
        description="What `each` is counted by: rooms, storeys, deliveries (one of each supplier), rooms "
        "with work high up (lifts), trades that come to site (mobilisation); by the programme, days on which "
        "somebody works on site (supervision), weeks from the first to the last of them (storage), phases of "
        "the work on site (mobilisation of each).",
    )
    phases: tuple[Phase, ...] = Field(
        default=(),
        description="Phases whose days, weeks or number on site count; all of them where left out.",
    )
    covers: tuple[GeneralCondition, ...] = Field(
        default=(),
        description="General conditions that it covers; the recap names those that nothing covers.",
    )
    share_of_sum: Annotated[Fraction, Field(ge=0, lt=1)] | None = Field(
        default=None,
        description="Share of the whole sum before tax, itself included, such as a bond: rest × b / (1 − b). "
        "Of several, each is taken of all before it.",
    )
    steps: Mapping[str, SumStep] = Field(
        default={},
        description="Sliding scale, each step under a name of your own; below the first, `share_of_sum`.",
    )
    of: tuple[Group, ...] = Field(
        default=("equipment", "materials", "labour", "travel"), description="Groups it is computed on."
    )
    rule: PriceRule | None = Field(
        default=None, description="How its cost becomes a price; at cost where left out."
    )
    tax_kind: TaxKind = Field(default="services", description="How it is taxed.")
    spread: bool = Field(
        default=False,
        description="Whether it is spread over lump lines, those it is computed on if there are any, and not "
        "shown as a line.",
    )

    @model_validator(mode="after")
    def _is_one_amount(self) -> "Surcharge":
        """Refuse a surcharge with two sizes, or with none."""
        sizes = {
            "share": self.share,
            "amount": self.amount,
            "each": self.each,
            "share_of_sum": self.share_of_sum,
        }
        given = [name for name, size in sizes.items() if size is not None]
        if len(given) != 1:
            raise refusal(
                "one of a share, an amount, each and share_of_sum, such as `amount: 900.00 EUR`",
                " and ".join(given) or "none",
            )
        if self.share_of_sum is not None and self.rule is not None:
            raise refusal(
                "no rule beside share_of_sum, which is passed on as it is, such as `share_of_sum: 2 %` alone",
                "a rule",
            )
        if "by" in self.model_fields_set and self.each is None:
            raise refusal("each beside by, such as `each: 120.00 EUR, by: room`", "none")
        if self.phases and self.by not in COUNTED_IN_TIME:
            raise refusal(
                f"by {', '.join(COUNTED_IN_TIME)} beside phases, such as `by: {COUNTED_IN_TIME[0]}`", self.by
            )
        elsewhere = [phase for phase in self.phases if phase not in SITE_PHASES]
        if elsewhere:
            raise refusal(
                f"phases of work on site: {', '.join(SITE_PHASES)}, such as `phases: [first fix]`",
                shown(elsewhere[0]),
            )
        if self.steps and self.share_of_sum is None:
            raise refusal("share_of_sum beside steps, such as `share_of_sum: 2 %`", "none")
        amounts = [step.above.amount for step in self.steps.values()]
        currencies = {step.above.currency for step in self.steps.values()}
        if len(currencies) > 1 or len(set(amounts)) < len(amounts):
            raise refusal(
                "steps above different amounts of one currency, such as "
                "`above: 10000 EUR` and `above: 50000 EUR`",
                "others",
            )
        if any(amount <= 0 for amount in amounts):
            raise refusal(
                "steps above amounts greater than zero, such as `above: 10000 EUR`", "one that is not"
            )
        if self.spread and (self.share is None or self.rule is not None):
            raise refusal(
                "a share without a rule of its own for what is spread, such as `share: 3 %, spread: yes`",
                "an amount or a rule",
            )
        return self


class Tax(Written):
    """Taxes of one place, by kind of line."""

    name: str = Field(min_length=1, description="What the tax is called, such as VAT.")
    goods: Annotated[Fraction, Field(ge=0, le=1)] = Field(description="Rate on goods.")
    services: Annotated[Fraction, Field(ge=0, le=1)] = Field(description="Rate on services.")
    one_supply: Literal["goods", "services"] | None = Field(
        default=None,
        description="Which of the two all that is not exempt is taxed as, where the law takes goods and work "
        "for one supply; otherwise the tax tells how much of the price is goods.",
    )

    def taxed_as(self, kind: TaxKind) -> TaxedAs:
        """Return the kind that a line of some kind is taxed as.

        Where goods and services have one rate they are told as one: nothing says how much of it is goods.
        """
        if kind == "exempt":
            return kind
        if self.one_supply is not None:
            return self.one_supply
        return "goods and services" if self.goods == self.services else kind

    def rate(self, kind: TaxKind) -> Decimal:
        """Return the rate on a kind of line, exactly as written."""
        rates = {
            "goods": self.goods,
            "goods and services": self.goods,
            "services": self.services,
            "exempt": 0.0,
        }
        return Decimal(repr(rates[self.taxed_as(kind)]))


class Payment(Written):
    """One payment and what it is due upon."""

    name: str = Field(min_length=1, description="What it is called in the terms.")
    share: Annotated[Fraction, Field(gt=0, le=1)] = Field(description="Share of the total.")
    event: PaymentEvent = Field(description="What has happened when it is due.")
    days: Annotated[int, Field(ge=0, le=365)] = Field(default=30, description="Days to pay after that.")


PAYMENTS = {
    "1": Payment.model_construct(name="On order", share=0.30, event="order"),
    "2": Payment.model_construct(name="On delivery of the equipment", share=0.30, event="delivery"),
    "3": Payment.model_construct(name="On completion of second fix", share=0.30, event="second fix complete"),
    "4": Payment.model_construct(name="On acceptance", share=0.10, event="accepted"),
}


class Allowance(Written):
    """A sum set aside for something not designed yet, settled when it is known."""

    name: str = Field(min_length=1, description="What it is for.")
    price: WholeAmount = Field(description="Sum that the total contains, before tax.")
    room: str = Field(default="", description="Tag of the room it is for; the building where left out.")
    tax_kind: TaxKind = Field(default="goods", description="How it is taxed.")


class Price(Written):
    """How the proposal is priced."""

    rules: PriceRules = Field(default=unwritten(PriceRules), description="How costs become prices.")
    client_detail: ClientDetail = Field(
        default="room",
        description="How finely the client reads prices: room by room, system by system in each room, or "
        "line by line where a line's price is stated.",
    )
    selling: Mapping[ModelCode, WholeAmount] = Field(
        default={},
        description="What one of a device sells for, by model code, whatever it costs, in place of any rule. "
        "A client who reads line by line reads these.",
    )
    yearly: Mapping[ModelCode, WholeAmount] = Field(
        default={}, description="What a year of a licence or of support sells for, by model code."
    )
    changes: ChangePrices = Field(
        default=unwritten(ChangePrices), description="What later changes are charged for."
    )
    surcharges: Mapping[str, Surcharge] = Field(
        default={},
        description="Freight, insurance, permits, bond and contingency, each under a name of your own.",
    )
    allowances: Mapping[str, Allowance] = Field(
        default={}, description="Sums set aside, each under a name of your own."
    )
    taxes: Mapping[str, Tax] = assumed(
        dict, "Taxes by place.", "Prices are before tax; no tax is computed", "editable default"
    )
    tax_exemption: TaxExemption | None = Field(
        default=None, description="Why no tax is charged, in place of taxes; printed with the price."
    )
    place: str = Field(default="", description="Place of `taxes` that the building lies in.")
    places: Mapping[str, str] = Field(
        default={}, description="Places of `taxes` for rooms and equipment rooms that lie elsewhere, by tag."
    )
    shared_items: Literal["building group", "shared out"] = assumed(
        "building group",
        "Whether what serves several rooms stands as a group of its own in prices by room, or is shared out.",
        "What serves several rooms is priced as a group of its own",
    )
    payments: Mapping[str, Payment] = assumed(
        lambda: dict(PAYMENTS),
        "Payments and what each is due upon; their shares add up to 100 %.",
        "Payments: 30 % on order, 30 % on delivery, 30 % on completion of second fix, 10 % on acceptance",
        "common practice",
    )
    retention: Annotated[Fraction, Field(ge=0, le=0.5)] = assumed(
        0.0, "Share of each payment that the client keeps until later.", "No retention is kept"
    )
    retention_days: Annotated[int, Field(ge=0, le=3650)] = asked(
        lambda: 365,
        "Days after acceptance when the retention is due, such as 365; the client is asked where left out, "
        "and 365 are taken.",
        "Days after acceptance when the retention is due",
    )

    @model_validator(mode="after")
    def _adds_up(self) -> "Price":
        """Refuse payments that are more or less than the total, and places without taxes."""
        shares = sum((Decimal(repr(one.share)) for one in self.payments.values()), Decimal(0))
        total = rounded(shares, A_HAIR)
        if total != 1:
            raise refusal(
                "payments whose shares add up to 100 %, such as 30 %, 60 % and 10 %",
                f"{(total * 100).normalize():f} %",
            )
        named = [place for place in (self.place, *self.places.values()) if place]
        for place in named:
            if place not in self.taxes:
                raise refusal(
                    "a place of taxes, such as `taxes: {here: {name: VAT, goods: 20 %, services: 20 %}}`",
                    shown(place),
                )
        if self.tax_exemption is not None:
            if self.taxes:
                raise refusal(
                    "either taxes or the reason of an exemption, such as "
                    "`tax_exemption: {reason: public school}`",
                    "both",
                )
            # Nothing rests on taxes that are not charged for a stated reason.
            self.model_fields_set.add("taxes")
        if self.taxes and not self.place:
            raise refusal("the place that the building lies in, beside taxes, such as `place: here`", "none")
        return self


class Commercial(Written):
    """Labour, price and programme, as a project says them."""

    labour: LabourChoices = Field(default=unwritten(LabourChoices), description="Labour.")
    price: Price = Field(default=unwritten(Price), description="Price.")
    programme: Programme = Field(default=unwritten(Programme), description="Programme.")
