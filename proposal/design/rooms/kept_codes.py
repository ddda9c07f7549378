"""Which code each device of a room has: as issued, else the lowest never used.

What is written by hand has the code that it is written with: microphones, loudspeakers, racks, access points
with a position. The other devices are chosen by their number, so what an issued revision called AP2 has to be
found again among them. The same device is the one of its kind in the same room, of the same model before
another, and nearest to where it hung in the room; the nearest pair is joined first, and where all is equal
codes and boxes keep their order. So the answer depends neither on the order of rooms nor on that of files. A
code that finds no box is retired. Rooms of one type that never had a device of their own take the codes that
most of the others have, and a new code is one that no room of the type ever had: what is built alike is
called alike as long as its history allows.
"""

import math
import re
from collections.abc import Collection, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from proposal.design.equipment.device_capacity import capacity
from proposal.design.equipment.sizing import Sizing, with_models_by_hand
from proposal.design.numbers.numbering import device_code, device_tag, issued_of, natural
from proposal.design.radio.placement import Point, place
from proposal.design.radio.room_placement import placement_task
from proposal.field_classes import dataclass
from proposal.model.project import Numbered, Project
from proposal.model.rooms import RoomType
from proposal.model.tags import DEVICE_CODES

DEVICE = "device"
_CHOSEN = ("access_point", "charger", "breakout", "mixer", "amplifier", "spare_microphone", "switch")
_KINDS = {DEVICE_CODES[kind]: kind for kind in _CHOSEN}
_TAG = re.compile(rf"(.+)-({'|'.join(_KINDS)})([1-9][0-9]{{0,5}})")


@dataclass(frozen=True, slots=True)
class EarlierDevice:
    """A device that an issued revision had: its code, its model, where it hung in its room, if it is gone."""

    code: str
    model: str
    at: Point | None
    retired: bool


@dataclass(frozen=True, slots=True)
class Box:
    """A device that has no code yet: its model, and where it hangs in its room where that tells it apart."""

    model: str
    at: Point | None = None


Earlier = Mapping[str, tuple[EarlierDevice, ...]]
"""Earlier devices of one room by kind, in order of codes."""


def earlier_devices(issued: Mapping[str, Numbered]) -> Mapping[str, Earlier]:
    """Return the devices of issued revisions by room or equipment room and kind.

    issued: numbers given by issued revisions, by identity.
    """
    found: dict[str, dict[str, list[EarlierDevice]]] = {}
    for one in issued_of(issued, DEVICE).values():
        tag = _TAG.fullmatch(one.number)
        if tag:
            device = EarlierDevice(f"{tag[2]}{tag[3]}", one.model, one.at, one.retired)
            found.setdefault(tag[1], {}).setdefault(_KINDS[tag[2]], []).append(device)
    return {
        room: {
            kind: tuple(sorted(devices, key=lambda device: natural(device.code)))
            for kind, devices in by_kind.items()
        }
        for room, by_kind in found.items()
    }


def codes_for(
    kind: str,
    boxes: Sequence[Box],
    earlier: Iterable[EarlierDevice] = (),
    *,
    used: Collection[str] = (),
    written: Iterable[str] = (),
    by_hand: Mapping[str, str] | None = None,
) -> tuple[str, ...]:
    """Return the code of each box, in the order of boxes.

    kind: of all of them.
    earlier: devices of the kind that issued revisions had here.
    used: further codes that are not given to what is new.
    written: codes that positions are written for, which boxes have before any other.
    by_hand: codes about which fixed.yaml decides, with the model that it gives, if any.
    """
    decided = by_hand or {}
    before = {device.code: device for device in earlier}
    living = {code: device for code, device in before.items() if not device.retired}
    first = [*sorted(written, key=natural), *sorted(set(decided) & set(living), key=natural)]
    kept = list(dict.fromkeys(first))[: len(boxes)]
    taken = dict(_nearest([(code, living[code]) for code in kept if code in living], boxes)).values()
    others = [(code, device) for code, device in living.items() if code not in kept]
    left = [n for n in range(len(boxes)) if n not in taken]
    near = [code for code, _ in _nearest(others, boxes, left)]
    kept += near[: len(boxes) - len(kept)]
    never = {*used, *before, *kept}
    new = (code for n in range(1, len(never) + len(boxes) + 1) if (code := device_code(kind, n)) not in never)
    codes = [*kept, *(next(new) for _ in range(len(boxes) - len(kept)))]
    # A model fixed by hand says nothing of which box had the code.
    telling = [(code, living[code]) for code in codes if code in living and not decided.get(code)]
    box_of = dict(_nearest(telling, boxes))
    free = [n for n in range(len(boxes)) if n not in box_of.values()]
    rest = sorted(
        (code for code in codes if code not in box_of), key=lambda code: (code not in living, natural(code))
    )
    box_of |= dict(zip(rest, free, strict=True))
    return tuple(sorted(box_of, key=lambda code: box_of[code]))


def _nearest(
    devices: Sequence[tuple[str, EarlierDevice]], boxes: Sequence[Box], among: Sequence[int] | None = None
) -> Iterator[tuple[str, int]]:
    """Yield code and number of box, the pairs that are most alike first, each code and box once.

    among: the boxes in question; all where left out.
    """
    pairs = sorted(
        (device.model != boxes[n].model, _apart_m(device.at, boxes[n].at), natural(code), n, code)
        for code, device in devices
        for n in (range(len(boxes)) if among is None else among)
    )
    seen_codes: set[str] = set()
    seen_boxes: set[int] = set()
    for *_, n, code in pairs:
        if code not in seen_codes and n not in seen_boxes:
            seen_codes.add(code)
            seen_boxes.add(n)
            yield code, n


def _apart_m(one: Point | None, other: Point | None) -> float:
    return 0.0 if one is None or other is None else round(math.dist(one, other), 3)


def coded(
    project: Project,
    history: Mapping[str, Earlier],
    rooms: Sequence[str],
    layout: RoomType,
    sizing: Sizing,
    own: str,
) -> list[tuple[tuple[str, ...], Sizing]]:
    """Return rooms that are built and called alike, each group with its system, every device with its code.

    history: devices of issued revisions by room.
    rooms: tags of rooms that are built alike, in order.
    sizing: their system before models fixed by hand for single devices.
    own: tag of the room where it departs from its type by hand or by its own file, else empty.
    The largest group comes first; rooms without history are in it.
    """
    known = [tag for tag in rooms if tag in history]
    if not known:
        if layout.access_points_at:
            sizing = _with_codes(project, {}, {}, layout, sizing, ())
        return [(tuple(rooms), with_models_by_hand(project, own, sizing) if own else sizing)]
    used = {device.code for tag in known for devices in history[tag].values() for device in devices}
    made: dict[Hashable, Sizing] = {}
    groups: dict[tuple[tuple[str, ...], ...], list[str]] = {}
    sizings: dict[tuple[tuple[str, ...], ...], Sizing] = {}
    for tag in known:
        decided = _decided(project, tag)
        past = (tuple(sorted(history[tag].items())), tuple(sorted(decided.items())))
        if past not in made:
            system = _with_codes(project, history[tag], decided, layout, sizing, used)
            if own:
                system = with_models_by_hand(project, own, system)
            made[past] = replace(system, hung_order=_hung_order(project, history[tag], layout, system))
        system = made[past]
        codes = (*(size.codes for size in system.sizes), system.spare_codes, system.hung_order)
        groups.setdefault(codes, []).append(tag)
        sizings[codes] = system
    order = sorted(groups, key=lambda codes: (-len(groups[codes]), natural(groups[codes][0])))
    new = [tag for tag in rooms if tag not in history]
    groups[order[0]] = sorted([*groups[order[0]], *new], key=natural)
    return [(tuple(groups[codes]), sizings[codes]) for codes in order]


def _with_codes(
    project: Project,
    earlier: Earlier,
    decided: Mapping[str, str],
    layout: RoomType,
    sizing: Sizing,
    used: Collection[str],
) -> Sizing:
    """Return the system of a room with the codes of its devices.

    decided: codes about which fixed.yaml decides, with the model that it gives, if any.
    """
    sizes = []
    for size in sizing.sizes:
        boxes = [Box(model) for model in size.models]
        before = earlier.get(size.kind, ())
        written = layout.access_points_at if size.kind == "access_point" else ()
        if size.kind == "access_point" and not written and _tells_apart(before, boxes):
            boxes = _hung_boxes(project, layout, sizing, size.models)
        codes = codes_for(size.kind, boxes, before, used=used, written=written, by_hand=decided)
        sizes.append(replace(size, codes=codes))
    spares = [Box(model) for model in sizing.spare_models]
    spare_codes = codes_for(
        "spare_microphone", spares, earlier.get("spare_microphone", ()), used=used, by_hand=decided
    )
    return replace(sizing, sizes=tuple(sizes), spare_codes=spare_codes)


def _decided(project: Project, room: str) -> dict[str, str]:
    stem = device_tag(room, "")
    return {
        tag.removeprefix(stem): fixed.model
        for tag, fixed in project.fixed.devices.items()
        if tag.startswith(stem)
    }


def _tells_apart(before: Sequence[EarlierDevice], boxes: Sequence[Box]) -> bool:
    """Return whether it matters where boxes hang: some codes go, or models differ."""
    living = [device for device in before if not device.retired]
    models = {device.model for device in living} | {box.model for box in boxes}
    return bool(living) and (len(boxes) < len(living) or len(models) > 1)


def _hung_boxes(project: Project, layout: RoomType, sizing: Sizing, models: Sequence[str]) -> list[Box]:
    task = placement_task(
        project, layout, sizing.microphones, {str(n): model for n, model in enumerate(models)}
    )
    found = place(task) if task else None
    if found is None:
        return [Box(model) for model in models]
    return [Box(model, where.at) for model, where in zip(models, found.places, strict=True)]


def _hung_order(project: Project, earlier: Earlier, layout: RoomType, sizing: Sizing) -> tuple[str, ...]:
    """Return the codes of access points in the order in which they get the places that placement finds.

    Each gets the place nearest to where it hung, among the places for boxes of its size; new ones get what is
    left, in order.
    """
    size = sizing.size("access_point")
    hung = {
        device.code: device
        for device in earlier.get("access_point", ())
        if device.at is not None and not device.retired
    }
    if size is None or layout.access_points_at or not any(code in hung for code in size.codes):
        return ()
    task = placement_task(project, layout, sizing.microphones, size.by_code)
    found = place(task) if task else None
    if found is None:
        return ()
    codes = list(size.by_code)
    by_size: dict[int, list[int]] = {}
    for n, code in enumerate(codes):
        by_size.setdefault(capacity(project.library.entry(size.by_code[code])), []).append(n)
    order = list(codes)
    for numbers in by_size.values():
        boxes = [Box("", found.places[n].at) for n in numbers]
        known = [(codes[n], replace(hung[codes[n]], model="")) for n in numbers if codes[n] in hung]
        place_of = dict(_nearest(known, boxes))
        left = [n for n in range(len(boxes)) if n not in place_of.values()]
        new = [codes[n] for n in numbers if codes[n] not in place_of]
        place_of |= dict(zip(new, left, strict=True))
        for code, n in place_of.items():
            order[numbers[n]] = code
    return tuple(order) if order != codes else ()
