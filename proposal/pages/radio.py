"""Radio over the whole building: outcome, sensitivity, neighbourhoods, levels and the plan."""

import math
from collections.abc import Sequence
from typing import ClassVar

from proposal.document.rows.band_users import BandUserRow
from proposal.document.rows.radio import (
    DisturbanceRow,
    FurtherRow,
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
from proposal.pages.fact_list import fact_list, facts_of
from proposal.pages.levers import levers_lead, levers_table
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.part_page import PartPage, part_page
from proposal.pages.phrases import capital
from proposal.pages.radio_in_words import outcome_words, states_lead, too_full_words
from proposal.pages.schedule_parts import (
    SchedulePart,
    further_parts,
    links_to_parts,
    radio_level_parts,
    radio_plan_parts,
)
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.pages.states import radio_states_tables
from proposal.quantities import formatting

_TERMS = (
    "A carrier is one channel of the band. It is divided into twelve slot pairs, which repeat a hundred "
    "times a second. The link (the radio connection) of one microphone takes some of these slot pairs, as "
    "the tables say, and no other link that hears it can use them; an access point without traffic takes one."
)

_TOLD_ONCE = ("body_db", "wanted_dbm", "coverage")
_LEVELS = (
    *("microphone", "access_point", "verdict", "distance_m", "loss_db", "body_db", "received_dbm"),
    *("wanted_dbm", "margin_db", "coverage", "second", "second_db"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RadioPage:
    """What came of radio, and for those who check and build it the figures behind.

    outcome: in a sentence.  lines: what it means, in sentences.
    too_full: who has too many, in sentences; sums: the table that shows it.
    terms: what carriers and slot pairs are, where sums or states follow.
    levers_title, levers_lead, levers: what would help, and what goes before it.
    cases, neighbourhoods, disturbances, others, further, plan: tables, None for readers without them.
    levels_title, plan_title: headings of what follows, None where nothing does; plan_lead: what the plan is.
    margins: room and table of its microphones.
    level_parts, plan_parts: of many links, the way to the page of each part and how many stand there.
    states, states_lead: what differs by state of the building, and what goes before it.
    elsewhere: links that lie elsewhere in some of them.
    """

    template: ClassVar[str] = "radio.md.jinja"
    outcome: Html
    lines: tuple[Html, ...]
    too_full: tuple[Html, ...]
    sums: Html | None
    terms: Html | None
    levers_title: Html
    levers_lead: tuple[Html, ...]
    levers: Html | None
    cases: Html | None
    neighbourhoods: Html | None
    disturbances: Html | None
    others: Html | None
    further_title: Html | None
    further: Html | None
    further_parts: tuple[Html, ...]
    levels_title: Html | None
    margins: tuple[tuple[Html, Html], ...]
    level_parts: tuple[Html, ...]
    plan_title: Html | None
    plan_lead: Html
    plan: Html | None
    plan_parts: tuple[Html, ...]
    states: tuple[Html, ...]
    states_lead: tuple[Html, ...]
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
    further = links_to_parts(
        further_parts(document), paths.FURTHER, here.to, lambda rows: formatting.count_of(len(rows), "room")
    )
    return RadioPage(
        outcome=text(outcome_words(document.radio, document.radio_states)),
        lines=_lines(here, document.radio),
        too_full=tuple(text(one) for one in too_full_words(document.overfull, document.radio.missing)),
        terms=text(_TERMS) if document.overfull or document.radio_states else None,
        sums=_sums(here) if document.overfull else None,
        levers_title=text(
            "What would make one plan hold in all states"
            if document.radio.outcome == "planned"
            else "What would help"
        ),
        levers_lead=tuple(text(one) for one in levers_lead(document.radio, document.levers)),
        levers=levers_table(here) if document.levers else None,
        cases=_cases(here) if document.radio_cases else None,
        neighbourhoods=_neighbourhoods(here) if document.neighbourhoods else None,
        disturbances=_disturbances(here) if document.disturbances else None,
        others=_others(here) if document.band_users else None,
        further_title=text("What could still be added") if document.further else None,
        further=_further(here, document.further) if document.further and not further else None,
        further_parts=further,
        levels_title=text("How each microphone is received") if document.margins else None,
        margins=() if levels else _levels(here, document.margins),
        level_parts=levels,
        plan_title=text("Carriers and slots") if document.radio_places else None,
        plan_lead=text(_plan_lead(document.radio)),
        plan=_plan(here, document.radio_places) if document.radio_places and not places else None,
        plan_parts=places,
        states=radio_states_tables(here),
        states_lead=tuple(text(one) for one in states_lead(document.radio, document.radio_states)),
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
        overview=here.to(paths.RADIO, "Radio over the whole building"),
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
        overview=here.to(paths.RADIO, "Radio over the whole building"),
        plan=_plan(here, part.rows),
    )


def _levels(here: PageContext, margins: Sequence[MarginRow]) -> tuple[tuple[Html, Html], ...]:
    names = {row.tag: row.name for row in here.document.rooms}
    return tuple(
        (text(f"{room} {names.get(room, '')}".strip()), _margins(here, room, rows))
        for room, rows in grouped(margins, lambda row: row.room).items()
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


def _plan_lead(radio: RadioSummary) -> str:
    proof = "The plan proves that the band has enough capacity."
    if radio.outcome != "planned":
        proof = "This is the plan for the links that found a place; the others stand without slot pairs."
    return f"{proof} It is not a configuration: the equipment chooses its carriers and slots by itself."


def _lines(here: PageContext, radio: RadioSummary) -> tuple[Html, ...]:
    boxes = formatting.count_of(radio.access_points, "access point")
    lines = [
        f"{capital(boxes)} {'serves' if radio.access_points == 1 else 'serve'} them on "
        f"{formatting.count_of(radio.carriers, 'carrier')} (channels) of the licence-exempt band."
    ]
    if radio.over:
        wanted, _, held = radio.over.partition(" of ")
        lines.append(f"Where most is wanted, it is {wanted}, and there are {held} (explained below).")
    if radio.worst_margin_db is not None:
        margin = here.short_quantity(float(math.floor(abs(radio.worst_margin_db))), "level")
        near = "Every microphone is" if radio.outcome == "planned" else "Distance is not the cause: each is"
        lines.append(
            f"{near} received well enough. The weakest is at least {margin} above what it needs, "
            "with people in the way and fading allowed for."
            if radio.worst_margin_db >= 0
            else f"Not every microphone is received well enough: the weakest lacks {margin} of what it "
            "needs, with people in the way and fading allowed for."
        )
    if radio.breaks_at_db is not None:
        shift = here.short_quantity(radio.breaks_at_db, "level")
        times = 10 ** (radio.breaks_at_db / 10)
        lines.append(
            "The plan rests on how strongly microphones hear each other. Where they do so by "
            f"{shift} more than computed ({times:.0f} times the power), not all have room. A measurement in "
            "the building settles that before equipment is ordered."
        )
    if radio.unproven:
        lines.append(
            "In this country equipment listens before it transmits, and takes only a place that is quiet. "
            f"That {formatting.count_of(radio.unproven, 'microphone')} in "
            f"{formatting.listed(radio.unproven_rooms)} will find one while all rooms are in use was not "
            "proven. A trial with all rooms in use settles it."
        )
    if radio.walls_off_db is not None:
        off = here.short_quantity(radio.walls_off_db, "level")
        lines.append(
            f"The plan still holds where all walls and floors stop radio by {off} less than computed, "
            + ("and not where it is more." if radio.walls_break else "which is as far as was tried.")
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
    if radio.out_of_step:
        lines.append(
            "Where a microphone hears equipment that is not synchronised with its own (other users of the "
            "band, a cart, an access point on a network of its own), its link takes "
            f"{radio.out_of_step}."
        )
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


def _others(here: PageContext) -> Html:
    fields: list[Field[BandUserRow]] = [
        *fields_of(here, BandUserRow, "tag", "name", "storey", "at", "links", "slot_pairs", "radiated_dbm"),
        *fields_of(here, BandUserRow, "synchronised"),
    ]
    return schedule("Others on the band", fields, here.document.band_users)


def further_part_page(here: PageContext, part: SchedulePart[FurtherRow]) -> PartPage:
    """Return the page of a part of the microphones that could be added.

    part: the rooms that stand on it.
    """
    whole = paths.RADIO, "Radio over the whole building"
    return part_page(here, f"What could still be added, {part.title}", whole, _further(here, part.rows))


def _further(here: PageContext, rows: Sequence[FurtherRow]) -> Html:
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
    return schedule("Microphones that could still be added in each room", fields, rows)


def _margins(here: PageContext, room: str, rows: tuple[MarginRow, ...]) -> Html:
    """Return the levels of a room; what is the same for all of its microphones is told once above them."""
    once = [name for name in _TOLD_ONCE if len(rows) > 1 and len({getattr(row, name) for row in rows}) == 1]
    names = [name for name in _LEVELS if name not in once]
    fields: list[Field[MarginRow]] = [*fields_of(here, MarginRow, *names)]
    table = schedule(f"Levels of the microphones of {room}", fields, rows, mark=here.mark("margins"))
    told = fact_list(f"The same for all microphones of {room}", facts_of(here, rows[0], *once))
    return join((told, table), "\n\n") if once else table


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
