"""The rows of the document: rooms, devices, cables, ports, workings, findings."""

import datetime
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.day_rows import MeetingDay, MuteRow
from proposal.document.level_rows import LevelMapRow
from proposal.document.quantities import Holds
from proposal.document.readers import Checkers, Everyone, House, NotClient, Shown

Point = tuple[float, float]


class Party(Shown):
    """A company or public body."""

    name: Annotated[Everyone[str], Holds("text")] = Field(description="Name.")
    contact: Annotated[Everyone[str], Holds("text")] = Field(description="Person or office to write to.")
    address: Annotated[Everyone[tuple[str, ...]], Holds("text")] = Field(
        description="Address, a line an entry."
    )


class RevisionRow(Shown):
    """A revision of the proposal."""

    identity: Annotated[Everyone[str], Holds("tag")] = Field(description="Letter or number.")
    date: Annotated[Everyone[datetime.date], Holds("date")] = Field(description="Date.")
    purpose: Annotated[Everyone[str], Holds("text")] = Field(description="What it is issued for.")
    prepared_by: Annotated[Everyone[str], Holds("text")] = Field(description="Who prepared it.")
    checked_by: Annotated[Everyone[str], Holds("text")] = Field(description="Who checked it.")
    changes: Annotated[Everyone[str], Holds("text")] = Field(description="What changed since the last one.")
    issued: Annotated[Everyone[bool], Holds("flag")] = Field(
        default=False, description="Whether its record is kept."
    )


class Cover(Shown):
    """What stands on the cover and rules the look of every page."""

    name: Annotated[Everyone[str], Holds("text")] = Field(description="Name of the project.")
    number: Annotated[Everyone[str], Holds("tag")] = Field(description="The integrator's number.")
    site: Annotated[Everyone[str], Holds("text")] = Field(description="The building.")
    client: Everyone[Party] = Field(description="Who receives the proposal.")
    integrator: Everyone[Party] = Field(description="Who makes it.")
    goals: Annotated[Everyone[tuple[str, ...]], Holds("text")] = Field(
        description="What the client wants to reach."
    )
    revision: Everyone[RevisionRow] = Field(description="This revision.")
    history: Everyone[tuple[RevisionRow, ...]] = Field(description="Earlier revisions, oldest first.")
    valid_until: Annotated[Everyone[datetime.date], Holds("date")] = Field(
        description="Last day on which the proposal holds."
    )
    region: Annotated[Everyone[str], Holds("text")] = Field(description="Radio region, in words.")
    units: Annotated[Everyone[str], Holds("text")] = Field(description="metric or us_customary.")
    locale: Annotated[Everyone[str], Holds("text")] = Field(
        description="Language and country that set numbers and dates."
    )
    currency: Annotated[Everyone[str], Holds("text")] = Field(description="ISO code of the currency.")
    colour: Annotated[Everyone[str], Holds("text")] = Field(description="Leading colour.")
    logo: Annotated[Everyone[str], Holds("text")] = Field(
        description="File name of the logo, empty where there is none."
    )
    draft: Annotated[Everyone[bool], Holds("flag")] = Field(
        default=False, description="Whether it is a draft of a revision that is not issued."
    )
    with_errors: Annotated[Everyone[str], Holds("text")] = Field(
        default="", description="Why it was issued with errors that are not resolved; empty where none stood."
    )
    internal_note: Annotated[House[str], Holds("text")] = Field(
        default="", description="For the integrator's own estimators only."
    )


class MicrophoneRow(Shown):
    """One microphone position of a kind of room."""

    code: Annotated[Everyone[str], Holds("tag")] = Field(description="Code within the room, such as M1.")
    form: Annotated[Everyone[str], Holds("text")] = Field(
        description="Handheld, bodypack, boundary or gooseneck."
    )
    pattern: Annotated[Everyone[str], Holds("text")] = Field(description="Pickup pattern.")
    at: Annotated[Everyone[Point], Holds("coordinates")] = Field(
        description="Position in the room's own coordinates, m."
    )
    seat: Annotated[Everyone[str], Holds("text")] = Field(description="Tag and name of the seat it serves.")
    return_audio: Annotated[Everyone[bool], Holds("flag")] = Field(
        description="Whether the talker hears return audio."
    )
    mute_group: Annotated[Everyone[str], Holds("text")] = Field(description="Mute group.")
    access_point: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Code of the access point that serves it, such as AP1."
    )
    model: Annotated[Everyone[str], Holds("tag")] = Field(description="Model code.")


class SizeRow(Shown):
    """How many boxes of one model a kind of room takes, and why."""

    kind: Annotated[Everyone[str], Holds("text")] = Field(description="Kind of equipment.")
    model: Annotated[Everyone[str], Holds("tag")] = Field(description="Model code.")
    description: Annotated[Everyone[str], Holds("text")] = Field(description="What it is.")
    quantity: Annotated[Everyone[int], Holds("count")] = Field(description="Boxes in one room.")
    capacity: Annotated[Everyone[int], Holds("count")] = Field(
        description="Channels, slots or inputs of one box."
    )
    need: Annotated[Everyone[int], Holds("count")] = Field(
        description="Channels, slots or inputs the room needs of this kind."
    )
    spare: Annotated[Everyone[int], Holds("count")] = Field(
        description="What the kind's boxes have over the need."
    )
    chosen_by: Annotated[Everyone[str], Holds("text")] = Field(
        description="`designer` where fixed by hand, else `least cost`."
    )


class DestinationRow(Shown):
    """Where a room's sound goes, or comes from."""

    code: Annotated[Everyone[str], Holds("tag")] = Field(description="Code within the room.")
    name: Annotated[Everyone[str], Holds("text")] = Field(description="What it is.")
    signal: Annotated[Everyone[str], Holds("text")] = Field(description="Analogue, networked audio or USB.")
    channels: Annotated[Everyone[int], Holds("count")] = Field(description="Number of channels.")


class FlowNode(Shown):
    """A box of the signal flow of a kind of room."""

    code: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Code within the room, such as AP1, or the name of a group."
    )
    kind: Annotated[Everyone[str], Holds("text")] = Field(
        description="microphones, access point, charger, network, mixer, breakout, amplifier, loudspeakers, "
        "destination or return."
    )
    title: Annotated[Everyone[str], Holds("text")] = Field(description="First line in the box.")
    lines: Annotated[Everyone[tuple[str, ...]], Holds("text")] = Field(
        description="Further lines in the box."
    )


class FlowEdge(Shown):
    """A signal between two boxes."""

    start: Annotated[Everyone[str], Holds("tag")] = Field(description="Code of the box it leaves.")
    end: Annotated[Everyone[str], Holds("tag")] = Field(description="Code of the box it enters.")
    signal: Annotated[Everyone[str], Holds("text")] = Field(
        description="radio, networked audio, analogue, USB, loudspeaker line."
    )
    label: Annotated[Everyone[str], Holds("text")] = Field(description="What it carries: channels, port.")
    returning: Annotated[Everyone[bool], Holds("flag")] = Field(description="Whether it is return audio.")
    cable: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Identity of the cable with the room's tag left out, empty where none."
    )


class RoomSheet(Shown):
    """A kind of room as designed, and the rooms built so.

    A room whose own file or fixed sizes change its type has a sheet of its own.
    """

    key: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Name for file names: the type, or type and room."
    )
    title: Annotated[Everyone[str], Holds("text")] = Field(description="Name of the kind of room.")
    use: Annotated[Everyone[str], Holds("text")] = Field(description="How people meet here.")
    rooms: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Tags of the rooms built so."
    )
    outline: Annotated[Everyone[tuple[Point, ...]], Holds("coordinates")] = Field(
        description="Corners in the room's own coordinates, m."
    )
    area_m2: Annotated[Everyone[float], Holds("area")] = Field(description="Floor area, m².")
    ceiling_height_m: Annotated[Everyone[float], Holds("length")] = Field(description="Floor to ceiling, m.")
    ceiling_kind: Annotated[Everyone[str], Holds("text")] = Field(description="What the ceiling is made of.")
    seats: Annotated[Everyone[tuple[tuple[str, str, Point], ...]], Holds("tag", "text", "coordinates")] = (
        Field(description="Tag, name and position of seats.")
    )
    furniture: Annotated[
        Everyone[tuple[tuple[str, tuple[Point, ...]], ...]], Holds("text", "coordinates")
    ] = Field(description="Name and corners of furniture.")
    microphones: Everyone[tuple[MicrophoneRow, ...]] = Field(description="Microphones in use at once.")
    spare_microphones: Annotated[Everyone[tuple[tuple[str, int], ...]], Holds("text", "count")] = Field(
        description="Spares by form."
    )
    surfaces: Annotated[Everyone[tuple[tuple[str, str], ...]], Holds("text", "text")] = Field(
        description="Finish by surface."
    )
    sessions: Annotated[
        Everyone[tuple[tuple[str, int, int], ...]], Holds("text", "time of day", "time of day")
    ] = Field(description="Name, start and end of each session, minutes after midnight.")
    sizes: Everyone[tuple[SizeRow, ...]] = Field(description="Boxes of each kind.")
    slots_needed: Annotated[Everyone[int], Holds("count")] = Field(description="Charge slots needed.")
    channels_needed: Annotated[Everyone[int], Holds("count")] = Field(description="Radio channels needed.")
    own_switch: Annotated[Everyone[bool], Holds("flag")] = Field(
        description="Whether a breakout's own switch serves the room."
    )
    output: Annotated[Everyone[str], Holds("text")] = Field(description="mixer or breakout.")
    destinations: Everyone[tuple[DestinationRow, ...]] = Field(description="Where the mix goes.")
    returns: Everyone[tuple[DestinationRow, ...]] = Field(description="Where return audio comes from.")
    day: Everyone[MeetingDay | None] = Field(
        default=None, description="Its meeting day; None where no sessions are written."
    )
    mutes: Everyone[tuple[MuteRow, ...]] = Field(default=(), description="Truth table of muting.")
    level_map: Everyone[LevelMapRow | None] = Field(
        default=None, description="Radio level over the room; None where no microphone is linked."
    )
    flow_nodes: Everyone[tuple[FlowNode, ...]] = Field(description="Boxes of the signal flow.")
    flow_edges: Everyone[tuple[FlowEdge, ...]] = Field(description="Signals of the signal flow.")
    internal_note: Annotated[House[str], Holds("text")] = Field(
        default="", description="For the integrator's own estimators only."
    )


class RoomRow(Shown):
    """One room of the building."""

    tag: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag.")
    name: Annotated[Everyone[str], Holds("text")] = Field(description="What the client calls it.")
    sheet: Annotated[Everyone[str], Holds("tag")] = Field(description="Key of its room sheet.")
    type: Annotated[Everyone[str], Holds("text")] = Field(description="Title of its kind of room.")
    storey: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag of its storey.")
    equipment_room: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Tag of the equipment room that serves it."
    )
    origin: Annotated[Everyone[Point], Holds("coordinates")] = Field(
        description="Where its own coordinates begin, in the building, m."
    )
    outline: Annotated[Everyone[tuple[Point, ...]], Holds("coordinates")] = Field(
        description="Corners in the building, m."
    )
    seats: Annotated[Everyone[int], Holds("count")] = Field(description="Number of seats.")
    microphones: Annotated[Everyone[int], Holds("count")] = Field(description="Microphones in use at once.")
    internal_note: Annotated[House[str], Holds("text")] = Field(
        default="", description="For the integrator's own estimators only."
    )


class StoreyRow(Shown):
    """One storey."""

    tag: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag.")
    name: Annotated[Everyone[str], Holds("text")] = Field(description="Name.")
    height_m: Annotated[Everyone[float], Holds("length")] = Field(
        description="Finished floor above the building's datum, m."
    )
    slab_to_slab_m: Annotated[Everyone[float], Holds("length")] = Field(
        description="Floor to the floor above, m."
    )


class EquipmentRoomRow(Shown):
    """A room with racks."""

    tag: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag.")
    name: Annotated[Everyone[str], Holds("text")] = Field(description="Name.")
    storey: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag of its storey.")
    at: Annotated[Everyone[Point], Holds("coordinates")] = Field(
        description="Position of its racks in the building, m."
    )
    racks: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(description="Tags of its racks.")


class DeviceRow(Shown):
    """One device."""

    tag: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag.")
    kind: Annotated[Everyone[str], Holds("text")] = Field(description="Kind of equipment, in words.")
    room: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Tag of the room or equipment room it serves."
    )
    location: Annotated[Everyone[str], Holds("text")] = Field(
        description="Where it stands: ceiling, table, rack tag."
    )
    storey: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag of the storey it stands on.")
    at: Annotated[NotClient[Point | None], Holds("coordinates")] = Field(
        default=None, description="Position in the building, m."
    )
    height_m: Annotated[NotClient[float | None], Holds("length")] = Field(
        default=None, description="Height above the floor, m."
    )
    model: Annotated[Everyone[str], Holds("tag")] = Field(description="Model code.")
    maker: Annotated[Everyone[str], Holds("text")] = Field(description="Maker.")
    description: Annotated[Everyone[str], Holds("text")] = Field(description="What it is.")
    rack_units: Annotated[Everyone[int], Holds("count")] = Field(
        description="Rack units it takes; 0 where it stands elsewhere."
    )
    typical_w: Annotated[NotClient[float], Holds("watts")] = Field(
        default=0.0, description="Typical power, W."
    )
    maximum_w: Annotated[NotClient[float], Holds("watts")] = Field(
        default=0.0, description="Highest power, W."
    )
    poe_class: Annotated[NotClient[int | None], Holds("number")] = Field(
        default=None, description="Class of power over Ethernet."
    )
    weight_kg: Annotated[NotClient[float], Holds("weight")] = Field(default=0.0, description="Weight, kg.")
    furnished_by: Annotated[Everyone[str], Holds("text")] = Field(description="Who furnishes it.")
    lead_time_days: Annotated[NotClient[int], Holds("days")] = Field(
        default=0, description="Lead time, calendar days."
    )
    address: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Network address.")
    host: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Host name.")
    switch_port: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Switch and port it is patched to."
    )
    unit_cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What it costs us."
    )
    internal_note: Annotated[House[str], Holds("text")] = Field(
        default="", description="For the integrator's own estimators only."
    )


class EquipmentLine(Shown):
    """All devices of one model."""

    kind: Annotated[Everyone[str], Holds("text")] = Field(description="Kind of equipment, in words.")
    model: Annotated[Everyone[str], Holds("tag")] = Field(description="Model code.")
    maker: Annotated[Everyone[str], Holds("text")] = Field(description="Maker.")
    description: Annotated[Everyone[str], Holds("text")] = Field(description="What it is.")
    quantity: Annotated[Everyone[int], Holds("how many")] = Field(description="How many.")
    unit: Annotated[Everyone[str], Holds("unit")] = Field(description="What is counted: each, m.")
    rooms: Annotated[Everyone[tuple[tuple[str, int], ...]], Holds("tag", "count")] = Field(
        description="Tag of room and how many there."
    )
    lead_time_days: Annotated[NotClient[int], Holds("days")] = Field(
        default=0, description="Lead time, calendar days."
    )
    unit_list: Annotated[House[Decimal | None], Holds("unit price")] = Field(
        default=None, description="List price of one."
    )
    unit_cost: Annotated[House[Decimal | None], Holds("unit price")] = Field(
        default=None, description="What one costs us."
    )
    cost: Annotated[House[Decimal | None], Holds("money")] = Field(
        default=None, description="What all cost us."
    )
    internal_note: Annotated[House[str], Holds("text")] = Field(
        default="", description="For the integrator's own estimators only."
    )


class CableRow(Shown):
    """One cable."""

    identity: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Device, its port and what it ends in."
    )
    room: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the room it serves."
    )
    signal: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Network, loudspeaker line, analogue."
    )
    from_tag: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Device.")
    from_port: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Port of the device.")
    from_connector: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="Connector at the device."
    )
    to_tag: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Equipment it ends in.")
    to_port: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Port there.")
    to_connector: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Connector there.")
    type: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Model code of the cable.")
    description: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="What the cable is."
    )
    jacket: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Jacket rating.")
    route: Annotated[NotClient[str], Holds("text")] = Field(default="", description="Way it takes, in words.")
    pathways: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Tags of its pathways, in order."
    )
    turns: Annotated[NotClient[tuple[Point, ...]], Holds("coordinates")] = Field(
        default=(), description="Where it enters and leaves pathways or a shaft, in the building, m."
    )
    from_storey: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Storey of the device."
    )
    to_storey: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Storey of the other end."
    )
    estimated_m: Annotated[NotClient[float | None], Holds("length")] = Field(
        default=None, description="Routed length without slack, m."
    )
    slack_m: Annotated[NotClient[float | None], Holds("length")] = Field(
        default=None, description="Slack at both ends, m."
    )
    measured: Annotated[NotClient[bool], Holds("flag")] = Field(
        default=False, description="Whether the length was given by hand."
    )
    length_m: Annotated[NotClient[float], Holds("length")] = Field(
        default=0.0, description="Length with slack: the permanent link, m."
    )
    cords_m: Annotated[NotClient[float | None], Holds("length")] = Field(
        default=None, description="Cords at both ends, m."
    )
    channel_m: Annotated[NotClient[float | None], Holds("length")] = Field(
        default=None, description="Link and cords, m."
    )
    limit_m: Annotated[NotClient[float | None], Holds("length")] = Field(
        default=None, description="Longest link at its temperature, m."
    )
    margin_m: Annotated[NotClient[float | None], Holds("length")] = Field(
        default=None, description="Limit less length, m."
    )
    temperature_c: Annotated[NotClient[float | None], Holds("temperature")] = Field(
        default=None, description="Temperature of the cable, °C."
    )
    verdict: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="holds or fails; empty where nothing is checked."
    )


class RiserLine(Shown):
    """All cables of one type between a room and where they end."""

    room: Annotated[Everyone[str], Holds("tag")] = Field(description="Tag of the room.")
    end: Annotated[Everyone[str], Holds("tag")] = Field(
        description="Tag of the equipment room, or of the room itself."
    )
    signal: Annotated[Everyone[str], Holds("text")] = Field(
        description="Network, loudspeaker line, analogue."
    )
    description: Annotated[Everyone[str], Holds("text")] = Field(description="What the cable is.")
    count: Annotated[Everyone[int], Holds("count")] = Field(description="How many cables.")
    shortest_m: Annotated[Everyone[float], Holds("length")] = Field(description="Shortest, m.")
    longest_m: Annotated[Everyone[float], Holds("length")] = Field(description="Longest, m.")


class CableTotal(Shown):
    """All cable of one type."""

    type: Annotated[Everyone[str], Holds("tag")] = Field(description="Model code.")
    description: Annotated[Everyone[str], Holds("text")] = Field(description="What it is.")
    count: Annotated[Everyone[int], Holds("count")] = Field(description="How many cables.")
    length_m: Annotated[Everyone[float], Holds("length")] = Field(
        description="Sum of their lengths with slack, m."
    )


class PortRow(Shown):
    """One port of a switch."""

    switch: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag of the switch.")
    port: Annotated[NotClient[int], Holds("number")] = Field(default=0, description="Number of the port.")
    device: Annotated[NotClient[str], Holds("tag")] = Field(
        default="", description="Tag of the device; empty where the port is spare."
    )
    cable: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Identity of the cable.")
    vlan: Annotated[NotClient[int | None], Holds("number")] = Field(default=None, description="VLAN.")
    poe_class: Annotated[NotClient[int | None], Holds("number")] = Field(
        default=None, description="Class asked for."
    )
    allocated_w: Annotated[NotClient[float], Holds("watts")] = Field(
        default=0.0, description="Power set aside by class, W."
    )
    drawn_w: Annotated[NotClient[float], Holds("watts")] = Field(
        default=0.0, description="Power drawn at the source, W."
    )
    loop_ohm: Annotated[NotClient[float | None], Holds("ohms")] = Field(
        default=None, description="Loop resistance of the channel, Ω."
    )
    device_v: Annotated[NotClient[float | None], Holds("volts")] = Field(
        default=None, description="Voltage at the device, V."
    )
    least_v: Annotated[NotClient[float | None], Holds("volts")] = Field(
        default=None, description="Least voltage the device needs, V."
    )
    priority: Annotated[NotClient[int], Holds("number")] = Field(
        default=0, description="Order in which power is kept, 1 first."
    )
    verdict: Annotated[NotClient[str], Holds("text")] = Field(
        default="", description="holds or fails; empty where not powered."
    )


class SwitchRow(Shown):
    """One switch and its sums."""

    tag: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Tag.")
    model: Annotated[NotClient[str], Holds("tag")] = Field(default="", description="Model code.")
    ports: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Ports.")
    used: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Ports used.")
    spare: Annotated[NotClient[int], Holds("count")] = Field(default=0, description="Ports free.")
    spare_wanted: Annotated[NotClient[int], Holds("count")] = Field(
        default=0, description="Ports to be left free."
    )
    budget_w: Annotated[NotClient[float], Holds("watts")] = Field(default=0.0, description="Power budget, W.")
    usable_w: Annotated[NotClient[float], Holds("watts")] = Field(
        default=0.0, description="Budget less headroom, W."
    )
    allocated_w: Annotated[NotClient[float], Holds("watts")] = Field(
        default=0.0, description="Sum set aside by class, W."
    )
    drawn_w: Annotated[NotClient[float], Holds("watts")] = Field(
        default=0.0, description="Sum drawn at the source, W."
    )
    drops_first: Annotated[NotClient[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Devices that lose power first, were the budget short."
    )
    verdict: Annotated[NotClient[str], Holds("text")] = Field(default="", description="holds or fails.")


class WorkingRow(Shown):
    """A calculation with its numbers."""

    number: Annotated[Checkers[str], Holds("tag")] = Field(
        default="", description="Number, such as A101-W12."
    )
    chapter: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="Sizing, cabling, power."
    )
    subject: Annotated[Checkers[str], Holds("tag")] = Field(
        default="", description="Tag or identity of what it is about."
    )
    title: Annotated[Checkers[str], Holds("text")] = Field(default="", description="What is calculated.")
    equation: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Equation in symbols.")
    substituted: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="Equation with the numbers put in."
    )
    values: Annotated[
        Checkers[tuple[tuple[str, str, float, str], ...]], Holds("text", "text", "figure", "unit")
    ] = Field(default=(), description="Symbol, meaning, number and unit of each value put in.")
    result: Annotated[Checkers[float], Holds("figure")] = Field(default=0.0, description="Result.")
    unit: Annotated[Checkers[str], Holds("unit")] = Field(default="", description="Unit of the result.")
    limit: Annotated[Checkers[float | None], Holds("figure")] = Field(
        default=None, description="What the result is held against."
    )
    comparison: Annotated[Checkers[str], Holds("text")] = Field(default="", description="≤ or ≥.")
    verdict: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="holds or fails; empty where nothing is checked."
    )
    source: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Where the rule stands.")
    assumptions: Annotated[Checkers[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Numbers of assumptions used."
    )
    questions: Annotated[Checkers[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Numbers of open questions used."
    )
    note: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="What else a reader should know."
    )


class FindingRow(Shown):
    """What a careful reviewer would say."""

    number: Annotated[Checkers[str], Holds("tag")] = Field(default="", description="Number, such as A101-F3.")
    rule: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Name of the rule.")
    severity: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="error, warning or note."
    )
    where: Annotated[Checkers[str], Holds("tag")] = Field(default="", description="Tag or identity.")
    place: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="File and line that caused it."
    )
    message: Annotated[Checkers[str], Holds("text")] = Field(default="", description="What is the matter.")
    value: Annotated[Checkers[float | None], Holds("figure")] = Field(
        default=None, description="Value found."
    )
    limit: Annotated[Checkers[float | None], Holds("figure")] = Field(default=None, description="Limit.")
    unit: Annotated[Checkers[str], Holds("unit")] = Field(default="", description="Unit of value and limit.")
    source: Annotated[Checkers[str], Holds("text")] = Field(default="", description="Where the rule stands.")
    remedy: Annotated[Checkers[str], Holds("text")] = Field(default="", description="What would fix it.")
    accepted: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="Reason, name and date where the designer accepts it."
    )


class FindingCount(Shown):
    """How many findings of each severity."""

    errors: Annotated[Everyone[int], Holds("count")] = Field(description="Errors not accepted.")
    warnings: Annotated[Everyone[int], Holds("count")] = Field(description="Warnings not accepted.")
    notes: Annotated[Everyone[int], Holds("count")] = Field(description="Notes not accepted.")
    accepted: Annotated[Everyone[int], Holds("count")] = Field(description="Accepted by the designer.")


class AssumptionRow(Shown):
    """A default that was taken because nothing was written."""

    number: Annotated[Everyone[str], Holds("tag")] = Field(description="Number, such as cabling-A4.")
    title: Annotated[Everyone[str], Holds("text")] = Field(description="What is assumed.")
    subject: Annotated[Everyone[str], Holds("tag")] = Field(
        description="What it applies to: project, building, kind of room or tag."
    )
    value: Annotated[Everyone[float | str | bool | None], Holds("by kind")] = Field(
        description="Value taken, SI where a quantity."
    )
    kind: Annotated[Everyone[str], Holds("kind")] = Field(
        description="Kind of quantity, for its unit; empty where none."
    )
    source: Annotated[Everyone[str], Holds("text")] = Field(description="Where the default comes from.")
    path: Annotated[Checkers[str], Holds("text")] = Field(
        default="", description="Where the value would be written."
    )


class QuestionRow(Shown):
    """A value that has to be found out."""

    number: Annotated[Everyone[str], Holds("tag")] = Field(description="Number, such as cabling-Q2.")
    title: Annotated[Everyone[str], Holds("text")] = Field(description="What has to be found out.")
    subject: Annotated[Everyone[str], Holds("tag")] = Field(description="What it applies to.")
    value: Annotated[Everyone[float | str | bool | None], Holds("by kind")] = Field(
        description="Value taken meanwhile."
    )
    kind: Annotated[Everyone[str], Holds("kind")] = Field(
        description="Kind of quantity, for its unit; empty where none."
    )
    used_by: Annotated[Checkers[tuple[str, ...]], Holds("tag")] = Field(
        default=(), description="Numbers of workings that use it."
    )
    place: Annotated[Checkers[str], Holds("text")] = Field(default="", description="File and line.")


class Caution(Shown):
    """Something that can hurt somebody."""

    title: Annotated[Everyone[str], Holds("text")] = Field(description="What it is about.")
    text: Annotated[Everyone[str], Holds("text")] = Field(description="The caution.")


class DutyRow(Shown):
    """Who does what about one thing."""

    about: Annotated[Everyone[str], Holds("text")] = Field(description="What it is about.")
    duties: Annotated[Everyone[tuple[tuple[str, str], ...]], Holds("text", "text")] = Field(
        description="Duty and letters of the party that has it, empty where nobody has."
    )


class SheetRow(Shown):
    """A drawing sheet."""

    number: Annotated[Everyone[str], Holds("tag")] = Field(description="Sheet number.")
    title: Annotated[Everyone[str], Holds("text")] = Field(description="Title.")
    kind: Annotated[Everyone[str], Holds("text")] = Field(
        description="riser overall, riser detail, signal flow, plan, conduit sections; later ones likewise."
    )
    subject: Annotated[Everyone[str], Holds("tag")] = Field(
        description="What it shows: empty for the building, a storey's tag, or the key of a room sheet."
    )
    part: Annotated[Everyone[int], Holds("number")] = Field(
        description="Part of a drawing that takes several sheets, from 1."
    )
    parts: Annotated[Everyone[int], Holds("count")] = Field(description="How many sheets the drawing takes.")
    members: Annotated[Everyone[tuple[str, ...]], Holds("tag")] = Field(
        description="Tags of the rooms, or codes of the boxes, shown on this part; empty where all are."
    )
    first: Annotated[Everyone[int], Holds("number")] = Field(
        default=1, description="First cable shown of the first member, from 1 in order of identity."
    )
    last: Annotated[Everyone[int], Holds("number")] = Field(
        default=0, description="Last cable shown of the last member; 0 where all are."
    )
