"""Price lines: every cost as one line with its selling price and tax, each rounded half up by itself.

The unit price is rounded half up to the smallest unit of the currency (to a hundredth of it where pieces and
metres cost little), the line's cost, price and tax to the smallest unit. A cost in another currency is
converted exactly, and rounded in the line's cost alone. Every view of the price sums these same lines, so
that all of them add to the same totals.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from proposal.design.equipment.unit_costs import in_currency, unit_list_price
from proposal.estimate.price.markup_and_margin import (
    AT_COST,
    NOTHING,
    PriceLine,
    RuleName,
    named_rule,
    price_by,
    unit_step,
)
from proposal.estimate.takeoff.lines import TakeoffLine
from proposal.estimate.takeoff.purchases import SPARE, STICK, OrderKey, Purchase, ordered_together
from proposal.estimate.takeoff.systems import EQUIPMENT_SECTIONS, SERVICES
from proposal.model.equipment.entry import Entry, Layer
from proposal.model.equipment.materials import Cable
from proposal.model.labour.labour import Labour, Phase
from proposal.model.price.commercial import Group, Price, TaxKind
from proposal.model.project import Project
from proposal.quantities.currencies import piece_unit, smallest_unit
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded, shared_out


class Pricing:
    """The prices of one project: its rules, its currency, its labour rates."""

    def __init__(self, project: Project, price: Price, labour: Labour) -> None:
        """Keep what every line needs.

        price: the project's rules; labour: rates by trade.
        """
        self.project = project
        self.price = price
        self.labour = labour
        self.step = smallest_unit(project.brief.currency)
        self.finer = piece_unit(project.brief.currency)
        self.nothing = rounded(NOTHING, self.step)

    def line(
        self,
        *,
        group: Group,
        kind: str,
        item: str,
        room: str,
        system: str,
        phase: Phase,
        quantity: Decimal,
        unit: str,
        unit_cost: Decimal,
        unit_price: Decimal,
        rule: tuple[RuleName, Decimal],
        tax_kind: TaxKind,
        list_price: Decimal | None = None,
        cost_from: Layer | None = None,
        causes: Iterable[str] = (),
    ) -> PriceLine:
        """Return a line with its cost, price and tax, each rounded half up, before anything is spread.

        kind, item: kind and model of what is priced, or what else the line is for.
        room, system: where it belongs; empty for the whole building.
        quantity, unit: how many, and of what.
        unit_cost, unit_price, list_price: of one, in the currency of the project; unit_price is before tax.
        causes: tags and tasks that the line is for.
        """
        return self._taxed(
            group=group,
            kind=kind,
            item=item,
            room=room,
            system=system,
            phase=phase,
            quantity=quantity,
            unit=unit,
            unit_cost=unit_cost,
            cost=rounded(quantity * unit_cost, self.step),
            cost_from=cost_from,
            list_price=list_price,
            rule=rule,
            unit_price=unit_price,
            price=rounded(quantity * unit_price, self.step),
            tax_kind=tax_kind,
            causes=tuple(causes),
        )

    def unit_step(self, unit_cost: Decimal) -> Decimal:
        """Return the step that the price of something with a unit cost is rounded to.

        unit_cost: cost of one, in the currency of the project.
        """
        return unit_step(unit_cost, self.step, self.finer)

    def _taxed(
        self,
        *,
        group: str,
        kind: str,
        item: str,
        room: str,
        system: str,
        phase: Phase,
        quantity: Decimal,
        unit: str,
        unit_cost: Decimal,
        cost: Decimal,
        cost_from: Layer | None,
        list_price: Decimal | None,
        rule: tuple[RuleName, Decimal],
        unit_price: Decimal,
        price: Decimal,
        tax_kind: TaxKind,
        causes: tuple[str, ...],
    ) -> PriceLine:
        place = self.price.places.get(room, self.price.place)
        tax = self.price.taxes[place] if place else None
        rate = tax.rate(tax_kind) if tax else NOTHING
        return PriceLine(
            group=group,
            kind=kind,
            item=item,
            room=room,
            system=system,
            phase=phase,
            quantity=quantity,
            unit=unit,
            unit_cost=unit_cost,
            cost=cost,
            cost_from=cost_from,
            list_price=list_price,
            rule=rule[0],
            rule_value=rule[1],
            reserve=self.nothing,
            spread=self.nothing,
            unit_price=unit_price,
            price=price,
            tax_kind=tax.taxed_as(tax_kind) if tax else tax_kind,
            tax_place=place,
            tax_rate=rate,
            tax=rounded(price * rate, self.step),
            cost_of_wholes=self.nothing,
            wholes=self.nothing,
            causes=causes,
        )

    def takeoff(self, lines: Sequence[TakeoffLine], bought: Sequence[Purchase]) -> list[PriceLine]:
        """Return the price of every line of the take-off that the contractor furnishes.

        bought: what is bought for the lines, whose price they share by need.
        """
        prices = self._shared_prices(lines, bought)
        found = []
        for n, one in enumerate(lines):
            entry = self.project.library.entry(one.model)
            if entry.furnished_by == "owner":
                continue
            group: Group = "equipment" if one.section in EQUIPMENT_SECTIONS else "materials"
            of_list = self.list_price(entry)
            each, rule = self.one(entry, group, one.unit_cost, of_list)
            line = self.line(
                group=group,
                kind=entry.kind if group == "equipment" else one.section,
                item=one.model,
                room=one.room,
                system=one.system,
                phase=one.phase,
                quantity=one.priced,
                unit=one.unit,
                unit_cost=one.unit_cost,
                unit_price=each,
                rule=rule,
                tax_kind=entry.tax_kind,
                list_price=of_list,
                cost_from=entry.layer,
                causes=one.causes,
            )
            found.append(self._with_share(line, one.cost, prices[n]) if n in prices else line)
        return found

    def _shared_prices(
        self, lines: Sequence[TakeoffLine], bought: Sequence[Purchase]
    ) -> Mapping[int, Decimal]:
        """Return the price of each line, by its place, that shares by need what is bought for several."""
        totals: dict[OrderKey, Decimal] = {}
        together = ordered_together(lines)
        for one in bought:
            entry = self.project.library.entry(one.model)
            of_list = self.bought_list_price(entry, one)
            if one.sold_as == STICK:
                # Prices of what is sold by the stick are for a metre of it.
                a_metre = lines[together[one.key][0]].unit_cost
                each = one.pieces * self.one(entry, "materials", a_metre, of_list)[0]
            else:
                each, _ = self.one(entry, "materials", one.unit_cost, of_list)
            price = rounded(one.bought * each, self.step)
            totals[one.key] = totals.get(one.key, self.nothing) + price
        return {
            n: part
            for key, members in together.items()
            for n, part in zip(
                members, shared_out(totals[key], [lines[n].priced for n in members], self.step), strict=True
            )
        }

    def _with_share(self, line: PriceLine, cost: Decimal, price: Decimal) -> PriceLine:
        """Return a line that costs and sells for its share of what is bought."""
        return replace(
            line,
            cost=cost,
            cost_of_wholes=cost - line.cost,
            price=price,
            wholes=price - line.price,
            tax=rounded(price * line.tax_rate, self.step),
        )

    def one(
        self, entry: Entry, group: Group, unit_cost: Decimal, of_list: Decimal
    ) -> tuple[Decimal, tuple[RuleName, Decimal]]:
        """Return what one unit of a take-off line sells for, and by which rule: as stated, or by a rule.

        unit_cost: what one costs us.
        of_list: its list price.
        """
        stated = self.price.selling.get(entry.model)
        if stated is not None:
            amount = self.amount(stated)
            return amount, ("stated", amount)
        rule = self.price.rules.rule(entry.model, entry.kind, group)
        return price_by(rule, unit_cost, of_list, self.unit_step(unit_cost)), named_rule(rule)

    def list_price(self, entry: Entry) -> Decimal:
        """Return the list price of one unit of a take-off line: a piece or a metre."""
        listed = unit_list_price(self.project, entry)
        return rounded(Fraction(listed) / entry.pack_quantity, self.finer) if entry.unit == "pack" else listed

    def bought_list_price(self, entry: Entry, one: Purchase) -> Decimal:
        """Return the list price of one of what is bought: a piece, a pack, a metre or a reel."""
        reel = one.sold_as.removesuffix(SPARE)
        if isinstance(entry, Cable) and reel in entry.reels:
            return in_currency(self.project, entry.reels[reel].list_price)
        return unit_list_price(self.project, entry)

    def priced(self, entry: Entry, group: Group, cost: Decimal) -> Decimal:
        """Return the price of something that costs so much, by the rule of its entry.

        cost: of one, in the currency of the project.
        What recurs or is a metre has no list price of its own under a discount: it is priced in proportion.
        """
        rule = self.price.rules.rule(entry.model, entry.kind, group)
        listed, whole = self.list_price(entry), in_currency(self.project, entry.cost)
        in_proportion = (
            rounded(Fraction(listed) * Fraction(cost) / Fraction(whole), self.finer) if whole else cost
        )
        return price_by(rule, cost, in_proportion, self.step)

    def rates(self, trade: str) -> tuple[Decimal, Decimal, tuple[RuleName, Decimal]]:
        """Return what an hour of a trade costs and sells for, and by which rule."""
        row = self.labour.trades[trade]
        cost = in_currency(self.project, row.cost)
        if row.selling is not None:
            selling = self.amount(row.selling)
            return cost, selling, ("rate", selling)
        rule = self.price.rules.rule("", trade, "labour")
        if rule.discount is not None:
            # Hours have no list price to take anything off.
            rule = self.price.rules.rest if self.price.rules.rest.discount is None else AT_COST
        return cost, price_by(rule, cost, cost, self.step), named_rule(rule)

    def amount(self, money: Money) -> Decimal:
        """Return an amount that stands for itself, or a price of one, in the project's currency."""
        return rounded(in_currency(self.project, money), self.step)

    def stated(
        self,
        group: Literal["surcharge", "allowance"],
        key: str,
        room: str,
        phase: Phase,
        cost: Decimal,
        price: Decimal,
        tax_kind: TaxKind,
        rule: tuple[RuleName, Decimal] | None = None,
    ) -> PriceLine:
        """Return a line of one piece whose price is known as a whole.

        group: surcharge or allowance.
        key, room, phase: what it is for, where, and when; room is empty for the whole building.
        cost, price: in the currency of the project.
        rule: how it was priced; as stated without one.
        """
        return self._taxed(
            group=group,
            kind=group,
            item=key,
            room=room,
            system=SERVICES,
            phase=phase,
            quantity=Decimal(1),
            unit="each",
            unit_cost=cost,
            cost=cost,
            cost_from=None,
            list_price=None,
            rule=rule or ("stated", price),
            unit_price=price,
            price=price,
            tax_kind=tax_kind,
            causes=(),
        )
