"""Radio over the whole building: outcome, sensitivity, neighbourhoods, levels and the plan."""

import math
from collections.abc import Iterator, Sequence
from typing import ClassVar

from proposal.document.rows.radio import (
    DisturbanceRow,
    FurtherRow,
    LeverRow,
    MarginRow,
    NeighbourhoodRow,
    OverfullRow,
    RadioCaseRow,
    RadioMoveRow,
    RadioPlaceRow,
    RadioSummary,
)
from proposal.document.rows.sheets import LEVEL_MAP, RADIO_NEIGHBOURS
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.drawing_pages import sheets_of_kind
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import capital
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, radio_level_parts, radio_plan_parts
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.pages.states import radio_states_table
from proposal.quantities import formatting

RADIO = "radio.md"


@dataclass(frozen=True, slots=True, kw_only=True)
class RadioPage:
    """What came of radio, and for those who check and build it the figures behind.

    outcome: in a sentence.  lines: what it means, in sentences.
    too_full: who has too many, in sentences; sums: the table that shows it.
    levers_lead, levers: what would help, and what goes before it.
    cases, neighbourhoods, disturbances, further, plan: tables, None for readers without them.
    levels_title, plan_title: headings of what follows, None where nothing does.
    margins: room and table of its microphones.
    level_parts, plan_parts: of many links, the way to the page of each part and how many stand there.
    states: what differs by state of the building; elsewhere: links that lie elsewhere in some of them.
    """

    template: ClassVar[str] = "radio.md.jinja"
    outcome: Html
    lines: tuple[Html, ...]
    too_full: tuple[Html, ...]
    sums: Html | None
    levers_lead: tuple[Html, ...]
    levers: Html | None
    cases: Html | None
    neighbourhoods: Html | None
    disturbances: Html | None
    further: Html | None
    levels_title: Html | None
    margins: tuple[tuple[Html, Html], ...]
    level_parts: tuple[Html, ...]
    plan_title: Html | None
    plan: Html | None
    plan_parts: tuple[Html, ...]
    states: Html | None
    elsewhere: Html | None
    drawings: tuple[Html, ...]


def radio_page(here: PageContext) -> RadioPage:
    """Return the page of radio over the building.

    Raises ValueError where the edition says nothing of radio.
    """
    document = here.document
    if document.radio is None:
        raise ValueError("wanted an edition with radio; found none")
    levels = links_to_parts(
        radio_level_parts(document),
        paths.RADIO_LEVELS,
        here.to,
        lambda rows: formatting.count_of(len(rows), "microphone"),
    )
    places = links_to_parts(
        radio_plan_parts(document),
        paths.RADIO_PLAN,
        here.to,
        lambda rows: formatting.count_of(len(rows), "link"),
    )
    return RadioPage(
        outcome=text(_outcome(document.radio)),
        lines=_lines(here, document.radio),
        too_full=tuple(text(one) for one in _too_full_words(document.overfull)),
        sums=_sums(here) if document.overfull else None,
        levers_lead=_levers_lead(document.levers),
        levers=_levers(here) if document.levers else None,
        cases=_cases(here) if document.radio_cases else None,
        neighbourhoods=_neighbourhoods(here) if document.neighbourhoods else None,
        disturbances=_disturbances(here) if document.disturbances else None,
        further=_further(here) if document.further else None,
        levels_title=text("How each microphone is received") if document.margins else None,
        margins=() if levels else _levels(here, document.margins),
        level_parts=levels,
        plan_title=text("Carriers and slots") if document.radio_places else None,
        plan=_plan(here, document.radio_places) if document.radio_places and not places else None,
        plan_parts=places,
        states=radio_states_table(here) if document.radio_states else None,
        elsewhere=_elsewhere(here) if document.radio_moves else None,
        drawings=tuple(
            here.drawing(row.number, f"{row.number} {row.title}")
            for row in sheets_of_kind(document, LEVEL_MAP, RADIO_NEIGHBOURS)
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RadioLevelsPage:
    """How the microphones of one storey are received, or a numbered part of them, a table a room."""

    template: ClassVar[str] = "radio-levels.md.jinja"
    title: Html
    overview: Html
    margins: tuple[tuple[Html, Html], ...]


def radio_levels_page(here: PageContext, part: SchedulePart[MarginRow]) -> RadioLevelsPage:
    """Return the page of a part of the levels of microphones.

    part: the levels that stand on it.
    """
    return RadioLevelsPage(
        title=text(part.title),
        overview=here.to(RADIO, "Radio over the whole building"),
        margins=_levels(here, part.rows),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RadioPlanPage:
    """Carriers and slots of the links of one storey, or a numbered part of them."""

    template: ClassVar[str] = "radio-plan.md.jinja"
    title: Html
    overview: Html
    plan: Html


def radio_plan_page(here: PageContext, part: SchedulePart[RadioPlaceRow]) -> RadioPlanPage:
    """Return the page of a part of the plan of carriers and slots.

    part: the places that stand on it.
    """
    return RadioPlanPage(
        title=text(part.title),
        overview=here.to(RADIO, "Radio over the whole building"),
        plan=_plan(here, part.rows),
    )


def _levels(here: PageContext, margins: Sequence[MarginRow]) -> tuple[tuple[Html, Html], ...]:
    names = {row.tag: row.name for row in here.document.rooms}
    return tuple(
        (text(f"{room} {names.get(room, '')}".strip()), _margins(here, room, rows))
        for room, rows in grouped(margins, lambda row: row.room).items()
    )


def _outcome(radio: RadioSummary) -> str:
    links = formatting.count_of(radio.links, "microphone")
    if radio.outcome == "planned":
        return (
            f"There is room on the air for {links} at once: a plan was found that gives each link a carrier "
            "and slots of its own wherever links disturb each other, over all rooms and storeys."
        )
    found = ""
    if radio.missing:
        found = (
            f" A plan was found for {radio.links - radio.missing} of them; {radio.missing} found no place."
        )
    if radio.outcome == "impossible":
        return f"There is no room on the air for {links} at once.{found}"
    return (
        f"Whether there is room on the air for {links} at once is not settled: no sum rules it out, "
        f"and no plan was found.{found}"
    )


def _too_full_words(rows: Sequence[OverfullRow]) -> Iterator[str]:
    """Yield who has too many microphones; of rooms told already, that theirs are counted there."""
    for number, row in enumerate(rows):
        within = any(set(row.rooms) <= set(before.rooms) for before in rows[:number])
        yield _too_full(row) + (" They are counted above as well." if within else "")


def _too_full(row: OverfullRow) -> str:
    """Return in everyday words who has too many microphones, and why."""
    rooms = formatting.listed(row.rooms)
    many = formatting.count_of(row.links, "microphone")
    if row.kind == "transceivers":
        return (
            f"{row.access_point} serves {many} and has radio for {row.held // row.slot_pairs}: "
            f"{row.over_links} too many."
        )
    hear = (
        f"The rooms {rooms} hear each other"
        if len(row.rooms) > 1
        else f"All microphones of {rooms} hear each other"
    )
    if row.kind == "search":
        return (
            f"{hear}. Near an access point a microphone can be so much louder than others that they lose "
            f"even the channels next to its own, so that not every place can be used. Of {many}, "
            f"{row.links - row.over_links} have a place; a complete search found no arrangement for all."
        )
    share = "each needs a part of the air for itself"
    if row.kind == "neighbouring":
        share = "some are so loud beside others that even the next channel is lost to them"
    return (
        f"{hear}, and {share}. Together they hold {row.held // row.slot_pairs} microphones at once; {many} "
        f"are wanted: {row.over_links} too many."
    )


def _sums(here: PageContext) -> Html:
    fields: list[Field[OverfullRow]] = [
        *fields_of(
            here, OverfullRow, "rooms", "kind", "access_point", "links", "slot_pairs", "bearers", "sum"
        ),
        *fields_of(here, OverfullRow, "wanted", "carriers", "held", "over_links"),
    ]
    return schedule(
        "Rooms that want more of the air than there is, in slot pairs", fields, here.document.overfull
    )


def _levers_lead(rows: Sequence[LeverRow]) -> tuple[Html, ...]:
    lines = ["For each line the whole building was planned again."]
    if any(row.name == "more loss" for row in rows):
        lines.append(
            "Where walls and floors stop radio by 10 dB more, a tenth of the power comes through; by 40 dB "
            "more, a ten-thousandth, which takes metal on all sides."
        )
    return tuple(text(line) for line in lines)


def _levers(here: PageContext) -> Html:
    fields: list[Field[LeverRow]] = [*fields_of(here, LeverRow, "name", "text", "rooms", "missing")]
    return schedule("What would help, the most helpful first", fields, here.document.levers)


def _lines(here: PageContext, radio: RadioSummary) -> tuple[Html, ...]:
    boxes = formatting.count_of(radio.access_points, "access point")
    lines = [
        f"{capital(boxes)} {'serves' if radio.access_points == 1 else 'serve'} them on "
        f"{formatting.count_of(radio.carriers, 'carrier')} of the licence-exempt band."
    ]
    if radio.over:
        lines.append(f"Wanted where it is fullest: {radio.over} that there are.")
    if radio.worst_margin_db is not None:
        margin = here.short_quantity(float(math.floor(abs(radio.worst_margin_db))), "level")
        lines.append(
            f"The weakest microphone is received {margin} above what it needs, bodies and fading allowed for."
            if radio.worst_margin_db >= 0
            else f"The weakest microphone lacks {margin} of what it needs, bodies and fading allowed for."
        )
    if radio.breaks_at_db is not None:
        shift = here.short_quantity(radio.breaks_at_db, "level")
        lines.append(
            "The plan rests on how much walls and floors stop radio. Where others are heard "
            f"{shift} stronger than computed, not all microphones have room. A measurement in the building "
            "settles that before equipment is ordered."
        )
    if radio.walls_off_db is not None:
        off = here.short_quantity(radio.walls_off_db, "level")
        lines.append(
            f"The plan still holds where all walls and floors stop radio by {off} less than computed, "
            "and not where it is more."
        )
        if radio.measured_db is not None:
            least = here.short_quantity(float(math.ceil(radio.measured_db)), "level")
            lines.append(
                f"Measure between {formatting.listed(radio.measured_rooms)} before equipment is ordered: "
                f"from antenna to antenna the loss must be {least} or more."
            )
    if radio.other_links:
        others = capital(formatting.count_of(radio.other_links, "link"))
        lines.append(f"{others} of other users of the band in and near the building are taken into account.")
    return tuple(text(line) for line in lines)


def _cases(here: PageContext) -> Html:
    fields: list[Field[RadioCaseRow]] = [
        *fields_of(here, RadioCaseRow, "name", "outcome", "worst_margin_db"),
    ]
    return schedule("The outcome under other assumptions", fields, here.document.radio_cases)


def _neighbourhoods(here: PageContext) -> Html:
    fields: list[Field[NeighbourhoodRow]] = [
        *fields_of(
            here,
            NeighbourhoodRow,
            *(
                "number",
                "rooms",
                "kind",
                "access_point",
                "links",
                "bearers",
                "sum",
                "wanted",
                "carriers",
                "held",
            ),
            "spare_links",
        ),
    ]
    return schedule("Neighbourhoods, fullest first", fields, here.document.neighbourhoods)


def _disturbances(here: PageContext) -> Html:
    fields: list[Field[DisturbanceRow]] = [
        *fields_of(here, DisturbanceRow, "rooms", "over_whole_db"),
    ]
    return schedule(
        "Rooms that interfere with each other on one carrier in one slot",
        fields,
        here.document.disturbances,
        mark=here.mark("disturbances"),
    )


def _further(here: PageContext) -> Html:
    fields: list[Field[FurtherRow]] = [
        *fields_of(
            here,
            FurtherRow,
            "room",
            "links",
            "bearers",
            "wanted",
            "held",
            "near_far",
            "near_far_named",
            "could_be_added",
        ),
    ]
    return schedule("Microphones that could still be added in each room", fields, here.document.further)


def _margins(here: PageContext, room: str, rows: tuple[MarginRow, ...]) -> Html:

    fields: list[Field[MarginRow]] = [
        *fields_of(
            here,
            MarginRow,
            "microphone",
            "access_point",
            "verdict",
            "distance_m",
            "loss_db",
            "body_db",
            "received_dbm",
            "wanted_dbm",
            "margin_db",
            "coverage",
            "second",
            "second_db",
        ),
    ]
    return schedule(f"Levels of the microphones of {room}", fields, rows, mark=here.mark("margins"))


def _elsewhere(here: PageContext) -> Html:
    fields: list[Field[RadioMoveRow]] = [
        *fields_of(here, RadioMoveRow, "states", "identity", "carrier", "slots", "further"),
    ]
    return schedule("Links that lie elsewhere in other states", fields, here.document.radio_moves)


def _plan(here: PageContext, rows: Sequence[RadioPlaceRow]) -> Html:
    fields: list[Field[RadioPlaceRow]] = [
        *fields_of(here, RadioPlaceRow, "identity", "kind", "access_point", "group", "carrier"),
        *fields_of(here, RadioPlaceRow, "carrier_hz", "slots", "further", "clear_whole_db"),
        *fields_of(here, RadioPlaceRow, "quiet_db", "access"),
    ]
    return schedule("One plan of carriers and slots", fields, rows, mark=here.mark("radio_places"))
