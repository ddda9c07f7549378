"""The states in which the building is used, and what holds in each."""

import re
from collections.abc import Mapping
from typing import ClassVar

from proposal.document.rows.radio import RadioStateRow
from proposal.document.rows.sheets import PORTABLE_PLACE
from proposal.document.rows.states import JoinedSoundRow, StateRow
from proposal.field_classes import dataclass
from proposal.pages.drawing_pages import Drawing, figures_of
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.portable_sets import (
    portable_links_table,
    portable_sets_table,
    portable_uses_table,
)
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities import formatting

JOINED = (
    "Joined rooms share the air and the kind of day. Where each has a mixer, the microphones of one are "
    "heard in the others and a mute acts in all of them; else each room is heard and muted by itself."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class StatesPage:
    """States of the building.

    sentences: one or more of each state.
    states, radio: tables; radio has none where it is the same in all states.
    sound: ways of sound between joined rooms, None where there are none.
    sets, uses, links: portable sets, where they are used, and their microphones there; None without any.
    places: plans of portable sets where they are used.
    joined: what joined rooms share, None where no state joins any.
    """

    template: ClassVar[str] = "states.md.jinja"
    sentences: tuple[Html, ...]
    states: Html
    radio: tuple[Html, ...]
    joined: Html | None
    sound: Html | None
    sets: Html | None
    uses: Html | None
    links: Html | None
    places: tuple[Html, ...]


def states_page(here: PageContext, drawings: Mapping[str, Drawing]) -> StatesPage:
    """Return the page of the states of the building.

    drawings: every drawing of the edition by sheet number.
    """
    document = here.document
    hearing = ("hearing",) if any(row.hearing for row in document.states) else ()
    seats = ("joined_seats",) if any(row.joined_seats for row in document.states) else ()
    return StatesPage(
        sentences=tuple(text(_sentence(here, row)) for row in document.states),
        states=schedule(
            "States of the building",
            [*fields_of(here, StateRow, "name", "joined", *seats, *hearing, "open_walls", "kind_of_day")],
            document.states,
            mark=here.mark("states"),
        ),
        radio=radio_states_tables(here),
        joined=text(JOINED) if any(row.joined for row in document.states) else None,
        sound=_sound(here) if document.joined_sound else None,
        sets=portable_sets_table(here, document.portable_sets) if document.portable_sets else None,
        uses=portable_uses_table(here, document.portable_uses) if document.portable_uses else None,
        links=portable_links_table(here, document.portable_links) if document.portable_links else None,
        places=figures_of(here, drawings, PORTABLE_PLACE),
    )


def _sound(here: PageContext) -> Html:
    return schedule(
        "Whose mix is heard where, and by which stream and input",
        [
            *fields_of(
                here, JoinedSoundRow, "state", "room", "other", "sender", "stream", "receiver", "input"
            ),
            *fields_of(here, JoinedSoundRow, "later"),
        ],
        here.document.joined_sound,
    )


def radio_states_tables(here: PageContext) -> tuple[Html, ...]:
    """Return what of radio differs by state: whether there is room, and for those who check it the levels."""
    rows = here.document.radio_states
    room: list[Field[RadioStateRow]] = [
        *fields_of(here, RadioStateRow, "states", "outcome", "sum", "wanted", "held", "missing", "elsewhere")
    ]
    levels: list[Field[RadioStateRow]] = [
        *fields_of(here, RadioStateRow, "worst_margin_db", "least_clear_db", "disturbing")
    ]
    tables = [schedule("Room on the air by state", room, rows)] if rows else []
    if rows and levels:
        named: list[Field[RadioStateRow]] = [*fields_of(here, RadioStateRow, "states"), *levels]
        tables.append(schedule("Levels by state", named, rows))
    return tuple(tables)


def _with_names(said: str, named: Mapping[str, str]) -> str:
    """Return what is said of rooms by their tags with their names as well.

    named: name and tag of each room, by its tag.
    """
    return re.sub(r"[\w.-]*\w", lambda word: named.get(word[0], word[0]), said)


def _sentence(here: PageContext, row: StateRow) -> str:
    """Return what a state means, in everyday words."""
    named = {room.tag: f"{room.name} ({room.tag})" for room in here.document.rooms}
    said = [_with_names(f"{group} are joined", named) for group in row.joined]
    # Records of before have no sums of seats.
    if row.joined_seats:
        sums = [f" ({formatting.count_of(seats, 'seat')} together)" for seats in row.joined_seats]
        said = [f"{one}{seats}" for one, seats in zip(said, sums, strict=True)]
    said += [_with_names(one, named) for one in row.hearing]
    said = said or ["every room is by itself"]
    said += [
        f"{use.set} stands in {use.place}" for use in here.document.portable_uses if row.name in use.states
    ]
    if row.kind_of_day:
        said.append(f"the day is one of “{row.kind_of_day}”")
    said += [
        f"the sound of {one.room} stays in it"
        + (f", but for {formatting.listed(one.may_reach)}" if one.may_reach else "")
        + (f", where {formatting.listed(one.may_pass)} counts as part of it" if one.may_pass else "")
        + (
            f": pull out the leads at {formatting.listed(one.unplugged)} before, and plug them in after"
            if one.unplugged
            else ""
        )
        for one in here.document.contained_sound
        if row.name in one.states
    ]
    found = next((one for one in here.document.radio_states if row.name in one.states), None)
    if found is not None:
        said.append(_RADIO[found.outcome])
    return f"In the state {row.name} {formatting.listed(said)}."


_RADIO = {
    "planned": "there is room on the air for all microphones",
    "impossible": "there is no room on the air for all microphones at once",
    "not settled": "it is not settled whether all microphones have room on the air",
}
