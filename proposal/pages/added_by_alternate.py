"""What an alternate asks of others, adds each year and assumes anew, in sentences."""

from collections.abc import Collection, Iterator
from decimal import Decimal

from proposal.document.rows.client_steps import PANEL_OUTLETS, furnishing
from proposal.document.rows.findings import AssumptionRow
from proposal.document.rows.yearly_costs import NOTHING, YearlyCostRow
from proposal.document.values import field_text
from proposal.editions import AlternateEdition
from proposal.pages.page_context import PageContext
from proposal.quantities import formatting
from proposal.quantities.formatting import count_of

_OURS = "audio-visual contractor"
_OPENINGS = "Ceiling openings, patching and paint"
_ACCOUNTS = "Internet and conferencing accounts"
"""Names of the duties that a room adds to."""


def furnished_with(here: PageContext, one: AlternateEdition) -> str:
    """Return what an alternate asks the client to furnish besides, in sentences; empty for nothing.

    one: the alternate.
    """
    known = {row.tag for row in here.document.owner_equipment}
    more = [row for row in one.document.owner_equipment if row.tag not in known]
    panels = _panels(here, one)
    named = [f"{row.name} ({row.room})" for row in more]
    named += [f"a panel, computer or laptop that mutes all microphones together ({tag})" for tag in panels]
    said = []
    if named:
        said.append(f"With it you also furnish, at your own cost: {formatting.listed(named)}.")
    rooms = {row.tag for row in here.document.rooms}
    added = {row.tag: f"{row.name} ({row.tag})" for row in one.document.rooms if row.tag not in rooms}
    if added:
        named = list(added.values())
        parts = "; ".join(_for_rooms(one, added, panels))
        said.append(f"Furnished by others for {formatting.listed(named)}, and not in the price: {parts}.")
    return " ".join(said)


def _panels(here: PageContext, one: AlternateEdition) -> list[str]:
    """Return the rooms that get groups to mute only with an alternate, where nothing furnished mutes them."""
    muted = {tag for row in here.document.mute_controls for tag in row.rooms}
    return [
        tag for row in one.document.mute_controls if not row.controls for tag in row.rooms if tag not in muted
    ]


def _for_rooms(one: AlternateEdition, added: Collection[str], panels: Collection[str]) -> Iterator[str]:
    """Yield what rooms that an alternate adds need of others, as its design and who does what have it."""
    document = one.document
    there = [row for row in document.devices if row.room in added]
    chargers = sum(row.kind == "charger" and row.location == "table" for row in there)
    overhead = sum(row.location == "ceiling" for row in there)
    outlets = [row for row in document.mains_outlets if row.place in added and row.scope != _OURS]
    duties = document.responsibilities
    yield "tables, chairs and other furniture"
    if chargers:
        yield f"a table or shelf for {count_of(chargers, 'charger')}"
    if outlets:
        circuits = len({row.circuit for row in outlets})
        yield f"{count_of(len(outlets), 'mains outlet')} on {count_of(circuits, 'circuit')} of the mains"
    if panels and furnishing(duties, PANEL_OUTLETS):
        yield "a data outlet with its cable to the switch, and a mains outlet, for what mutes"
    own = [row for row in document.owner_equipment if row.room in added]
    if any("codec" in row.kind for row in own) and furnishing(duties, _ACCOUNTS):
        yield "a conferencing account, and an outlet with the way to the internet beside the codec"
    if overhead and furnishing(duties, _OPENINGS):
        yield f"openings in the ceiling for {count_of(overhead, 'device')}, closed and painted"


def each_year_with(here: PageContext, one: AlternateEdition) -> str:
    """Return what an alternate adds to what recurs each year, in a sentence; empty where nothing recurs.

    one: the alternate.
    """
    before, after = here.document.yearly_costs, one.document.yearly_costs
    if not before and not after:
        return ""
    asked = _on_request(before) ^ _on_request(after)
    then, now = _by_name(before), _by_name(after)
    moved = {name: now.get(name, NOTHING) - then.get(name, NOTHING) for name in {**then, **now}}
    moved = {name: by for name, by in moved.items() if by and name not in asked}
    total = sum(moved.values(), start=NOTHING)
    on_request = f" What {formatting.listed(sorted(asked))} cost is on request." if asked else ""
    if not moved:
        return f"It adds nothing to what recurs each year.{on_request}"
    parts = [f"{name} {_signed(here, by)}" for name, by in moved.items()]
    way = "adds" if total >= 0 else "takes"
    end = "to what recurs each year" if total >= 0 else "off what recurs each year"
    amount = formatting.money(abs(total), here.cover.currency, here.cover.locale)
    return f"It {way} {amount} before tax {end}: {formatting.listed(parts)}.{on_request}"


def _signed(here: PageContext, amount: Decimal) -> str:
    sign = "+" if amount > 0 else "−"
    return f"{sign}{formatting.money(abs(amount), here.cover.currency, here.cover.locale)}"


def _by_name(rows: Collection[YearlyCostRow]) -> dict[str, Decimal]:
    sums: dict[str, Decimal] = {}
    for row in rows:
        sums[row.short] = sums.get(row.short, NOTHING) + (row.amount or NOTHING)
    return sums


def _on_request(rows: Collection[YearlyCostRow]) -> set[str]:
    return {row.short for row in rows if row.amount is None}


def assumed_with(here: PageContext, one: AlternateEdition) -> Iterator[str]:
    """Yield the assumptions that an alternate adds, those whose value it changes, and those it does without.

    one: the alternate.
    """
    then = {(row.subject, row.key): row for row in here.document.assumptions}
    now = {(row.subject, row.key): row for row in one.document.assumptions}
    for key, row in now.items():
        if key not in then:
            yield f"Assumed besides: {_said(here, row)}."
        elif then[key].value != row.value:
            yield f"Assumed otherwise: {_said(here, row)}."
    for key, row in then.items():
        if key not in now:
            yield f"No longer assumed: {_said(here, row)}."


def _said(here: PageContext, row: AssumptionRow) -> str:
    """Return an assumption with its value and what it applies to."""
    value = row.value_beside
    stated = value is None or value == ""
    shown = "" if stated else f": {field_text(value, ('by kind',), here.values, row)}"
    return f"{row.said}{shown} ({row.subject})"
