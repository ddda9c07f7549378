"""What the recap says in words: general conditions that others carry, and prices that are open."""

from collections.abc import Iterator, Mapping

from proposal.document.document import Document
from proposal.document.rows.price_inputs import one_more
from proposal.quantities.general_conditions import GENERAL_CONDITIONS, GeneralCondition

_DOUBTFUL = (
    "price-awaited",
    "price-missing",
    "price-given-twice",
    "price-zero",
    "price-expired",
    "price-expires",
    "cost-above-list",
    "selling-above-list",
)
_NOT_COUNTED = ("lead-not-counted",)
_DUTIES: Mapping[GeneralCondition, tuple[str, ...]] = {
    "lifts": ("Lifts, platforms and scaffold",),
    "storage": ("Storage, and removal of waste", "Storage on site"),
    "waste": ("Storage, and removal of waste", "Removal of waste"),
    "permits": ("Permits",),
}
"""Rows of the standing responsibilities that give a general condition to others."""
_OURS = "AV"


def general_conditions_without_a_line(document: Document) -> Iterator[str]:
    """Yield who carries the general conditions that no surcharge covers: others, or nobody by name.

    document: of the estimator.
    """
    covered = {what for one in document.surcharges for what in one.covers}
    others, left = dict[str, list[str]](), list[str]()
    names = dict(document.parties)
    furnished = {row.about: dict(row.duties).get("furnish", "") for row in document.responsibilities}
    for what in GENERAL_CONDITIONS:
        if what in covered:
            continue
        who = next((furnished[row] for row in _DUTIES.get(what, ()) if furnished.get(row)), "")
        if who and _OURS not in who:
            others.setdefault(names.get(who, who), []).append(what)
        else:
            left.append(what)
    for who, carried in others.items():
        yield f"Others have these by the responsibilities ({who}), no price of ours: {', '.join(carried)}"
    if left:
        yield (
            "In no line of their own, as no surcharge says that it covers them; what they cost has "
            f"to be in rates and margins: {', '.join(left)}"
        )


def doubtful_prices(document: Document) -> Iterator[str]:
    """Yield what is awaited, left out, or priced on figures that do not hold.

    document: of the estimator.
    """
    yield from (one.message for one in document.house_findings if one.rule in _DOUBTFUL)
    yield from (one.message for one in document.findings if one.rule in _NOT_COUNTED)
    yield from (
        f"{one.description}: a year of it is priced on request"
        for one in document.yearly
        if one.price is None
    )


def priced_on_request(document: Document) -> Iterator[str]:
    """Yield what is priced on request when it is wanted later, each sort of change once.

    document: of the estimator.
    """
    asked: dict[str, list[str]] = {}
    for cost in document.unit_costs:
        if cost.stated is None:
            asked.setdefault(cost.to, []).append(cost.item or cost.description)
    for to, items in asked.items():
        yield f"{one_more(to).capitalize()}: {', '.join(items)}"
