"""Loudspeaker lines as designed: each with its channel, its load, its conductor and its loss."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.design.connections.amplifier_channels import (
    AmplifierChannel,
    connector_of,
    hung_as_placed,
)
from proposal.design.connections.cable import Cable
from proposal.design.connections.line_cables import LOUDSPEAKER_PORT
from proposal.design.connections.line_conductors import Run, amplifier_of, in_chain, run_along, stretches_of
from proposal.design.equipment.line_loads import (
    LineUnit,
    Wired,
    ZoneLoad,
    drives,
    rated_w,
    usable_w,
    wired,
)
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.zone_lines import line_loads
from proposal.design.numbers.numbering import device_tag, natural
from proposal.design.pathways.fill import LOUDSPEAKER_LINE
from proposal.field_classes import dataclass
from proposal.model.equipment.sound_devices import Amplifier
from proposal.model.project import Project
from proposal.quantities.formatting import listed, short_quantity
from proposal.standards.loudspeaker_lines import allowed_impedance_ohm

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class LoudspeakerLine:
    """One line: loudspeakers of a zone in a daisy chain on one channel of an amplifier.

    room, zone: tag of the room, and name of the zone, with a number where it has several lines.
    channel, amplifier: that plays it, and its entry of the library; None where none is left.
    load: its loudspeakers.  joined: as they are joined.
    stretches: the cable that leads to each of them; None where none is known.
    run: what flows and is lost along them.
    usable_w: what its channel may give it with headroom; None without a channel.
    limit_db: the most that it may lose.
    least_ohm, most_ohm: what a measurement of its impedance may show; None where it takes nothing.
    """

    room: str
    zone: str
    channel: AmplifierChannel | None
    amplifier: Amplifier | None
    load: ZoneLoad
    joined: Wired
    stretches: tuple[Cable | None, ...]
    run: Run
    usable_w: float | None
    limit_db: float
    least_ohm: float | None
    most_ohm: float | None

    @property
    def identity(self) -> str:
        """Return its channel as it is named everywhere, or its room where it has none."""
        if self.channel is None:
            return self.room
        return f"{self.channel.amplifier}/{self.channel.output or self.channel.number}"

    @property
    def tags(self) -> tuple[str, ...]:
        """Return the tags of its loudspeakers, from the amplifier on."""
        return tuple(device_tag(self.room, one.code) for one in self.load.units)

    @property
    def cables(self) -> tuple[Cable, ...]:
        """Return its cables, from the amplifier on."""
        return tuple(one for one in self.stretches if one)

    @property
    def overloaded(self) -> bool:
        """Return whether it takes more than its channel may give."""
        return self.usable_w is not None and self.joined.load_w > self.usable_w * (1 + _ROUNDING)

    @property
    def driven(self) -> bool:
        """Return whether its amplifier drives such a line, and loads as low as this one."""
        return self.amplifier is None or drives(self.amplifier, self.load)

    @property
    def loss_db(self) -> float:
        """Return what it loses on the way to the loudspeaker that it weakens most, dB."""
        return max(self.run.losses_db)

    @property
    def loses_too_much(self) -> bool:
        """Return whether that is more than the rules allow."""
        return self.loss_db > self.limit_db * (1 + _ROUNDING)

    @property
    def rated_w(self) -> float | None:
        """Return the rated power of its channel with all channels driven, W; None without one."""
        return rated_w(self.amplifier) if self.amplifier else None

    def words(self, project: Project) -> str:
        """Return what it is in words, `100 V line, 4 × 5 W`.

        project: its units and locale.
        """
        taps = sorted({one.tap_w for one in self.load.units if one.tap_w}, reverse=True)
        told = [f"{sum(one.tap_w == tap for one in self.load.units)} × {watts(project, tap)}" for tap in taps]
        return ", ".join([line_words(self.load, self.joined), *([listed(told)] if told else [])])


def watts(project: Project, power_w: float) -> str:
    """Return a power of a tap or of a line in words.

    power_w: in W.
    """
    return short_quantity(power_w, "power", project.brief.units, project.brief.locale)


def line_words(load: ZoneLoad, joined: Wired) -> str:
    """Return a sort of line in words: `100 V line`, or `low impedance in series`."""
    if load.voltage_v is None:
        return f"low impedance in {joined.wiring}"
    return f"{load.line} line"


Sounding = tuple[str, Sequence[Placed], Sequence[Cable], Mapping[str, AmplifierChannel]]
"""Tag, devices and cables of a room, and channels of its amplifiers by the line that they play."""


def loudspeaker_lines(project: Project, rooms: Sequence[Sounding]) -> tuple[LoudspeakerLine, ...]:
    """Return the loudspeaker lines of all rooms, in order of rooms and channels."""
    return tuple(line for room in rooms for line in _of_room(project, *room))


def _of_room(
    project: Project,
    room: str,
    devices: Sequence[Placed],
    cables: Sequence[Cable],
    channels: Mapping[str, AmplifierChannel],
) -> Iterator[LoudspeakerLine]:
    hung = hung_as_placed(project, devices)
    if not hung:
        return
    rules = project.brief.rules.loudspeakers
    by_end = {one.start: one for one in cables if one.signal == LOUDSPEAKER_LINE}
    loads = line_loads(project, project.rooms[room].layout, hung)

    def place(zone: str) -> tuple[object, ...]:
        channel = channels.get(zone)
        return (
            channel is None,
            natural(channel.amplifier) if channel else (),
            channel.number if channel else 0,
        )

    for zone in sorted(loads, key=place):
        load, channel = in_chain(loads[zone], room, by_end), channels.get(zone)
        amplifier = amplifier_of(project, channel, devices)
        lowest_ohm = amplifier.lowest_impedance if amplifier else None
        joined = wired(load, lowest_ohm)
        stretches = stretches_of(load, room, by_end)
        models = [one.model if one else "" for one in stretches]
        expected_ohm = joined.impedance_ohm
        yield LoudspeakerLine(
            room=room,
            zone=zone,
            channel=channel,
            amplifier=amplifier,
            load=load,
            joined=joined,
            stretches=stretches,
            run=run_along(project, load, stretches, models, lowest_ohm),
            usable_w=usable_w(project, amplifier, load) if amplifier else None,
            limit_db=rules.loss,
            least_ohm=allowed_impedance_ohm(expected_ohm, -rules.impedance_tolerance)
            if expected_ohm
            else None,
            most_ohm=allowed_impedance_ohm(expected_ohm, rules.impedance_tolerance) if expected_ohm else None,
        )


def first_loudspeakers(lines: Sequence[LoudspeakerLine], rooms: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """Return the codes of the loudspeakers at which the line of each zone begins in some rooms.

    lines: of the design.  rooms: tags of rooms of one kind.
    """
    found: dict[str, dict[str, None]] = {}
    for line in lines:
        if line.room in rooms:
            found.setdefault(line.zone, {})[line.load.units[0].code] = None
    return {zone: tuple(sorted(codes, key=natural)) for zone, codes in found.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class LoudspeakerOnLine:
    """One loudspeaker as the installer finds it: its tap, its terminals, and the cables that end there.

    place: on its line, from 1.
    cable_in, cable_out: identity of the cable from the amplifier's side and of the one that leads on.
    temperature_c: highest temperature along the cable from the amplifier's side; None without one.
    """

    loudspeaker: str
    line: LoudspeakerLine
    unit: LineUnit
    place: int
    terminals: str
    connector: str
    cable_in: str
    cable_out: str
    temperature_c: float | None
    current_a: float
    loss_db: float


def loudspeakers_on(line: LoudspeakerLine) -> Iterator[LoudspeakerOnLine]:
    """Yield the loudspeakers of a line, from the amplifier on."""
    stretches = line.stretches
    for n, (tag, unit) in enumerate(zip(line.tags, line.load.units, strict=True)):
        into, onward = stretches[n], stretches[n + 1] if n + 1 < len(stretches) else None
        yield LoudspeakerOnLine(
            loudspeaker=tag,
            line=line,
            unit=unit,
            place=n + 1,
            terminals=LOUDSPEAKER_PORT,
            connector=connector_of(unit.entry, LOUDSPEAKER_PORT),
            cable_in=into.identity if into else "",
            cable_out=onward.identity if onward else "",
            temperature_c=into.temperature_c if into else None,
            current_a=line.run.currents_a[n],
            loss_db=line.run.losses_db[n],
        )
