"""Which channel of an amplifier plays each zone of loudspeakers, and which output feeds it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from proposal.design.equipment.device_capacity import capacity
from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import END, INPUT, Place, assign_places, issued_of, natural
from proposal.model.equipment.entry import Device
from proposal.model.equipment.parts import Signal
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class AmplifierChannel:
    """The channel of an amplifier that plays a zone of a room's loudspeakers.

    identity: under which it is kept from issued revisions.
    amplifier: tag.  number: of the channel, from 1.
    input, output: names of its analogue input and of its loudspeaker terminals, empty where it has none.
    """

    identity: str
    amplifier: str
    number: int
    input: str
    output: str


def connector_of(entry: object, port: str) -> str:
    """Return the connector of a port, as the library says; a terminal block where it does not.

    entry: of the library, whatever it is.  port: its name, such as O1.
    """
    sort = entry.ports.get(port.rstrip("0123456789")) if isinstance(entry, Device) else None
    return sort.connector if sort else "terminal block"


def amplifier_channels(project: Project, devices: Sequence[Placed]) -> Mapping[str, AmplifierChannel]:
    """Return the channel of an amplifier that plays each zone of a room's loudspeakers, by zone.

    devices: of the room.
    Zones take channels in turn and keep those of issued revisions; one for which none is left is left out.
    """
    amplifiers = sorted((one for one in devices if one.kind == "amplifier"), key=lambda one: natural(one.tag))
    if not amplifiers:
        return {}
    room = amplifiers[0].room
    zones = zones_of(project, room)
    entries = {one.tag: project.library.entry(one.model) for one in amplifiers}
    places = [
        Place(f"{tag}/{n}", (f"{tag}/{n}",))
        for tag, entry in entries.items()
        for n in range(1, capacity(entry) + 1)
    ]
    wanted = {f"{END}/{room}/amplifier/zone-{zone}/1": zone for zone in zones}
    found = assign_places([(identity, places) for identity in wanted], issued_of(project.issued, END))
    channels = {}
    for identity, zone in wanted.items():
        if identity in found:
            tag, _, number = found[identity].number.rpartition("/")
            channels[zone] = AmplifierChannel(
                identity=identity,
                amplifier=tag,
                number=int(number),
                input=_port(entries[tag], "analogue input", int(number)),
                output=_port(entries[tag], "loudspeaker", int(number)),
            )
    return channels


def zones_of(project: Project, room: str) -> tuple[str, ...]:
    """Return the zones of a room's loudspeakers, in order.

    room: its tag.
    """
    return tuple(sorted({one.zone for one in project.rooms[room].layout.loudspeakers.values()}))


def _port(entry: object, signal: Signal, number: int) -> str:
    """Return the name of a port of an amplifier, counted from 1; empty where it has not as many."""
    names = entry.ports_carrying(signal) if isinstance(entry, Device) else ()
    return names[number - 1] if number <= len(names) else ""


def zone_outputs(project: Project, one: Placed, entry: Device) -> Mapping[str, str]:
    """Return the output of a mixer or breakout that feeds each zone of its room's loudspeakers, by zone.

    one, entry: the mixer or breakout, and its entry of the library.
    Outputs that microphones or destinations have in issued revisions come last. A zone for which no output is
    left is left out.
    """
    wanted = {zone_identity(one.tag, zone): zone for zone in zones_of(project, one.room)}
    issued = issued_of(project.issued, END)
    taken = {each.number for each in issued_of(project.issued, INPUT).values() if not each.retired}
    taken |= {each.number for key, each in issued.items() if not each.retired and key not in wanted}
    names = sorted(analogue_outputs(entry), key=lambda name: f"{one.tag}/{name}" in taken)
    ports = [Place(f"{one.tag}/{name}", (f"{one.tag}/{name}",)) for name in names]
    found = assign_places([(identity, ports) for identity in wanted], issued)
    return {
        zone: found[identity].number.rpartition("/")[2]
        for identity, zone in wanted.items()
        if identity in found
    }


def analogue_outputs(entry: Device) -> tuple[str, ...]:
    """Return the names of analogue outputs, made from their count where the library does not list them."""
    counted = entry.line_outputs if isinstance(entry, Mixer) else 0
    return entry.ports_carrying("analogue output") or tuple(f"line output {n}" for n in range(1, counted + 1))


def zone_identity(device: str, zone: str) -> str:
    """Return the identity in the register of the output that feeds a zone.

    device: tag of the mixer or breakout.
    zone: name of the zone.
    """
    return f"{END}/{device}/output/zone-{zone}/1"
