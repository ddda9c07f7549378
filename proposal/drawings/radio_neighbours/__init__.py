"""The radio neighbours of a storey: rooms whose links cannot share carriers and slots, over the plan."""

from collections.abc import Mapping

from proposal.document.document import Document
from proposal.document.rows.radio import NeighbourhoodRow, RadioStateRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.plan.plan_marks import code_of
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

Point = tuple[float, float]
_MOST_NAMED = 6
_MOST_STATES, _MOST_ROOMS = 4, 4


@dataclass(frozen=True, slots=True, kw_only=True)
class NeighbourRoom:
    """A room: tag, name, corners in the building, m, and its links.

    full: whether it is in the fullest neighbourhood that reaches the storey.
    boxes: positions of its access points.
    codes: of these in the same order, as room plans name them.
    """

    tag: str
    name: str
    outline: tuple[Point, ...]
    links: int
    full: bool
    boxes: tuple[Point, ...]
    codes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NeighboursSpec:
    """All that the neighbours of a storey show.

    pairs: tags of two rooms of it, and how far the worst unwanted level is above what is tolerated, dB.
    elsewhere: a room of the storey, what it disturbs elsewhere as printed, and the same, dB.
    fullest: what is said of the fullest neighbourhood that reaches the storey, empty where none does.
    states: what is said of each state of the building with a plan of its own.
    """

    strip: TitleBlock
    units: str
    locale: str
    storey: str
    name: str
    rooms: tuple[NeighbourRoom, ...]
    pairs: tuple[tuple[str, str, float], ...]
    elsewhere: tuple[tuple[str, str, float], ...]
    fullest: str
    states: tuple[str, ...] = ()


def spec_of(edition: Edition, sheet: SheetRow) -> NeighboursSpec:
    """Return what the neighbours of a storey show to an edition's reader."""
    document = edition.document
    storey = next(row for row in document.storeys if row.tag == sheet.subject)
    links: dict[str, int] = {}
    for margin in document.margins:
        links[margin.room] = links.get(margin.room, 0) + 1
    storey_of = {room.tag: room.storey for room in document.rooms}
    # Records of issues before users of the band were listed hold their tags alone.
    named = {user.tag: user.name for user in document.band_users}
    # They stand fullest first: this one bounds what the storey can still take.
    touching = (
        row for row in document.neighbourhoods if any(storey_of.get(tag) == storey.tag for tag in row.rooms)
    )
    fullest = next(touching, None)
    pairs, elsewhere = [], []
    for row in document.disturbances:
        here = [tag for tag in row.rooms if storey_of.get(tag) == storey.tag]
        if len(here) == 2:
            pairs.append((here[0], here[1], row.over_db))
        elif len(here) == 1:
            other = next(tag for tag in row.rooms if tag != here[0])
            told = f"{other}, {named[other]}" if other in named else other
            where = f"{other} on {storey_of[other]}" if other in storey_of else told
            elsewhere.append((here[0], where, row.over_db))
    hung: dict[str, list[tuple[str, Point]]] = {}
    for device in document.devices:
        if device.kind == "access point" and device.at is not None:
            hung.setdefault(device.room, []).append((code_of(device.tag, device.room), device.at))
    return NeighboursSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        storey=storey.tag,
        name=storey.name,
        rooms=tuple(
            NeighbourRoom(
                tag=room.tag,
                name=room.name,
                outline=room.outline,
                links=links.get(room.tag, 0),
                full=fullest is not None and room.tag in fullest.rooms,
                boxes=tuple(at for _, at in hung.get(room.tag, ())),
                codes=tuple(code for code, _ in hung.get(room.tag, ())),
            )
            for room in document.rooms
            if room.storey == storey.tag
        ),
        pairs=tuple(pairs),
        elsewhere=tuple(elsewhere),
        fullest=_fullest(fullest, links) if fullest is not None else "",
        states=tuple(_state_words(document, row) for row in document.radio_states[:_MOST_STATES]),
    )


def _state_words(document: Document, row: RadioStateRow) -> str:
    """Return how full the frame is in some states, and how many links then have other carriers or slots."""
    said = f"In {formatting.listed(row.states)}: {row.wanted} of {row.held} slot pairs"
    moved: dict[str, int] = {}
    for one in document.radio_moves:
        if set(one.states) & set(row.states):
            room = one.identity.rpartition("-")[0]
            moved[room] = moved.get(room, 0) + 1
    if not moved:
        return f"{said}; {formatting.count_of(row.elsewhere, 'link')} elsewhere" if row.elsewhere else said
    if len(moved) > _MOST_ROOMS:
        return f"{said}; other carriers: {sum(moved.values())} links of {len(moved)} rooms"
    rooms = [f"{count} of {room}" for room, count in sorted(moved.items())]
    return f"{said}; other carriers: {formatting.listed(rooms)}"


def _fullest(row: NeighbourhoodRow, links: Mapping[str, int]) -> str:
    """Return how full the fullest neighbourhood is, and how many of its rooms' links are in it.

    links: of each room; those of other users of the band are not known.
    """
    there = sum(links.get(tag, 0) for tag in row.rooms)
    known = all(tag in links for tag in row.rooms) and row.links < there
    counted = f"{row.links} of the {there} links" if known else formatting.count_of(row.links, "link")
    return (
        f"Fullest neighbourhood {row.number}: {row.wanted} of {row.held} slot pairs, {counted} of "
        f"{_named(row.rooms)}; no two of them can share a carrier and a slot"
    )


def _named(rooms: tuple[str, ...]) -> str:
    """Return few rooms by tag, many by their number: the foot of the sheet has one line for them."""
    if len(rooms) <= _MOST_NAMED:
        return formatting.listed(rooms)
    return formatting.count_of(len(rooms), "room and other user", "rooms and other users")


def alternative(spec: NeighboursSpec) -> str:
    """Return what the neighbours of a storey show in sentences."""
    sentences = [f"Radio neighbours on {spec.storey} {spec.name}, to scale, north up."]
    for room in spec.rooms:
        within = ", in the fullest neighbourhood" if room.full else ""
        sentences.append(f"Room {room.tag} with {formatting.count_of(room.links, 'link')}{within}.")
    for one, other, over in spec.pairs:
        sentences.append(f"Rooms {one} and {other} disturb each other by up to {over:.0f} dB.")
    for one, other, over in spec.elsewhere:
        sentences.append(f"Room {one} and {other} disturb each other by up to {over:.0f} dB.")
    if not spec.pairs and not spec.elsewhere:
        sentences.append("No two rooms disturb each other here.")
    sentences += [f"{one}." for one in (spec.fullest, *spec.states) if one]
    return " ".join(sentences)
