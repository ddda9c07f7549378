"""Buildings of any size for the benchmarks: project folders with rooms on storeys along a corridor.

A storey holds 25 rooms, 13 south and 12 north of a corridor with a tray, and every second storey two
equipment rooms with a riser shaft beside each, joined by the owner's network. Kinds of room take turns, so
that on average a room has ten microphones. Walls and slabs are such that the design holds in every size, with
hardly a finding. All streams of the VLAN lead to the switch that asks who listens, 2,500 of 1,000 rooms: in
the largest buildings that one is of a library of their own, with more groups and faster uplinks.
Everything is invented.
"""

from collections.abc import Mapping
from itertools import pairwise
from pathlib import Path
from typing import Any

import yaml

from benchmarks.measuring import ROOT

ROOMS_A_STOREY = 25
SOUTH = 13
PITCH_M = 12.2
STOREY_M = 4.2
EAST_M = SOUTH * PITCH_M
MICROPHONES_A_SPARE = 10

# Nodes of the pathways along a corridor [m]; risers and equipment rooms stand at two of them.
NODES_M = {"A": 0.0, "W": 39.0, "M": 78.0, "E": 117.0, "Z": EAST_M}
RISERS = ("W", "E")

# What radio loses at a slab and at a wall, so that every size has a plan of carriers and slots.
SLAB, WALL = "50 dB", "40 dB"
# The switch that asks who listens gets every stream of the VLAN, which the smallest ones could not carry.
LARGE_SWITCH = "BN-SW24-370"
# From so many rooms on it is one that the shared library does not have, with a module for its uplinks.
LARGE_FROM = 401
OWN_SWITCH, OWN_MODULE = "OWN-SW24-25G", "OWN-FM-25M"
_GROUPS, _UPLINK = "4096", "25 Gbit/s"

# Kind of room → microphones along its table in rows, and how many rooms in ten are of the kind.
KINDS: Mapping[str, tuple[int, int, int]] = {
    "small": (1, 4, 3),
    "meeting": (2, 4, 3),
    "committee": (2, 7, 2),
    "hearing": (2, 9, 2),
}
_TURN = tuple(kind for kind, (_, _, share) in KINDS.items() for _ in range(share))


def kind_of(number: int) -> str:
    """Return the kind of a room by its number from 0: seven steps forward in a turn of ten."""
    return _TURN[number * 7 % len(_TURN)]


def files(rooms: int, *, types: int = 0, slab: str = SLAB, wall: str = WALL) -> dict[str, str]:
    """Return the files of a project folder by path.

    rooms: how many.
    types: how many room types; 0 for one of each kind. Types of one kind differ in their ceilings.
    slab, wall: what radio loses at a floor, and at the walls between rooms.
    """
    storeys = -(-rooms // ROOMS_A_STOREY)
    switch = LARGE_SWITCH if rooms < LARGE_FROM else OWN_SWITCH
    written = {
        "project.yaml": (
            "name: Benchmark building\nclient: {name: Example Society}\n"
            "integrator: {name: Example Conference Systems}\nsite: Example Tower\n"
            "revision: {identity: A, date: 2031-03-03, purpose: for comment}\nregion: europe\n"
            "subnets:\n  conference: {network: 10.20.0.0/19, vlan: 30}\n"
        ),
        "building.yaml": _building(storeys, slab, wall),
        "rooms.csv": _schedule(rooms, types),
        "fixed.yaml": f"devices:\n  ER0{min(RISERS)}-SW1: {{model: {switch}}}\n",
    }
    if switch == OWN_SWITCH:
        written["library/large_switch.yaml"] = _library()
    for number in range(types or len(_TURN)):
        name = _type_of(number, types)
        written[f"room_types/{name}.yaml"] = _room_type(name, number if types else 0, KINDS[kind_of(number)])
    return written


def write(folder: Path, rooms: int, *, types: int = 0, slab: str = SLAB, wall: str = WALL) -> Path:
    """Write the project folder of a building and return it."""
    for name, text in files(rooms, types=types, slab=slab, wall=wall).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def _library() -> str:
    """Return a library with a large switch and its fibre module, otherwise like those that they stand for."""
    switch = _shared("switches", LARGE_SWITCH) | {
        "description": "Managed gigabit switch, 24 PoE ports, 4,096 multicast groups",
        "multicast_groups": _GROUPS,
        "uplink_speed": _UPLINK,
        "switching_rate": "298 Gbit/s",
    }
    switch["ports"]["U"]["speed"] = _UPLINK
    module = _shared("network_parts", "BN-FM-10M") | {
        "description": "Fibre module, 25 Gbit/s, multimode, 100 m",
        "speed": _UPLINK,
        "reach": "100 m",
    }
    source = "editable default (invented)"
    entries = {"switches": {OWN_SWITCH: switch}, "network_parts": {OWN_MODULE: module}}
    return yaml.safe_dump({"source": source} | entries)


def _shared(kind: str, name: str) -> dict[str, Any]:
    """Return an entry of the shared library as it is written."""
    text = (ROOT / "shared" / "equipment" / f"{kind}.yaml").read_text("utf-8")
    found: dict[str, Any] = yaml.load(text, Loader=yaml.BaseLoader)[kind][name]  # noqa: S506 - texts alone
    return found


def _building(storeys: int, slab: str, wall: str) -> str:
    lines = ["storeys:"]
    lines += [
        f"  L{n}: {{name: Storey {n}, height: {n * STOREY_M:.1f} m, slab_to_slab: {STOREY_M} m}}"
        for n in range(storeys)
    ]
    lines += ["equipment_rooms:"]
    lines += [
        f"  ER{n}{side}: {{name: Equipment room {n}{side}, storey: L{n}, at: [{NODES_M[side]} m, 8.5 m], "
        f"owner_port: P{n}{side}, racks: {{RK1: {{}}}}}}"
        for n in range(0, storeys, 2)
        for side in RISERS
    ]
    lines += _pathways(storeys)
    lines += ["radio:", "  slabs:"]
    lines += [f"    L{n}: {{loss: {slab}}}" for n in range(storeys)]
    lines += ["  walls:"]
    for n in range(storeys):
        for y in (7.1, 9.9):
            lines.append(
                f"    C{n}-{y:.0f}: {{storey: L{n}, along: [[0 m, {y} m], [{EAST_M:.1f} m, {y} m]], "
                f"loss: {wall}}}"
            )
        for column in range(1, SOUTH):
            x = column * PITCH_M - 0.1
            for side, (low, high) in (("S", (0, 7.1)), ("N", (9.9, 17))):
                ends = f"[[{x:.1f} m, {low} m], [{x:.1f} m, {high} m]]"
                lines.append(f"    W{n}-{column}{side}: {{storey: L{n}, along: {ends}, loss: {wall}}}")
    return "\n".join(lines) + "\n"


def _pathways(storeys: int) -> list[str]:
    """Return nodes and pathways: a tray along each corridor and riser shafts from storey to storey."""
    nodes, ways = ["nodes:"], ["pathways:"]
    for n in range(storeys):
        nodes += [f"  N{n}{name}: {{storey: L{n}, at: [{x:.1f} m, 8.5 m]}}" for name, x in NODES_M.items()]
        ways += [
            f"  T{n}{one}{other}: {{kind: tray, between: [N{n}{one}, N{n}{other}], "
            "width: 300 mm, depth: 60 mm}"
            for one, other in pairwise(NODES_M)
        ]
        if n:
            ways += [
                f"  R{n}{side}: {{kind: riser shaft, between: [N{n - 1}{side}, N{n}{side}]}}"
                for side in RISERS
            ]
    return [*nodes, *ways]


def _type_of(number: int, types: int) -> str:
    """Return the name of a room's type by the room's number from 0."""
    return f"{kind_of(number % types)}_{number % types + 1}" if types else kind_of(number)


def _schedule(rooms: int, types: int) -> str:
    lines = ["tag,name,room type,storey,x (m),y (m)"]
    for number in range(rooms):
        storey, place = divmod(number, ROOMS_A_STOREY)
        column, y = (place, 0.0) if place < SOUTH else (place - SOUTH, 10.0)
        tag = f"B{storey}{place + 1:02d}"
        lines.append(f"{tag},Room {tag},{_type_of(number, types)},L{storey},{column * PITCH_M:.1f},{y:.1f}")
    return "\n".join(lines) + "\n"


def _room_type(name: str, number: int, of_kind: tuple[int, int, int]) -> str:
    rows, columns, _ = of_kind
    lines = [
        f"name: {name.replace('_', ' ').capitalize()} room",
        "use: People talk.",
        "outline: [[0 m, 0 m], [12 m, 0 m], [12 m, 7 m], [0 m, 7 m]]",
        f"ceiling: {{height: {2.8 + number / 500:.3f} m, kind: mineral tile}}",
        "output: mixer",
        "charging_at: [6 m, 0.5 m]",
        f"spare_microphones: {{boundary: {-(-rows * columns // MICROPHONES_A_SPARE)}}}",
        "microphones:",
    ]
    number = 0
    for row in range(rows):
        for column in range(columns):
            number += 1
            x, y = 1.5 + column * 9.0 / max(columns - 1, 1), 3.5 if rows == 1 else 2.5 + 2 * row
            at = f"[{x:.2f} m, {y:.2f} m]"
            lines.append(f"  M{number}: {{form: boundary, pattern: cardioid, at: {at}}}")
    return "\n".join(lines) + "\n"
