"""What a client receives of one state of the price, apart by what they know of it and what they do not.

A total is the sum of parts: goods whose cost stands in the shared library, times what makes it a price; work,
whose hours and rates are the house's own; what is added on top; what is spread; and sums that the client
reads by themselves. `review/disclosure.py` asks what can be worked out from the totals together.
"""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from proposal.estimate.price.markup_and_margin import PriceLine, unit_step
from proposal.estimate.price.price import PriceEstimate
from proposal.estimate.price.standing_alone import stands_alone
from proposal.model.project import Project
from proposal.quantities.currencies import piece_unit, smallest_unit

Sort = Literal["rule", "stated", "discount", "own", "work", "surcharge", "spread", "known"]
State = Literal["base", "alternate", "combination", "revision"]
NOTHING = Decimal(0)


class Part(BaseModel):
    """Lines of one sort and name, taxed alike."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    sort: Sort = Field(
        description="rule: public cost, by a rule that other lines share; stated, discount: public cost, by "
        "a price or an agreed discount of its own; own: cost of the house's own; the others as they say."
    )
    name: str = Field(description="Rule with its value, model code with its price, trade, key; or empty.")
    tax_kind: str = Field(description="How it is taxed.")
    cost: Decimal = Field(description="What it costs the house.")
    price: Decimal = Field(description="Its price without what is spread.")
    hours: Decimal = Field(default=NOTHING, description="Hours of work, h.")
    rounding: Decimal = Field(default=NOTHING, description="Most by which rounding moved the price.")


class Received(BaseModel):
    """One state of the price as a client received it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    key: str = Field(description="Key of the alternate or alternates, or identity of the revision.")
    label: str = Field(description="What it is called.")
    state: State = Field(description="Base, alternate, combination or an earlier revision.")
    price: Decimal = Field(description="The whole price before tax, as printed.")
    step: Decimal = Field(description="Step of what is printed.")
    issued: bool = Field(default=False, description="Whether it was sent with a revision issued before.")
    by_kind: bool = Field(description="Whether the taxes tell what goods and services come to.")
    listed: tuple[str, ...] = Field(description="Names of the parts whose price of one is printed.")
    parts: tuple[Part, ...] = Field(description="What it is made of.")
    library_hours: Mapping[str, Decimal] | None = Field(
        default=None,
        description="Hours of each trade that the shared library gives for the same design, h; None in "
        "a record that did not keep them.",
    )

    @property
    def sent(self) -> bool:
        """Return whether the client has it already, so that nothing of it can be changed."""
        return self.issued or self.state == "revision"

    @property
    def cost(self) -> Decimal:
        """Return what all of it costs; what is spread is set aside and no cost."""
        return sum((part.cost for part in self.parts if part.sort != "spread"), NOTHING)


def received(
    key: str,
    label: str,
    state: State,
    project: Project,
    price: PriceEstimate,
    library_hours: Mapping[str, Decimal],
) -> Received:
    """Return what a client receives of a price.

    key, label: of the state, in data and in messages.
    library_hours: hours of each trade that the shared library gives for the same design, h.
    """
    step = smallest_unit(price.currency)
    rules = project.brief.price
    found: dict[tuple[Sort, str, str], Part] = {}
    for line in price.lines:
        _add(found, _part(project, line, step))
        if line.spread:
            spread = Part(
                sort="spread", name="", tax_kind=line.tax_kind, cost=line.reserve, price=line.spread
            )
            _add(found, spread)
    listed = [
        name for (sort, name, _) in found if rules.client_detail == "line" and sort in ("stated", "discount")
    ]
    return Received(
        key=key,
        label=label,
        state=state,
        price=price.whole.price,
        step=step,
        by_kind=len({one.kind for one in price.taxes}) > 1,
        listed=tuple(dict.fromkeys(listed)),
        parts=tuple(found.values()),
        library_hours=library_hours,
    )


def _add(found: dict[tuple[Sort, str, str], Part], part: Part) -> None:
    key = (part.sort, part.name, part.tax_kind)
    before = found.get(key)
    if before is None:
        found[key] = part
        return
    sums = {
        name: getattr(before, name) + getattr(part, name) for name in ("cost", "price", "hours", "rounding")
    }
    found[key] = before.model_copy(update=sums)


def _part(project: Project, line: PriceLine, step: Decimal) -> Part:
    """Return what one line is, without what is spread over it."""
    sort, name = _sort(project, line)
    rounds = sort in ("rule", "discount")
    # Of what is bought in wholes, cost and price are shares as well, each within a step of the exact one.
    shared = bool(line.wholes or line.cost_of_wholes)
    finest = unit_step(line.unit_cost, step, piece_unit(project.brief.currency))
    return Part(
        sort=sort,
        name=name,
        tax_kind=line.tax_kind,
        cost=line.cost,
        price=line.price - line.spread,
        hours=line.quantity if line.kind == "hours" else NOTHING,
        rounding=step * (4 if shared else 2) + abs(line.quantity) * finest if rounds else NOTHING,
    )


def _sort(project: Project, line: PriceLine) -> tuple[Sort, str]:
    if line.group == "allowance" or (line.group == "surcharge" and stands_alone(project, line)):
        return "known", ""
    if line.group == "surcharge":
        return "surcharge", line.item
    if line.group in ("labour", "travel"):
        return "work", line.item
    if line.cost_from != "shared":
        return "own", line.item
    if line.rule in ("stated", "discount"):
        return ("stated" if line.rule == "stated" else "discount"), f"{line.item} {line.unit_price:f}"
    return "rule", f"{line.rule} {line.rule_value:f}"


def sums_by_kind(one: Received) -> Mapping[str, tuple[Part, ...]]:
    """Return the parts that the client sees one sum of each: by kind of tax where the taxes tell them."""
    found: dict[str, list[Part]] = {}
    for part in one.parts:
        found.setdefault(part.tax_kind if one.by_kind else "", []).append(part)
    return {kind: tuple(parts) for kind, parts in found.items()}


def printed(parts: Iterable[Part]) -> Decimal:
    """Return what parts come to together."""
    return sum((part.price for part in parts), NOTHING)
