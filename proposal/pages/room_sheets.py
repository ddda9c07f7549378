"""The page of a kind of room: what it is for, how it works, what it takes and where it is built."""

from collections.abc import Iterator, Mapping, Sequence
from typing import ClassVar

from proposal.document.mains_failure import without_mains
from proposal.document.offer_totals import offered_rooms
from proposal.document.rows.contained_sound import ContainedSoundRow
from proposal.document.rows.mute_controls import mute_groups, mutes_groups
from proposal.document.rows.price import RoomPrice
from proposal.document.rows.room_contents import CarriedRow, CriterionRow, SizeRow
from proposal.document.rows.rooms import RoomRow, RoomSheet
from proposal.document.rows.sheets import (
    CEILING_PLAN,
    CHARGE_TIMELINE,
    FLOOR_PLAN,
    LEVEL_MAP,
    ROOM_PLAN,
    SIGNAL_FLOW,
)
from proposal.field_classes import dataclass
from proposal.pages.acceptance_criteria import criteria_of, not_all_at_once
from proposal.pages.client_answers import NOT_INCLUDED, rooms_in_use
from proposal.pages.drawing_pages import Drawing, figure_of, figures_of, sheets_of_kind
from proposal.pages.fact_list import Fact, fact_list, facts_of, headed_facts_of_groups
from proposal.pages.how_it_works import Part, how_it_works
from proposal.pages.markdown import Html, join, text
from proposal.pages.meeting_day import day_tables, day_words, mute_table
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import note_box
from proposal.pages.part_page import PartPage, part_page
from proposal.pages.paths import room_sheet_path
from proposal.pages.phrases import capital
from proposal.pages.portable_sets import portable_links_table, portable_uses_table
from proposal.pages.price import price_view
from proposal.pages.prose import prose_of, room_prose_name
from proposal.pages.room_places import (
    assistive_facts,
    assistive_lead,
    besides_the_boxes,
    microphones_table,
    places_tables,
    wired_table,
)
from proposal.pages.schedule_parts import SchedulePart, kind_parts, links_to_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.what_people_do import what_people_do
from proposal.quantities import formatting
from proposal.quantities.formatting import count_of, listed

MOST_PLANS = 8
"""Most sheets that are drawn on the page of a kind of room: their words are as long as the building."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomPage:
    """A kind of room as designed.

    named: its rooms by tag and name; nothing where they are so many that they have pages of their own.
    in_use: from which day its rooms can be used.
    own_plans: of its rooms.  plans: of the storeys where it is built.
    price: of its rooms, where the edition tells of it.  not_in_price: what people use there besides.
    set_aside: which sums in that price are set aside.
    works: step of the signal's way and what happens there; of the client's edition what people do and hear.
    technique: the signal's way for those who build, where `works` does not tell it.
    day_words, days, timelines: the meeting days in words, figures and drawings; empty where it has none.
    level_maps: radio level over the room.
    contained_sound: whether the sound of its rooms stays in them, None where nobody asks for that.
    portable_uses, portable_links: of a portable set where it is used, of a room which sets are used in it.
    besides: loudspeakers, and which boxes stand elsewhere.
    room_parts: of many rooms, the way to the page of each part and how many stand there.
    """

    template: ClassVar[str] = "room.md.jinja"
    title: Html
    use: Html
    named: Html
    in_use: tuple[Html, ...]
    own_plans: tuple[Html, ...]
    plans: tuple[Html, ...]
    price: Html | None
    set_aside: tuple[Html, ...]
    not_in_price: Html | None
    facts: Html
    prose: Html | None
    drawings: tuple[Html, ...]
    works: tuple[tuple[Html, Html], ...]
    technique: tuple[tuple[Html, Html], ...]
    equipment: Html | None
    besides: Html | None
    carried: Html | None
    criteria: Html | None
    day_words: tuple[Html, ...]
    days: tuple[Html, ...]
    timelines: tuple[Html, ...]
    level_maps: tuple[Html, ...]
    mutes: Html | None
    microphones: tuple[Html, ...]
    contained_sound: Html | None
    places: tuple[Html, ...]
    assistive_lead: Html
    assistive: Html | None
    portable_uses: Html | None
    portable_links: Html | None
    rooms: Html | None
    room_parts: tuple[Html, ...]
    internal_note: Html | None


def room_page(here: PageContext, sheet: RoomSheet, drawings: Mapping[str, Drawing]) -> RoomPage:
    """Return the page of a kind of room.

    drawings: every drawing of the edition by sheet number.
    """
    rooms = tuple(row for row in here.document.rooms if row.tag in sheet.rooms)
    uses = [row for row in here.document.portable_uses if {row.set, row.room} & set(sheet.rooms)]
    links = [row for row in here.document.portable_links if row.microphone.rpartition("-")[0] in sheet.rooms]
    at_once = not_all_at_once(here.document, sheet)
    technique = how_it_works(sheet, sorted({row.equipment_room for row in rooms}), at_once)
    for_client = here.edition.reader == "client"
    parts = links_to_parts(
        kind_parts(here.document, sheet), here.path, here.to, lambda rows: count_of(len(rows), "room")
    )
    return RoomPage(
        title=text(sheet.title),
        use=text(sheet.use),
        named=text(
            ""
            if parts or _named_by_title(sheet, rooms)
            else ", ".join(f"{row.tag} {row.name}" for row in rooms)
        ),
        own_plans=figures_of(here, drawings, ROOM_PLAN, sheet.key),
        in_use=tuple(rooms_in_use(here, sheet.rooms)) if for_client else (),
        plans=_plans(here, rooms, drawings),
        price=_price(here, sheet),
        set_aside=tuple(_set_aside(here, sheet)),
        not_in_price=_not_in_price(here, sheet) if for_client else None,
        facts=fact_list(f"{sheet.title} in short", _facts(here, sheet)),
        prose=prose_of(here.document, room_prose_name(sheet.key), here.path),
        drawings=figures_of(here, drawings, SIGNAL_FLOW, sheet.key),
        works=_told(what_people_do(sheet, at_once, _without_mains(here, sheet)) if for_client else technique),
        technique=_told(technique) if for_client and not sheet.nothing_planned else (),
        equipment=None if sheet.nothing_planned else _equipment(here, sheet),
        besides=besides_the_boxes(here, sheet),
        carried=_carried(here, sheet),
        criteria=None if sheet.nothing_planned else _criteria(here, sheet),
        day_words=day_words(here, sheet),
        days=day_tables(here, sheet),
        timelines=figures_of(here, drawings, CHARGE_TIMELINE, sheet.key),
        level_maps=figures_of(here, drawings, LEVEL_MAP, sheet.key),
        mutes=mute_table(here, sheet),
        microphones=(
            *((microphones_table(here, sheet),) if sheet.microphones else ()),
            *((wired,) if (wired := wired_table(here, sheet)) else ()),
        ),
        contained_sound=_contained_sound(here, sheet),
        places=places_tables(here, sheet),
        assistive_lead=assistive_lead(sheet),
        assistive=assistive_facts(here, sheet),
        portable_uses=portable_uses_table(here, uses) if uses else None,
        portable_links=portable_links_table(here, links) if links else None,
        rooms=None if parts else _rooms(here, rooms),
        room_parts=parts,
        internal_note=note_box(here.heading("internal_note"), sheet.internal_note),
    )


def _named_by_title(sheet: RoomSheet, rooms: Sequence[RoomRow]) -> bool:
    """Return whether the title names the only room of its kind already."""
    return len(rooms) == 1 and rooms[0].tag in sheet.title and rooms[0].name in sheet.title


def _told(parts: Sequence[Part]) -> tuple[tuple[Html, Html], ...]:
    return tuple((text(part.heading), text(" ".join(part.sentences))) for part in parts)


def _without_mains(here: PageContext, sheet: RoomSheet) -> tuple[str, ...]:
    """Return what happens in rooms of a kind when the mains fails, once where it is alike in all of them."""
    told = {
        words: tags
        for words, all_tags in without_mains(here.document).items()
        if (tags := [tag for tag in all_tags if tag in sheet.rooms])
    }
    if len(told) == 1:
        return tuple(capital(words) for words in told)
    return tuple(
        f"In {listed([here.room_name(tag) for tag in tags])} {words}" for words, tags in told.items()
    )


def _not_in_price(here: PageContext, sheet: RoomSheet) -> Html | None:
    """Return what people use in the rooms of a kind and the price does not hold; None for nothing."""
    rooms = set(sheet.rooms)
    own = [row.name for row in here.document.owner_equipment if rooms & {row.room, *row.serves}]
    panels = any(rooms & set(row.rooms) and not row.controls for row in here.document.mute_controls)
    muted = "groups of microphones" if mutes_groups(sheet, mute_groups(sheet)) else "all microphones"
    names = [
        *dict.fromkeys((*own, *sheet.by_others)),
        *((f"the panel, computer or laptop that mutes {muted}",) if panels else ()),
    ]
    if not names:
        return None
    return join(
        (
            text(f"Not in this price, from you or from those whom you engage: {listed(names)}."),
            *_shared(here),
            text("All else that is not in it:"),
            here.to(NOT_INCLUDED, "what is not included"),
        ),
        " ",
    )


def _shared(here: PageContext) -> Iterator[Html]:
    """Yield what the price of what serves several rooms comes to; nothing where it has none of its own."""
    for row in offered_rooms(here.document.offer):
        if not row.key and len(here.document.planned_rooms) > 1:
            shown = formatting.money(row.price, here.cover.currency, here.cover.locale)
            yield text(f"What is for the project as a whole, {shown} before tax, has a price of its own.")


def _plans(here: PageContext, rooms: Sequence[RoomRow], drawings: Mapping[str, Drawing]) -> tuple[Html, ...]:
    """Return the plans on which rooms of this kind are seen; of many sheets the way to each alone."""
    tags, storeys = {row.tag for row in rooms}, {room.storey for room in rooms}
    sheets = [
        row
        for row in sheets_of_kind(here.document, FLOOR_PLAN, CEILING_PLAN)
        if row.subject in storeys and (not row.members or tags & set(row.members)) and row.number in drawings
    ]
    if len(sheets) > MOST_PLANS:
        ways = join((here.drawing(row.number, f"{row.number} {row.title}") for row in sheets), ", ")
        return (join((text("On these sheets: "), ways, text("."))),)
    return tuple(figure_of(here, drawings[row.number]) for row in sheets)


def _price(here: PageContext, sheet: RoomSheet) -> Html | None:
    prices = [row for row in offered_rooms(here.document.offer) if row.key in sheet.rooms]
    caption = "Price of the room" if len(prices) == 1 else "Price of the rooms of this kind"
    return price_view(here, caption, RoomPrice, prices) if prices else None


def _set_aside(here: PageContext, sheet: RoomSheet) -> Iterator[Html]:
    """Yield each sum set aside that the price of a room contains, and what it is for."""
    for row in here.document.offer:
        if row.group == "allowance" and row.room in sheet.rooms:
            shown = formatting.money(row.price, here.cover.currency, here.cover.locale)
            room = f" of {here.room_name(row.room)}" if len(sheet.rooms) > 1 else ""
            yield text(
                f"The price{room} contains {shown} before tax set aside for {row.description[:1].lower()}"
                f"{row.description[1:]}; for that you pay what it really costs."
            )


def _facts(here: PageContext, sheet: RoomSheet) -> tuple[Fact, ...]:
    several = len(sheet.microphones_by_form) > 1
    # A cart has no walls, no ceiling and no seats of its own.
    carts = {row.tag for row in here.document.portable_sets}
    return (
        *facts_of(here, sheet, "rooms"),
        *(() if carts & set(sheet.rooms) else _room_itself(here, sheet)),
        *(
            (Fact(here.heading("microphones_in_use_at_once"), len(sheet.microphones)),)
            if sheet.microphones
            else ()
        ),
        *(
            (Fact(here.heading("wired_microphones"), len(sheet.wired_microphones)),)
            if sheet.wired_microphones
            else ()
        ),
        *facts_of(here, sheet, *(("microphones_by_form",) if several else ()), "spare_microphones"),
        # Where nobody asks for it, nothing is said of it: that is no promise that it is not required.
        *(facts_of(here, sheet, "assistive_listening") if sheet.assistive_listening else ()),
        *(facts_of(here, sheet, "sound_stays") if sheet.sound_stays else ()),
        *facts_of(here, sheet, "apart", "isolating_port"),
        *headed_facts_of_groups(here, sheet, "untouchable"),
        *headed_facts_of_groups(here, sheet, "surfaces"),
        *headed_facts_of_groups(here, sheet, "sessions"),
    )


def _room_itself(here: PageContext, sheet: RoomSheet) -> tuple[Fact, ...]:
    """Return how large a room is, its ceiling and its seats."""
    return (
        *facts_of(here, sheet, "width_m", "depth_m", "area_m2", "ceiling_height_m", "ceiling_kind"),
        *(facts_of(here, sheet, "ceiling_tile_m") if sheet.ceiling_tile_m else ()),
        Fact(here.heading("seats"), len(sheet.seats)),
    )


def _contained_sound(here: PageContext, sheet: RoomSheet) -> Html | None:
    found = [row for row in here.document.contained_sound if row.room in sheet.rooms]
    if not found:
        return None
    agreed = [name for name in ("may_reach", "may_pass") if any(getattr(row, name) for row in found)]
    timed = ("states", "unplugged") if any(row.states for row in found) else ()
    fields: list[Field[ContainedSoundRow]] = [
        *fields_of(here, ContainedSoundRow, "room", "verdict", "reason", *timed, *agreed, "encryption"),
        *fields_of(here, ContainedSoundRow, "reached", "way_out"),
    ]
    return schedule("Whether the sound of the room stays in it", fields, found)


def _equipment(here: PageContext, sheet: RoomSheet) -> Html:
    if here.edition.reader == "client":
        short: list[Field[SizeRow]] = [
            *fields_of(
                here, SizeRow, "kind", "model", "description", "quantity", "capacity", "slots_by_form"
            ),
        ]
        return schedule(
            "Equipment in each room, and how many microphones or signals one of it takes", short, sheet.sizes
        )
    fields: list[Field[SizeRow]] = [
        *fields_of(here, SizeRow, "kind", "model", "description", "quantity", "capacity", "other_slots"),
        *fields_of(here, SizeRow, "slots_by_form", "capacity_in_all", "needed", "left_over", "chosen_by"),
    ]
    return schedule("Devices, what they hold and what the room needs", fields, sheet.sizes)


def _carried(here: PageContext, sheet: RoomSheet) -> Html | None:
    if not sheet.carried:
        return None
    fields: list[Field[CarriedRow]] = [*fields_of(here, CarriedRow, "what", "need", "given", "spare")]
    return schedule("What the mixers or breakouts take and send", fields, sheet.carried)


def _criteria(here: PageContext, sheet: RoomSheet) -> Html:
    fields: list[Field[CriterionRow]] = [
        *fields_of(here, CriterionRow, "criterion", "verdict", "required", "designed", "at"),
    ]
    return schedule("What is required, and what the design reaches", fields, criteria_of(here, sheet))


def room_kind_part_page(here: PageContext, part: SchedulePart[RoomRow], sheet: RoomSheet) -> PartPage:
    """Return the page of a part of the rooms of a kind.

    part: the rooms that stand on it.  sheet: the kind of room.
    """
    whole = room_sheet_path(sheet.key), sheet.title
    return part_page(here, f"{sheet.title}: {part.title}", whole, _rooms(here, part.rows))


def _rooms(here: PageContext, rooms: tuple[RoomRow, ...]) -> Html:
    fields: list[Field[RoomRow]] = [
        *fields_of(here, RoomRow, "tag", "name", "storey", "equipment_room", "devices"),
    ]
    return schedule("Rooms of this kind, and their devices", fields, rows=rooms)
