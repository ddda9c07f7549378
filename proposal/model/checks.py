"""What no single field can tell: tags that can stand on labels, addresses, outlines, files that are named."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from ipaddress import IPv4Address, IPv4Network, ip_network
from itertools import combinations, pairwise
from typing import Any

from proposal.model.messages import shown, wanted_one_of
from proposal.model.money import WANTED_CURRENCY, is_currency
from proposal.model.project import Path
from proposal.model.rooms import RoomType

TAG = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,23}")
# A page of this name is the beginning of the site.
_RESERVED = ("index",)
LONGEST_NAME = 80
MOST_CORNERS = 200

_ANY = None
# Paths of the collections whose keys are tags, and the form of the tags of some.
_TAGGED: Sequence[tuple[tuple[str | None, ...], str | None]] = (
    (("building", "storeys"), None),
    (("building", "equipment_rooms"), None),
    (("building", "equipment_rooms", _ANY, "racks"), "RK"),
    (("building", "shafts"), None),
    (("room_types",), None),
    (("rooms",), None),
)
_TAGGED_IN_LAYOUT: Mapping[str, str | None] = {
    "furniture": None,
    "seats": None,
    "microphones": None,
    "destinations": None,
    "returns": None,
    "loudspeakers": None,
    "access_points_at": "AP",
}
Complaint = tuple[Path, str]


def wrong_tags(tree: Mapping[str, Any]) -> Iterator[Complaint]:
    """Yield path and message of every key that cannot be a tag, or that is too like another one.

    tree: the untyped project; what is malformed is passed over.
    """
    for pattern, code in _TAGGED:
        for path, keys in _collections(tree, pattern, ()):
            yield from _wrong_keys(path, keys, code)
    layouts: list[tuple[Path, Any]] = [
        (("room_types", name), layout) for name, layout in _items(tree, "room_types")
    ]
    layouts += [
        (("rooms", tag, "layout"), room["layout"])
        for tag, room in _items(tree, "rooms")
        if isinstance(room, Mapping) and "layout" in room
    ]
    for above, layout in layouts:
        for name, code in _TAGGED_IN_LAYOUT.items():
            if isinstance(layout, Mapping) and isinstance(layout.get(name), Mapping):
                yield from _wrong_keys((*above, name), list(layout[name]), code)
    yield from _taken_twice(tree)


def _collections(node: Any, pattern: Sequence[str | None], path: Path) -> Iterator[tuple[Path, list[str]]]:
    if not isinstance(node, Mapping):
        return
    if not pattern:
        yield path, list(node)
        return
    for key in list(node) if pattern[0] is _ANY else [pattern[0]]:
        yield from _collections(node.get(key), pattern[1:], (*path, key))


def _items(tree: Any, name: str) -> list[tuple[str, Any]]:
    found = tree.get(name) if isinstance(tree, Mapping) else None
    return list(found.items()) if isinstance(found, Mapping) else []


def _wrong_keys(path: Path, keys: Sequence[str], code: str | None) -> Iterator[Complaint]:
    seen: dict[str, str] = {}
    for key in keys:
        if code and not re.fullmatch(rf"{code}[1-9][0-9]{{0,2}}", key):
            yield (*path, key), f"wanted {code} and a number, such as {code}1; found {shown(key)}"
        elif not code and (not TAG.fullmatch(key) or key.casefold() in _RESERVED):
            message = "wanted a tag of at most 24 letters, digits, dots, hyphens and underscores"
            yield (*path, key), f"{message}; found {shown(key)}"
        elif key.casefold() in seen:
            other = seen[key.casefold()]
            yield (*path, key), f"wanted tags that differ in more than case; found {key} beside {other}"
        seen.setdefault(key.casefold(), key)


_DEVICE_TAG = re.compile(r"(.+)-[A-Z]{1,2}[0-9]+")


def _taken_twice(tree: Mapping[str, Any]) -> Iterator[Complaint]:
    """Yield rooms whose tag is an equipment room's too, or reads as the tag of another room's device."""
    building = tree.get("building")
    equipment_rooms = (
        [tag for tag, _ in _items(building, "equipment_rooms")] if isinstance(building, Mapping) else []
    )
    rooms = [tag for tag, _ in _items(tree, "rooms")]
    every_tag = {tag.casefold() for tag in (*rooms, *equipment_rooms)}
    served = {tag.casefold() for tag in equipment_rooms}
    for tag in rooms:
        device = _DEVICE_TAG.fullmatch(tag)
        if tag.casefold() in served:
            yield ("rooms", tag), f"wanted a tag that no equipment room has; found {shown(tag)}"
        elif device and device[1].casefold() in every_tag:
            message = f"wanted a tag that cannot be that of a device in {device[1]}; found {shown(tag)}"
            yield ("rooms", tag), message


def wrong_values(
    tops: Mapping[str, Any], images: Sequence[str], is_locale: Callable[[str], bool]
) -> Iterator[Complaint]:
    """Yield path and message of what is wrong between the fields of validated parts.

    tops: validated parts by first key (project, room_types, rooms, fixed), without those that failed.
    images: names of the files in images/.
    is_locale: says whether numbers and dates can be written as a locale does.
    """
    brief, fixed = tops.get("project"), tops.get("fixed")
    if brief:
        if not is_locale(brief.locale):
            message = (
                f"wanted a language and country that are known, such as en_GB; found {shown(brief.locale)}"
            )
            yield ("project", "locale"), message
        if not is_currency(brief.currency):
            yield ("project", "currency"), f"{WANTED_CURRENCY}; found {brief.currency}"
        for code in brief.terms.exchange:
            if not is_currency(code):
                yield ("project", "terms", "exchange", code), f"{WANTED_CURRENCY}; found {shown(code)}"
        yield from _wrong_logo(brief.branding.logo, images)
        yield from _wrong_revisions(brief)
        for name, subnet in brief.subnets.items():
            yield from _wrong_subnet(subnet, ("project", "subnets", name))
    for tag, device in fixed.devices.items() if fixed else ():
        if device.address and _address(device.address) is None:
            message = f"wanted a network address, such as 10.20.30.40; found {shown(device.address)}"
            yield ("fixed", "devices", tag, "address"), message
    for name, layout in tops.get("room_types", {}).items():
        yield from _wrong_layout(layout, ("room_types", name))
    for tag, room in tops.get("rooms", {}).items():
        if room.changed:
            yield from _wrong_layout(room.layout, ("rooms", tag, "layout"))


def _wrong_logo(logo: str, images: Sequence[str]) -> Iterator[Complaint]:
    path: Path = ("project", "branding", "logo")
    if not logo or logo in images:
        return
    if "/" in logo or "\\" in logo or logo.startswith("."):
        yield path, f"wanted the name of a file in images/, without a path; found {shown(logo)}"
    elif images:
        yield path, f"{wanted_one_of(logo, images)}"
    else:
        yield path, f"wanted the name of a file in images/; found {shown(logo)}, which is not there"


def _wrong_revisions(brief: Any) -> Iterator[Complaint]:
    if brief.revision.identity in brief.history:
        message = f"wanted a revision that is not in history; found {brief.revision.identity} there too"
        yield ("project", "revision", "identity"), message
    for key, earlier in brief.history.items():
        if earlier.identity != key:
            message = f"wanted {shown(key)}, as it is named; found {earlier.identity}"
            yield ("project", "history", key, "identity"), message
        if earlier.date > brief.revision.date:
            message = f"wanted a date not after the revision's, {brief.revision.date}; found {earlier.date}"
            yield ("project", "history", key, "date"), message


def _wrong_subnet(subnet: Any, path: Path) -> Iterator[Complaint]:
    network: IPv4Network | None = None
    try:
        found = ip_network(subnet.network)
        network = found if isinstance(found, IPv4Network) else None
    except ValueError:
        pass
    if network is None or network.num_addresses < 4:
        message = f"wanted an address range, such as 10.20.30.0/24; found {shown(subnet.network)}"
        yield (*path, "network"), message
    elif subnet.gateway:
        gateway = _address(subnet.gateway)
        if gateway is None or gateway not in network:
            message = f"wanted an address in {network}; found {shown(subnet.gateway)}"
            yield (*path, "gateway"), message


def _address(text: str) -> IPv4Address | None:
    try:
        return IPv4Address(text)
    except ValueError:
        return None


def _wrong_layout(layout: RoomType, path: Path) -> Iterator[Complaint]:
    outlines: list[tuple[Path, Sequence[tuple[float, float]]]] = [((*path, "outline"), layout.outline)]
    outlines += [
        ((*path, "furniture", tag, "outline"), part.outline) for tag, part in layout.furniture.items()
    ]
    for where, outline in outlines:
        if message := _wrong_outline(outline):
            yield where, message
    for name, session in layout.sessions.items():
        if session.end <= session.start:
            yield (*path, "sessions", name, "end"), "wanted an end after the start; found one before it"


def _wrong_outline(outline: Sequence[tuple[float, float]]) -> str | None:
    """Return what is wrong with a room's corners, or None."""
    if len(outline) > MOST_CORNERS:
        return f"wanted at most {MOST_CORNERS} corners; found {len(outline)}"
    if len(set(outline)) < len(outline):
        return "wanted each corner once, the outline closes itself; found one of them again"
    sides = list(pairwise((*outline, outline[0])))
    for (first, one), (second, other) in combinations(enumerate(sides), 2):
        if second - first not in (1, len(sides) - 1) and _cross(*one, *other):
            return f"wanted sides that do not cross; found side {first + 1} and side {second + 1} crossing"
    if abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in sides)) / 2 < 1e-4:
        return "wanted an outline with an area; found corners in one line"
    return None


_Corner = tuple[float, float]


def _cross(a: _Corner, b: _Corner, c: _Corner, d: _Corner) -> bool:
    """Say whether side a-b and side c-d have a point in common."""
    return _turn(a, b, c) != _turn(a, b, d) and _turn(c, d, a) != _turn(c, d, b)


def _turn(a: _Corner, b: _Corner, c: _Corner) -> int:
    area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return (area > 1e-9) - (area < -1e-9)
