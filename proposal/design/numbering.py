"""Tags, cable identities, ports, addresses and sheet numbers: assigned here and nowhere else.

A number is the one fixed by hand, else the one an issued revision gave, else the lowest never used.
"""

from collections.abc import Iterable, Iterator, Mapping

from proposal.model.project import Numbered

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
    "standby_supply": "UP",
    "rack": "RK",
    "patch_panel": "PP",
}
OVERALL_RISER, DETAIL_RISER, SIGNAL_FLOW, PLAN = "R", "D", "S", "P"


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


def sheet_numbers(sheets: Iterable[tuple[str, str]], issued: Mapping[str, Numbered]) -> dict[str, str]:
    """Return a sheet number for each sheet.

    sheets: series letter (R overall riser, D detail riser, S signal flow, P plan) and identity, in order.
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
