"""Which sheets there are of plans: of rooms built alike, of storeys, of what holds devices."""

from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.equipment.placed_devices import in_building
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.cable_routes import run_heights_m
from proposal.design.pathways.known_ways import makes_openings
from proposal.design.pathways.pathway_graph import node_height_m
from proposal.design.sheets.splitting import WHOLE, Part
from proposal.model.outlines import corners_in_building
from proposal.model.project import Project
from proposal.quantities.level_ways import level_parts
from proposal.quantities.plan_pieces import Piece, pieces_of, place_of
from proposal.quantities.wall_openings import CableWay, Passing, WallOpening, onward_along, wall_openings

NOT_HELD = ("charger", "hand or body", "hand", "body")
"""Where devices are that nobody fixes: in a charger, in a hand, on a body."""
DETAILS_A_SHEET = 12
"""Details that a sheet has places for."""
LINES_OF_CODES = 7
"""Lines that tell what codes of models on the sheets of a storey mean, with their heading."""
LINES_A_SCHEDULE, SIGNS_OF_A_WAY = 40, 36
"""Lines that a sheet of the schedule of devices is planned for, and letters of pathways that a line has.

It has places for 48: one line in six is longer than can be told before it is written.
"""


def room_plans(project: Project, design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the key of each kind of room with its sheets: one for all rooms that are built alike.

    Rooms of a kind are built alike where they are turned alike and hold the same at the same places.
    """
    kinds: dict[str, dict[object, list[str]]] = {}
    for one in design.rooms:
        kinds.setdefault(one.kind, {}).setdefault(_arrangement(project, design, one.tag), []).append(one.tag)
    for key, arrangements in kinds.items():
        yield (
            key,
            tuple(Part(tuple(sorted(tags, key=natural))) for _, tags in sorted(
                arrangements.items(), key=lambda item: min(map(natural, item[1]))
            )),
        )  # fmt: skip


def _arrangement(project: Project, design: Design, tag: str) -> object:
    """Return what rooms that share a plan have in common: how they are turned, and what stands where."""
    room = project.rooms[tag]
    corners = [in_building(room, corner) for corner in room.layout.outline]
    west, south = min(x for x, _ in corners), min(y for _, y in corners)
    racks = {device.tag for device in design.devices if device.kind == "rack"}
    held = tuple(
        (
            device.code, device.model, device.location, round(device.height_m, 3),
            round(device.at[0] - west, 3), round(device.at[1] - south, 3),
        )
        for device in design.devices
        if device.room == tag and device.location not in racks
    )  # fmt: skip
    return room.mirrored, room.rotation % 360, held


def storey_plans(project: Project) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the tag of each storey that holds rooms or racks, with its sheet.

    One that is too large for a sheet has a sheet of the whole, then one for each of its pieces.
    """
    places = project.building.equipment_rooms.values()
    for tag in storeys_of(project):
        rooms = {
            name: _reach(corners_in_building(room))
            for name, room in project.rooms.items()
            if room.storey == tag
        }
        points = [place.at for place in places if place.storey == tag]
        if not rooms and not points:
            continue
        pieces = pieces_of(list(rooms.values()), points)
        standing: list[list[str]] = [[] for _ in pieces]
        for name, (west, south, east, north) in rooms.items():
            if pieces:
                standing[place_of(((west + east) / 2, (south + north) / 2), pieces)].append(name)
        members = (Part(tuple(sorted(names, key=natural))) for names in standing)
        yield tag, (Part(), *members) if pieces else WHOLE


def _reach(corners: Sequence[tuple[float, float]]) -> Piece:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def mounting_details(design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the sheets of details: each has places for so many kinds of device as they are held."""
    racks = {device.tag for device in design.devices if device.kind == "rack"}
    ways = {
        (device.kind, "floor" if device.kind == "rack" else device.location)
        for device in design.devices
        if device.location not in racks and device.location not in NOT_HELD
    }
    if ways:
        # Data outlets are told of as well, and how cables are held: on hooks, in trays, in risers, at walls.
        held = (
            any(run.cables for run in design.runs_outside)
            or any(one.kind == "hooks" for one in design.pathways),
            any(one.kind == "tray" for one in design.pathways),
            any(one.kind == "riser shaft" for one in design.pathways),
            *(
                any(
                    bool(cable.route.floor_m) == low
                    for cable in design.cables
                    if cable.route.rises_at or cable.route.comes_down_at
                )
                for low in (False, True)
            ),
        )
        count = -(-(len(ways) + 1 + sum(held)) // DETAILS_A_SHEET)
        yield "", WHOLE if count == 1 else tuple(Part() for _ in range(count))


def device_schedules(project: Project, design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the tag of each storey that holds devices, with the sheets of its schedule of devices.

    What a sheet holds is counted in lines, more rather than fewer: a device that has cables has a line for
    each of them, and further ones where the names of its pathways are many.
    """
    racks = {device.tag: device for device in design.devices if device.kind == "rack"}
    ways: dict[str, int] = {}
    joined: dict[str, int] = {}
    for cable in design.cables:
        port, _, _ = cable.end_port.rpartition("/")
        for tag in {cable.start, cable.end} if cable.in_rack else {port}:
            joined[tag] = joined.get(tag, 0) + 1
        if not cable.in_rack:
            way = ", ".join(cable.route.pathways)
            # At which wall it goes up or down, and in which conduit, takes two lines more.
            up = 2 if cable.route.rises_at or cable.route.comes_down_at else 0
            ways[cable.start] = ways.get(cable.start, 0) + 1 + up + len(way) // SIGNS_OF_A_WAY
    lines: dict[str, int] = {}
    rooms: dict[str, set[str]] = {}
    alike: set[tuple[object, ...]] = set()
    for device in design.devices:
        if device.location in racks and device.kind != "rack":
            # It stands with its rack, with what is joined to it there; cables to another rack follow.
            count = max(1, joined.get(device.tag, 0)) + ways.get(device.tag, 0)
        elif device.tag in ways:
            count = max(ways[device.tag], 1 if device.model else 2)
        else:
            same = (device.room, device.kind, device.model, device.location, device.height_m)
            count = 0 if same in alike else 1 if device.model else 2
            alike.add(same)
        if count:
            stands = racks.get(device.location, device)
            lines[stands.storey] = lines.get(stands.storey, 0) + count
            rooms.setdefault(stands.storey, set()).add(stands.room)
    for tag in storeys_of(project):
        if tag in lines:
            held = lines[tag] + len(rooms[tag]) + _pathway_lines(project, design, tag) + LINES_OF_CODES
            count = -(-held // LINES_A_SCHEDULE)
            yield tag, WHOLE if count == 1 else tuple(Part() for _ in range(count))


def _pathway_lines(project: Project, design: Design, storey: str) -> int:
    """Return how many lines a storey's pathways, openings in walls and cables that pass it take."""
    nodes = project.building.nodes
    pathways = {
        tag: {nodes[node].storey for node in one.between if node in nodes}
        for tag, one in project.building.pathways.items()
    }
    here = {tag for tag, storeys in pathways.items() if storey in storeys}
    passing = sum(
        not cable.in_rack
        and storey not in (cable.start_storey, cable.end_storey)
        and bool(here & set(cable.route.pathways))
        for cable in design.cables
    )
    # Each may take two lines; a heading and the names of columns stand above each list.
    openings = len(openings_in_walls(project, design, storey))
    return sum(2 * (many + 1) for many in (len(here), openings, passing) if many)


def openings_in_walls(project: Project, design: Design, storey: str) -> tuple[WallOpening, ...]:
    """Return the openings in walls of a storey: of pathways with cables, and of runs outside pathways."""
    building = project.building
    at = {device.tag: device.at for device in design.devices}
    used = {tag for cable in design.cables for tag in cable.route.pathways}
    lines: list[Passing] = []
    for tag, one in building.pathways.items():
        on_it = all(building.nodes[node].storey == storey for node in one.between)
        if tag in used and on_it and makes_openings(project, tag):
            first, last = one.between
            heights = node_height_m(project, first), node_height_m(project, last)
            ends = building.nodes[first].at, building.nodes[last].at
            lines += (
                Passing(tag, part.points, part.height_m) for part in level_parts(ends, heights, one.drops_at)
            )
    floors = {tag: row.height for tag, row in building.storeys.items()}
    nodes = {tag: node.at for tag, node in building.nodes.items()}
    for cable in design.cables:
        route = cable.route
        if cable.in_rack or cable.start not in at or cable.end not in at:
            continue
        taken: list[tuple[str, ...]] = [building.pathways[tag].between for tag in route.pathways[:2]]
        taken += [(), ()]
        lines += CableWay(
            name=cable.identity,
            ends=(at[cable.start], at[cable.end]),
            storeys=(cable.start_storey, cable.end_storey),
            at_walls=(route.rises_at, route.comes_down_at),
            turns=route.turns,
            heights_m=run_heights_m(route, (floors[cable.start_storey], floors[cable.end_storey])),
            onward=onward_along(taken[0], taken[1], nodes, route.turns),
            led_m=project.brief.rules.pathways.shared_opening,
        ).runs_on(storey)
    rooms = {tag: corners_in_building(room) for tag, room in project.rooms.items() if room.storey == storey}
    walls = {tag: wall.along for tag, wall in building.radio.walls.items() if wall.storey == storey}
    walls |= {
        tag: (*room.outline, room.outline[0])
        for tag, room in building.equipment_rooms.items()
        if room.storey == storey and room.outline
    }
    return wall_openings(rooms, walls, lines)


def neighbour_sheets(project: Project, design: Design) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Yield the tag of each storey with radio links, with its one sheet of radio neighbours."""
    linked = {project.rooms[margin.room].storey for margin in design.radio.margins}
    storeys = project.building.storeys
    yield from ((tag, WHOLE) for tag in sorted(storeys, key=lambda tag: storeys[tag].height) if tag in linked)


def storeys_of(project: Project) -> list[str]:
    """Return the tags of the storeys, lowest first; of those at one height, the last written first."""
    storeys = project.building.storeys
    return sorted(storeys, key=lambda tag: -storeys[tag].height)[::-1]
