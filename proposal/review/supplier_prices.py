"""Rules about the figures behind a price: zero, above list, too old, awaited, missing, given twice."""

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from proposal.design.equipment.unit_costs import in_currency
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.materials import Cable
from proposal.model.equipment.price_origins import PriceOrigin, origin_of
from proposal.model.project import Project
from proposal.quantities.money import Money
from proposal.review.finding import Finding, Severity
from proposal.standards.sources import EDITABLE_DEFAULT

if TYPE_CHECKING:
    from proposal.estimate.price.price import PriceEstimate
    from proposal.estimate.takeoff.purchases import Purchase

_SPARE, _LAST_DAY = ", spare", "prices_hold_until"


def supplier_price_findings(
    project: Project, price: "PriceEstimate", purchases: "Sequence[Purchase]" = ()
) -> Iterator[Finding]:
    """Yield a warning for each figure of the library or the project that a price should not rest on.

    price: of the project.  purchases: what is bought for it in wholes, reels of cable among it.
    """
    ours = project.brief.rules.takeoff.price_pathways
    others = {one.model for one in purchases if one.section == "pathways" and not ours}
    bought = {line.item for line in price.lines if line.group in ("equipment", "materials")} - others
    sold = _sold(project, bought, purchases)
    for model in sorted(bought):
        entry = project.library.entry(model)
        yield from _figures(project, entry)
        yield from dict.fromkeys(told for one in sold if one.entry is entry for told in _days(project, one))
        for name in entry.awaited:
            what = name.replace("_", " ")
            yield _finding(
                project,
                "price-awaited",
                "warning",
                entry,
                (name,),
                f"The {what} of {model} is awaited; what stands in for it is {_stand_in(entry, name)}.",
                "Ask the supplier for a quote, and write it in place of `unknown`.",
            )
    yield from _given_twice(project, bought)
    yield from _missing(project, sold)
    yield from _stated_above_list(project, bought)


def _given_twice(project: Project, bought: set[str]) -> Iterator[Finding]:
    """Yield a warning for each price that several files of one layer give; the last of them counts."""
    for path, places in sorted(project.given_twice.items()):
        model, field = str(path[0]), str(path[-1])
        if model not in bought:
            continue
        entry = project.library.entry(model)
        what = ", ".join([model, *(str(key) for key in path[2:-1])])
        yield replace(
            _finding(
                project,
                "price-given-twice",
                "warning",
                entry,
                (field,),
                f"The {field.replace('_', ' ')} of {what} is given {len(places)} times: "
                f"in {' and in '.join(str(place) for place in places)}; the last counts.",
                "Take away the price that does not hold.",
            ),
            place=places[-1],
        )


@dataclass(frozen=True, slots=True)
class _Sold:
    """What a price is of: an entry, or one of the reels of a cable."""

    entry: Entry
    reel: str

    @property
    def name(self) -> str:
        return ", ".join(part for part in (self.entry.model, self.reel) if part)

    @property
    def origin(self) -> PriceOrigin:
        return origin_of(self.entry, self.reel)

    @property
    def cost(self) -> Money:
        return (
            self.entry.reels[self.reel].cost
            if isinstance(self.entry, Cable) and self.reel
            else self.entry.cost
        )

    def keys(self, field: str) -> tuple[str, ...]:
        """Return where a field of it is written, below its model code."""
        return ("reels", self.reel, field) if self.reel else (field,)


def _sold(project: Project, bought: set[str], purchases: "Sequence[Purchase]") -> tuple[_Sold, ...]:
    """Return what is bought, each as it is sold: of a cable its reels, which hold its metres."""
    reels: dict[str, dict[str, None]] = {}
    for one in purchases:
        if one.section == "reels":
            reels.setdefault(one.model, {})[one.sold_as.removesuffix(_SPARE)] = None
    return tuple(
        _Sold(project.library.entry(model), reel)
        for model in sorted(bought)
        for reel in sorted(reels.get(model, {"": None}))
    )


def _missing(project: Project, sold: tuple[_Sold, ...]) -> Iterator[Finding]:
    """Yield a warning for each thing that a supplier's price list or quote leaves out, and others gives."""
    asked = {one.origin.supplier for one in sold if one.origin.day is not None}
    for one in sold:
        seller = one.origin.supplier
        if seller in asked and one.origin.day is None and one.entry.furnished_by == "contractor":
            yield _finding(
                project,
                "price-missing",
                "warning",
                one.entry,
                one.keys("cost"),
                f"The price at which {one.name} stands, {one.cost}, is from no price list or quote of "
                f"{seller}, while other prices are.",
                "Ask the supplier for a price, take the one that was quoted even if it is higher, or name "
                "the supplier who has one (`supplier`).",
            )


def _stand_in(entry: Entry, awaited: str) -> str:
    price, other = (entry.cost, entry.list_price) if awaited == "cost" else (entry.list_price, entry.cost)
    if price == other and entry.awaited != ("cost", "list_price"):
        return f"its {'list price' if awaited == 'cost' else 'cost'} of {price}"
    return f"the last one known, {price}"


def _amounts(entry: Entry) -> Iterator[tuple[str, Money, Money]]:
    """Yield what is sold of an entry, with its cost and its list price."""
    yield entry.model, entry.cost, entry.list_price
    if isinstance(entry, Cable):
        for name, reel in sorted(entry.reels.items()):
            yield f"{entry.model}, {name}", reel.cost, reel.list_price


def _figures(project: Project, entry: Entry) -> Iterator[Finding]:
    for what, cost, listed in _amounts(entry):
        zero = [name for name, money in (("cost", cost), ("list_price", listed)) if money.amount <= 0]
        if zero:
            yield _finding(
                project,
                "price-zero",
                "warning",
                entry,
                (zero[0],),
                f"The {zero[0].replace('_', ' ')} of {what} is not above zero: it is given away.",
                "Write what it costs, or say that the owner furnishes it (`furnished_by`).",
            )
        elif in_currency(project, cost) > in_currency(project, listed):
            yield _finding(
                project,
                "cost-above-list",
                "warning",
                entry,
                ("cost",),
                f"The cost of {what}, {cost}, is above its list price, {listed}.",
                "Correct the one that is wrong, or ask the supplier for a discount.",
            )


def _days(project: Project, sold: _Sold) -> Iterator[Finding]:
    last, entry = sold.origin.holds_until, sold.entry
    reel = entry.reels.get(sold.reel) if isinstance(entry, Cable) else None
    own = reel is not None and reel.prices_hold_until is not None
    keys, name = (sold.keys(_LAST_DAY), sold.name) if own else ((_LAST_DAY,), entry.model)
    if last is None:
        return
    brief = project.brief
    holds_until = brief.revision.date + datetime.timedelta(days=brief.terms.validity_days)
    if last < brief.revision.date:
        yield _finding(
            project,
            "price-expired",
            "warning",
            entry,
            keys,
            f"The prices of {name} held until {last}, before this revision.",
            "Ask the supplier for a new quote, and write its prices and its last day.",
        )
    elif last < holds_until:
        yield _finding(
            project,
            "price-expires",
            "note",
            entry,
            keys,
            f"The prices of {name} hold until {last}; this proposal holds until {holds_until}.",
            "Ask the supplier to hold them longer, or shorten the validity (`terms.validity_days`).",
        )


def _stated_above_list(project: Project, bought: set[str]) -> Iterator[Finding]:
    """Yield a warning for each price stated by the project that is zero or above the list."""
    for model, money in sorted(project.brief.price.selling.items()):
        if model not in bought:
            continue
        entry = project.library.entry(model)
        listed, stated = in_currency(project, entry.list_price), in_currency(project, money)
        if Decimal(0) < stated <= listed:
            continue
        what = "above its list price" if stated > 0 else "not above zero; its list price is"
        yield Finding(
            rule="selling-above-list" if stated > 0 else "price-zero",
            severity="warning",
            where=model,
            place=project.place("project", "price", "selling", model),
            message=f"{model} sells for {money}, {what}, {entry.list_price}.",
            source=EDITABLE_DEFAULT,
            remedy="State another price, or leave it to a rule.",
        )


def _finding(
    project: Project,
    rule: str,
    severity: Severity,
    entry: Entry,
    keys: tuple[str, ...],
    message: str,
    remedy: str,
) -> Finding:
    return Finding(
        rule=rule,
        severity=severity,
        where=entry.model,
        place=project.place("library", entry.model, *keys),
        message=f"{message} Written in the {entry.layer} library.",
        source=EDITABLE_DEFAULT,
        remedy=remedy,
    )
