"""Rules about standby supplies: that there is one, that it carries its load, and for as long as is asked."""

import math
from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.racks.rack_choice import RackDesign
from proposal.design.racks.standby_choice import StandbyDesign
from proposal.design.racks.standby_run_time import run_time_workings
from proposal.errors import Place
from proposal.model.equipment.standby_supplies import StandbySupply
from proposal.model.project import Project
from proposal.model.standby import Standby
from proposal.model.tags import DEVICE_CODES
from proposal.quantities.formatting import listed, quantity
from proposal.review.finding import Finding, Rule, error_at, written_place
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT

FAN = "fan panel"
"""The kind of part of a rack that a supply may feed."""
_STEPS = 40
"""Halvings by which the load for some minutes is found: to a millionth of a million watts."""


def standby_supplies(project: Project, design: Design) -> Iterator[Finding]:
    """Yield what does not hold of the standby supply of each rack that is to have one."""
    for rack in design.racks:
        one = rack.layout.standby
        if one is None:
            continue
        if one.entry is None:
            yield _none(project, one)
            continue
        yield from _load(project, one, one.entry)
        if one.carries:
            yield from _time(project, one, one.entry)
        yield from _gap(project, one, one.entry)
        if not one.fed:
            yield _nothing(project, rack, one)
        yield from _without_a_port(project, rack, one, one.entry)


def left_out_in_vain(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each name that leaves out of standby what is no kind and no device in the rack."""
    kinds = {kind.replace("_", " ") for kind in (*DEVICE_CODES, FAN)}
    told: set[tuple[Place, str]] = set()
    for room, place in project.building.equipment_rooms.items():
        here = [rack for rack in design.racks if rack.device.room == room]
        standing = {item.name for rack in here for item in (*rack.layout.items, *rack.layout.left)}
        path = ("building", "equipment_rooms", room)
        written: list[tuple[tuple[str, ...], Standby | None]] = [((*path, "standby"), place.standby)]
        written += [((*path, "racks", code, "standby"), rack.standby) for code, rack in place.racks.items()]
        for where, one in written:
            for name in one.without if one else ():
                if name in standing or name.replace("_", " ") in kinds:
                    continue
                at = written_place(project, (*where, "without"), where, path)
                if (at, name) not in told:
                    told.add((at, name))
                    yield Finding(
                        rule="standby-leaves-out-nothing",
                        severity="error",
                        where=room,
                        place=at,
                        message=f"{name} need not stay up in {room}, but nothing there is called so.",
                        source=EDITABLE_DEFAULT,
                        remedy=f"Write the tag of a device in the racks of {room}, or a kind of device "
                        "such as amplifier.",
                    )


def _none(project: Project, one: StandbyDesign) -> Finding:
    units, locale = project.brief.units, project.brief.locale
    mains = (
        f"{quantity(project.brief.mains_voltage, 'voltage', units, locale)}, "
        f"{quantity(project.brief.mains_frequency, 'frequency', units, locale)}"
    )
    gap_ms = project.brief.rules.racks.ride_through * 1000
    return error_at(
        one.asked.tag,
        _place(project, one),
        "no-standby-supply-in-library",
        f"The library has no standby supply for {mains} that takes over within {gap_ms:.3g} ms, for "
        f"{one.asked.room}-{one.asked.rack}.",
        "Add such a supply to standby_supplies of the project's or the company's library, or take standby "
        f"out of {one.asked.room} in building.yaml.",
        EDITABLE_DEFAULT,
    )


def _load(project: Project, one: StandbyDesign, entry: StandbySupply) -> Iterator[Finding]:
    """Yield an error where a supply does not carry what it feeds: in watts, in volt-amperes, by outlets."""
    for value, limit, unit in ((one.most_w, one.allowed_w, "W"), (one.most_va, one.allowed_va, "VA")):
        if value > limit + 1e-9:
            yield error_at(
                one.asked.tag,
                _place(project, one),
                "standby-overloaded",
                f"All that {one.asked.tag} ({entry.model}) feeds takes more at once than it may carry.",
                _lighter(project, one, value - limit, unit),
                COMMON_PRACTICE,
                value,
                limit,
                unit,
            )
            return
    if one.inlets > entry.outlets:
        yield error_at(
            one.asked.tag,
            _place(project, one),
            "standby-outlets-short",
            f"{one.asked.tag} ({entry.model}) has fewer outlets than what it feeds has inlets.",
            f"Leave {one.inlets - entry.outlets} of {listed(one.names_fed)} out under without of standby in "
            f"building.yaml, or name a further rack in {one.asked.room}.",
            COMMON_PRACTICE,
            float(one.inlets),
            float(entry.outlets),
            "outlets",
        )


def _lighter(project: Project, one: StandbyDesign, over: float, unit: str) -> str:
    """Return how the load of a supply comes down by some watts or volt-amperes."""
    stronger = _stronger(project, one)
    if stronger:
        return f"Fix {stronger} for {one.asked.tag} in fixed.yaml, or leave its model out."
    sizes = {item.name: item.most_w if unit == "W" else item.apparent_va for item in one.fed}
    return (
        f"Leave {_to_leave_out(sizes, over, unit)} out under without of standby in building.yaml, or name a "
        f"further rack in {one.asked.room}."
    )


def _stronger(project: Project, one: StandbyDesign) -> str:
    """Return the model that would carry the load where another was fixed by hand, empty if none would."""
    share = project.brief.rules.racks.standby_load
    if not one.asked.model:
        return ""
    found = [
        (entry.cost.amount, code)
        for code, entry in project.library.standby_supplies.items()
        if one.most_w <= share * entry.rated_power
        and one.most_va <= share * entry.rated_apparent_power
        and one.inlets <= entry.outlets
    ]
    return min(found)[1] if found else ""


def _to_leave_out(sizes: dict[str, float], over: float, unit: str) -> str:
    """Return the fewest things whose load comes to what is too much, with that load.

    sizes: load of each by name.
    """
    found: list[str] = []
    total = 0.0
    for name, size in sorted(sizes.items(), key=lambda item: (-item[1], item[0])):
        if total >= over - 1e-9:
            break
        found.append(name)
        total += size
    # The last one that does it may be smaller than the next largest.
    if found:
        before = total - sizes[found[-1]]
        small = [(size, name) for name, size in sizes.items() if name not in found[:-1]]
        size, name = min((one for one in small if before + one[0] >= over - 1e-9), default=(0.0, found[-1]))
        found[-1] = name
        total = before + sizes[name]
    return f"{listed(found)} ({total:.0f} {unit}, where {math.ceil(over)} {unit} are too much)"


def _time(project: Project, one: StandbyDesign, entry: StandbySupply) -> Iterator[Finding]:
    """Yield an error where a supply carries its load for less than is asked."""
    if one.holds:
        return
    asked_min = one.asked.time_s / 60
    load_w = load_for(project, entry, one.packs, one.asked.time_s)
    with_packs = f" with {one.packs} × {one.pack.model}" if one.pack else ""
    sizes = {item.name: item.typical_w for item in one.fed}
    ways = [f"ask for {max(math.floor(one.minutes or 0), 1)} min"]
    if load_w:
        held = f"{entry.model}{with_packs} lasts {asked_min:g} min up to {math.floor(load_w)} W"
        ways.append(f"leave {_to_leave_out(sizes, one.typical_w - load_w, 'W')} out: {held}")
    if one.asked.model:
        ways.append(f"leave the model of {one.asked.tag} out of fixed.yaml")
    else:
        ways.append("add a supply or battery packs that last longer to the library")
    remedy = ", or ".join(ways)
    yield error_at(
        one.asked.tag,
        _place(project, one),
        "standby-too-short",
        f"{one.asked.tag} ({entry.model}{with_packs}) carries {one.typical_w:.0f} W for less time than is "
        "asked, its battery at the end of its life.",
        f"{remedy[0].upper()}{remedy[1:]}.",
        COMMON_PRACTICE,
        one.minutes or 0.0,
        asked_min,
        "min",
    )


def load_for(project: Project, supply: StandbySupply, packs: int, time_s: float) -> float:
    """Return the most that a supply carries for some time, its battery old and cold, W; 0 for no load at all.

    packs: battery packs beside it.  time_s: how long, s.
    """
    low_w, high_w = 0.0, supply.rated_power
    for _ in range(_STEPS):
        middle_w = (low_w + high_w) / 2
        steps = run_time_workings(project, supply, packs, middle_w, None)
        if steps and steps[-1].result * 60 >= time_s:
            low_w = middle_w
        else:
            high_w = middle_w
    return low_w if low_w >= 1.0 else 0.0


def _gap(project: Project, one: StandbyDesign, entry: StandbySupply) -> Iterator[Finding]:
    """Yield a warning where a supply chosen by hand takes over later than devices ride through."""
    limit = project.brief.rules.racks.ride_through
    if entry.transfer_time > limit:
        yield Finding(
            rule="standby-too-slow",
            severity="warning",
            where=one.asked.tag,
            place=_place(project, one),
            message=f"{one.asked.tag} ({entry.model}) takes over later than devices ride through.",
            value=entry.transfer_time * 1000,
            limit=limit * 1000,
            unit="ms",
            source=COMMON_PRACTICE,
            remedy=f"Leave the model of {one.asked.tag} out of fixed.yaml, or write a longer ride_through "
            "into the rules for racks where every device is known to ride through it.",
        )


def _nothing(project: Project, rack: RackDesign, one: StandbyDesign) -> Finding:
    return Finding(
        rule="standby-feeds-nothing",
        severity="warning",
        where=one.asked.tag,
        place=_place(project, one),
        message=f"{one.asked.tag} feeds nothing: whatever takes mains in {rack.device.tag} is left out.",
        source=EDITABLE_DEFAULT,
        remedy=f"Write `standby: {{time: 0 min}}` for {one.asked.rack} in building.yaml, or leave less out.",
    )


def _without_a_port(
    project: Project, rack: RackDesign, one: StandbyDesign, entry: StandbySupply
) -> Iterator[Finding]:
    """Yield a warning where nobody kept a network port for a supply, since its rack was added."""
    if entry.ports_carrying("network") and not one.asked.named:
        yield Finding(
            rule="standby-not-on-network",
            severity="warning",
            where=one.asked.tag,
            place=_place(project, one),
            message=f"{one.asked.tag} stands in {rack.device.tag}, which was added, and has no switch port: "
            "nobody sees over the network when its battery fails.",
            source=COMMON_PRACTICE,
            remedy=f"Name {one.asked.rack} under racks of {one.asked.room} in building.yaml.",
        )


def _place(project: Project, one: StandbyDesign) -> Place:
    room = ("building", "equipment_rooms", one.asked.room)
    return written_place(
        project,
        ("fixed", "devices", one.asked.tag, "model"),
        (*room, "racks", one.asked.rack, "standby"),
        (*room, "standby"),
        room,
    )


STANDBY_RULES: tuple[Rule, ...] = (standby_supplies, left_out_in_vain)
