"""Good projects that random edits break: small ones mostly, since each edit computes them again."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import yaml

from proposal.errors import Problem
from proposal.model.folder_files import read_folder
from proposal.model.loading import load_source
from proposal.pipeline import compute
from tests.bad_input.projects import GOOD

ROOT = Path(__file__).parents[2]
HERE = Path(__file__).parent
FOLDERS: Mapping[str, Path] = {
    "minimal": ROOT / "tests/projects/minimal",
    "every part": HERE / "every_part",
    "us customary": ROOT / "tests/projects/us_customary",
    "failing": ROOT / "tests/projects/failing",
    "example": ROOT / "example_project",
}
# How often each is taken: large ones seldom.
WEIGHTS: Mapping[str, int] = {
    "minimal": 30,
    "two rooms": 12,
    "every part": 40,
    "us customary": 9,
    "failing": 6,
    "example": 3,
}
OF_THE_EXAMPLE = ("A110", "A201", "A202")
"""Rooms that are left of the example, which is large as a whole."""


@dataclass(frozen=True)
class Base:
    """A good project: its files and a company's own library beside it, by path.

    texts: what stands at fields in this project, by the fields' names: names that name something.
    keys: names that collections hold, by the collections' names.
    """

    name: str
    files: Mapping[str, bytes]
    company: Mapping[str, bytes]
    texts: Mapping[str, tuple[str, ...]]
    keys: Mapping[str, tuple[str, ...]]


def files_of(folder: Path) -> dict[str, bytes]:
    """Return the files of a project folder that the program reads."""
    problems: list[Problem] = []
    files = read_folder(folder, problems)
    assert files is not None
    assert not problems
    return files


def write(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a folder, which may be new."""
    for path, data in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)


@cache
def base(name: str) -> Base:
    """Return one of the good projects by its name, one of WEIGHTS."""
    files = (
        {path: text.encode() for path, text in GOOD.items()}
        if name == "two rooms"
        else files_of(FOLDERS[name])
    )
    if name == "example":
        files = _part_of_the_example(files)
    company = {
        path.relative_to(HERE / "company").as_posix(): path.read_bytes()
        for path in sorted((HERE / "company").rglob("*.yaml"))
    }
    texts: dict[str, set[str]] = {}
    keys: dict[str, set[str]] = {}
    for path, data in (*files.items(), *company.items()):
        if path.endswith(".yaml"):
            for key, value in _named(yaml.load(data, yaml.CBaseLoader), path.partition("/")[0]):
                (keys if value is None else texts).setdefault(key[0], set()).add(value or key[1])
    _add_computed(files, texts, keys)
    return Base(
        name=name,
        files=files,
        company=company,
        texts={key: tuple(sorted(values)) for key, values in texts.items()},
        keys={key: tuple(sorted(values)) for key, values in keys.items()},
    )


def _part_of_the_example(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return the example with three of its rooms, without what names the others."""
    heading, *rows = files["rooms.csv"].decode().splitlines()
    few = [heading, *(row for row in rows if row.partition(",")[0] in OF_THE_EXAMPLE)]
    project = yaml.load(files["project.yaml"], yaml.CBaseLoader)
    for part in ("accepted_alternates", "labour", "price", "programme"):
        del project[part]
    kept = {
        path: data for path, data in files.items() if not path.startswith(("rooms/", "alternates/", "fixed"))
    }
    building = yaml.load(files["building.yaml"], yaml.CBaseLoader)
    owners = building["owner_equipment"]
    building["owner_equipment"] = {place: owners[place] for place in ("ER2", "meeting_room")}
    kept["building.yaml"] = yaml.safe_dump(building, sort_keys=False, allow_unicode=True).encode()
    kept["alternates/goosenecks.yaml"] = files["alternates/gooseneck_meeting_rooms.yaml"]
    return {
        **kept,
        "rooms.csv": "\n".join(few).encode(),
        "project.yaml": yaml.safe_dump(project, sort_keys=False, allow_unicode=True).encode(),
    }


def _named(tree: Any, holder: str) -> Iterator[tuple[tuple[str, str], str | None]]:
    """Yield what a tree names: keys of collections with None, and texts of fields."""
    if isinstance(tree, dict):
        for key, inner in tree.items():
            yield (holder, key), None
            yield from _named(inner, key)
    elif isinstance(tree, list):
        for inner in tree:
            yield from _named(inner, holder)
    elif len(tree) <= 40:
        yield (holder, ""), tree


def _add_computed(files: Mapping[str, bytes], texts: dict[str, set[str]], keys: dict[str, set[str]]) -> None:
    """Add tags and identities that the design gives, and codes of the library."""
    with TemporaryDirectory() as folder:
        write(Path(folder), files)
        made = compute(load_source(Path(folder)).base)
    devices = {one.tag for one in made.design.devices}
    codes = {one.model for one in made.design.devices if one.model}
    identities = {one.identity for one in made.design.cables}
    types = {one.model for one in made.design.cables if one.model}
    rooms = set(made.project.rooms)
    keys.setdefault("devices", set()).update(devices)
    keys.setdefault("cables", set()).update(identities)
    for name in ("rooms", "room_conditions", "places"):
        keys.setdefault(name, set()).update(rooms)
    for name in ("access_points", "chargers", "breakouts", "mixers", "models"):
        keys.setdefault(name, set()).update(codes)
    texts.setdefault("model", set()).update(codes)
    texts.setdefault("room", set()).update(rooms)
    texts.setdefault("where", set()).update(devices | rooms)
    for name in ("type", "data_cable"):
        texts.setdefault(name, set()).update(types)
    switches = sorted(one.tag for one in made.design.devices if one.kind == "switch")
    ports = {f"{switch}/{n}" for switch in switches for n in (1, 2, 7, 24, 99)}
    texts.setdefault("switch_port", set()).update(ports)
    addresses = {str(one) for one in texts.get("gateway", ())}
    near = {f"{one.rpartition('.')[0]}.{n}" for one in addresses if one for n in (2, 20, 61, 254)}
    texts.setdefault("address", set()).update(near)
