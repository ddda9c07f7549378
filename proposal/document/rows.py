"""The rows of the document: rooms, devices, cables, ports, workings, findings."""

import datetime
from decimal import Decimal

from pydantic import Field

from proposal.document.day_rows import MeetingDay, MuteRow
from proposal.document.level_rows import LevelMapRow
from proposal.document.readers import Checkers, Everyone, House, NotClient, Shown

Point = tuple[float, float]


class Party(Shown):
    """A company or public body."""

    name: Everyone[str] = Field(description="Name.")
    contact: Everyone[str] = Field(description="Person or office to write to.")
    address: Everyone[tuple[str, ...]] = Field(description="Address, a line an entry.")


class RevisionRow(Shown):
    """A revision of the proposal."""

    identity: Everyone[str] = Field(description="Letter or number.")
    date: Everyone[datetime.date] = Field(description="Date.")
    purpose: Everyone[str] = Field(description="What it is issued for.")
    prepared_by: Everyone[str] = Field(description="Who prepared it.")
    checked_by: Everyone[str] = Field(description="Who checked it.")
    changes: Everyone[str] = Field(description="What changed since the last one.")
    issued: Everyone[bool] = Field(default=False, description="Whether its record is kept.")


class Cover(Shown):
    """What stands on the cover and rules the look of every page."""

    name: Everyone[str] = Field(description="Name of the project.")
    number: Everyone[str] = Field(description="The integrator's number.")
    site: Everyone[str] = Field(description="The building.")
    client: Everyone[Party] = Field(description="Who receives the proposal.")
    integrator: Everyone[Party] = Field(description="Who makes it.")
    goals: Everyone[tuple[str, ...]] = Field(description="What the client wants to reach.")
    revision: Everyone[RevisionRow] = Field(description="This revision.")
    history: Everyone[tuple[RevisionRow, ...]] = Field(description="Earlier revisions, oldest first.")
    valid_until: Everyone[datetime.date] = Field(description="Last day on which the proposal holds.")
    region: Everyone[str] = Field(description="Radio region, in words.")
    units: Everyone[str] = Field(description="metric or us_customary.")
    locale: Everyone[str] = Field(description="Language and country that set numbers and dates.")
    currency: Everyone[str] = Field(description="ISO code of the currency.")
    colour: Everyone[str] = Field(description="Leading colour.")
    logo: Everyone[str] = Field(description="File name of the logo, empty where there is none.")
    draft: Everyone[bool] = Field(
        default=False, description="Whether it is a draft of a revision that is not issued."
    )
    with_errors: Everyone[str] = Field(
        default="", description="Why it was issued with errors that are not resolved; empty where none stood."
    )
    internal_note: House[str] = Field(default="", description="For the integrator's own estimators only.")


class MicrophoneRow(Shown):
    """One microphone position of a kind of room."""

    code: Everyone[str] = Field(description="Code within the room, such as M1.")
    form: Everyone[str] = Field(description="Handheld, bodypack, boundary or gooseneck.")
    pattern: Everyone[str] = Field(description="Pickup pattern.")
    at: Everyone[Point] = Field(description="Position in the room's own coordinates, m.")
    seat: Everyone[str] = Field(description="Tag and name of the seat it serves.")
    return_audio: Everyone[bool] = Field(description="Whether the talker hears return audio.")
    mute_group: Everyone[str] = Field(description="Mute group.")
    access_point: Everyone[str] = Field(description="Code of the access point that serves it, such as AP1.")
    model: Everyone[str] = Field(description="Model code.")


class SizeRow(Shown):
    """How many boxes of one model a kind of room takes, and why."""

    kind: Everyone[str] = Field(description="Kind of equipment.")
    model: Everyone[str] = Field(description="Model code.")
    description: Everyone[str] = Field(description="What it is.")
    quantity: Everyone[int] = Field(description="Boxes in one room.")
    capacity: Everyone[int] = Field(description="Channels, slots or inputs of one box.")
    need: Everyone[int] = Field(description="Channels, slots or inputs the room needs of this kind.")
    spare: Everyone[int] = Field(description="What the kind's boxes have over the need.")
    chosen_by: Everyone[str] = Field(description="`designer` where fixed by hand, else `least cost`.")


class DestinationRow(Shown):
    """Where a room's sound goes, or comes from."""

    code: Everyone[str] = Field(description="Code within the room.")
    name: Everyone[str] = Field(description="What it is.")
    signal: Everyone[str] = Field(description="Analogue, networked audio or USB.")
    channels: Everyone[int] = Field(description="Number of channels.")


class FlowNode(Shown):
    """A box of the signal flow of a kind of room."""

    code: Everyone[str] = Field(description="Code within the room, such as AP1, or the name of a group.")
    kind: Everyone[str] = Field(
        description="microphones, access point, charger, network, mixer, breakout, amplifier, loudspeakers, "
        "destination or return."
    )
    title: Everyone[str] = Field(description="First line in the box.")
    lines: Everyone[tuple[str, ...]] = Field(description="Further lines in the box.")


class FlowEdge(Shown):
    """A signal between two boxes."""

    start: Everyone[str] = Field(description="Code of the box it leaves.")
    end: Everyone[str] = Field(description="Code of the box it enters.")
    signal: Everyone[str] = Field(description="radio, networked audio, analogue, USB, loudspeaker line.")
    label: Everyone[str] = Field(description="What it carries: channels, port.")
    returning: Everyone[bool] = Field(description="Whether it is return audio.")
    cable: Everyone[str] = Field(
        description="Identity of the cable with the room's tag left out, empty where none."
    )


class RoomSheet(Shown):
    """A kind of room as designed, and the rooms built so.

    A room whose own file or fixed sizes change its type has a sheet of its own.
    """

    key: Everyone[str] = Field(description="Name for file names: the type, or type and room.")
    title: Everyone[str] = Field(description="Name of the kind of room.")
    use: Everyone[str] = Field(description="How people meet here.")
    rooms: Everyone[tuple[str, ...]] = Field(description="Tags of the rooms built so.")
    outline: Everyone[tuple[Point, ...]] = Field(description="Corners in the room's own coordinates, m.")
    area_m2: Everyone[float] = Field(description="Floor area, m².")
    ceiling_height_m: Everyone[float] = Field(description="Floor to ceiling, m.")
    ceiling_kind: Everyone[str] = Field(description="What the ceiling is made of.")
    seats: Everyone[tuple[tuple[str, str, Point], ...]] = Field(
        description="Tag, name and position of seats."
    )
    furniture: Everyone[tuple[tuple[str, tuple[Point, ...]], ...]] = Field(
        description="Name and corners of furniture."
    )
    microphones: Everyone[tuple[MicrophoneRow, ...]] = Field(description="Microphones in use at once.")
    spare_microphones: Everyone[tuple[tuple[str, int], ...]] = Field(description="Spares by form.")
    surfaces: Everyone[tuple[tuple[str, str], ...]] = Field(description="Finish by surface.")
    sessions: Everyone[tuple[tuple[str, int, int], ...]] = Field(
        description="Name, start and end of each session, minutes after midnight."
    )
    sizes: Everyone[tuple[SizeRow, ...]] = Field(description="Boxes of each kind.")
    slots_needed: Everyone[int] = Field(description="Charge slots needed.")
    channels_needed: Everyone[int] = Field(description="Radio channels needed.")
    own_switch: Everyone[bool] = Field(description="Whether a breakout's own switch serves the room.")
    output: Everyone[str] = Field(description="mixer or breakout.")
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
    internal_note: House[str] = Field(default="", description="For the integrator's own estimators only.")


class RoomRow(Shown):
    """One room of the building."""

    tag: Everyone[str] = Field(description="Tag.")
    name: Everyone[str] = Field(description="What the client calls it.")
    sheet: Everyone[str] = Field(description="Key of its room sheet.")
    type: Everyone[str] = Field(description="Title of its kind of room.")
    storey: Everyone[str] = Field(description="Tag of its storey.")
    equipment_room: Everyone[str] = Field(description="Tag of the equipment room that serves it.")
    origin: Everyone[Point] = Field(description="Where its own coordinates begin, in the building, m.")
    outline: Everyone[tuple[Point, ...]] = Field(description="Corners in the building, m.")
    seats: Everyone[int] = Field(description="Number of seats.")
    microphones: Everyone[int] = Field(description="Microphones in use at once.")
    internal_note: House[str] = Field(default="", description="For the integrator's own estimators only.")


class StoreyRow(Shown):
    """One storey."""

    tag: Everyone[str] = Field(description="Tag.")
    name: Everyone[str] = Field(description="Name.")
    height_m: Everyone[float] = Field(description="Finished floor above the building's datum, m.")
    slab_to_slab_m: Everyone[float] = Field(description="Floor to the floor above, m.")


class EquipmentRoomRow(Shown):
    """A room with racks."""

    tag: Everyone[str] = Field(description="Tag.")
    name: Everyone[str] = Field(description="Name.")
    storey: Everyone[str] = Field(description="Tag of its storey.")
    at: Everyone[Point] = Field(description="Position of its racks in the building, m.")
    racks: Everyone[tuple[str, ...]] = Field(description="Tags of its racks.")


class DeviceRow(Shown):
    """One device."""

    tag: Everyone[str] = Field(description="Tag.")
    kind: Everyone[str] = Field(description="Kind of equipment, in words.")
    room: Everyone[str] = Field(description="Tag of the room or equipment room it serves.")
    location: Everyone[str] = Field(description="Where it stands: ceiling, table, rack tag.")
    storey: Everyone[str] = Field(description="Tag of the storey it stands on.")
    at: NotClient[Point | None] = Field(default=None, description="Position in the building, m.")
    height_m: NotClient[float | None] = Field(default=None, description="Height above the floor, m.")
    model: Everyone[str] = Field(description="Model code.")
    maker: Everyone[str] = Field(description="Maker.")
    description: Everyone[str] = Field(description="What it is.")
    rack_units: Everyone[int] = Field(description="Rack units it takes; 0 where it stands elsewhere.")
    typical_w: NotClient[float] = Field(default=0.0, description="Typical power, W.")
    maximum_w: NotClient[float] = Field(default=0.0, description="Highest power, W.")
    poe_class: NotClient[int | None] = Field(default=None, description="Class of power over Ethernet.")
    weight_kg: NotClient[float] = Field(default=0.0, description="Weight, kg.")
    furnished_by: Everyone[str] = Field(description="Who furnishes it.")
    lead_time_days: NotClient[int] = Field(default=0, description="Lead time, calendar days.")
    address: NotClient[str] = Field(default="", description="Network address.")
    host: NotClient[str] = Field(default="", description="Host name.")
    switch_port: NotClient[str] = Field(default="", description="Switch and port it is patched to.")
    unit_cost: House[Decimal | None] = Field(default=None, description="What it costs us.")
    internal_note: House[str] = Field(default="", description="For the integrator's own estimators only.")


class EquipmentLine(Shown):
    """All devices of one model."""

    kind: Everyone[str] = Field(description="Kind of equipment, in words.")
    model: Everyone[str] = Field(description="Model code.")
    maker: Everyone[str] = Field(description="Maker.")
    description: Everyone[str] = Field(description="What it is.")
    quantity: Everyone[int] = Field(description="How many.")
    unit: Everyone[str] = Field(description="What is counted: each, m.")
    rooms: Everyone[tuple[tuple[str, int], ...]] = Field(description="Tag of room and how many there.")
    lead_time_days: NotClient[int] = Field(default=0, description="Lead time, calendar days.")
    unit_list: House[Decimal | None] = Field(default=None, description="List price of one.")
    unit_cost: House[Decimal | None] = Field(default=None, description="What one costs us.")
    cost: House[Decimal | None] = Field(default=None, description="What all cost us.")
    internal_note: House[str] = Field(default="", description="For the integrator's own estimators only.")


class CableRow(Shown):
    """One cable."""

    identity: NotClient[str] = Field(default="", description="Device, its port and what it ends in.")
    room: NotClient[str] = Field(default="", description="Tag of the room it serves.")
    signal: NotClient[str] = Field(default="", description="Network, loudspeaker line, analogue.")
    from_tag: NotClient[str] = Field(default="", description="Device.")
    from_port: NotClient[str] = Field(default="", description="Port of the device.")
    from_connector: NotClient[str] = Field(default="", description="Connector at the device.")
    to_tag: NotClient[str] = Field(default="", description="Equipment it ends in.")
    to_port: NotClient[str] = Field(default="", description="Port there.")
    to_connector: NotClient[str] = Field(default="", description="Connector there.")
    type: NotClient[str] = Field(default="", description="Model code of the cable.")
    description: NotClient[str] = Field(default="", description="What the cable is.")
    jacket: NotClient[str] = Field(default="", description="Jacket rating.")
    route: NotClient[str] = Field(default="", description="Way it takes, in words.")
    pathways: NotClient[tuple[str, ...]] = Field(default=(), description="Tags of its pathways, in order.")
    turns: NotClient[tuple[Point, ...]] = Field(
        default=(), description="Where it enters and leaves pathways or a shaft, in the building, m."
    )
    from_storey: NotClient[str] = Field(default="", description="Storey of the device.")
    to_storey: NotClient[str] = Field(default="", description="Storey of the other end.")
    estimated_m: NotClient[float | None] = Field(default=None, description="Routed length without slack, m.")
    slack_m: NotClient[float | None] = Field(default=None, description="Slack at both ends, m.")
    measured: NotClient[bool] = Field(default=False, description="Whether the length was given by hand.")
    length_m: NotClient[float] = Field(default=0.0, description="Length with slack: the permanent link, m.")
    cords_m: NotClient[float | None] = Field(default=None, description="Cords at both ends, m.")
    channel_m: NotClient[float | None] = Field(default=None, description="Link and cords, m.")
    limit_m: NotClient[float | None] = Field(default=None, description="Longest link at its temperature, m.")
    margin_m: NotClient[float | None] = Field(default=None, description="Limit less length, m.")
    temperature_c: NotClient[float | None] = Field(default=None, description="Temperature of the cable, °C.")
    verdict: NotClient[str] = Field(default="", description="holds or fails; empty where nothing is checked.")


class RiserLine(Shown):
    """All cables of one type between a room and where they end."""

    room: Everyone[str] = Field(description="Tag of the room.")
    end: Everyone[str] = Field(description="Tag of the equipment room, or of the room itself.")
    signal: Everyone[str] = Field(description="Network, loudspeaker line, analogue.")
    description: Everyone[str] = Field(description="What the cable is.")
    count: Everyone[int] = Field(description="How many cables.")
    shortest_m: Everyone[float] = Field(description="Shortest, m.")
    longest_m: Everyone[float] = Field(description="Longest, m.")


class CableTotal(Shown):
    """All cable of one type."""

    type: Everyone[str] = Field(description="Model code.")
    description: Everyone[str] = Field(description="What it is.")
    count: Everyone[int] = Field(description="How many cables.")
    length_m: Everyone[float] = Field(description="Sum of their lengths with slack, m.")


class PortRow(Shown):
    """One port of a switch."""

    switch: NotClient[str] = Field(default="", description="Tag of the switch.")
    port: NotClient[int] = Field(default=0, description="Number of the port.")
    device: NotClient[str] = Field(
        default="", description="Tag of the device; empty where the port is spare."
    )
    cable: NotClient[str] = Field(default="", description="Identity of the cable.")
    vlan: NotClient[int | None] = Field(default=None, description="VLAN.")
    poe_class: NotClient[int | None] = Field(default=None, description="Class asked for.")
    allocated_w: NotClient[float] = Field(default=0.0, description="Power set aside by class, W.")
    drawn_w: NotClient[float] = Field(default=0.0, description="Power drawn at the source, W.")
    loop_ohm: NotClient[float | None] = Field(default=None, description="Loop resistance of the channel, Ω.")
    device_v: NotClient[float | None] = Field(default=None, description="Voltage at the device, V.")
    least_v: NotClient[float | None] = Field(default=None, description="Least voltage the device needs, V.")
    priority: NotClient[int] = Field(default=0, description="Order in which power is kept, 1 first.")
    verdict: NotClient[str] = Field(default="", description="holds or fails; empty where not powered.")


class SwitchRow(Shown):
    """One switch and its sums."""

    tag: NotClient[str] = Field(default="", description="Tag.")
    model: NotClient[str] = Field(default="", description="Model code.")
    ports: NotClient[int] = Field(default=0, description="Ports.")
    used: NotClient[int] = Field(default=0, description="Ports used.")
    spare: NotClient[int] = Field(default=0, description="Ports free.")
    spare_wanted: NotClient[int] = Field(default=0, description="Ports to be left free.")
    budget_w: NotClient[float] = Field(default=0.0, description="Power budget, W.")
    usable_w: NotClient[float] = Field(default=0.0, description="Budget less headroom, W.")
    allocated_w: NotClient[float] = Field(default=0.0, description="Sum set aside by class, W.")
    drawn_w: NotClient[float] = Field(default=0.0, description="Sum drawn at the source, W.")
    drops_first: NotClient[tuple[str, ...]] = Field(
        default=(), description="Devices that lose power first, were the budget short."
    )
    verdict: NotClient[str] = Field(default="", description="holds or fails.")


class WorkingRow(Shown):
    """A calculation with its numbers."""

    number: Checkers[str] = Field(default="", description="Number, such as A101-W12.")
    chapter: Checkers[str] = Field(default="", description="Sizing, cabling, power.")
    subject: Checkers[str] = Field(default="", description="Tag or identity of what it is about.")
    title: Checkers[str] = Field(default="", description="What is calculated.")
    equation: Checkers[str] = Field(default="", description="Equation in symbols.")
    substituted: Checkers[str] = Field(default="", description="Equation with the numbers put in.")
    values: Checkers[tuple[tuple[str, str, float, str], ...]] = Field(
        default=(), description="Symbol, meaning, number and unit of each value put in."
    )
    result: Checkers[float] = Field(default=0.0, description="Result.")
    unit: Checkers[str] = Field(default="", description="Unit of the result.")
    limit: Checkers[float | None] = Field(default=None, description="What the result is held against.")
    comparison: Checkers[str] = Field(default="", description="≤ or ≥.")
    verdict: Checkers[str] = Field(default="", description="holds or fails; empty where nothing is checked.")
    source: Checkers[str] = Field(default="", description="Where the rule stands.")
    assumptions: Checkers[tuple[str, ...]] = Field(default=(), description="Numbers of assumptions used.")
    questions: Checkers[tuple[str, ...]] = Field(default=(), description="Numbers of open questions used.")
    note: Checkers[str] = Field(default="", description="What else a reader should know.")


class FindingRow(Shown):
    """What a careful reviewer would say."""

    number: Checkers[str] = Field(default="", description="Number, such as A101-F3.")
    rule: Checkers[str] = Field(default="", description="Name of the rule.")
    severity: Checkers[str] = Field(default="", description="error, warning or note.")
    where: Checkers[str] = Field(default="", description="Tag or identity.")
    place: Checkers[str] = Field(default="", description="File and line that caused it.")
    message: Checkers[str] = Field(default="", description="What is the matter.")
    value: Checkers[float | None] = Field(default=None, description="Value found.")
    limit: Checkers[float | None] = Field(default=None, description="Limit.")
    unit: Checkers[str] = Field(default="", description="Unit of value and limit.")
    source: Checkers[str] = Field(default="", description="Where the rule stands.")
    remedy: Checkers[str] = Field(default="", description="What would fix it.")
    accepted: Checkers[str] = Field(
        default="", description="Reason, name and date where the designer accepts it."
    )


class FindingCount(Shown):
    """How many findings of each severity."""

    errors: Everyone[int] = Field(description="Errors not accepted.")
    warnings: Everyone[int] = Field(description="Warnings not accepted.")
    notes: Everyone[int] = Field(description="Notes not accepted.")
    accepted: Everyone[int] = Field(description="Accepted by the designer.")


class AssumptionRow(Shown):
    """A default that was taken because nothing was written."""

    number: Everyone[str] = Field(description="Number, such as cabling-A4.")
    title: Everyone[str] = Field(description="What is assumed.")
    subject: Everyone[str] = Field(description="What it applies to: project, building, kind of room or tag.")
    value: Everyone[float | str | bool | None] = Field(description="Value taken, SI where a quantity.")
    kind: Everyone[str] = Field(description="Kind of quantity, for its unit; empty where none.")
    source: Everyone[str] = Field(description="Where the default comes from.")
    path: Checkers[str] = Field(default="", description="Where the value would be written.")


class QuestionRow(Shown):
    """A value that has to be found out."""

    number: Everyone[str] = Field(description="Number, such as cabling-Q2.")
    title: Everyone[str] = Field(description="What has to be found out.")
    subject: Everyone[str] = Field(description="What it applies to.")
    value: Everyone[float | str | bool | None] = Field(description="Value taken meanwhile.")
    kind: Everyone[str] = Field(description="Kind of quantity, for its unit; empty where none.")
    used_by: Checkers[tuple[str, ...]] = Field(default=(), description="Numbers of workings that use it.")
    place: Checkers[str] = Field(default="", description="File and line.")


class Caution(Shown):
    """Something that can hurt somebody."""

    title: Everyone[str] = Field(description="What it is about.")
    text: Everyone[str] = Field(description="The caution.")


class DutyRow(Shown):
    """Who does what about one thing."""

    about: Everyone[str] = Field(description="What it is about.")
    duties: Everyone[tuple[tuple[str, str], ...]] = Field(
        description="Duty and letters of the party that has it, empty where nobody has."
    )


class SheetRow(Shown):
    """A drawing sheet."""

    number: Everyone[str] = Field(description="Sheet number.")
    title: Everyone[str] = Field(description="Title.")
    kind: Everyone[str] = Field(
        description="riser overall, riser detail, signal flow, plan, conduit sections; later ones likewise."
    )
    subject: Everyone[str] = Field(
        description="What it shows: empty for the building, a storey's tag, or the key of a room sheet."
    )
    part: Everyone[int] = Field(description="Part of a drawing that takes several sheets, from 1.")
    parts: Everyone[int] = Field(description="How many sheets the drawing takes.")
    members: Everyone[tuple[str, ...]] = Field(
        description="Tags of the rooms, or codes of the boxes, shown on this part; empty where all are."
    )
    first: Everyone[int] = Field(
        default=1, description="First cable shown of the first member, from 1 in order of identity."
    )
    last: Everyone[int] = Field(
        default=0, description="Last cable shown of the last member; 0 where all are."
    )
