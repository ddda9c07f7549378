"""Buildings of many rooms for radio, drawn by a seed: both regions, from empty air to far too much on it."""

import random
import tempfile
from functools import lru_cache
from pathlib import Path

from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from tests.catalogue import with_round_catalogue

PITCH_M = (8.4, 6.4)
ROOM_M = (8.0, 6.0)
STOREY_M = 4.0
ROWS = 2


def files(seed: int, rooms: int = 25) -> dict[str, str]:
    """Return the files of a project folder by path.

    seed: what the building is drawn by; even ones are European, odd ones American.
    rooms: how many.
    """
    draw = random.Random(seed)
    region = ("europe", "north_america")[seed % 2]
    storeys = draw.choice((1, 2, 3))
    wall_db = draw.choice((3, 9, 17, 25, 35, 45))
    slab_db = draw.choice((15, 20, 30, 40))
    usual = draw.choice((2, 4, 6, 9))
    a_row = -(-rooms // (storeys * ROWS))
    counts = [max(1, usual + draw.choice((-1, 0, 0, 1, 3))) for _ in range(4)]
    written = {
        "project.yaml": (
            f"name: Building {seed}\nclient: {{name: Example Society}}\n"
            "integrator: {name: Example Conference Systems}\nsite: Example Tower\n"
            f"revision: {{identity: A, date: 2031-03-03, purpose: for comment}}\nregion: {region}\n"
            "subnets:\n  conference: {network: 10.20.0.0/19, vlan: 30}\n"
        ),
        "building.yaml": _building(storeys, a_row, wall_db, slab_db),
        "rooms.csv": _schedule(rooms, a_row, draw, len(counts)),
    }
    for number, count in enumerate(counts):
        power = draw.choice((None, None, 14, 8))
        written[f"room_types/kind{number}.yaml"] = _room_type(number, count, power, draw)
    return written


def write(folder: Path, seed: int, rooms: int = 25) -> Path:
    """Write the project folder of a building and return it."""
    for name, text in files(seed, rooms).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


@lru_cache(maxsize=4)
def made(seed: int, rooms: int = 25) -> Design:
    """Return the design of a building; every fourth has the shipped catalogue, the others round numbers."""
    with tempfile.TemporaryDirectory() as folder:
        project = load_project(write(Path(folder), seed, rooms))
    return design(project if seed % 4 == 3 else with_round_catalogue(project))


def _building(storeys: int, a_row: int, wall_db: int, slab_db: int) -> str:
    east = a_row * PITCH_M[0]
    lines = ["storeys:"]
    lines += [
        f"  L{n}: {{name: Storey {n}, height: {n * STOREY_M} m, slab_to_slab: {STOREY_M} m}}"
        for n in range(storeys)
    ]
    lines += ["equipment_rooms:"]
    lines += [
        f"  ER{n}: {{name: Equipment room {n}, storey: L{n}, at: [{east / 2:.1f} m, 6.2 m], "
        "racks: {RK1: {}}}"
        for n in range(storeys)
    ]
    lines += ["radio:", "  slabs:"]
    lines += [f"    L{n}: {{loss: {slab_db} dB}}" for n in range(storeys)]
    lines += ["  walls:"]
    for n in range(storeys):
        lines.append(
            f"    C{n}: {{storey: L{n}, along: [[0 m, 6.2 m], [{east:.1f} m, 6.2 m]], loss: {wall_db} dB}}"
        )
        for column in range(1, a_row):
            x = column * PITCH_M[0] - 0.2
            lines.append(
                f"    W{n}-{column}: {{storey: L{n}, along: [[{x:.1f} m, 0 m], [{x:.1f} m, 12.4 m]], "
                f"loss: {wall_db} dB}}"
            )
    return "\n".join(lines) + "\n"


def _schedule(rooms: int, a_row: int, draw: random.Random, kinds: int) -> str:
    lines = ["tag,name,room type,storey,x (m),y (m)"]
    for number in range(rooms):
        storey, place = divmod(number, a_row * ROWS)
        row, column = divmod(place, a_row)
        tag = f"R{storey}{place + 1:02d}"
        at = f"{column * PITCH_M[0]:.1f},{row * PITCH_M[1]:.1f}"
        lines.append(f"{tag},Room {tag},kind{draw.randrange(kinds)},L{storey},{at}")
    return "\n".join(lines) + "\n"


def _room_type(number: int, count: int, power: int | None, draw: random.Random) -> str:
    lines = [
        f"name: Kind {number}",
        "use: People talk.",
        f"outline: [[0 m, 0 m], [{ROOM_M[0]} m, 0 m], [{ROOM_M[0]} m, {ROOM_M[1]} m], [0 m, {ROOM_M[1]} m]]",
        f"ceiling: {{height: {2.7 + number / 10:.1f} m, kind: mineral tile}}",
        "output: mixer",
        "charging_at: [4 m, 0.5 m]",
        "microphones:",
    ]
    for n in range(count):
        x, y = draw.uniform(1, ROOM_M[0] - 1), draw.uniform(1, ROOM_M[1] - 1)
        lines.append(f"  M{n + 1}: {{form: boundary, pattern: cardioid, at: [{x:.2f} m, {y:.2f} m]}}")
    if power is not None:
        lines.append(f"radio: {{power: {power} dBm}}")
    return "\n".join(lines) + "\n"
