"""Every field of every file in turn, at its limits and between them: one value a project."""

import datetime
import typing
from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import cache
from typing import Any

from proposal.model.equipment.library import Library
from proposal.model.reading.fields import Wanted, wanted_at
from proposal.quantities.money import Money
from tests.bad_input.bases import base
from tests.bad_input.deep_edits import Folder, Path, annotation_of, at_key, with_value
from tests.bad_input.odd_values import digits, limits
from tests.catalogue import model_of, shipped

DEEPEST = 7
NOT_WRITTEN = ("kind", "layer")
# An entry of each kind of equipment and material that the project uses, or could.
ENTRIES: Mapping[str, str] = {
    "microphones": model_of(shipped(), "microphone", works_with="Vasselgate", form="gooseneck"),
    "accessories": model_of(shipped(), "accessory", works_with="Vasselgate", role="cover"),
    "access_points": model_of(shipped(), "access_point", works_with="Vasselgate"),
    "chargers": model_of(shipped(), "charger", works_with="Vasselgate"),
    "breakouts": model_of(shipped(), "breakout", switch=None),
    "mixers": model_of(shipped(), "mixer"),
    "switches": "BN-SW8-65",
    "amplifiers": model_of(shipped(), "amplifier"),
    "loudspeakers": model_of(shipped(), "loudspeaker"),
    "racks": "DR-RK12",
    "rack_parts": "DR-PS8",
    "standby_supplies": "BN-UP1000",
    "assistive_devices": model_of(shipped(), "assistive_device", role="transmitter"),
    "mounts": "DR-MT-B",
    "network_parts": "BN-PI-30",
    "cables": "CC-6AF-R",
    "loudspeaker_cables": "CC-L16-R",
    "audio_cables": "CC-A1-R",
    "fibre_cables": "CC-FOM4-4-R",
    "patch_cords": "CC-PC6A-26-2",
    "connectors": "CC-J6AS",
    "patch_panels": "CC-PP24-6AS",
    "outlets": "CC-O1-6AS",
    "plates": "CC-W1",
    "boxes": "DR-BX-W1",
    "labels": "CC-LB-C",
    "supports": "DR-HK32",
    "conduits": "DR-EMT-1",
    "trays": "DR-TY200",
    "consumables": "DR-TIE",
}
# What stands inside an entry, as far as its keys are the author's.
INSIDE: Mapping[str, Any] = {
    "ports": {"N": {}},
    "reels": {"305 m box": {}, "305 m reel": {}},
    "radio": {"regions": {"europe": {}}},
    "network": {"protocols": {"control": ""}},
}


@cache
def cases() -> tuple[tuple[str, Path, str], ...]:
    """Return file, path and value of everything that is tried, in order."""
    found: list[tuple[str, Path, str]] = []
    folder = _folder()
    for file in folder.trees("project", "building", "fixed", "room_types/", "rooms/", "company/"):
        for path, wanted in _fields(annotation_of(file), folder.tree(file), ()):
            found += ((file, path, value) for value in _values(wanted))
    for kind, code in ENTRIES.items():
        for path, wanted in _fields(Library, INSIDE, (kind, code)):
            if path[2] not in NOT_WRITTEN:
                found += (("library/own.yaml", path, value) for value in _values(wanted))
    return tuple(found)


def edited(number: int) -> tuple[Folder, list[str]]:
    """Return a good project with one field written otherwise, and which it is."""
    file, path, value = cases()[number]
    folder = _folder()
    folder.put(file, with_value(folder.tree(file), path, value))
    return folder, [file, ".".join(str(key) for key in path), value]


def _folder() -> Folder:
    """Return the project that writes every part, with the alternate alone that it has accepted."""
    one = base("every part")
    company = {f"company/{path}": data for path, data in one.company.items()}
    return Folder(
        one, {path: data for path, data in {**one.files, **company}.items() if "third_room" not in path}
    )


def _fields(annotation: Any, tree: Any, path: Path) -> Iterator[tuple[Path, Wanted]]:
    """Yield every field of a type, of collections those of their first two entries."""
    wanted = wanted_at(annotation, path)
    if wanted is None or len(path) > DEEPEST:
        return
    origin = typing.get_origin(wanted.annotation)
    if wanted.names:
        for name in wanted.names:
            yield from _fields(annotation, at_key(tree, name), (*path, name))
    elif isinstance(origin, type) and issubclass(origin, Mapping):
        for key in list(tree)[:2] if isinstance(tree, dict) else ():
            yield from _fields(annotation, tree[key], (*path, key))
    elif isinstance(tree, list):
        for n, inner in enumerate(tree[:2]):
            yield from _fields(annotation, inner, (*path, n))
    else:
        yield path, wanted


def _values(wanted: Wanted) -> list[str]:
    """Return what is tried at a field: limits, what lies just inside them and between, all choices."""
    low, high = limits(wanted)
    if wanted.kind is not None:
        kind = wanted.kind
        least = float(kind.smallest) if low is None else low
        most = float(kind.largest) if high is None else high
        unit, factor = ("%", 100) if kind.unit == "1" else (kind.unit, 1)
        return [f"{value * factor:.9f} {unit}" for value in _between(least, most)]
    if wanted.choices:
        return list(wanted.choices)
    if wanted.annotation is bool:
        return ["yes", "no"]
    if wanted.annotation is int:
        least, most = 0 if low is None else low, 1e6 if high is None else high
        return [
            str(n) for n in sorted({round(value) for value in (least, least + 1, (least + most) / 2, most)})
        ]
    if wanted.annotation in (float, Decimal):
        return [digits(v) for v in _between(0.0 if low is None else low, 1e6 if high is None else high)]
    if wanted.annotation is Money:
        return ["0 EUR", "0.01 EUR", "999999999999.99 EUR", "-5 EUR", "7 JPY", "1 KWD"]
    if wanted.annotation is datetime.date:
        return ["1900-01-01", "2031-03-03", "2031-03-04", "2099-12-31"]
    return ["", "a|b <c> {{d}}"] if wanted.annotation is str else []


def _between(least: float, most: float) -> list[float]:
    inside = (least + 1e-3, 0.0, 1.0, 50.0, least + (most - least) * 1e-6, (least + most) / 2)
    return sorted({least, most, *(min(most, max(least, value)) for value in inside)})
