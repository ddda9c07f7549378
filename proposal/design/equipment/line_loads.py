"""What the loudspeakers of each zone draw from their line: taps, powers, impedance, and what a channel gives.

A loudspeaker of a constant-voltage line has a tap: the one that is written, else the least that gives every
listener of its zone the level asked. One without a transformer takes that power itself.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Literal

from proposal.design.equipment.loudspeaker_aim import Aim, aim_of, off_axis_db
from proposal.design.equipment.placed_devices import floor_height_m
from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.numbers.numbering import natural
from proposal.field_classes import dataclass
from proposal.model.equipment.sound_devices import Amplifier
from proposal.model.equipment.sound_devices import Loudspeaker as LoudspeakerEntry
from proposal.model.loudspeaker_rules import LINE_VOLTAGES, Line
from proposal.model.microphone_positions import MicrophonePosition
from proposal.model.project import Project
from proposal.model.room_shape import Point, Seat
from proposal.model.rooms import Loudspeaker, RoomType
from proposal.standards import loudspeaker_lines
from proposal.standards.reserve import usable_power_w

Wiring = Literal["parallel", "series"]
SAME_VOLTAGE_V = 0.5
"""Voltages of lines that differ by less are the same: 70 V and 70.7 V are not told apart by everybody."""
_NEAREST_M = 0.3
_ROUNDING = 1e-9
_KEPT = 512


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A loudspeaker where it hangs: code, model and entry, position in its room and height, m."""

    code: str
    model: str
    entry: LoudspeakerEntry
    at: Point
    height_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Listener:
    """The listener of a zone that hears it weakest, and how its loudspeakers lie from there.

    name: tag of a seat, or of a microphone where there are no seats; a loudspeaker's where nobody is near.
    off_axis_db, distance_m: of each loudspeaker of the zone.
    """

    name: str
    off_axis_db: tuple[float, ...]
    distance_m: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineUnit:
    """One loudspeaker of a line.

    taps_w: the taps it has on this line; none without a transformer.
    tap_w: the tap taken, or the power it is to get without a transformer; None where it has no tap here.
    written: whether somebody wrote that.
    needed_w: what the level asked at the weakest listener takes.
    draws_w: what it takes from the line.
    impedance_ohm: what the line has of it; None where it draws nothing.
    """

    code: str
    model: str
    entry: LoudspeakerEntry
    taps_w: tuple[float, ...]
    tap_w: float | None
    written: bool
    needed_w: float
    draws_w: float
    impedance_ohm: float | None

    @property
    def short_db(self) -> float:
        """By how much the weakest listener hears it below what is asked, dB; 0 where it is loud enough."""
        if not self.tap_w or self.tap_w >= self.needed_w * (1 - _ROUNDING):
            return 0.0
        return 10 * math.log10(self.needed_w / self.tap_w)


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneLoad:
    """The loudspeakers of a zone as the load of a line.

    voltage_v: of a constant-voltage line at the rated power of its amplifier; None without transformers.
    weakest: the listener who hears it weakest.
    """

    zone: str
    line: Line
    voltage_v: float | None
    units: tuple[LineUnit, ...]
    weakest: Listener


@dataclass(frozen=True, slots=True, kw_only=True)
class Wired:
    """A line as its loudspeakers are joined: its load, its impedance, and the voltage that gives that load.

    impedance_ohm: None where nothing of it draws power.
    """

    wiring: Wiring
    load_w: float
    impedance_ohm: float | None
    voltage_v: float


def loudspeaker_height_m(layout: RoomType, written: Loudspeaker) -> float:
    """Return how high a loudspeaker hangs above the floor, m: as written, else at the ceiling."""
    return layout.ceiling.height if written.height is None else written.height


def loudspeaker_model(project: Project, written: Loudspeaker) -> str:
    """Return the model of a loudspeaker: as written, else the least-cost one; empty where there is none.

    written: in the layout of its room; a model is chosen among those that can hang where it hangs.
    """
    costs = (
        (unit_cost(project, entry), code)
        for code, entry in project.library.loudspeakers.items()
        if written.mounting in entry.mounting
    )
    return written.model or min(costs, default=(None, ""))[1]


def hung_as_laid_out(project: Project, layout: RoomType) -> tuple[Hung, ...]:
    """Return the loudspeakers of a layout where it has them, in order of codes."""
    found = []
    for code in sorted(layout.loudspeakers, key=natural):
        model = loudspeaker_model(project, layout.loudspeakers[code])
        entry = project.library.loudspeakers.get(model)
        if entry:
            one = layout.loudspeakers[code]
            height_m = loudspeaker_height_m(layout, one)
            found.append(Hung(code=code, model=model, entry=entry, at=one.at, height_m=height_m))
    return tuple(found)


def zone_loads(project: Project, layout: RoomType, hung: Sequence[Hung]) -> Mapping[str, ZoneLoad]:
    """Return the load of each zone of a room, in order of zones.

    hung: its loudspeakers.
    """
    line = layout.loudspeaker_line or project.brief.rules.loudspeakers.line_in(project.brief.region)
    by_zone: dict[str, list[Hung]] = {}
    for one in hung:
        by_zone.setdefault(layout.loudspeakers[one.code].zone, []).append(one)
    ear_m = project.brief.rules.loudspeakers.ear_height
    near = _nearest(_listeners(layout, ear_m), _places(layout, hung))
    return {
        zone: _load(project, layout, zone, line, by_zone[zone], near.get(zone, ()))
        for zone in sorted(by_zone)
    }


_Named = tuple[str, Point, float]
"""A listener, or what stands in for one: name, position, and height of the ears above the room's floor, m."""
_Place = tuple[str, Point, float]


def _listeners(layout: RoomType, ear_m: float) -> tuple[_Named, ...]:
    """Return seats by name, or microphones where there are none; ears are so high above each one's floor."""
    places: Mapping[str, Seat | MicrophonePosition] = layout.seats or layout.microphones
    return tuple(
        (name, places[name].at, floor_height_m(layout, places[name].level) + ear_m)
        for name in sorted(places, key=natural)
    )


def _places(layout: RoomType, hung: Sequence[Hung]) -> tuple[_Place, ...]:
    """Return zone, position and height of each loudspeaker."""
    return tuple((layout.loudspeakers[one.code].zone, one.at, one.height_m) for one in hung)


@lru_cache(maxsize=_KEPT)
def _nearest(listeners: tuple[_Named, ...], places: tuple[_Place, ...]) -> Mapping[str, tuple[_Named, ...]]:
    """Return the listeners of each zone: those who have one of its loudspeakers nearest."""
    near: dict[str, tuple[_Named, ...]] = {}
    for listener in listeners:
        _, at, ear_m = listener
        closest = min(places, key=lambda one: math.dist((*one[1], one[2]), (*at, ear_m)), default=None)
        if closest:
            near[closest[0]] = (*near.get(closest[0], ()), listener)
    return near


def _load(
    project: Project,
    layout: RoomType,
    zone: str,
    line: Line,
    hung: Sequence[Hung],
    listeners: tuple[_Named, ...],
) -> ZoneLoad:
    rules = project.brief.rules.loudspeakers
    weakest = _weakest(
        listeners or tuple((one.code, one.at, rules.ear_height) for one in hung),
        tuple(aim_of(layout, layout.loudspeakers[one.code], one.entry, one.at, one.height_m) for one in hung),
    )
    needed_w = {
        one.model: loudspeaker_lines.needed_power_w(
            rules.level + rules.peaks, one.entry.sensitivity, weakest.off_axis_db, weakest.distance_m
        )
        for one in hung
    }
    units = tuple(_unit(one, line, layout.loudspeakers[one.code].tap, needed_w[one.model]) for one in hung)
    return ZoneLoad(zone=zone, line=line, voltage_v=LINE_VOLTAGES.get(line), units=units, weakest=weakest)


@lru_cache(maxsize=_KEPT)
def _weakest(listeners: tuple[_Named, ...], hung: tuple[Aim, ...]) -> Listener:
    """Return the listener who hears a zone weakest; rooms built alike ask the same.

    hung: where each loudspeaker of the zone hangs and plays to.
    """
    heard = [_heard(name, at, ear_m, hung) for name, at, ear_m in listeners]
    return max(heard, key=lambda one: loudspeaker_lines.needed_power_w(0, 0, one.off_axis_db, one.distance_m))


def _heard(name: str, at: Point, ear_m: float, hung: Sequence[Aim]) -> Listener:
    return Listener(
        name=name,
        off_axis_db=tuple(off_axis_db(one, at, ear_m) for one in hung),
        distance_m=tuple(
            max(math.hypot(math.dist(one.at, at), one.height_m - ear_m), _NEAREST_M) for one in hung
        ),
    )


def _unit(one: Hung, line: Line, written_w: float | None, needed_w: float) -> LineUnit:
    entry = one.entry
    voltage_v = LINE_VOLTAGES.get(line)
    taps = () if voltage_v is None else entry.taps_70_v if line == "70.7 V" else entry.taps_100_v
    tap_w: float | None
    impedance_ohm: float | None
    if voltage_v is None:
        tap_w = written_w or min(needed_w, entry.rated_power)
        draws_w = tap_w
        impedance_ohm = entry.impedance
    else:
        allowed = sorted(tap for tap in taps if tap <= entry.rated_power)
        loud = [tap for tap in allowed if tap >= needed_w * (1 - _ROUNDING)]
        tap_w = written_w or min(loud, default=max(allowed, default=None))
        draws_w = loudspeaker_lines.tap_draw_w(tap_w, entry.transformer_loss) if tap_w else 0.0
        impedance_ohm = loudspeaker_lines.line_impedance_ohm(voltage_v, draws_w) if draws_w else None
    return LineUnit(
        code=one.code,
        model=one.model,
        entry=entry,
        taps_w=taps,
        tap_w=tap_w,
        written=written_w is not None,
        needed_w=needed_w,
        draws_w=draws_w,
        impedance_ohm=impedance_ohm,
    )


def wired(load: ZoneLoad, lowest_ohm: float | None) -> Wired:
    """Return a line as its loudspeakers are joined.

    lowest_ohm: least load of its amplifier without transformers, None where it needs them.
    All are in parallel; without transformers in series where the amplifier does not take them in parallel.
    """
    there = [one for one in load.units if one.impedance_ohm]
    conductance_s = sum(1 / one.impedance_ohm for one in there if one.impedance_ohm)
    parallel_ohm = 1 / conductance_s if conductance_s else None
    if load.voltage_v is not None:
        draws_w = loudspeaker_lines.line_load_w([one.draws_w for one in load.units])
        return Wired(wiring="parallel", load_w=draws_w, impedance_ohm=parallel_ohm, voltage_v=load.voltage_v)
    pairs = [(one.draws_w, one.entry.impedance) for one in there]
    if parallel_ohm and (
        lowest_ohm is None or len(pairs) == 1 or parallel_ohm >= lowest_ohm * (1 - _ROUNDING)
    ):
        voltage_v = max(math.sqrt(power_w * ohm) for power_w, ohm in pairs)
        load_w = voltage_v**2 / parallel_ohm
        return Wired(wiring="parallel", load_w=load_w, impedance_ohm=parallel_ohm, voltage_v=voltage_v)
    series_ohm = sum(ohm for _, ohm in pairs)
    current_a = max(math.sqrt(power_w / ohm) for power_w, ohm in pairs)
    return Wired(
        wiring="series",
        load_w=current_a**2 * series_ohm,
        impedance_ohm=series_ohm,
        voltage_v=current_a * series_ohm,
    )


def in_order(load: ZoneLoad, order: Sequence[int]) -> ZoneLoad:
    """Return the load of a line with its loudspeakers in another order.

    order: where each of them stands in the load as it is.
    """
    return replace(load, units=tuple(load.units[n] for n in order))


def rated_w(amplifier: Amplifier) -> float:
    """Return the rated power of a channel while all channels of its amplifier are driven, W."""
    return min(amplifier.channel_power, amplifier.total_power / amplifier.channels)


def drives(amplifier: Amplifier, load: ZoneLoad) -> bool:
    """Return whether an amplifier drives lines of a sort, and loads as low as this one."""
    if load.voltage_v is not None:
        return any(abs(one - load.voltage_v) < SAME_VOLTAGE_V for one in amplifier.line_voltages)
    lowest_ohm = amplifier.lowest_impedance
    impedance_ohm = wired(load, lowest_ohm).impedance_ohm
    return bool(lowest_ohm and impedance_ohm and impedance_ohm >= lowest_ohm * (1 - _ROUNDING))


def usable_w(project: Project, amplifier: Amplifier, load: ZoneLoad) -> float:
    """Return what a channel of an amplifier may give a line with the headroom of the rules, W."""
    headroom = project.brief.rules.loudspeakers.headroom
    lowest_ohm = amplifier.lowest_impedance
    impedance_ohm = wired(load, lowest_ohm).impedance_ohm
    if load.voltage_v is not None or not lowest_ohm or not impedance_ohm:
        return usable_power_w(rated_w(amplifier), headroom)
    return loudspeaker_lines.usable_power_w(headroom, rated_w(amplifier), lowest_ohm, impedance_ohm)


def carries(project: Project, amplifier: Amplifier, load: ZoneLoad) -> bool:
    """Return whether a channel of an amplifier plays a line and keeps its headroom."""
    load_w = wired(load, amplifier.lowest_impedance).load_w
    return drives(amplifier, load) and load_w <= usable_w(project, amplifier, load) * (1 + _ROUNDING)
