"""Names that must point at something: checked on the untyped tree, so that all are reported at once."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from proposal.field_classes import dataclass
from proposal.model.project import Path


@dataclass(frozen=True, slots=True)
class Dangling:
    """A name that points at nothing.

    path: where it stands in the tree.
    wanted: what it should name, in words.
    known: the names there are.
    found: the name found.
    """

    path: Path
    wanted: str
    known: tuple[str, ...]
    found: str


A_SPACE = "a space of building.yaml"
SYSTEM_OF_LIBRARY = "a microphone system of the library"


def dangling(
    tree: Mapping[str, Any], models: Mapping[str, Sequence[str]], systems: Sequence[str]
) -> Iterator[Dangling]:
    """Yield every reference of a project tree that names nothing.

    tree: the untyped project: `project`, `building`, `room_types`, `rooms`, `fixed`; whatever is malformed
        is passed over, since validation reports it.
    models: model codes of the library by kind.  systems: names of its microphone systems.
    """
    storeys = tuple(_mapping(tree, "building", "storeys"))
    equipment_rooms = tuple(_mapping(tree, "building", "equipment_rooms"))
    room_types = tuple(_mapping(tree, "room_types"))
    pathways = tuple(_mapping(tree, "building", "pathways"))
    spaces = tuple(_mapping(tree, "building", "spaces"))
    rooms = _mapping(tree, "rooms")
    path: Path
    for tag, storey in _mapping(tree, "building", "storeys").items():
        path = ("building", "storeys", tag, "ceiling_space")
        yield from _named(storey, path, A_SPACE, spaces)
    for tag, room in _mapping(tree, "building", "equipment_rooms").items():
        path = ("building", "equipment_rooms", tag)
        yield from _named(room, (*path, "storey"), "a storey of building.yaml", storeys)
        others = tuple(one for one in equipment_rooms if one != tag)
        yield from _named(room, (*path, "joined_to"), "another equipment room", others)
        for code, rack in _mapping(room, "racks").items():
            yield from _named(rack, (*path, "racks", code, "model"), "a rack of the library", models["rack"])
    yield from _pathways(tree, storeys, models["support"])
    for tag, room in rooms.items():
        path = ("rooms", tag)
        yield from _named(room, (*path, "type"), "a room type", room_types)
        yield from _named(room, (*path, "storey"), "a storey of building.yaml", storeys)
        yield from _named(room, (*path, "equipment_room"), "an equipment room", equipment_rooms)
        if str(_value(room, "changed")) == "True":
            yield from _layout(_value(room, "layout"), (*path, "layout"), models, systems, spaces)
            yield from _sound_may_pass(_value(room, "layout"), (*path, "layout"), equipment_rooms)
    for name, layout in _mapping(tree, "room_types").items():
        yield from _layout(layout, ("room_types", name), models, systems, spaces)
        yield from _sound_may_pass(layout, ("room_types", name), equipment_rooms)
    for tag, sizes in _mapping(tree, "fixed", "rooms").items():
        if tag not in rooms:
            yield Dangling(("fixed", "rooms", tag), "the tag of a room", tuple(rooms), tag)
        for field, kind in _SIZED.items():
            for code in _mapping(sizes, field):
                if code not in models[kind]:
                    path = ("fixed", "rooms", tag, field, code)
                    yield Dangling(path, f"a model code of the library ({kind})", tuple(models[kind]), code)
    every_model = tuple(code for kind in models for code in models[kind])
    for tag, device in _mapping(tree, "fixed", "devices").items():
        yield from _named(device, ("fixed", "devices", tag, "model"), "a model code", every_model)
    # Which of them suits a signal is known when there is a design.
    every_cable = (*models["cable"], *models["loudspeaker_cable"], *models["audio_cable"])
    for tag, cable in _mapping(tree, "fixed", "cables").items():
        yield from _named(cable, ("fixed", "cables", tag, "type"), "a cable of the library", every_cable)
        yield from _entries(cable, ("fixed", "cables", tag, "route"), pathways)
    places = (*rooms, *equipment_rooms)
    for tag in _mapping(tree, "project", "mains", "circuits"):
        if tag not in places:
            where = ("project", "mains", "circuits", tag)
            yield Dangling(where, "the tag of a room or of an equipment room", places, tag)
    kinds = [_mapping(layout, "days") for layout in _mapping(tree, "room_types").values()]
    kinds += [_mapping(room, "layout", "days") for room in rooms.values()]
    named = tuple(dict.fromkeys(name for days in kinds for name in days))
    for name in _mapping(tree, "project", "mains", "further_days"):
        if name not in named:
            where = ("project", "mains", "further_days", name)
            yield Dangling(where, "a further kind of day of a room type", named, name)
    rules = _value(_value(_value(tree, "project"), "rules"), "cabling")
    path = ("project", "rules", "cabling", "data_cable")
    yield from _named(rules, path, "a cable of the library", models["cable"])
    rules = _value(_value(_value(tree, "project"), "rules"), "microphones")
    path = ("project", "rules", "microphones", "system")
    yield from _named(rules, path, SYSTEM_OF_LIBRARY, systems)


def _pathways(tree: Any, storeys: Sequence[str], supports: Sequence[str]) -> Iterator[Dangling]:
    """Yield the dangling names of nodes and pathways."""
    spaces, nodes = tuple(_mapping(tree, "building", "spaces")), tuple(_mapping(tree, "building", "nodes"))
    for tag, node in _mapping(tree, "building", "nodes").items():
        yield from _named(node, ("building", "nodes", tag, "storey"), "a storey of building.yaml", storeys)
    for tag, pathway in _mapping(tree, "building", "pathways").items():
        path: Path = ("building", "pathways", tag)
        yield from _named(pathway, (*path, "space"), A_SPACE, spaces)
        yield from _named(pathway, (*path, "support"), "a support of the library", supports)
        yield from _entries(pathway, (*path, "between"), nodes, "a node of building.yaml")


_SIZED = {"access_points": "access_point", "chargers": "charger", "breakouts": "breakout", "mixers": "mixer"}


def _layout(
    layout: Any,
    path: Path,
    models: Mapping[str, Sequence[str]],
    systems: Sequence[str],
    spaces: Sequence[str],
) -> Iterator[Dangling]:
    """Yield the dangling names inside one room layout."""
    yield from _named(layout, (*path, "system"), SYSTEM_OF_LIBRARY, systems)
    where: Path = (*path, "ceiling", "space")
    yield from _named(_value(layout, "ceiling"), where, A_SPACE, spaces)
    seats, levels = tuple(_mapping(layout, "seats")), tuple(_mapping(layout, "levels"))
    for tag, wired in _mapping(layout, "wired_microphones").items():
        where = (*path, "wired_microphones", tag)
        yield from _named(wired, (*where, "seat"), "a seat of this room type", seats)
        yield from _named(
            wired, (*where, "model"), "a wired microphone of the library", models["wired_microphone"]
        )
    for tag, row in _mapping(layout, "microphone_rows").items():
        where = (*path, "microphone_rows", tag, "seats")
        yield from _named(row, where, "a row of seats", tuple(_mapping(layout, "seat_rows")))
    for holder in ("seats", "seat_rows", "microphones", "microphone_rows", "wired_microphones"):
        for tag, one in _mapping(layout, holder).items():
            yield from _named(one, (*path, holder, tag, "level"), "a level of this room type", levels)
    for tag, microphone in _mapping(layout, "microphones").items():
        yield from _named(microphone, (*path, "microphones", tag, "seat"), "a seat of this room type", seats)
        where = (*path, "microphones", tag, "accessories")
        yield from _entries(microphone, where, models["accessory"], "an accessory of the library")
    holders = ("microphones", "microphone_rows", "wired_microphones")
    held = [_value(one, "mute_group") or "all" for name in holders for one in _mapping(layout, name).values()]
    groups = tuple(dict.fromkeys([*filter(lambda one: isinstance(one, str), held), "all"]))
    for group in _mapping(layout, "mute_operators"):
        if group not in groups:
            yield Dangling(
                (*path, "mute_operators", group), "a mute group of the room, or all", groups, group
            )
    destinations = tuple(_mapping(layout, "destinations"))
    for place, code in enumerate(_list(_value(layout, "sound_may_reach"))):
        if isinstance(code, str) and code not in destinations:
            yield Dangling((*path, "sound_may_reach", place), "a destination of the room", destinations, code)
    yield from _unknown_sources(layout, path, [one for one in groups if one != "all"])
    for tag, loudspeaker in _mapping(layout, "loudspeakers").items():
        where = (*path, "loudspeakers", tag, "model")
        yield from _named(loudspeaker, where, "a loudspeaker of the library", models["loudspeaker"])


def _sound_may_pass(layout: Any, path: Path, equipment_rooms: tuple[str, ...]) -> Iterator[Dangling]:
    """Yield what is to count as part of a room and is no equipment room."""
    for place in _mapping(layout, "sound_may_pass"):
        if place not in equipment_rooms:
            yield Dangling((*path, "sound_may_pass", place), "an equipment room", equipment_rooms, place)


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []


def _unknown_sources(layout: Any, path: Path, groups: Sequence[str]) -> Iterator[Dangling]:
    """Yield what channels of destinations are to carry and the room does not have.

    groups: mute groups of the room.
    """
    rows = tuple(_mapping(layout, "microphone_rows"))
    known = ("mix", *_mapping(layout, "microphones"), *_mapping(layout, "wired_microphones"))
    known += tuple(f"group {one}" for one in groups)
    known += tuple(f"return {one}" for one in _mapping(layout, "returns"))
    for code, one in _mapping(layout, "destinations").items():
        for place, source in enumerate(_list(_value(one, "carries"))):
            if isinstance(source, str) and source not in known and not (rows and source.startswith(rows)):
                where = (*path, "destinations", code, "carries", place)
                yield Dangling(where, "mix, or a microphone, group or return of the room", known, source)


def _named(holder: Any, path: Path, wanted: str, known: Sequence[str]) -> Iterator[Dangling]:
    """Yield one dangling name if the last key of `path` in `holder` names nothing known."""
    found = _value(holder, path[-1])
    if isinstance(found, str) and found and found not in known:
        yield Dangling(path, wanted, tuple(known), found)


def _entries(
    holder: Any, path: Path, known: Sequence[str], wanted: str = "a pathway of building.yaml"
) -> Iterator[Dangling]:
    """Yield every name of the list at the last key of `path` in `holder` that names nothing known."""
    found = _value(holder, path[-1])
    for place, name in enumerate(found if isinstance(found, list) else ()):
        if isinstance(name, str) and name not in known:
            yield Dangling((*path, place), wanted, tuple(known), name)


def _value(tree: Any, key: str | int) -> Any:
    return tree.get(key) if isinstance(tree, Mapping) else None


def _mapping(tree: Any, *keys: str) -> Mapping[str, Any]:
    for key in keys:
        tree = _value(tree, key)
    return tree if isinstance(tree, Mapping) else {}
