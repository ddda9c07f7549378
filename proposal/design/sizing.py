"""How many microphones, access points, chargers, breakouts and mixers a kind of room takes."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from proposal.design.choosing import Option, cover
from proposal.design.prices import unit_cost
from proposal.model.devices import Breakout, Charger, Microphone
from proposal.model.entry import Device, Entry
from proposal.model.project import FixedRoom, Project
from proposal.model.rooms import Form, Pattern, RoomType


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """The boxes of one kind for a room.

    kind: kind of entry, such as access_point.
    need: channels, slots or inputs the room needs of this kind.
    boxes: model code and count, in order of codes.
    given: what the boxes give together.
    by_hand: whether the designer fixed them.
    """

    kind: str
    need: int
    boxes: tuple[tuple[str, int], ...]
    given: int
    by_hand: bool

    @property
    def spare(self) -> int:
        """Return what the boxes give over the need; negative where they fall short."""
        return self.given - self.need


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """The microphone system of one kind of room.

    channels: radio channels needed.
    slots: charge slots needed.
    sizes: boxes by kind, in the order of the signal.
    microphones: model by code of position.
    spares: model and count of spare microphones by form.
    own_switch: the breakout model whose own switch serves the room, empty where there is none.
    unmet: what the library cannot supply, in words.
    """

    channels: int
    slots: int
    sizes: tuple[Size, ...]
    microphones: Mapping[str, str]
    spares: Mapping[Form, tuple[str, int]]
    own_switch: str
    unmet: tuple[str, ...]

    def size(self, kind: str) -> Size | None:
        """Return the boxes of a kind, None where the room takes none."""
        return next((size for size in self.sizes if size.kind == kind), None)


def size_room(project: Project, layout: RoomType, fixed: FixedRoom) -> Sizing:
    """Return the least-cost microphone system of a room, or the designer's own, checked.

    project: its region, currency and library.
    layout: the room's layout.
    fixed: sizes chosen by hand; what stands there is not replaced.
    """
    unmet: list[str] = []
    microphones = {
        code: _microphone(project, position.form, position.pattern, unmet)
        for code, position in sorted(layout.microphones.items())
    }
    spares: dict[Form, tuple[str, int]] = {}
    for form, count in sorted(layout.spare_microphones.items()):
        if count:
            spares[form] = (_microphone(project, form, _usual_pattern(layout, form), unmet), count)
    channels = channels_needed(layout)
    slots = slots_needed(project, layout)
    forms = {position.form for position in layout.microphones.values()} | set(spares)
    sizes = [
        _size(project, "access_point", channels, fixed.access_points, unmet),
        _size(project, "charger", slots, fixed.chargers, unmet, forms),
    ]
    own_switch = ""
    talkers = len(layout.microphones)
    if layout.output == "mixer":
        sizes.append(_size(project, "mixer", talkers, fixed.mixers, unmet))
    else:
        breakouts = _size(project, "breakout", talkers, fixed.breakouts, unmet)
        own_switch, breakouts = _with_own_switch(project, layout, breakouts, sizes)
        sizes.append(breakouts)
    zones = len({loudspeaker.zone for loudspeaker in layout.loudspeakers.values()})
    if zones:
        sizes.append(_size(project, "amplifier", zones, None, unmet))
    return Sizing(
        channels=channels,
        slots=slots,
        sizes=tuple(sizes),
        microphones=microphones,
        spares=spares,
        own_switch=own_switch,
        unmet=tuple(dict.fromkeys(unmet)),
    )


def channels_needed(layout: RoomType) -> int:
    """Return the radio channels of a room: one for each microphone, and for spares where they are linked."""
    spares = sum(layout.spare_microphones.values()) if layout.spares_linked else 0
    return len(layout.microphones) + spares


def slots_needed(project: Project, layout: RoomType) -> int:
    """Return the charge slots of a room: by form, spare microphones included."""
    slots = project.library.charge_slots
    used = sum(slots.of(position.form) for position in layout.microphones.values())
    return used + sum(slots.of(form) * count for form, count in layout.spare_microphones.items())


_CAPACITY = {
    "access_point": "channels",
    "charger": "slots",
    "mixer": "inputs",
    "breakout": "channels",
    "amplifier": "channels",
}


def capacity(entry: Entry) -> int:
    """Return the channels, slots or inputs of one box."""
    return int(getattr(entry, _CAPACITY[str(getattr(entry, "kind", ""))]))


def _size(
    project: Project,
    kind: str,
    need: int,
    by_hand: Mapping[str, int] | None,
    unmet: list[str],
    forms: Iterable[Form] = (),
) -> Size:
    """Return the boxes of one kind: the designer's, or the least-cost ones."""
    entries = project.library.of_kind(kind)
    if by_hand is not None:
        given = sum(capacity(entries[code]) * count for code, count in by_hand.items())
        return Size(kind=kind, need=need, boxes=tuple(sorted(by_hand.items())), given=given, by_hand=True)
    options = tuple(
        Option(code, unit_cost(project, entry), (capacity(entry),))
        for code, entry in entries.items()
        if usable(project, entry, forms)
    )
    chosen = cover(options, (need,))
    if chosen is None:
        unmet.append(f"{kind.replace('_', ' ')} for {need} in region {project.brief.region}")
        chosen = ()
    given = sum(capacity(entries[code]) * count for code, count in chosen)
    return Size(kind=kind, need=need, boxes=chosen, given=given, by_hand=False)


def usable(project: Project, entry: Entry, forms: Iterable[Form] = ()) -> bool:
    """Return whether an entry may be used in the project's region and for the forms of microphone."""
    works_in = getattr(entry, "works_in", None)
    if works_in is not None and not works_in(project.brief.region):
        return False
    return not isinstance(entry, Charger) or set(forms) <= set(entry.forms)


def _microphone(project: Project, form: Form, pattern: Pattern | None, unmet: list[str]) -> str:
    """Return the least-cost microphone of a form and pattern, empty where the library has none."""
    fitting = [
        (unit_cost(project, entry), code)
        for code, entry in project.library.of_kind("microphone").items()
        if isinstance(entry, Microphone)
        and entry.form == form
        and pattern in (None, entry.pattern)
        and usable(project, entry)
    ]
    if not fitting:
        unmet.append(f"{pattern or ''} {form} microphone in region {project.brief.region}".strip())
        return ""
    return min(fitting)[1]


def _usual_pattern(layout: RoomType, form: Form) -> Pattern | None:
    """Return the pattern most microphones of a form have in a room, None where there are none."""
    patterns: list[Pattern] = [place.pattern for place in layout.microphones.values() if place.form == form]
    if not patterns:
        return None
    return min(patterns, key=lambda pattern: (-patterns.count(pattern), pattern))


def _with_own_switch(
    project: Project, layout: RoomType, alone: Size, others: Iterable[Size]
) -> tuple[str, Size]:
    """Return the breakout whose own switch serves the room and the breakouts that go with it.

    alone: the breakouts where the room is cabled to the equipment room.
    others: access points and chargers, which need a port each.
    Cabling to the equipment room is charged with the least cost of a managed switch's port for each device.
    """
    if layout.network == "rack" or (alone.by_hand and not alone.boxes):
        return "", alone
    entries: Mapping[str, Entry] = project.library.of_kind("breakout")
    plugged = [
        project.library.entry(code) for size in others for code, count in size.boxes for _ in range(count)
    ]
    rack_cost = _cost(project, alone) + _port_cost(project) * (len(plugged) + sum(n for _, n in alone.boxes))
    best: tuple[Decimal, int, int, str, Size] | None = None
    for host, entry in sorted(entries.items()):
        if not isinstance(entry, Breakout) or entry.switch is None:
            continue
        if alone.by_hand:
            boxes = alone if host in dict(alone.boxes) else None
        else:
            boxes = _hosting(project, host, entry, alone.need)
        if boxes is None:
            continue
        more = [entries[code] for code, count in boxes.boxes for _ in range(count - (code == host))]
        if not fits_on(entry, [*plugged, *more]):
            continue
        candidate = (_cost(project, boxes), sum(n for _, n in boxes.boxes), boxes.spare, host, boxes)
        if best is None or candidate[:4] < best[:4]:
            best = candidate
    if best is None or best[0] > rack_cost:
        return "", alone
    return best[3], best[4]


def _hosting(project: Project, host: str, entry: Breakout, need: int) -> Size | None:
    """Return the least-cost breakouts of which one is the host."""
    entries = project.library.of_kind("breakout")
    options = tuple(
        Option(code, unit_cost(project, other), (capacity(other),)) for code, other in entries.items()
    )
    rest = cover(options, (need - entry.channels,))
    if rest is None:
        return None
    counts = dict(rest)
    counts[host] = counts.get(host, 0) + 1
    given = sum(capacity(entries[code]) * count for code, count in counts.items())
    return Size(kind="breakout", need=need, boxes=tuple(sorted(counts.items())), given=given, by_hand=False)


def fits_on(host: Breakout, plugged: Iterable[Entry]) -> bool:
    """Return whether devices fit on a breakout's own switch, one port kept for the building network.

    host: the breakout.
    plugged: access points, chargers and further breakouts of the room.
    """
    switch = host.switch
    if switch is None:
        return False
    devices = [entry for entry in plugged if isinstance(entry, Device)]
    powered = [entry.poe for entry in devices if entry.poe and entry.powered_by == "PoE"]
    kept = 1 if switch.isolating_ports else 0
    return (
        len(devices) <= switch.ports - kept
        and len(powered) <= switch.poe_ports
        and all(poe.device_class <= switch.poe_class for poe in powered)
        and sum(poe.maximum for poe in powered) <= switch.budget
    )


def _cost(project: Project, size: Size) -> Decimal:
    entries = project.library.of_kind(size.kind)
    return sum((unit_cost(project, entries[code]) * count for code, count in size.boxes), Decimal(0))


def _port_cost(project: Project) -> Decimal:
    """Return the least cost of one port of a managed switch in the library."""
    shares = [
        unit_cost(project, switch) / switch.access_ports
        for switch in project.library.switches.values()
        if switch.managed
    ]
    return min(shares, default=Decimal(0))
