"""Tags that can stand on labels, in addresses of pages and on every file system."""

import re
from collections.abc import Iterator, Mapping, Sequence

from proposal.model.project import Path
from proposal.model.reading.project_tree import Untyped, layouts, mapping_at
from proposal.quantities.messages import shown

TAG = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,23}")
# A page of this name is the beginning of the site.
_RESERVED = ("index",)

# Collections whose keys are tags: of any form, or a code and a number.
_TAGGED: Mapping[tuple[str, ...], str] = {
    ("building", "storeys"): "",
    ("building", "equipment_rooms"): "",
    ("building", "shafts"): "",
    ("building", "spaces"): "",
    ("building", "nodes"): "",
    ("building", "pathways"): "",
    ("building", "states"): "",
    ("requirements",): "",
    ("room_types",): "",
    ("rooms",): "",
}
_TAGGED_IN_LAYOUT: Mapping[str, str] = {
    "furniture": "",
    "doors": "",
    "seats": "",
    "microphones": "",
    "wired_microphones": "",
    "levels": "",
    "seat_rows": "",
    "microphone_rows": "",
    "destinations": "",
    "returns": "",
    "loudspeakers": "",
    "access_points_at": "AP",
    "days": "",
}
DEVICE_CODES: Mapping[str, str] = {
    "microphone": "M",
    "spare_microphone": "MS",
    "access_point": "AP",
    "charger": "CH",
    "breakout": "BO",
    "mixer": "MX",
    "switch": "SW",
    "amplifier": "AM",
    "loudspeaker": "LS",
    "assistive_transmitter": "AT",
    "assistive_receiver": "AR",
    "neck_loop": "NL",
    "receiver_charger": "RC",
    "assistive_sign": "SG",
    "standby_supply": "UP",
    "rack": "RK",
    "patch_panel": "PP",
    "fibre_panel": "FP",
    "owner_equipment": "OE",
    "network_part": "PI",
}
"""What each kind of device is called by in tags, before its number."""
_GIVEN_CODE = re.compile(
    rf"({'|'.join(code for code in DEVICE_CODES.values() if code != 'M')})[0-9]+", re.IGNORECASE
)
"""Codes by which the program calls devices of a room that nobody has named."""
_DEVICES = ("microphones", "wired_microphones", "loudspeakers")
_DEVICE_TAG = re.compile(r"(.+)-[A-Z]{1,2}[0-9]+")


def wrong_tags(tree: Untyped) -> Iterator[tuple[Path, str]]:
    """Yield path and message of every key that cannot be a tag, or that is too like another one.

    tree: the untyped project; what is malformed is passed over.
    """
    collections = dict(_TAGGED)
    collections |= {
        ("building", "equipment_rooms", tag, "racks"): "RK"
        for tag in mapping_at(tree, "building", "equipment_rooms")
    }
    collections |= {
        ("building", "owner_equipment", place): "OE"
        for place in mapping_at(tree, "building", "owner_equipment")
    }
    collections |= {
        (*above, name): code for above in layouts(tree) for name, code in _TAGGED_IN_LAYOUT.items()
    }
    for path, code in collections.items():
        yield from _wrong_keys(path, list(mapping_at(tree, *path)), code)
    for above in layouts(tree):
        yield from _taken_in_room(tree, above)
    yield from _taken_twice(tree)
    yield from _taken_by_others(tree)


def _wrong_keys(path: Path, keys: Sequence[str], code: str) -> Iterator[tuple[Path, str]]:
    seen: dict[str, str] = {}
    for key in keys:
        if code and not re.fullmatch(rf"{code}[1-9][0-9]{{0,2}}", key):
            yield (*path, key), f"wanted {code} and a number, such as {code}1; found {shown(key)}"
        elif not TAG.fullmatch(key) or key.casefold() in _RESERVED:
            message = "wanted a tag of at most 24 letters, digits, dots, hyphens and underscores"
            yield (*path, key), f"{message}; found {shown(key)}"
        elif key.casefold() in seen:
            other = seen[key.casefold()]
            yield (*path, key), f"wanted tags that differ in more than case; found {key} beside {other}"
        seen.setdefault(key.casefold(), key)


def _taken_in_room(tree: Untyped, above: tuple[str, ...]) -> Iterator[tuple[Path, str]]:
    """Yield devices of a room whose tag another one has, or that the program gives to others.

    above: path of the room's layout.
    """
    taken: dict[str, str] = {}
    for collection in _DEVICES:
        noun = collection.removesuffix("s").replace("_", " ")
        for tag in mapping_at(tree, *above, collection):
            given = _GIVEN_CODE.fullmatch(tag)
            if given and not (collection == "loudspeakers" and given[1].upper() == "LS"):
                code = given[1].upper()
                noun = next(noun for noun, one in DEVICE_CODES.items() if one == code).replace("_", " ")
                message = (
                    "wanted a tag that the program gives to no other device, such as M1 "
                    f"({code} and a number is what it calls each {noun}); found {shown(tag)}"
                )
                yield (*above, collection, tag), message
            elif tag.casefold() in taken:
                message = f"wanted a tag that no {taken[tag.casefold()]} of the room has; found {shown(tag)}"
                yield (*above, collection, tag), message
        taken |= {tag.casefold(): noun for tag in mapping_at(tree, *above, collection)}


def _taken_by_others(tree: Untyped) -> Iterator[tuple[Path, str]]:
    """Yield nodes and pathways whose tag something else of the building has."""
    taken = {tag.casefold(): "storey" for tag in mapping_at(tree, "building", "storeys")}
    taken |= {tag.casefold(): "equipment room" for tag in mapping_at(tree, "building", "equipment_rooms")}
    taken |= {tag.casefold(): "room" for tag in mapping_at(tree, "rooms")}
    for collection, noun in (("nodes", "node"), ("pathways", "pathway")):
        tags = list(mapping_at(tree, "building", collection))
        for tag in tags:
            if tag.casefold() in taken:
                message = f"wanted a tag that no {taken[tag.casefold()]} has; found {shown(tag)}"
                yield ("building", collection, tag), message
        taken |= {tag.casefold(): noun for tag in tags}


def _taken_twice(tree: Untyped) -> Iterator[tuple[Path, str]]:
    """Yield rooms whose tag is an equipment room's too, or reads as the tag of another room's device."""
    equipment_rooms = {tag.casefold() for tag in mapping_at(tree, "building", "equipment_rooms")}
    rooms = list(mapping_at(tree, "rooms"))
    every_tag = {tag.casefold() for tag in rooms} | equipment_rooms
    for tag in rooms:
        device = _DEVICE_TAG.fullmatch(tag)
        if tag.casefold() in equipment_rooms:
            yield ("rooms", tag), f"wanted a tag that no equipment room has; found {shown(tag)}"
        elif device and device[1].casefold() in every_tag:
            message = f"wanted a tag that cannot be that of a device in {device[1]}; found {shown(tag)}"
            yield ("rooms", tag), message
