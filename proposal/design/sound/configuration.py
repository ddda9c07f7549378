"""What a commissioner sets in every device, in the order of the work, and what a control system can reach."""

import ipaddress
from collections.abc import Collection, Iterator, Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.addresses import Addresses
from proposal.design.network.clock_leader import ClockPlan, clock_plans
from proposal.design.network.streams import Stream
from proposal.design.network.switch_joins import SwitchJoin
from proposal.design.numbers.numbering import natural
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.carried_sound import end_words
from proposal.design.sound.channels import Channel, ChannelPlan
from proposal.design.sound.joined_rooms import JoinedRoute
from proposal.design.sound.loudspeaker_lines import LoudspeakerLine, watts
from proposal.field_classes import dataclass
from proposal.model.design_rules import LevelRules
from proposal.model.equipment.devices import AccessPoint, Breakout, BuiltInSwitch, Charger, Microphone, Switch
from proposal.model.equipment.entry import Device
from proposal.model.equipment.sound_devices import Amplifier, Mixer
from proposal.model.equipment.standby_supplies import StandbySupply
from proposal.model.project import Project
from proposal.model.rooms import RoomType
from proposal.quantities.formatting import listed
from proposal.standards import aes67

ORDER: Sequence[str] = (
    "switch",
    "access_point",
    "charger",
    "microphone",
    "breakout",
    "mixer",
    "amplifier",
    "standby_supply",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One step of a device's configuration sheet: what is set, and to what."""

    device: str
    step: int
    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Known:
    """What settings are made from."""

    project: Project
    addresses: Addresses
    plan: ChannelPlan
    ends: Mapping[str, Sequence[AudioEnd]]
    entries: Mapping[str, Device]
    clocks: Mapping[str, ClockPlan]
    apart: Mapping[str, str]
    leaders: frozenset[str]
    own_switches: Mapping[str, str]
    alone: frozenset[str]
    joins: Sequence[SwitchJoin]
    routes: Sequence[JoinedRoute]
    lines: Sequence[LoudspeakerLine]
    standby: Mapping[str, Sequence[tuple[str, str]]]
    portable: Mapping[str, Sequence[tuple[str, str]]]

    @property
    def levels(self) -> LevelRules:
        """Return the levels before tuning."""
        return self.project.brief.rules.levels

    def layout_of(self, tag: str) -> RoomType | None:
        """Return the layout of the room that a device serves, None where it serves none alone."""
        room = self.project.rooms.get(tag.rpartition("-")[0])
        return room.layout if room else None


def settings(
    project: Project,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    addresses: Addresses,
    plan: ChannelPlan,
    ends: Sequence[AudioEnd],
    joins: Sequence[SwitchJoin],
    routes: Sequence[JoinedRoute],
    querier: str,
    rooms: Mapping[str, str],
    alone: Collection[str],
    apart: Mapping[str, str],
    lines: Sequence[LoudspeakerLine],
    standby: Mapping[str, Sequence[tuple[str, str]]],
    portable: Mapping[str, Sequence[tuple[str, str]]],
) -> tuple[Setting, ...]:
    """Return the settings of every device that has some: switches first, then from the radio to the mix.

    devices, entries: all of the design.  ends: of every room.  joins: of the switches.
    routes: between the mixers of joined rooms.
    querier: tag of the switch that asks who listens.
    rooms: by what holds the switch of a room: its port that keeps the building's network off, or nothing.
    alone: tags of the rooms out of which nothing leads.
    apart: tag of the room whose network is kept from the building's, by the tag of each device in it.
    lines: loudspeaker lines of every room.
    standby, portable: name and value of the settings of standby supplies and of portable sets, by tag.
    """
    by_device: dict[str, list[AudioEnd]] = {}
    for end in ends:
        by_device.setdefault(end.device, []).append(end)
    in_rooms = frozenset(one.tag for one in devices if one.kind == "switch" and one.tag in rooms)
    known = _Known(
        project=project,
        addresses=addresses,
        plan=plan,
        ends=by_device,
        entries=entries,
        clocks=clock_plans(entries, apart),
        apart=apart,
        leaders=in_rooms | frozenset((querier,)),
        own_switches=rooms,
        alone=frozenset(one.tag for one in devices if one.room in alone),
        joins=joins,
        routes=routes,
        lines=lines,
        standby=standby,
        portable=portable,
    )
    ordered = sorted(
        (one for one in devices if one.kind in ORDER and one.tag in entries),
        key=lambda one: (ORDER.index(one.kind), natural(one.tag)),
    )
    channels = {one.microphone: one for one in plan.channels}
    return tuple(
        Setting(device=one.tag, step=step, name=name, value=value)
        for one in ordered
        for step, (name, value) in enumerate(
            (*_of_device(known, one, entries[one.tag], channels), *_unplugged(known, one.tag)), 1
        )
    )


def _of_device(
    known: _Known, one: Placed, entry: Device, channels: Mapping[str, Channel]
) -> Iterator[tuple[str, str]]:
    """Yield name and value of each setting of a device, in order."""
    if isinstance(entry, Microphone):
        if one.tag in channels:
            yield from _microphone(known, channels[one.tag])
            yield "Mounting", one.location
        return
    if entry.network:
        yield "Host name", one.tag.lower()
        yield from _address(known, one.tag, entry)
        yield "Password", "changed from the delivered one and handed over sealed"
        if isinstance(entry, Breakout) and entry.switch and one.tag in known.own_switches:
            yield from _built_in(known, one.tag, entry.switch)
    elif not isinstance(entry, Charger):
        return
    served = [channel for channel in known.plan.channels if channel.access_point == one.tag]
    if entry.network and entry.network.can_lead_clock:
        yield from _clock_priority(
            known.clocks[known.apart.get(one.tag, "")], one.tag, entry.network.clock_priority
        )
    match entry:
        case Switch():
            yield from _switch(known, one.tag, entry)
        case AccessPoint():
            yield from _access_point(known, one.tag, entry, served)
        case Charger():
            held = [c for c in known.plan.channels if c.berth.rpartition("/")[0] == one.tag]
            for channel in sorted(held, key=lambda c: natural(c.berth)):
                yield f"Slot {channel.berth.rpartition('/')[2]}", f"{channel.microphone} {channel.name}"
        case Mixer() | Breakout():
            yield from _mixing(known, one.tag, entry)
        case Amplifier():
            yield from _amplified(known, one.tag)
        case StandbySupply():
            yield from known.standby[one.tag]
        case _:
            return
    yield from known.portable.get(one.tag, ())


def _unplugged(known: _Known, tag: str) -> Iterator[tuple[str, str]]:
    """Yield what is pulled out of a device in which states, so that the sound of a room stays there."""
    for room, one in known.project.rooms.items():
        for port in sorted(one.layout.pulled_out(room), key=natural):
            device, _, name = port.rpartition("/")
            if device == tag:
                states = listed(one.layout.sound_stays_in)
                lead = port.removeprefix(f"{room}-") if port.startswith(f"{room}-") else name
                yield f"Lead at {lead}", f"pulled out before the state {states} begins, plugged in after it"


def _amplified(known: _Known, tag: str) -> Iterator[tuple[str, str]]:
    """Yield what each output of an amplifier is set to: the sort of its line, what hangs on it, its level."""
    level = f"{_decibels(known.levels.first_gain)} to begin with, set in tuning"
    lines = [one for one in known.lines if one.channel and one.channel.amplifier == tag]
    for line in lines:
        words, load = line.words(known.project), watts(known.project, line.joined.load_w)
        yield (
            f"Output {line.identity.rpartition('/')[2]}",
            f"{words}; zone {line.zone}, load {load}; level {level}",
        )
    if not lines:
        yield "Level of every channel", level


def _clock_priority(clock: ClockPlan, tag: str, delivered: int) -> Iterator[tuple[str, str]]:
    """Yield what a device's priority in the election is set to, where it is not as delivered.

    One alone leads, and one after it; the others follow as long as their numbers are higher.
    """
    if tag == clock.leader:
        yield "Clock priority", "1: it leads the clock"
    elif tag == clock.next:
        yield "Clock priority", "2: it leads when the first one is off"
    elif delivered <= 2:
        yield "Clock priority", "3: it follows"


def _decibels(level_db: float, unit: str = "dB") -> str:
    return f"{level_db:g} {unit}"


def _address(known: _Known, tag: str, entry: Device) -> Iterator[tuple[str, str]]:
    """Yield how a device gets its addresses, and which."""
    given = known.addresses.by_tag.get(tag, ())
    if not known.addresses.vlans:
        yield "Address", "the building's network team gives none yet"
        return
    vlan = known.addresses.vlan_of.get(tag, known.addresses.vlans[0])
    network = ipaddress.ip_network(vlan.network)
    by_hand = vlan.addressing == "static" or tag in known.alone
    yield "Address mode", "static" if by_hand else "reserved by the building's DHCP for its MAC address"
    for n, address in enumerate(given, 1):
        yield "Address" if len(given) == 1 else f"Address {n}", f"{address}/{network.prefixlen}"
    if len(given) < (entry.network.addresses if entry.network else 0):
        yield "Address still missing", "the range is full"
    if tag in known.alone:
        yield "Gateway", "none: nothing leads out of the room"
    elif by_hand:
        yield "Gateway", vlan.gateway
    yield "VLAN", "none: one network in the room" if tag in known.alone else str(vlan.number)


def _built_in(known: _Known, tag: str, switch: BuiltInSwitch) -> Iterator[tuple[str, str]]:
    """Yield what is set in the switch inside a breakout that serves its room."""
    if switch.managed:
        yield "Multicast in the built-in switch", "IGMP snooping on"
        for vlan in sorted({one.vlan for one in known.project.brief.subnets.values()}):
            yield "VLAN of the built-in switch", f"{vlan} on every port"
    if port := known.own_switches[tag]:
        yield (
            f"Isolation of port {port}",
            "on: nothing of the building's network reaches the system; checked with a laptop at that port",
        )


def _switch(known: _Known, tag: str, entry: Switch) -> Iterator[tuple[str, str]]:
    yield "IGMP snooping", "on" if entry.igmp_snooping else "not possible"
    yield "IGMP querier", "on: the only one of the VLAN" if tag in known.leaders else "off"
    yield (
        "Priority by DSCP",
        f"{aes67.CLOCK_DSCP} (clock), then {aes67.MEDIA_DSCP} (audio), then the rest; trusted on every port",
    )
    yield "Clock", "boundary clock (IEEE 1588) on every port" if entry.boundary_clock else "hands it on only"
    yield "Energy-efficient Ethernet", "off on every port"
    yield "Port names", "the tag of the device on each port"
    for port, other in _uplinks(known, tag):
        vlans = sorted({vlan.number for vlan in known.addresses.vlans})
        tagged = f"; VLAN {', '.join(map(str, vlans))} tagged" if vlans else ""
        yield f"Uplink {port}", f"to {other}{tagged}"


def _uplinks(known: _Known, tag: str) -> Iterator[tuple[str, str]]:
    """Yield port and far end of each link from a switch to another."""
    for join in known.joins:
        if join.start == tag:
            yield join.start_port, f"{join.end}/{join.end_port}" if join.end else join.end_port
        elif join.end == tag:
            yield join.end_port, f"{join.start}/{join.start_port}"


def _access_point(
    known: _Known, tag: str, entry: AccessPoint, served: Sequence[Channel]
) -> Iterator[tuple[str, str]]:
    region = entry.radio.regions.get(known.project.brief.region)
    yield "Radio region", known.project.brief.region.replace("_", " ")
    if region:
        yield "Radio power", f"{region.powers[0]:g} dBm until the radio survey says otherwise"
    yield "Encryption", entry.encryption or "none offered"
    by_channel = {channel.channel: channel for channel in served}
    for n in range(1, entry.channels + 1):
        channel = by_channel.get(n)
        yield f"Channel {n}", f"{channel.microphone} {channel.name}" if channel else "free"
    returns = known.plan.streams_to(tag)
    for channel in served:
        if channel.return_audio and returns:
            yield f"Return audio of channel {channel.channel}", _stream_words(returns[0])
    yield from _sent(known, tag)


def _microphone(known: _Known, channel: Channel) -> Iterator[tuple[str, str]]:
    if channel.berth:
        yield "Place in slot", channel.berth
    if channel.channel:
        charger = known.entries.get(channel.berth.rpartition("/")[0])
        by_charger = isinstance(charger, Charger) and charger.pairs
        way = "in its charge slot" if by_charger else "at the access point"
        yield "Pair with", f"{channel.access_point}, channel {channel.channel}, {way}"
    else:
        yield "Pair with", "none: it takes the channel of the microphone that it replaces"
    yield "Name", channel.name
    yield "Switch", channel.switch
    if channel.switch == "press to speak":
        yield "When a meeting begins", "muted"
    if channel.mute_group:
        yield "Mute group", channel.mute_group
        yield "Return audio", "on" if channel.return_audio else "off"


def _mixing(known: _Known, tag: str, entry: Mixer | Breakout) -> Iterator[tuple[str, str]]:
    mixer = entry if isinstance(entry, Mixer) else None
    first = _decibels(known.levels.first_gain)
    for channel in sorted(
        (one for one in known.plan.channels if one.mixing == tag), key=lambda one: natural(one.input)
    ):
        source = f"stream {channel.stream} channel {channel.position}, {channel.name}"
        gain = f"; gain {first} to begin with, mute group {channel.mute_group}" if mixer else ""
        yield f"{'Input' if mixer else 'Output'} {channel.input}", source + gain
    for end in known.ends.get(tag, ()):
        way = "Output" if end.direction == "output" else "Input"
        port = end.port or "none left"
        yield f"{way} {port}", end_words(end, known.ends[tag])
    yield from _joined(known, tag)
    if mixer:
        layout = known.layout_of(tag)
        for group, who in sorted(layout.mute_operators.items()) if layout else ():
            yield f"Mute group {group}", f"set and released by {who}"
        yield "Automatic mixing", "gated" if mixer.gating == "both" else mixer.gating
        returning = any(
            end.direction == "input" and end.name.startswith("return audio")
            for end in known.ends.get(tag, ())
        )
        if mixer.echo_cancellers and returning:
            yield (
                "Echo cancelling",
                "on the way to destinations, for mixes of other rooms too; loudspeakers and joined rooms "
                "take microphones before it"
                if any(route.receiver == tag for route in known.routes)
                else "on the way to destinations; loudspeakers and joined rooms take microphones before it",
            )
    if entry.ports_carrying("analogue output"):
        yield (
            "Analogue level",
            f"{_decibels(known.levels.analogue, 'dBu')} nominal, {entry.highest_level:g} dBu at full scale",
        )
    yield "Networked level", f"{_decibels(known.levels.networked, 'dBFS')} nominal"
    yield from _sent(known, tag)


def _joined(known: _Known, tag: str) -> Iterator[tuple[str, str]]:
    """Yield what a mixer does in the states that join its room to others."""
    own = [route for route in known.routes if route.receiver == tag]
    if any(route.sender == tag for route in known.routes):
        yield (
            "Output to other rooms",
            "the mix of its own microphones alone, never what comes from other rooms",
        )
    for state in dict.fromkeys(route.state for route in own):
        here = [route for route in own if route.state == state]
        inputs = listed(tuple(f"input {route.input or 'none left'} ({route.room})" for route in here))
        room = here[0].other
        groups = (group for group in known.project.building.states[state].join if room in group)
        muted = [one for one in next(groups, ()) if _has_microphones(known, one)]
        together = f"; mute groups of {listed(sorted(muted, key=natural))} act as one"
        yield f"In the state {state}", f"{inputs} open{together if len(muted) > 1 else ''}"
    for route in {route.input: route for route in own}.values():
        if route.closed_in:
            yield f"Input {route.input} closed", f"in {listed(route.closed_in)}"


def _has_microphones(known: _Known, room: str) -> bool:
    layout = known.project.rooms[room].layout
    return bool(layout.microphones or layout.wired_microphones)


def _sent(known: _Known, tag: str) -> Iterator[tuple[str, str]]:
    for stream in known.plan.streams_from(tag):
        yield f"Send stream {stream.number}", _stream_words(stream)


def _stream_words(stream: Stream) -> str:
    count = f"{stream.channels} {'channel' if stream.channels == 1 else 'channels'}"
    return f"{stream.name}, {count}, to {stream.group}"
