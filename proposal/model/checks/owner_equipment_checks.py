"""Checks of the owner's equipment: its place, rack, rooms and the destinations that it serves."""

from collections.abc import Iterator
from typing import Any

from proposal.model.project import Path
from proposal.model.reading.project_tree import Untyped, mapping_at, text_at
from proposal.quantities.formatting import listed
from proposal.quantities.messages import shown, wanted_one_of

Complaint = tuple[Path, str]
_ONE_PORT = "wanted a port that no other equipment room names, such as Core-1/17"
_OF_LAYOUT = ("microphones", "loudspeakers")


def wrong_owner_equipment(tree: Untyped) -> Iterator[Complaint]:
    """Yield path and message of everything that the owner's equipment names and that does not exist.

    tree: the untyped project; what is malformed is passed over, since validation reports it.
    """
    rooms, types = mapping_at(tree, "rooms"), mapping_at(tree, "room_types")
    closets = mapping_at(tree, "building", "equipment_rooms")
    standing: dict[tuple[str, str], Path] = {}
    being: dict[tuple[str, str], Path] = {}
    for place, items in mapping_at(tree, "building", "owner_equipment").items():
        path: Path = ("building", "owner_equipment", place)
        if place not in rooms and place not in types and place not in closets:
            known = sorted({*rooms, *closets, *types})
            yield path, wanted_one_of(place, known, "a room, an equipment room or a room type")
            continue
        own = [place] if place in rooms or place in closets else _of_type(tree, place)
        for code in mapping_at(items):
            for room in own:
                other = standing.setdefault((room, code), path)
                if other != path:
                    message = (
                        f"wanted a code that is not given to {room} twice; found {code} under {other[-1]} too"
                    )
                    yield (*path, code), message
            yield from _item(tree, (*path, code), place in closets, own)
            yield from _served_twice(tree, (*path, code), own if place not in closets else None, being)
    yield from _port_joined_twice(tree)


def _port_joined_twice(tree: Untyped) -> Iterator[Complaint]:
    """Yield each equipment room whose port of the owner's network (owner_port) another one names, too."""
    naming: dict[str, list[str]] = {}
    for room in mapping_at(tree, "building", "equipment_rooms"):
        port = text_at(tree, "building", "equipment_rooms", room, "owner_port")
        if port:
            naming.setdefault(_one_name(tree, room, port), []).append(room)
    for rooms in naming.values():
        for room in rooms if len(rooms) > 1 else ():
            path: Path = ("building", "equipment_rooms", room, "owner_port")
            others = listed([one for one in rooms if one != room])
            port = text_at(tree, *(str(key) for key in path))
            yield path, f"{_ONE_PORT}; found {shown(port)}, as in {others}"


def _one_name(tree: Untyped, room: str, port: str) -> str:
    """Return one name for a port, however it is written: `21` and `P21` are of the room's own switch."""
    place, _, name = port.strip().casefold().rpartition("/")
    number = name.removeprefix("port ").removeprefix("p").strip()
    if place or not number.isdigit():
        return f"{place}/{number if number.isdigit() else name}"
    for code, one in mapping_at(tree, "building", "owner_equipment", room).items():
        if number in _texts(mapping_at(one, "switch").get("free")):
            return f"{room}-{code}/{number}".casefold()
    return f"/{number}"


def _of_type(tree: Untyped, name: str) -> list[str]:
    return [tag for tag in mapping_at(tree, "rooms") if text_at(tree, "rooms", tag, "type") == name]


def _item(tree: Untyped, path: Path, in_equipment_room: bool, own: list[str]) -> Iterator[Complaint]:
    """Yield what one thing names that is not there.

    in_equipment_room: whether it stands in one.  own: the rooms it stands in.
    """
    keys = tuple(str(key) for key in path)
    is_switch = text_at(tree, *keys, "kind") == "switch"
    if is_switch != bool(mapping_at(tree, *keys, "switch")):
        yield (
            path,
            "wanted what is free on it (switch) of a switch, and of nothing else; found "
            + ("a switch without" if is_switch else "it of something else"),
        )
    elif is_switch and not in_equipment_room:
        yield path, "wanted a switch in an equipment room; found one in a room"
    free = _texts(mapping_at(tree, *keys, "switch").get("free"))
    for n, port in enumerate(free):
        if port in free[:n]:
            yield (*path, "switch", "free", n), f"wanted each port once; found {shown(port)} twice"
    rack, rooms = text_at(tree, *keys, "rack"), _texts(mapping_at(tree, *keys).get("rooms"))
    known = mapping_at(tree, "rooms")
    if in_equipment_room:
        racks = mapping_at(tree, "building", "equipment_rooms", keys[-2], "racks")
        if rack and rack not in racks:
            yield (*path, "rack"), wanted_one_of(rack, racks, "a rack of its equipment room")
        for n, room in enumerate(rooms):
            if room not in known:
                yield (*path, "rooms", n), wanted_one_of(room, known, "the tag of a room")
    else:
        for field, found in (("rack", rack), ("rooms", ", ".join(rooms))):
            if found:
                yield (*path, field), f"wanted it in an equipment room alone; found {shown(found)}"
        for room in own:
            taken = {code for name in _OF_LAYOUT for code in mapping_at(_layout(tree, room), name)}
            if keys[-1] in taken:
                yield path, f"wanted a code that nothing else in {room} has; found {shown(keys[-1])}"
    served = [room for room in rooms if room in known] if in_equipment_room else own
    ends = {
        code
        for room in served
        for name in ("destinations", "returns")
        for code in mapping_at(_layout(tree, room), name)
    }
    types = mapping_at(tree, "room_types")
    if any(text_at(tree, "rooms", room, "type") not in types for room in served):
        return  # a type that is not there is told at its room
    for n, code in enumerate(_texts(mapping_at(tree, *keys).get("serves"))):
        if code not in ends:
            wanted = (
                "a destination or return of its rooms"
                if served or not in_equipment_room
                else "the rooms it is for, such as `rooms: [B101]`, and a destination or return of theirs"
            )
            yield (*path, "serves", n), wanted_one_of(code, sorted(ends), wanted)


def _served_twice(
    tree: Untyped, path: Path, own: list[str] | None, being: dict[tuple[str, str], Path]
) -> Iterator[Complaint]:
    """Yield destinations and returns that other equipment is already, and keep those that this one is.

    own: the rooms it stands in, None for an equipment room.  being: what each destination of a room is.
    """
    one = mapping_at(tree, *(str(key) for key in path))
    for n, code in enumerate(_texts(one.get("serves"))):
        for room in _texts(one.get("rooms")) if own is None else own:
            other = being.setdefault((room, code), path)
            if other != path:
                wanted = f"wanted a destination or return of {room} that nothing else is"
                yield (*path, "serves", n), f"{wanted}; found {shown(code)}, which {other[-1]} is"


def _layout(tree: Untyped, room: str) -> Any:
    """Return the layout of a room: its own where it changes its type."""
    own = mapping_at(tree, "rooms", room, "layout")
    return own or mapping_at(tree, "room_types", text_at(tree, "rooms", room, "type"))


def _texts(found: Any) -> list[str]:
    return [one for one in found if isinstance(one, str)] if isinstance(found, list) else []
