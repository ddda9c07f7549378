"""Price lines: every cost as one line with its selling price and tax, each rounded half up by itself.

The unit price is rounded half up to the smallest unit of the currency (to a hundredth of it where pieces and
metres cost little), the line's cost, price and tax to the smallest unit. A cost in another currency is
converted exactly, and rounded in the line's cost alone. Every view of the price sums these same lines, so
that all of them add to the same totals.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from proposal.design.equipment.unit_costs import in_currency, unit_list_price
from proposal.estimate.labour.labour import LabourEstimate
from proposal.estimate.price.price_rules import (
    AT_COST,
    NOTHING,
    PriceLine,
    RuleName,
    named_rule,
    price_by,
    unit_step,
)
from proposal.estimate.takeoff.lines import TakeoffLine
from proposal.estimate.takeoff.systems import SERVICES, supply_phase, system_of_kind
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.materials import Cable
from proposal.model.labour.labour import Labour, Phase
from proposal.model.price.commercial import Group, Price, Surcharge, TaxKind
from proposal.model.project import Project
from proposal.quantities.currencies import piece_unit, smallest_unit
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded


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
        self._spread: dict[Group, Decimal] = {}
        for surcharge in price.surcharges.values():
            if surcharge.spread and surcharge.share is not None:
                for group in surcharge.of:
                    share = Decimal(repr(surcharge.share))
                    self._spread[group] = self._spread.get(group, NOTHING) + share

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
        causes: Iterable[str] = (),
    ) -> PriceLine:
        """Return a line with its cost, reserve, price and tax, each rounded half up.

        unit_price: before what is spread over the line.
        """
        spread = self._spread.get(group, NOTHING)
        cost = rounded(quantity * unit_cost, self.step)
        each = self.with_reserve(unit_price, group)
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
            cost=cost,
            list_price=list_price,
            rule=rule,
            reserve=rounded(cost * spread, self.step),
            unit_price=each,
            price=rounded(quantity * each, self.step),
            tax_kind=tax_kind,
            causes=tuple(causes),
        )

    def with_reserve(self, unit_price: Decimal, group: Group) -> Decimal:
        """Return a unit price with what is spread over the lines of its group."""
        spread = self._spread.get(group, NOTHING)
        return rounded(unit_price * (1 + spread), self.unit_step(unit_price)) if spread else unit_price

    def unit_step(self, unit_cost: Decimal) -> Decimal:
        """Return the step that the price of something with a unit cost is rounded to."""
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
        list_price: Decimal | None,
        rule: tuple[RuleName, Decimal],
        reserve: Decimal,
        unit_price: Decimal,
        price: Decimal,
        tax_kind: TaxKind,
        causes: tuple[str, ...],
    ) -> PriceLine:
        place = self.price.places.get(room, self.price.place)
        rate = self.price.taxes[place].rate(tax_kind) if place else NOTHING
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
            list_price=list_price,
            rule=rule[0],
            rule_value=rule[1],
            reserve=reserve,
            unit_price=unit_price,
            price=price,
            tax_kind=tax_kind,
            tax_place=place,
            tax_rate=rate,
            tax=rounded(price * rate, self.step),
            causes=causes,
        )

    def takeoff(self, lines: Sequence[TakeoffLine]) -> list[PriceLine]:
        """Return the price of every line of the take-off that the contractor furnishes."""
        found = []
        for one in lines:
            entry = self.project.library.entry(one.model)
            if entry.furnished_by == "owner":
                continue
            group: Group = "equipment" if one.section == "equipment" else "materials"
            rule = self.price.rules.rule(one.model, entry.kind, group)
            of_list = self.list_price(entry, one.unit)
            found.append(
                self.line(
                    group=group,
                    kind=entry.kind if group == "equipment" else one.section,
                    item=one.model,
                    room=one.room,
                    system=system_of_kind(entry.kind),
                    phase=supply_phase(one.section, entry.kind),
                    quantity=one.priced,
                    unit=one.unit,
                    unit_cost=one.unit_cost,
                    unit_price=price_by(rule, one.unit_cost, of_list, self.unit_step(one.unit_cost)),
                    rule=named_rule(rule),
                    tax_kind=entry.tax_kind,
                    list_price=of_list,
                    causes=one.causes,
                )
            )
        return found

    def list_price(self, entry: Entry, unit: str) -> Decimal:
        """Return the list price of one unit of a take-off line: a piece, a metre or a named reel."""
        reel = unit.removesuffix(", spare")
        if isinstance(entry, Cable) and reel in entry.reels:
            return in_currency(self.project, entry.reels[reel].list_price)
        listed = unit_list_price(self.project, entry)
        return rounded(Fraction(listed) / entry.pack_quantity, self.finer) if entry.unit == "pack" else listed

    def priced(self, entry: Entry, group: Group, cost: Decimal) -> Decimal:
        """Return the price of something that costs so much, by the rule of its entry.

        What recurs or is a metre has no list price of its own under a discount: it is priced in proportion.
        """
        rule = self.price.rules.rule(entry.model, entry.kind, group)
        listed, whole = self.list_price(entry, ""), in_currency(self.project, entry.cost)
        in_proportion = (
            rounded(Fraction(listed) * Fraction(cost) / Fraction(whole), self.finer) if whole else cost
        )
        return price_by(rule, cost, in_proportion, self.step)

    def rates(self, trade: str) -> tuple[Decimal, Decimal, tuple[RuleName, Decimal]]:
        """Return what an hour of a trade costs and sells for, and by which rule."""
        row = self.labour.trades[trade]
        cost = in_currency(self.project, row.cost)
        if row.selling is not None:
            selling = self._amount(row.selling)
            return cost, selling, ("rate", selling)
        rule = self.price.rules.rule("", trade, "labour")
        if rule.discount is not None:
            # Hours have no list price to take anything off.
            rule = self.price.rules.rest if self.price.rules.rest.discount is None else AT_COST
        return cost, price_by(rule, cost, cost, self.step), named_rule(rule)

    def _amount(self, money: Money) -> Decimal:
        """Return an amount that stands for itself, or a price of one, in the project's currency."""
        return rounded(in_currency(self.project, money), self.step)

    def hours(self, estimate: LabourEstimate) -> list[PriceLine]:
        """Return the price of all labour: hours by room, system, phase and trade; overtime; travel."""
        grouped: dict[tuple[str, str, Phase, str], tuple[Decimal, dict[str, None]]] = {}
        for one in estimate.lines:
            key = (one.room, one.system, one.phase, one.trade)
            hours, tasks = grouped.get(key, (NOTHING, {}))
            grouped[key] = (hours + one.charged_hours, {**tasks, one.task: None})
        found = [
            self._hours("labour", "hours", trade, room, system, phase, hours, tasks)
            for (room, system, phase, trade), (hours, tasks) in grouped.items()
        ]
        for trade, phase, hours in estimate.overtime_hours:
            found.append(self._overtime(trade, phase, hours))
        for trip in estimate.travel:
            found.append(self._hours("travel", "hours", trip.trade, "", SERVICES, "travel", trip.hours, ()))
            found += self._expenses(trip.trade, trip.days)
        return found

    def _hours(
        self,
        group: Group,
        kind: str,
        trade: str,
        room: str,
        system: str,
        phase: Phase,
        hours: Decimal,
        tasks: Iterable[str],
    ) -> PriceLine:
        cost, selling, rule = self.rates(trade)
        return self.line(
            group=group,
            kind=kind,
            item=trade,
            room=room,
            system=system,
            phase=phase,
            quantity=hours,
            unit="h",
            unit_cost=cost,
            unit_price=selling,
            rule=rule,
            tax_kind=self.labour.trades[trade].tax_kind,
            causes=tasks,
        )

    def _overtime(self, trade: str, phase: Phase, hours: Decimal) -> PriceLine:
        cost, selling, rule = self.rates(trade)
        premium = Decimal(repr(self.labour.overtime_premium))
        return self.line(
            group="labour",
            kind="overtime",
            item=trade,
            room="",
            system=SERVICES,
            phase=phase,
            quantity=hours,
            unit="h",
            unit_cost=cost * premium,
            unit_price=rounded(selling * premium, self.step),
            rule=rule,
            tax_kind=self.labour.trades[trade].tax_kind,
        )

    def _expenses(self, trade: str, days: int) -> list[PriceLine]:
        travel = self.labour.travel
        if travel is None or travel.expenses_a_day is None:
            return []
        cost = in_currency(self.project, travel.expenses_a_day)
        rule = self.price.rules.rule("", "expenses", "travel")
        rule = AT_COST if rule.discount is not None else rule
        line = self.line(
            group="travel",
            kind="expenses",
            item=trade,
            room="",
            system=SERVICES,
            phase="travel",
            quantity=Decimal(days),
            unit="day",
            unit_cost=cost,
            unit_price=price_by(rule, cost, cost, self.step),
            rule=named_rule(rule),
            tax_kind="services",
        )
        return [line]

    def surcharges(self, lines: Sequence[PriceLine]) -> list[PriceLine]:
        """Return a line for every surcharge that is not spread.

        lines: of equipment, materials, labour and travel, which they are reckoned on.
        """
        return [
            self._surcharge(key, surcharge, lines)
            for key, surcharge in self.price.surcharges.items()
            if not surcharge.spread
        ]

    def _surcharge(self, key: str, surcharge: Surcharge, lines: Sequence[PriceLine]) -> PriceLine:
        if surcharge.amount is not None:
            cost = self._amount(surcharge.amount)
        else:
            base = sum((line.cost for line in lines if line.group in surcharge.of), NOTHING)
            cost = rounded(base * Decimal(repr(surcharge.share)), self.step)
        rule = surcharge.rule or AT_COST
        price = price_by(rule, cost, cost, self.step)
        return self._stated(
            "surcharge", key, "", "project management", cost, price, surcharge.tax_kind, named_rule(rule)
        )

    def allowances(self) -> list[PriceLine]:
        """Return a line for every allowance; its cost is not known, so it is taken to cost its price."""
        found = []
        for key, one in self.price.allowances.items():
            price = self._amount(one.price)
            found.append(self._stated("allowance", key, one.room, "second fix", price, price, one.tax_kind))
        return found

    def _stated(
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
        """Return a line of one piece whose price is known as a whole."""
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
            list_price=None,
            rule=rule or ("stated", price),
            reserve=rounded(NOTHING, self.step),
            unit_price=price,
            price=price,
            tax_kind=tax_kind,
            causes=(),
        )
