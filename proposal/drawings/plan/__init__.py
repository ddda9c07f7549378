"""The plan of a storey: rooms, equipment rooms, devices and cable pathways, to scale."""

from collections.abc import Sequence
from dataclasses import dataclass

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.quantities import formatting

Point = tuple[float, float]
MARKED = ("access point", "charger", "breakout", "loudspeaker", "microphone", "owner's device")


@dataclass(frozen=True, slots=True)
class PlanRoom:
    """A room: tag, name and corners in the building, m."""

    tag: str
    name: str
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class PlanPlace:
    """An equipment room: tag, name, position of its racks, m, and their tags."""

    tag: str
    name: str
    at: Point
    racks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanMark:
    """Devices of one kind at one position: label as printed, empty where unlabelled."""

    kind: str
    at: Point
    label: str


@dataclass(frozen=True, slots=True)
class PlanPathway:
    """A pathway of cables: tag and number of cables as printed, kind, and its ends, m; one where it rises."""

    tag: str
    kind: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class PlanRun:
    """A right-angled run of cables outside pathways: its corners, m, and how many cables take it."""

    corners: tuple[Point, ...]
    cables: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSpec:
    """All that the plan of a storey shows.

    units: metric or us_customary, for the scale bar.
    """

    strip: TitleBlock
    units: str
    locale: str
    storey: str
    name: str
    rooms: tuple[PlanRoom, ...]
    places: tuple[PlanPlace, ...]
    marks: tuple[PlanMark, ...]
    pathways: tuple[PlanPathway, ...]
    runs: tuple[PlanRun, ...]


def spec_of(edition: Edition, sheet: SheetRow) -> PlanSpec:
    """Return what the plan of a storey shows to an edition's reader."""
    document = edition.document
    storey = next(row for row in document.storeys if row.tag == sheet.subject)
    return PlanSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        storey=storey.tag,
        name=storey.name,
        rooms=tuple(
            PlanRoom(room.tag, room.name, room.outline)
            for room in document.rooms
            if room.storey == storey.tag
        ),
        places=tuple(
            PlanPlace(place.tag, place.name, place.at, place.racks)
            for place in document.equipment_rooms
            if place.storey == storey.tag
        ),
        marks=_marks(document, storey.tag),
        pathways=_pathways(document, storey.tag),
        runs=_runs(document, storey.tag),
    )


def _runs(document: Document, storey: str) -> tuple[PlanRun, ...]:
    """Return the runs outside pathways on a storey: from devices to where they enter, and on to the racks."""
    at = {device.tag: device.at for device in document.devices}
    counted: dict[tuple[Point, Point], int] = {}
    for cable in document.cables:
        start, end = at.get(cable.from_tag), at.get(cable.to_tag)
        if start is None or end is None:
            continue
        entered, left = (cable.turns[0], cable.turns[-1]) if cable.turns else (end, end)
        ends = [(start, entered)] if cable.from_storey == storey else []
        if cable.turns and cable.to_storey == storey:
            ends.append((left, end))
        for run in ends:
            if run[0] != run[1]:
                counted[run] = counted.get(run, 0) + 1
    return tuple(
        PlanRun(((x1, y1), (x2, y1), (x2, y2)) if x1 != x2 and y1 != y2 else ((x1, y1), (x2, y2)), cables)
        for ((x1, y1), (x2, y2)), cables in sorted(counted.items())
    )


def _pathways(document: Document, storey: str) -> tuple[PlanPathway, ...]:
    """Return the pathways of a storey with the number of their cables; those that leave it as a point."""
    at = {node.tag: node.at for node in document.nodes}
    grouped: dict[tuple[str, tuple[Point, ...]], list[str]] = {}
    for row in document.pathways:
        if storey not in (row.from_storey, row.to_storey):
            continue
        cables = f" · {len(row.cables)}" if row.cables else ""
        ends = (at[row.from_node], at[row.to_node])
        here = ends[0] if row.from_storey == storey else ends[1]
        points = ends if row.from_storey == row.to_storey else (here,)
        grouped.setdefault((row.kind, points), []).append(f"{row.tag}{cables}")
    return tuple(PlanPathway(", ".join(tags), kind, points) for (kind, points), tags in grouped.items())


def _marks(document: Document, storey: str) -> tuple[PlanMark, ...]:
    """Return a mark for devices of one kind at one place; microphones and loudspeakers unlabelled.

    What stands in a rack is not marked: its rack is.
    """
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    grouped: dict[tuple[str, Point], list[str]] = {}
    for device in document.devices:
        if device.storey != storey or device.location in racks:
            continue
        if device.kind in MARKED and device.at is not None and device.location != "charger":
            grouped.setdefault((device.kind, device.at), []).append(device.tag)
    marks = []
    for (kind, at), tags in sorted(grouped.items()):
        labelled = kind not in ("microphone", "loudspeaker")
        marks.append(PlanMark(kind, at, _label(tags) if labelled else ""))
    return tuple(marks)


def _label(tags: Sequence[str]) -> str:
    """Return the codes of devices that stand together: AP1, CH1–CH8."""
    codes = [tag.rpartition("-")[2] for tag in tags]
    return codes[0] if len(codes) == 1 else f"{codes[0]}–{codes[-1]}"


def alternative(spec: PlanSpec) -> str:
    """Return what the plan shows in sentences."""
    sentences = [f"Plan of {spec.storey} {spec.name} to scale, north up."]
    for room in spec.rooms:
        xs, ys = [x for x, _ in room.outline], [y for _, y in room.outline]
        size = " by ".join(
            formatting.length(high - low, spec.units, spec.locale)
            for low, high in ((min(xs), max(xs)), (min(ys), max(ys)))
        )
        corner = " and ".join(
            f"{formatting.length(value, spec.units, spec.locale)} {direction}"
            for value, direction in ((min(xs), "east"), (min(ys), "north"))
        )
        sentences.append(f"Room {room.tag} {room.name}, {size}, begins {corner} of the building's origin.")
    for place in spec.places:
        sentences.append(f"Equipment room {place.tag} {place.name} with {', '.join(place.racks)}.")
    for pathway in spec.pathways:
        for one in pathway.tag.split(", "):
            name, _, count = one.partition(" · ")
            sentences.append(f"{pathway.kind.capitalize()} {name} with {count or 'no'} cables.")
    if spec.runs:
        sentences.append("Thin lines show right-angled runs of cables outside pathways.")
    return " ".join(sentences)
