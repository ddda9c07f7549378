"""What people wrote, read again from the files of a project and of the shared library, in SI units.

Nothing here knows the program's own modules.
"""

import csv
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

ROOT = Path(__file__).resolve().parents[2]
PROJECTS = {"example": ROOT / "example_project", "us": ROOT / "tests" / "projects" / "us_customary"}
UNITS = {"m": 1.0, "mm": 0.001, "cm": 0.01, "ft": 0.3048, "in": 0.0254}
Point = tuple[float, float, float]


def read_yaml(path: Path) -> Any:
    return yaml.safe_load(path.read_text(encoding="utf-8")) if path.exists() else {}


def metres(text: object, unit: str = "m") -> float:
    """Return a length such as "62.5 m", "9 ft 6 in" or "8 1/2 in"; a number alone is in the unit given."""
    written = str(text)
    if re.fullmatch(r"-?[\d.]+", written):
        return float(written) * UNITS[unit]
    total = 0.0
    for whole, fraction, name in re.findall(r"(-?[\d.]+)((?: \d+/\d+)?) ?(mm|cm|m|ft|in)\b", written):
        upper, _, lower = fraction.strip().partition("/")
        total += (float(whole) + (float(upper) / float(lower) if lower else 0.0)) * UNITS[name]
    return total


def celsius(text: str) -> float:
    number, _, unit = text.partition(" ")
    return float(number) if unit == "°C" else (float(number) - 32) / 1.8


def amount(text: object) -> float:
    """Return the number before a unit."""
    return float(str(text).partition(" ")[0])


@dataclass(frozen=True, kw_only=True)
class Way:
    """A pathway between two nodes, whose ends stand in the building."""

    tag: str
    kind: str
    start: str
    end: str
    carries: str
    length_m: float | None
    space: str
    divided: bool


class Inputs:
    """One project as it is written."""

    def __init__(self, folder: Path) -> None:
        self.project = read_yaml(folder / "project.yaml")
        self.building = read_yaml(folder / "building.yaml")
        self.fixed = read_yaml(folder / "fixed.yaml")
        self.rules: dict[str, Any] = self.project.get("rules", {})
        self.own_library: dict[str, Any] = {}
        for path in sorted((folder / "library").glob("*.yaml")):
            self.own_library |= read_yaml(path)
        self.nfpa = self.project["region"] == "north_america"
        with (folder / "rooms.csv").open(newline="", encoding="utf-8-sig") as file:
            lines = list(csv.DictReader(file))
        self.rooms: dict[str, dict[str, Any]] = {}
        for line in lines:
            named = {heading.partition(" (")[0]: heading for heading in line}
            unit = named["x"].partition("(")[2].removesuffix(")")
            room = read_yaml(folder / "room_types" / f"{line['room type']}.yaml")
            room = _merged(room, read_yaml(folder / "rooms" / f"{line['tag']}.yaml"))
            origin = (metres(line[named["x"]], unit), metres(line[named["y"]], unit))
            room |= {"storey": line["storey"], "type": line["room type"], "origin": origin}
            turned = int(line[named["rotation"]]) if "rotation" in named else 0
            room |= {"rotation": turned, "mirrored": line.get("mirrored") == "yes"}
            self.rooms[line["tag"]] = room

    def shared(self, folder: str, name: str, section: str) -> dict[str, Any]:
        """Return a section of the shared library."""
        return library(folder, name, section)

    def rule(self, group: str, name: str, default: float) -> float:
        """Return a length of the rules, or what is taken where nobody writes one or it is not known."""
        written = self.rules.get(group, {}).get(name, "unknown")
        return default if written == "unknown" else metres(written)

    def floor_m(self, storey: str) -> float:
        return metres(self.building["storeys"][storey]["height"])

    def ways_m(self, storey: str) -> float:
        """Return how high horizontal runs lie above the floor of a storey."""
        written = self.building["storeys"][storey]
        if written.get("pathway_height", "unknown") != "unknown":
            return metres(written["pathway_height"])
        return metres(written["slab_to_slab"]) - 0.5

    def in_building(self, tag: str, at: list[str], height_m: float) -> tuple[str, Point]:
        """Return storey and place of a point of a room, its height above the floor of the storey."""
        room = self.rooms[tag]
        x, y = (metres(one) for one in at)
        x = -x if room["mirrored"] else x
        for _ in range(room["rotation"] // 90):
            x, y = -y, x
        origin = room["origin"]
        return room["storey"], (origin[0] + x, origin[1] + y, height_m)

    @property
    def nodes(self) -> dict[str, Point]:
        """Return where nodes lie, the height above the lowest floor."""
        found = {}
        for tag, node in self.building.get("nodes", {}).items():
            height = metres(node["height"]) if "height" in node else self.ways_m(node["storey"])
            x, y = (metres(one) for one in node["at"])
            found[tag] = (x, y, self.floor_m(node["storey"]) + height)
        return found

    def _length_m(self, way: Any) -> float | None:
        """Return the length that is written, or that of a way along x and y by where it comes down."""
        if "length" in way:
            return metres(way["length"])
        if "drops_at" not in way:
            return None
        (*one, high), (*two, low) = (self.nodes[tag] for tag in way["between"])
        drop = [metres(at) for at in way["drops_at"]]
        level = sum(abs(a - b) for end in (one, two) for a, b in zip(end, drop, strict=True))
        return level + abs(high - low)

    @property
    def ways(self) -> list[Way]:
        return [
            Way(
                tag=tag,
                kind=way["kind"],
                start=way["between"][0],
                end=way["between"][1],
                carries=way.get("carries", ""),
                length_m=self._length_m(way),
                space=way.get("space", ""),
                divided=bool(way.get("divided")),
            )
            for tag, way in self.building.get("pathways", {}).items()
        ]


def _merged(under: Any, over: Any) -> Any:
    """Return a room type with what a room writes otherwise."""
    if not isinstance(under, dict) or not isinstance(over, dict):
        return over
    return under | {key: _merged(under.get(key), value) for key, value in over.items()}


@cache
def library(folder: str, name: str, section: str) -> dict[str, Any]:
    """Return a section of a file of the shared library."""
    section_of: dict[str, Any] = read_yaml(ROOT / "shared" / folder / f"{name}.yaml")[section]
    return section_of


@cache
def cables() -> dict[str, dict[str, Any]]:
    """Return all cables of the shared library with their kind."""
    files = {
        "data_cables": "cables",
        "audio_cables": "audio_cables",
        "loudspeaker_cables": "loudspeaker_cables",
        "fibre_cables": "fibre_cables",
    }
    return {
        code: entry | {"file": file}
        for file, section in files.items()
        for code, entry in library("materials", file, section).items()
    }
