"""Checks across fields: locales, addresses, outlines and dates that depend on each other."""

import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from ipaddress import IPv4Address, IPv4Network
from itertools import combinations, pairwise
from typing import Any

from pydantic import TypeAdapter, ValidationError

from proposal.model.checks.owner_equipment_checks import wrong_owner_equipment
from proposal.model.checks.pathway_checks import wrong_pathways
from proposal.model.checks.room_network_checks import wrong_room_networks
from proposal.model.mains import USUAL_DAYS
from proposal.model.project import Path
from proposal.model.reading.project_tree import Untyped, layouts, mapping_at, text_at
from proposal.model.room_shape import Outline
from proposal.quantities.currencies import is_currency
from proposal.quantities.messages import shown, wanted_one_of
from proposal.quantities.money import WANTED_CURRENCY
from proposal.quantities.parsing import TimeOfDay

MOST_CORNERS = 200

Complaint = tuple[Path, str]
_Corner = tuple[float, float]
_TIMES: TypeAdapter[Any] = TypeAdapter(TimeOfDay)
_OUTLINES: TypeAdapter[Any] = TypeAdapter(Outline)


def wrong_values(
    tree: Untyped, images: Sequence[str], is_locale: Callable[[str], bool]
) -> Iterator[Complaint]:
    """Yield path and message of values that are well formed and yet impossible, or contradict each other.

    tree: the untyped project; what is malformed is passed over, since validation reports it.
    images: names of the files in images/.
    is_locale: says whether numbers and dates can be written as a locale does.
    """
    locale, currency = text_at(tree, "project", "locale"), text_at(tree, "project", "currency")
    if re.fullmatch(r"[a-z]{2,3}(_[A-Z]{2})?", locale) and not is_locale(locale):
        yield ("project", "locale"), f"wanted a known language and country, such as en_GB; found {locale}"
    if re.fullmatch(r"[A-Z]{3}", currency) and not is_currency(currency):
        yield ("project", "currency"), f"{WANTED_CURRENCY}; found {currency}"
    yield from _wrong_logo(text_at(tree, "project", "branding", "logo"), images)
    yield from _wrong_revisions(tree)
    yield from _days_of_a_year(tree)
    for name in mapping_at(tree, "project", "subnets"):
        yield from _wrong_subnet(tree, ("project", "subnets", name))
    for tag in mapping_at(tree, "fixed", "devices"):
        address = text_at(tree, "fixed", "devices", tag, "address")
        if address and _address(address) is None:
            message = f"wanted a network address, such as 10.20.30.40; found {shown(address)}"
            yield ("fixed", "devices", tag, "address"), message
    for above in layouts(tree):
        yield from _wrong_layout(tree, above)
    yield from wrong_pathways(tree)
    yield from wrong_owner_equipment(tree)
    yield from _wrong_joins(tree)
    yield from wrong_room_networks(tree)


def _wrong_joins(tree: Untyped) -> Iterator[Complaint]:
    """Yield path and message of equipment rooms joined in a ring, and of those joined in two ways."""
    rooms = mapping_at(tree, "building", "equipment_rooms")
    joined = {tag: text_at(tree, "building", "equipment_rooms", tag, "joined_to") for tag in rooms}
    for tag, other in joined.items():
        path: Path = ("building", "equipment_rooms", tag, "joined_to")
        met = [tag]
        while other and other in joined and other not in met:
            met.append(other)
            other = joined[other]
        if other == tag:
            ring = " to ".join((*met, tag))
            yield path, f"wanted one that leads to an equipment room joined to no other; found {ring}"
        if joined[tag] and text_at(tree, "building", "equipment_rooms", tag, "owner_port"):
            yield path, "wanted joined_to or owner_port; found both"


def unknown_currencies(tree: Untyped) -> Iterator[Complaint]:
    """Yield path and message of every exchange rate for an unknown currency code; the key is wrong."""
    for code in mapping_at(tree, "project", "terms", "exchange"):
        if not is_currency(code):
            yield ("project", "terms", "exchange", code), f"{WANTED_CURRENCY}; found {shown(code)}"


def _wrong_logo(logo: str, images: Sequence[str]) -> Iterator[Complaint]:
    path: Path = ("project", "branding", "logo")
    if not logo or logo in images:
        return
    if "/" in logo or "\\" in logo or logo.startswith("."):
        yield path, f"wanted the name of a file in images/, without a path; found {shown(logo)}"
    else:
        yield path, wanted_one_of(logo, images, "a file in images/")


def _wrong_revisions(tree: Untyped) -> Iterator[Complaint]:
    identity = text_at(tree, "project", "revision", "identity")
    date = text_at(tree, "project", "revision", "date")
    for key in mapping_at(tree, "project", "history"):
        path = ("project", "history", key)
        earlier, earlier_date = text_at(tree, *path, "identity"), text_at(tree, *path, "date")
        if key == identity:
            yield path, f"wanted earlier revisions only; found {shown(key)}, which is being made"
        if earlier and earlier != key:
            yield (*path, "identity"), f"wanted {shown(key)}, as it is named; found {shown(earlier)}"
        if _is_date(date) and _is_date(earlier_date) and earlier_date > date:
            yield (*path, "date"), f"wanted a date not after the revision's, {date}; found {earlier_date}"


def _days_of_a_year(tree: Untyped) -> Iterator[Complaint]:
    path = ("project", "mains", "further_days")
    days = [text_at(tree, *path, name) for name in mapping_at(tree, *path)]
    usual = text_at(tree, "project", "mains", "usual_days")
    if not days or not all(re.fullmatch(r"[0-9]{1,3}", one) for one in (*days, *([usual] if usual else ()))):
        return
    together = sum(int(one) for one in days) + int(usual or USUAL_DAYS)
    if together > 366:
        yield path, f"wanted at most 366 days of a year together with usual_days; found {together}"


def _is_date(text: str) -> bool:
    return re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text) is not None


def _wrong_subnet(tree: Untyped, path: tuple[str, ...]) -> Iterator[Complaint]:
    written, gateway = text_at(tree, *path, "network"), text_at(tree, *path, "gateway")
    network: IPv4Network | None = None
    with suppress(ValueError):
        network = IPv4Network(written)
    if written and (network is None or network.num_addresses < 4):
        whole: IPv4Network | None = None
        with suppress(ValueError):
            whole = IPv4Network(written, strict=False)
        # An address of one device within a range is the usual slip.
        wanted = (
            f"the first address of a range, {whole}"
            if network is None and whole is not None and whole.num_addresses >= 4
            else "an address range, such as 10.20.30.0/24"
        )
        yield (*path, "network"), f"wanted {wanted}; found {shown(written)}"
    elif network is not None and gateway:
        address = _address(gateway)
        if address is None or address not in network:
            yield (*path, "gateway"), f"wanted an address in {network}; found {shown(gateway)}"


def _address(text: str) -> IPv4Address | None:
    try:
        return IPv4Address(text)
    except ValueError:
        return None


def _wrong_layout(tree: Untyped, above: tuple[str, ...]) -> Iterator[Complaint]:
    outlines = [(*above, "outline")]
    outlines += [(*above, "furniture", tag, "outline") for tag in mapping_at(tree, *above, "furniture")]
    for path in outlines:
        if message := _wrong_outline(mapping_at(tree, *path[:-1]).get("outline")):
            yield path, message
    holders = [(*above, "sessions"), *((*above, "days", day) for day in mapping_at(tree, *above, "days"))]
    for path in ((*holder, name) for holder in holders for name in mapping_at(tree, *holder)):
        start = _read(_TIMES, text_at(tree, *path, "start"))
        end = _read(_TIMES, text_at(tree, *path, "end"))
        if start is not None and end is not None and end <= start:
            wanted = text_at(tree, *path, "start")
            found = text_at(tree, *path, "end")
            yield (*path, "end"), f"wanted an end after the start, {wanted}; found {shown(found)}"


def _read(adapter: TypeAdapter[Any], value: object) -> Any:
    """Return a value as its type reads it, or None where it is wrong."""
    try:
        return adapter.validate_python(value)
    except ValidationError:
        return None


def _wrong_outline(written: object) -> str | None:
    """Return what is wrong with the corners of a room or table, or None."""
    if isinstance(written, list) and len(written) > MOST_CORNERS:
        return f"wanted at most {MOST_CORNERS} corners; found {len(written)}"
    outline: Sequence[_Corner] | None = _read(_OUTLINES, written)
    if outline is None:
        return None
    if len(set(outline)) < len(outline):
        return "wanted each corner once, the outline closes itself; found one of them again"
    sides = list(pairwise((*outline, outline[0])))
    for (first, one), (second, other) in combinations(enumerate(sides), 2):
        if second - first not in (1, len(sides) - 1) and _cross(*one, *other):
            return f"wanted sides that do not cross; found side {first + 1} and side {second + 1} crossing"
    if abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in sides)) / 2 < 1e-4:
        return "wanted an outline with an area; found corners in one line"
    return None


def _cross(a: _Corner, b: _Corner, c: _Corner, d: _Corner) -> bool:
    """Say whether side a-b and side c-d have a point in common."""
    return _turn(a, b, c) != _turn(a, b, d) and _turn(c, d, a) != _turn(c, d, b)


def _turn(a: _Corner, b: _Corner, c: _Corner) -> int:
    area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return (area > 1e-9) - (area < -1e-9)
