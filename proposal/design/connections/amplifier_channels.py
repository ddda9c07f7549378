"""Which channel of an amplifier plays each zone of loudspeakers, and which output feeds it."""

from collections.abc import Mapping, Sequence

from proposal.design.equipment.device_capacity import capacity
from proposal.design.equipment.line_loads import Hung, ZoneLoad, carries, usable_w
from proposal.design.equipment.placed_devices import Placed, to_own
from proposal.design.equipment.zone_lines import line_loads, line_of_each, lines_of
from proposal.design.numbers.numbering import END, INPUT, Place, assign_places, issued_of, natural
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device, Entry
from proposal.model.equipment.parts import Signal
from proposal.model.equipment.sound_devices import Amplifier, Mixer
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
    """Return the channel of an amplifier that plays each line of a room's loudspeakers, by line.

    devices: of the room.
    A zone is one line, or several. Lines take channels in turn, those that few channels can play first, and
    keep those of issued revisions that carry them; one for which none is left is left out.
    """
    amplifiers = sorted((one for one in devices if one.kind == "amplifier"), key=lambda one: natural(one.tag))
    if not amplifiers:
        return {}
    room = amplifiers[0].room
    layout = project.rooms[room].layout
    entries = {one.tag: project.library.entry(one.model) for one in amplifiers}
    places = [
        (Place(f"{tag}/{n}", (f"{tag}/{n}",)), entry)
        for tag, entry in entries.items()
        for n in range(1, capacity(entry) + 1)
    ]
    lines = line_of_each(project, layout)
    wanted = {f"{END}/{room}/amplifier/zone-{zone}/1": zone for zone in sorted(set(lines.values()))}
    loads = line_loads(project, layout, hung_as_placed(project, devices), lines)
    found = _assigned(project, wanted, places, loads)
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


def hung_as_placed(project: Project, devices: Sequence[Placed]) -> tuple[Hung, ...]:
    """Return the loudspeakers among the devices of a room where they hang, in order of codes."""
    found = []
    for one in sorted(devices, key=lambda device: natural(device.code)):
        entry = project.library.loudspeakers.get(one.model) if one.kind == "loudspeaker" else None
        if entry:
            at = to_own(project.rooms[one.room], one.at)
            found.append(Hung(code=one.code, model=one.model, entry=entry, at=at, height_m=one.height_m))
    return tuple(found)


def _assigned(
    project: Project,
    wanted: Mapping[str, str],
    places: Sequence[tuple[Place, Entry]],
    loads: Mapping[str, ZoneLoad],
) -> Mapping[str, Place]:
    """Return a channel for each zone: one that carries its line, the weakest first; else one that is left.

    wanted: zones by identity.  places: every channel with its amplifier.
    """
    carrying: dict[str, list[Place]] = {}
    for identity, zone in wanted.items():
        good = []
        for n, (place, entry) in enumerate(places):
            load = loads.get(zone)
            if load is None or not isinstance(entry, Amplifier):
                good.append((0.0, n, place))
            elif carries(project, entry, load):
                good.append((usable_w(project, entry, load), n, place))
        carrying[identity] = [place for _, _, place in sorted(good, key=lambda one: one[:2])]
    issued = issued_of(project.issued, END)
    fewest_first = sorted(carrying, key=lambda identity: len(carrying[identity]))
    found = assign_places([(identity, carrying[identity]) for identity in fewest_first], issued)
    taken = {place.number for place in found.values()}
    left = [place for place, _ in places if place.number not in taken]
    rest = assign_places([(identity, left) for identity in wanted if identity not in found], issued)
    return {**found, **rest}


def _port(entry: object, signal: Signal, number: int) -> str:
    """Return the name of a port of an amplifier, counted from 1; empty where it has not as many."""
    names = entry.ports_carrying(signal) if isinstance(entry, Device) else ()
    return names[number - 1] if number <= len(names) else ""


def zone_outputs(project: Project, one: Placed, entry: Device) -> Mapping[str, str]:
    """Return the output of a mixer or breakout that feeds each line of its room's loudspeakers, by line.

    one, entry: the mixer or breakout, and its entry of the library.
    Outputs that microphones or destinations have in issued revisions come last. A zone for which no output is
    left is left out.
    """
    lines = lines_of(project, project.rooms[one.room].layout)
    wanted = {zone_identity(one.tag, zone): zone for zone in lines}
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
