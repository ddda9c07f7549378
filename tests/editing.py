"""A project folder in memory, edited as a designer would, for tests that edit at random."""

import copy
import csv
import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.errors import InputError, Problem
from proposal.model.folder import folder_parts
from proposal.model.folder_files import read_folder
from proposal.model.loading import load_source
from proposal.model.project import Numbered, Project
from proposal.model.source import source_of

EXAMPLE = Path(__file__).parent.parent / "example_project"


class PlainDumper(yaml.CSafeDumper):
    """Writes every text plain: the program reads `7.2 m` and `12` alike as text."""


PlainDumper.yaml_implicit_resolvers = {}


@lru_cache(maxsize=1)
def _example() -> dict[str, bytes]:
    problems: list[Problem] = []
    files = read_folder(EXAMPLE, problems)
    assert files is not None
    assert not problems
    passed_over = ("alternates/", "requirements")
    return {path: data for path, data in files.items() if not path.startswith(passed_over)}


@lru_cache(maxsize=1)
def _surroundings() -> Any:
    return load_source(EXAMPLE).surroundings


@dataclass
class Folder:
    """A project folder: its YAML files as plain data, its room schedule, and what else lies there.

    used: tags and codes that were ever given, so that what is new is called by a name of its own.
    """

    files: dict[str, Any]
    rooms: list[dict[str, str]]
    rest: dict[str, bytes]
    used: set[str] = field(default_factory=set)

    @classmethod
    def example(cls) -> "Folder":
        """Return the example without alternates, requirements and commercial part, which name rooms."""
        files = {p: yaml.load(d, yaml.CBaseLoader) for p, d in _example().items() if p.endswith(".yaml")}
        for part in ("accepted_alternates", "labour", "price", "programme"):
            files["project.yaml"].pop(part, None)
        owned = files["building.yaml"]["owner_equipment"]
        # What stands in a kind of room is there whichever rooms are; all else names rooms.
        files["building.yaml"]["owner_equipment"] = {"meeting_room": owned["meeting_room"]}
        rooms = list(csv.DictReader(io.StringIO(_example()["rooms.csv"].decode())))
        rest = {p: d for p, d in _example().items() if p not in files and p != "rooms.csv"}
        return cls(files, rooms, rest)

    def of_rooms(self, *tags: str) -> "Folder":
        """Return the folder with some of its rooms alone, and nothing fixed by hand."""
        edited = self.copy()
        edited.rooms = [room for room in edited.rooms if room["tag"] in tags]
        edited.files = {
            path: held
            for path, held in edited.files.items()
            if path != "fixed.yaml" and (not path.startswith("rooms/") or path[6:-5] in tags)
        }
        return edited

    def copy(self) -> "Folder":
        """Return the same folder, to be edited apart."""
        return copy.deepcopy(self)

    def project(self, issued: Mapping[str, Numbered]) -> Project:
        """Return the project, or raise InputError.

        issued: numbers of issued revisions.
        """
        data = {
            path: yaml.dump(held, Dumper=PlainDumper, sort_keys=False).encode()
            for path, held in self.files.items()
        }
        text = io.StringIO()
        table = csv.DictWriter(text, fieldnames=list(self.rooms[0]) if self.rooms else ["tag"])
        table.writeheader()
        table.writerows(self.rooms)
        data |= {**self.rest, "rooms.csv": text.getvalue().encode()}
        problems: list[Problem] = []
        parts = folder_parts(data, problems)
        return source_of(parts, replace(_surroundings(), issued=issued), problems).base

    def designed(self, issued: Mapping[str, Numbered]) -> Design | None:
        """Return the design, None where the folder is no good."""
        try:
            made = design(self.project(issued))
        except InputError:
            return None
        return None if made.wrong_by_hand else made

    @property
    def types(self) -> list[str]:
        """Return the names of room types, in order."""
        return sorted(p[11:-5] for p in self.files if p.startswith("room_types/"))

    def type_of(self, n: int) -> dict[str, Any]:
        """Return one of the room types."""
        held: dict[str, Any] = self.files[f"room_types/{self.types[n % len(self.types)]}.yaml"]
        return held

    def fixed(self, part: str) -> dict[str, Any]:
        """Return one part of fixed.yaml."""
        held: dict[str, Any] = self.files.setdefault("fixed.yaml", {}).setdefault(part, {})
        return held

    def fresh(self, stem: str) -> str:
        """Return a name that nothing ever had."""
        taken = self.used | {room["tag"] for room in self.rooms}
        for n in range(4):
            taken |= set(self.type_of(n).get("microphones", {}))
        name = next(f"{stem}{n}" for n in range(1, 1000) if f"{stem}{n}" not in taken)
        self.used.add(name)
        return name


Edit = Callable[[Folder, Design, int, int], None]
"""Edits a folder whose design is given, as two numbers choose."""


def remove_room(folder: Folder, made: Design, n: int, m: int) -> None:
    """Take a room away, with its file and what is fixed in it."""
    room = folder.rooms.pop(n % len(folder.rooms))
    folder.used.add(room["tag"])
    folder.files.pop(f"rooms/{room['tag']}.yaml", None)
    for part in ("devices", "cables", "rooms"):
        held = folder.fixed(part)
        for tag in [
            tag for tag in held if tag.split("/")[0].startswith(f"{room['tag']}-") or tag == room["tag"]
        ]:
            del held[tag]


def add_room(folder: Folder, made: Design, n: int, m: int) -> None:
    """Add a room like another one beside it, at any place of the schedule."""
    like = folder.rooms[n % len(folder.rooms)]
    tag = folder.fresh("B3")
    folder.rooms.insert(m % (len(folder.rooms) + 1), {**like, "tag": tag, "name": f"Room {tag}"})


def reorder_rooms(folder: Folder, made: Design, n: int, m: int) -> None:
    """Turn the schedule round from some row on."""
    n %= len(folder.rooms)
    folder.rooms = folder.rooms[n:][::-1] + folder.rooms[:n]


def rename_room(folder: Folder, made: Design, n: int, m: int) -> None:
    """Give a room another tag."""
    room = dict(folder.rooms[n % len(folder.rooms)])
    remove_room(folder, made, n, m)
    folder.rooms.insert(n % (len(folder.rooms) + 1), {**room, "tag": folder.fresh("C")})


def retype_room(folder: Folder, made: Design, n: int, m: int) -> None:
    """Make a room one of another type."""
    room = folder.rooms[n % len(folder.rooms)]
    room["room type"] = folder.types[m % len(folder.types)]
    folder.files.pop(f"rooms/{room['tag']}.yaml", None)


def add_microphone(folder: Folder, made: Design, n: int, m: int) -> None:
    """Add a microphone to a room type."""
    held = folder.type_of(n)["microphones"]
    like = dict(held[sorted(held)[m % len(held)]])
    like.pop("seat", None)
    held[folder.fresh("M")] = {**like, "at": [f"{1 + m % 5} m", f"{2 + m % 4} m"]}


def remove_microphone(folder: Folder, made: Design, n: int, m: int) -> None:
    """Take a microphone away from a room type."""
    held = folder.type_of(n)["microphones"]
    code = sorted(held)[m % len(held)]
    folder.used.add(code)
    del held[code]


def remove_microphones_of_one_side(folder: Folder, made: Design, n: int, m: int) -> None:
    """Take all microphones of a room type's west end away, all of the east end, or every second one."""
    held = folder.type_of(n)["microphones"]
    order = sorted(held, key=lambda code: float(str(held[code]["at"][0]).split()[0]))
    gone = [order[: len(order) // 2], order[len(order) // 2 + 1 :], order[1::2]][m % 3]
    for code in gone:
        folder.used.add(code)
        del held[code]


def move_microphone(folder: Folder, made: Design, n: int, m: int) -> None:
    """Move a microphone of a room type."""
    held = folder.type_of(n)["microphones"]
    held[sorted(held)[m % len(held)]]["at"] = [f"{1 + n % 6}.5 m", f"{1 + m % 5}.5 m"]


def change_spares(folder: Folder, made: Design, n: int, m: int) -> None:
    """Change how many spare microphones a room type has, and of which forms."""
    folder.type_of(n)["spare_microphones"] = {"boundary": str(m % 3), "gooseneck": str(m // 3 % 3)}


def pair_spares(folder: Folder, made: Design, n: int, m: int) -> None:
    """Pair the spare microphones of a room type with access points, or leave them unpaired."""
    folder.type_of(n)["spares_paired"] = "yes" if m % 2 else "no"


def write_positions(folder: Folder, made: Design, n: int, m: int) -> None:
    """Write where access points of a room type hang, or take that away."""
    held = folder.type_of(n)
    if m % 3 == 0:
        held.pop("access_points_at", None)
    else:
        codes = {one.code for one in made.devices if one.kind == "access_point"}
        some = sorted(codes)[n % len(codes) :][: m % 3]
        held["access_points_at"] = {code: [f"{2 + 2 * k} m", "3 m"] for k, code in enumerate(some)}


def fix_count(folder: Folder, made: Design, n: int, m: int) -> None:
    """Fix how many access points a room has, or leave it open again."""
    tag = folder.rooms[n % len(folder.rooms)]["tag"]
    models = sorted(made.project.library.access_points)
    if m % 4:
        folder.fixed("rooms")[tag] = {"access_points": {models[m % len(models)]: str(m % 4)}}
    else:
        folder.fixed("rooms").pop(tag, None)


def fix_device(folder: Folder, made: Design, n: int, m: int) -> None:
    """Fix place, address, model or switch port of a device, or leave it open again."""
    devices = [one for one in made.devices if one.kind in ("access_point", "charger")]
    one = devices[n % len(devices)]
    held = folder.fixed("devices")
    switches = sorted(
        power.switch.device.tag for power in made.switches if power.switch.device.kind == "switch"
    )
    models = sorted(made.project.library.of_kind(one.kind))
    choices: list[dict[str, Any]] = [
        {"at": [f"{one.at[0] + 0.4:.2f} m", f"{one.at[1]:.2f} m"]},
        {"address": f"10.40.8.{2 + m % 40}"},
        {"model": models[m % len(models)]},
        {"switch_port": f"{switches[m % len(switches)]}/{1 + m % 12}"},
    ]
    held.pop(one.tag, None)
    if m % 5:
        held[one.tag] = choices[m % 5 - 1]


def change_subnet(folder: Folder, made: Design, n: int, m: int) -> None:
    """Give the project another range of addresses, or another gateway in it."""
    subnet = folder.files["project.yaml"]["subnets"]["conference"]
    network = ["10.40.8.0/24", "10.40.8.0/25", "10.40.12.0/24"][m % 3]
    subnet["network"] = network
    subnet["gateway"] = network.rsplit(".", 1)[0] + f".{1 + n % 60}"


def change_rule(folder: Folder, made: Design, n: int, m: int) -> None:
    """Change the shares of ports and power that are to stay free."""
    rules = folder.files["project.yaml"]["rules"]
    rules["network"]["spare_ports"] = f"{m % 6 * 10} %"
    rules["power"]["headroom"] = f"{n % 5 * 10} %"


EDITS: tuple[Edit, ...] = (
    remove_room,
    add_room,
    reorder_rooms,
    rename_room,
    retype_room,
    add_microphone,
    remove_microphone,
    remove_microphones_of_one_side,
    move_microphone,
    change_spares,
    pair_spares,
    write_positions,
    fix_count,
    fix_device,
    change_subnet,
    change_rule,
)
