"""Tags, cable identities, ports, addresses and sheet numbers: assigned here and nowhere else.

A number is the one fixed by hand, else the one an issued revision gave, else the lowest never used.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from proposal.field_classes import dataclass
from proposal.model.project import Numbered
from proposal.model.tags import DEVICE_CODES

PORT, PANEL, INPUT, END, JOIN, OUTLET = "port", "panel", "input", "end", "join", "outlet"
INJECTOR = "injector"
"""What the register calls the PoE source of a device."""
QUESTION = "question"
"""What the register calls an open question, by the path of its value."""
PLANS = ("radio/", "cut/")
"""How identities begin whose numbers are a plan: they may change, and be given to others."""
REGISTER_WAS = " was "
"""Between identity and number of a number that a thing has given up."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place that equipment offers, such as slots 3 and 4 of a charger.

    number: as it is written, such as B101-CH1/3.  units: what of the equipment it takes.
    """

    number: str
    units: tuple[str, ...]


def device_code(kind: str, ordinal: int) -> str:
    """Return the code of a device within its room, such as AP1.

    kind: kind of entry.
    ordinal: from 1, among the room's devices of the kind.
    """
    return f"{DEVICE_CODES[kind]}{ordinal}"


def device_tag(place: str, code: str) -> str:
    """Return the tag of a device.

    place: tag of the room or equipment room it serves.
    code: its code there.
    """
    return f"{place}-{code}"


def cable_identity(device: str, port: str, end: str) -> str:
    """Return a cable's identity: its device, the device's port and the equipment it ends in.

    device, end: tags.
    port: name of the port on the device, such as N1.
    """
    return f"{device}/{port}/{end}"


@lru_cache(maxsize=65_536)
def natural(text: str) -> tuple[tuple[int, int | str], ...]:
    """Return a sort key in which M2 comes before M10.

    text: a tag, code or identity.
    """
    parts: list[tuple[int, int | str]] = []
    digits, letters = "", ""
    for character in text:
        if character.isascii() and character.isdigit():
            if letters:
                parts.append((1, letters))
                letters = ""
            digits += character
        else:
            if digits:
                parts.append((0, int(digits)))
                digits = ""
            letters += character
    if digits:
        parts.append((0, int(digits)))
    if letters:
        parts.append((1, letters))
    return tuple(parts)


def assign(
    identities: Iterable[str],
    fixed: Mapping[str, str],
    issued: Mapping[str, Numbered],
    candidates: Iterable[str],
) -> dict[str, str]:
    """Return a number for each identity; one that finds no free candidate is left out.

    identities: what needs a number, in order.
    fixed: numbers set by hand, by identity; never replaced, even where two are the same.
    issued: numbers given by issued revisions, by identity; retired ones are not used again.
    candidates: the numbers there are, lowest first.
    """
    wanted = list(identities)
    numbers = {identity: fixed[identity] for identity in wanted if identity in fixed}
    taken = set(numbers.values())
    available = list(candidates)
    known = set(available)
    for identity in wanted:
        before = issued.get(identity)
        kept = before is not None and not before.retired and before.number in known
        if identity not in numbers and before is not None and kept and before.number not in taken:
            numbers[identity] = before.number
            taken.add(before.number)
    used = taken | {number.number for number in issued.values()}
    free: Iterator[str] = (number for number in available if number not in used)
    for identity in wanted:
        if identity not in numbers:
            number = next(free, None)
            if number is None:
                break
            numbers[identity] = number
    return {identity: numbers[identity] for identity in wanted if identity in numbers}


def assign_ports(
    equipment: str,
    devices: Iterable[str],
    fixed: Mapping[str, str],
    issued: Mapping[str, Numbered],
    ports: Iterable[int],
) -> dict[str, int]:
    """Return a port of a switch for each device; who finds none is left out.

    equipment: tag of what has the ports.
    devices: tags of those at it, in order.
    fixed: ports set by hand, by tag.
    issued: numbers given by issued revisions, by identity; a device's port stands under `port/` and its tag.
    ports: those there are, lowest first.
    A port is kept as issued; else it is the lowest never given; else, since a switch has only so many, the
    lowest that is free.
    """
    wanted, candidates = list(devices), [str(port) for port in ports]
    numbers = assign(wanted, fixed, issued_at(issued, PORT, equipment), candidates)
    taken = set(numbers.values())
    free = (number for number in candidates if number not in taken)
    numbers |= dict(zip((tag for tag in wanted if tag not in numbers), free, strict=False))
    return {tag: int(number) for tag, number in numbers.items()}


def sheet_numbers(sheets: Iterable[tuple[str, str]], issued: Mapping[str, Numbered]) -> dict[str, str]:
    """Return a sheet number for each sheet.

    sheets: series letter of the kind of drawing and identity, in order.
    issued: numbers given by issued revisions, by identity.
    """
    by_series: dict[str, list[str]] = {}
    for series, identity in sheets:
        by_series.setdefault(series, []).append(identity)
    numbers: dict[str, str] = {}
    for series, identities in by_series.items():
        candidates = (f"{series}-{n:02d}" for n in range(1, len(identities) + len(issued) + 1))
        numbers |= assign(identities, {}, issued, candidates)
    return numbers


def question_numbers(paths: Iterable[Sequence[str | int]], issued: Mapping[str, Numbered]) -> dict[str, str]:
    """Return the number of each open question by its identity, such as Q2: the same on all pages and sheets.

    paths: of the values that are asked for, in order.
    issued: numbers given by issued revisions, by identity.
    """
    wanted = [f"{QUESTION}/{'.'.join(map(str, path))}" for path in paths]
    before = issued_of(issued, QUESTION)
    return assign(wanted, {}, before, [f"Q{n}" for n in range(1, len(wanted) + len(before) + 1)])


class IssuedNumbers(Mapping[str, Numbered]):
    """The numbers that issued revisions gave, by identity, sorted out by kind once for all who ask."""

    def __init__(self, issued: Mapping[str, Numbered]) -> None:
        """Sort numbers out by what their identities begin with."""
        self._all = dict(issued)
        self._by_kind: dict[str, dict[str, Numbered]] = {}
        for identity, one in issued.items():
            self._by_kind.setdefault(identity.partition("/")[0], {})[identity] = one

    def __getitem__(self, identity: str) -> Numbered:
        """Return the number of an identity."""
        return self._all[identity]

    def __iter__(self) -> Iterator[str]:
        """Return the identities."""
        return iter(self._all)

    def __len__(self) -> int:
        """Return how many numbers there are."""
        return len(self._all)

    def of_kind(self, kind: str) -> Mapping[str, Numbered]:
        """Return the numbers whose identities begin with a kind."""
        return self._by_kind.get(kind, {})


def issued_of(issued: Mapping[str, Numbered], kind: str) -> Mapping[str, Numbered]:
    """Return the numbers of one kind that issued revisions gave: identities begin with it and a stroke."""
    if isinstance(issued, IssuedNumbers):
        return issued.of_kind(kind)
    return {identity: one for identity, one in issued.items() if identity.startswith(f"{kind}/")}


def issued_at(issued: Mapping[str, Numbered], kind: str, equipment: str) -> dict[str, Numbered]:
    """Return the numbers of one kind that were given at one piece of equipment, without its tag.

    equipment: tag that the numbers begin with, before a stroke; identities are without their kind.
    """
    stem = f"{equipment}/"
    return {
        identity.partition("/")[2]: one.model_copy(update={"number": one.number.removeprefix(stem)})
        for identity, one in issued_of(issued, kind).items()
        if one.number.startswith(stem)
    }


def assign_places(
    wanted: Iterable[tuple[str, Iterable[Place]]], issued: Mapping[str, Numbered]
) -> dict[str, Place]:
    """Return a place for each identity, such as a channel, an input or charge slots; no unit is given twice.

    wanted: identity and the places it could have, lowest first, in order.
    issued: numbers given by issued revisions, by identity.
    A place is kept as issued; else it is the lowest never given; else, since equipment has only so many,
    the lowest that is free. What finds none is left out.
    """
    listed = [(identity, list(candidates)) for identity, candidates in wanted]
    found: dict[str, Place] = {}
    taken: set[str] = set()
    for identity, candidates in listed:
        before = issued.get(identity)
        if before is None or before.retired:
            continue
        place = next((one for one in candidates if one.number == before.number), None)
        if place and taken.isdisjoint(place.units):
            found[identity] = place
            taken.update(place.units)
    new = [(identity, candidates) for identity, candidates in listed if identity not in found]
    used = {number.number for number in issued.values()} if new else set()
    for identity, candidates in new:
        free = [one for one in candidates if taken.isdisjoint(one.units)]
        if free:
            found[identity] = next((one for one in free if one.number not in used), free[0])
            taken.update(found[identity].units)
    return found


def multicast_group(stream: int) -> str:
    """Return the multicast group of a stream, in the organisation-local scope 239.192.0.0/14 (RFC 2365).

    stream: its number, from 1.
    The last 16 bits alone differ, so that no two groups share an Ethernet address, which holds 23 bits, and
    none shares one with the groups of routers (224.0.0.x).
    """
    high, low = divmod(stream - 1, 254)
    return f"239.192.{high}.{low + 1}"
