"""Which drawing sheets there are, and their numbers."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from proposal.design.connections.data_cables import Cable
from proposal.design.equipment.placed import Placed
from proposal.design.numbers.numbering import (
    CONDUIT_SECTIONS,
    DETAIL_RISER,
    OVERALL_RISER,
    PLAN,
    SIGNAL_FLOW,
    TIMELINE,
    natural,
    sheet_numbers,
)
from proposal.design.pathways.fill import PathwayDesign
from proposal.design.sheets import splitting as sheets
from proposal.model.project import Project

MOST_SECTIONS = 12
"""Cross-sections that a sheet has places for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A drawing sheet: number, kind, subject and the part of the drawing it shows.

    number: sheet number.
    kind: riser overall, riser detail, plan, signal flow, charge timeline or conduit sections.
    subject: empty, a storey's tag or the key of a kind of room.
    part, parts: which sheet of how many.
    shows: the part of the drawing.
    """

    number: str
    kind: str
    subject: str
    part: int
    parts: int
    shows: sheets.Part

    @property
    def identity(self) -> str:
        """Return what keeps its number: series, subject and part."""
        return _identity(self.number.partition("-")[0], self.subject, self.part)


def drawing_sheets(
    project: Project,
    flows: Mapping[str, tuple[Sequence[str], Sequence[str], Mapping[str, int]]],
    devices: Sequence[Placed],
    cables: Sequence[Cable],
    days: Iterable[str] = (),
    pathways: Sequence[PathwayDesign] = (),
) -> tuple[Sheet, ...]:
    """Return the sheets: overall riser, detail risers and plans by storey, a signal flow a kind of room.

    After them a timeline of the state of charge of each kind of room with a meeting day.

    flows: codes of access points and of chargers, and boxes of microphones at each access point, by key of
    the kind of room.
    devices, cables: all of the design.
    days: keys of the kinds of room that have a meeting day.
    pathways: all of the design, for cross-sections of the fullest conduits.
    """
    storeys = sorted(project.building.storeys, key=lambda tag: -project.building.storeys[tag].height)
    rooms: dict[str, list[str]] = {tag: [] for tag in storeys}
    for tag in sorted(project.rooms, key=natural):
        rooms[project.rooms[tag].storey].append(tag)
    of_room: dict[str, list[Cable]] = {tag: [] for tag in project.rooms}
    for cable in cables:
        of_room[cable.room].append(cable)
    overall = [(tag, [(room, _lines(room, of_room[room])) for room in rooms[tag]]) for tag in storeys]
    wanted = [(OVERALL_RISER, "riser overall", "", sheets.overall_parts(overall))]
    cabled = {cable.start for cable in cables}
    uncabled: dict[str, list[tuple[str, str, str]]] = {}
    for device in devices:
        if device.tag not in cabled:
            uncabled.setdefault(device.room, []).append((device.kind, device.model, device.location))
    rows_of = {room: sheets.device_rows(alike) for room, alike in uncabled.items()}
    for tag in reversed(storeys):
        places = [(room, len(of_room[room]), rows_of.get(room, 0)) for room in rooms[tag]]
        places += [
            (place, 0, rows_of.get(place, 0))
            for place, equipment_room in sorted(project.building.equipment_rooms.items())
            if equipment_room.storey == tag
        ]
        if places:
            wanted.append((DETAIL_RISER, "riser detail", tag, sheets.detail_parts(places)))
    for tag in reversed(storeys):
        if rooms[tag] or any(place.storey == tag for place in project.building.equipment_rooms.values()):
            wanted.append((PLAN, "plan", tag, sheets.WHOLE))
    for key, boxes in flows.items():
        wanted.append((SIGNAL_FLOW, "signal flow", key, sheets.flow_parts(*boxes)))
    wanted += [(TIMELINE, "charge timeline", key, sheets.WHOLE) for key in days]
    if fullest := fullest_conduits(pathways):
        wanted.append((CONDUIT_SECTIONS, "conduit sections", "", (sheets.Part(fullest),)))
    return numbered(project, wanted)


def fullest_conduits(pathways: Sequence[PathwayDesign]) -> tuple[str, ...]:
    """Return the tags of the conduits and sleeves that are fullest against their limits, fullest first."""
    filled = [
        (-one.fill.result / (one.fill.limit or 1.0), natural(one.tag), one.tag)
        for one in pathways
        if one.fill is not None and one.tubing is not None
    ]
    return tuple(tag for _, _, tag in sorted(filled)[:MOST_SECTIONS])


def _lines(room: str, cables: Sequence[Cable]) -> int:
    """Return how many lines a room has on the overall riser: by signal, type and whether they leave it."""
    return len({(cable.signal, cable.model, cable.end.startswith(f"{room}-")) for cable in cables})


def _identity(series: str, subject: str, part: int) -> str:
    return f"sheet/{series}/{subject}/{part}"


def numbered(
    project: Project, wanted: Sequence[tuple[str, str, str, tuple[sheets.Part, ...]]]
) -> tuple[Sheet, ...]:
    """Return the sheets with their numbers."""
    listed = [
        (series, _identity(series, subject, n), kind, subject, n, len(parts), part)
        for series, kind, subject, parts in wanted
        for n, part in enumerate(parts, 1)
    ]
    numbers = sheet_numbers([(series, identity) for series, identity, *_ in listed], project.issued)
    return tuple(
        Sheet(number=numbers[identity], kind=kind, subject=subject, part=n, parts=parts, shows=part)
        for _, identity, kind, subject, n, parts, part in listed
    )
