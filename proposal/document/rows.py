"""The rows of the document: rooms, devices, cables, ports, workings, findings."""

import datetime
from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.day_rows import MeetingDay, MuteRow
from proposal.document.level_rows import LevelMapRow
from proposal.document.schedule import ALL, CHECKERS, HOUSE, NOT_CLIENT, Row, Schedule, Shows

Point = tuple[float, float]


class Party(Row):
    """A company or public body."""

    schedule: ClassVar = Schedule("party", subject="terms")

    name: Annotated[str, Shows("name", ALL)] = Field(description="Name.")
    contact: Annotated[str, Shows("contact", ALL)] = Field(description="Person or office to write to.")
    address: Annotated[tuple[str, ...], Shows("address", ALL)] = Field(
        description="Address, a line an entry."
    )


class RevisionRow(Row):
    """A revision of the proposal."""

    schedule: ClassVar = Schedule("revision", subject="terms", key=("identity",))

    identity: Annotated[str, Shows("revision", ALL, "tag")] = Field(description="Letter or number.")
    date: Annotated[datetime.date, Shows("date", ALL, "date")] = Field(description="Date.")
    purpose: Annotated[str, Shows("purpose", ALL)] = Field(description="What it is issued for.")
    prepared_by: Annotated[str, Shows("prepared_by", ALL)] = Field(description="Who prepared it.")
    checked_by: Annotated[str, Shows("checked_by", ALL)] = Field(description="Who checked it.")
    changes: Annotated[str, Shows("changes", ALL)] = Field(description="What changed since the last one.")
    issued: Annotated[bool, Shows("state", ALL, "flag")] = Field(
        default=False, description="Whether its record is kept."
    )


class Cover(Row):
    """What stands on the cover and rules the look of every page."""

    schedule: ClassVar = Schedule("cover", subject="terms")

    name: Annotated[str, Shows("name", ALL)] = Field(description="Name of the project.")
    number: Annotated[str, Shows("number", ALL, "tag")] = Field(description="The integrator's number.")
    site: Annotated[str, Shows("site", ALL)] = Field(description="The building.")
    client: Annotated[Party, Shows("client", ALL, "rows")] = Field(description="Who receives the proposal.")
    integrator: Annotated[Party, Shows("integrator", ALL, "rows")] = Field(description="Who makes it.")
    goals: Annotated[tuple[str, ...], Shows("goals", ALL)] = Field(
        description="What the client wants to reach."
    )
    revision: Annotated[RevisionRow, Shows("revision", ALL, "rows")] = Field(description="This revision.")
    history: Annotated[tuple[RevisionRow, ...], Shows("history", ALL, "rows")] = Field(
        description="Earlier revisions, oldest first."
    )
    valid_until: Annotated[datetime.date, Shows("valid_until", ALL, "date")] = Field(
        description="Last day on which the proposal holds."
    )
    region: Annotated[str, Shows("region", ALL)] = Field(description="Radio region, in words.")
    units: Annotated[str, Shows("units", ALL)] = Field(description="metric or us_customary.")
    locale: Annotated[str, Shows("locale", ALL)] = Field(
        description="Language and country that set numbers and dates."
    )
    currency: Annotated[str, Shows("currency", ALL)] = Field(description="ISO code of the currency.")
    colour: Annotated[str, Shows("colour", ALL)] = Field(description="Leading colour.")
    logo: Annotated[str, Shows("logo", ALL)] = Field(
        description="File name of the logo, empty where there is none."
    )
    draft: Annotated[bool, Shows("draft", ALL, "flag")] = Field(
        default=False, description="Whether it is a draft of a revision that is not issued."
    )
    with_errors: Annotated[str, Shows("with_errors", ALL)] = Field(
        default="", description="Why it was issued with errors that are not resolved; empty where none stood."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )


class MicrophoneRow(Row):
    """One microphone position of a kind of room."""

    schedule: ClassVar = Schedule("microphone", subject="rooms", key=("code",))

    code: Annotated[str, Shows("microphone", ALL, "tag")] = Field(
        description="Code within the room, such as M1."
    )
    form: Annotated[str, Shows("form", ALL, "word")] = Field(
        description="Handheld, bodypack, boundary or gooseneck."
    )
    pattern: Annotated[str, Shows("pattern", ALL)] = Field(description="Pickup pattern.")
    at: Annotated[Point, Shows("position", ALL, "coordinates")] = Field(
        description="Position in the room's own coordinates, m."
    )
    seat: Annotated[str, Shows("seat", ALL)] = Field(description="Tag and name of the seat it serves.")
    return_audio: Annotated[bool, Shows("return_audio", ALL, "flag")] = Field(
        description="Whether the talker hears return audio."
    )
    mute_group: Annotated[str, Shows("mute_group", ALL)] = Field(description="Mute group.")
    access_point: Annotated[str, Shows("access_point", ALL, "tag")] = Field(
        description="Code of the access point that serves it, such as AP1."
    )
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")


class SizeRow(Row):
    """How many boxes of one model a kind of room takes, and why."""

    schedule: ClassVar = Schedule("size", subject="rooms", key=("kind", "model"))

    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of equipment.")
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    description: Annotated[str, Shows("description", ALL)] = Field(description="What it is.")
    quantity: Annotated[int, Shows("boxes", ALL, "count")] = Field(description="Boxes in one room.")
    capacity: Annotated[int, Shows("capacity_of_each", ALL, "count", nought=False)] = Field(
        description="Channels, slots or inputs of one box."
    )
    need: Annotated[int, Shows("need", ALL, "count")] = Field(
        description="Channels, slots or inputs the room needs of this kind."
    )
    spare: Annotated[int, Shows("spare", ALL, "count")] = Field(
        description="What the kind's boxes have over the need."
    )
    chosen_by: Annotated[str, Shows("chosen_by", ALL)] = Field(
        description="`designer` where fixed by hand, else `least cost`."
    )


class DestinationRow(Row):
    """Where a room's sound goes, or comes from."""

    schedule: ClassVar = Schedule("destination", subject="rooms", key=("code",))

    code: Annotated[str, Shows("code", ALL, "tag")] = Field(description="Code within the room.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="What it is.")
    signal: Annotated[str, Shows("signal", ALL, "word")] = Field(
        description="Analogue, networked audio or USB."
    )
    channels: Annotated[int, Shows("channels", ALL, "count")] = Field(description="Number of channels.")


class FlowNode(Row):
    """A box of the signal flow of a kind of room."""

    schedule: ClassVar = Schedule("flow_node", subject="rooms", key=("code",))

    code: Annotated[str, Shows("code", ALL, "tag")] = Field(
        description="Code within the room, such as AP1, or the name of a group."
    )
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(
        description="microphones, access point, charger, network, mixer, breakout, amplifier, loudspeakers, "
        "destination or return."
    )
    title: Annotated[str, Shows("title", ALL)] = Field(description="First line in the box.")
    lines: Annotated[tuple[str, ...], Shows("lines", ALL)] = Field(description="Further lines in the box.")


class FlowEdge(Row):
    """A signal between two boxes."""

    schedule: ClassVar = Schedule(
        "flow_edge",
        subject="rooms",
        key=("start", "end", "signal", "way", "cable"),
        called=("{start} to {end}", "{signal}", "{way}", "{cable}"),
    )

    start: Annotated[str, Shows("start", ALL, "tag")] = Field(description="Code of the box it leaves.")
    end: Annotated[str, Shows("end", ALL, "tag")] = Field(description="Code of the box it enters.")
    signal: Annotated[str, Shows("signal", ALL, "word")] = Field(
        description="radio, networked audio, analogue, USB, loudspeaker line."
    )
    label: Annotated[str, Shows("label", ALL)] = Field(description="What it carries: channels, port.")
    returning: Annotated[bool, Shows("returning", ALL, "flag")] = Field(
        description="Whether it is return audio."
    )
    cable: Annotated[str, Shows("cable", ALL, "tag")] = Field(
        description="Identity of the cable with the room's tag left out, empty where none."
    )

    @property
    def way(self) -> str:
        """Whether it is return audio, as a word; empty where it is not."""
        return "return audio" if self.returning else ""


class RoomSheet(Row):
    """A kind of room as designed, and the rooms built so.

    A room whose own file or fixed sizes change its type has a sheet of its own.
    """

    schedule: ClassVar = Schedule("room_sheet", subject="rooms", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(
        description="Name for file names: the type, or type and room."
    )
    title: Annotated[str, Shows("title", ALL)] = Field(description="Name of the kind of room.")
    use: Annotated[str, Shows("use", ALL)] = Field(description="How people meet here.")
    rooms: Annotated[tuple[str, ...], Shows("rooms", ALL, "tag")] = Field(
        description="Tags of the rooms built so."
    )
    outline: Annotated[tuple[Point, ...], Shows("position", ALL, "coordinates", drawn=True)] = Field(
        description="Corners in the room's own coordinates, m."
    )
    area_m2: Annotated[float, Shows("area", ALL, "area")] = Field(description="Floor area, m².")
    ceiling_height_m: Annotated[float, Shows("ceiling_height", ALL, "length")] = Field(
        description="Floor to ceiling, m."
    )
    ceiling_kind: Annotated[str, Shows("ceiling_kind", ALL)] = Field(
        description="What the ceiling is made of."
    )
    seats: Annotated[
        tuple[tuple[str, str, Point], ...], Shows("seats", ALL, ("tag", "text", "coordinates"), drawn=True)
    ] = Field(description="Tag, name and position of seats.")
    furniture: Annotated[
        tuple[tuple[str, tuple[Point, ...]], ...],
        Shows("furniture", ALL, ("text", "coordinates"), drawn=True),
    ] = Field(description="Name and corners of furniture.")
    microphones: Annotated[tuple[MicrophoneRow, ...], Shows("microphones", ALL, "rows")] = Field(
        description="Microphones in use at once."
    )
    spare_microphones: Annotated[
        tuple[tuple[str, int], ...], Shows("spare_microphones", ALL, ("text", "count"))
    ] = Field(description="Spares by form.")
    surfaces: Annotated[tuple[tuple[str, str], ...], Shows("surfaces", ALL, ("text", "text"))] = Field(
        description="Finish by surface."
    )
    sessions: Annotated[
        tuple[tuple[str, int, int], ...],
        Shows("sessions", ALL, ("text", "time of day", "time of day"), drawn=True),
    ] = Field(description="Name, start and end of each session, minutes after midnight.")
    sizes: Annotated[tuple[SizeRow, ...], Shows("sizes", ALL, "rows")] = Field(
        description="Boxes of each kind."
    )
    slots_needed: Annotated[int, Shows("slots_needed", ALL, "count")] = Field(
        description="Charge slots needed."
    )
    channels_needed: Annotated[int, Shows("channels_needed", ALL, "count")] = Field(
        description="Radio channels needed."
    )
    own_switch: Annotated[bool, Shows("network", ALL, "flag")] = Field(
        description="Whether a breakout's own switch serves the room."
    )
    output: Annotated[str, Shows("output", ALL)] = Field(description="mixer or breakout.")
    destinations: Annotated[tuple[DestinationRow, ...], Shows("destinations", ALL, "rows")] = Field(
        description="Where the mix goes."
    )
    returns: Annotated[tuple[DestinationRow, ...], Shows("returns", ALL, "rows")] = Field(
        description="Where return audio comes from."
    )
    day: Annotated[MeetingDay | None, Shows("day", ALL, "rows")] = Field(
        default=None, description="Its meeting day; None where no sessions are written."
    )
    mutes: Annotated[tuple[MuteRow, ...], Shows("mutes", ALL, "rows")] = Field(
        default=(), description="Truth table of muting."
    )
    level_map: Annotated[LevelMapRow | None, Shows("level_map", ALL, "rows")] = Field(
        default=None, description="Radio level over the room; None where no microphone is linked."
    )
    flow_nodes: Annotated[tuple[FlowNode, ...], Shows("flow_nodes", ALL, "rows")] = Field(
        description="Boxes of the signal flow."
    )
    flow_edges: Annotated[tuple[FlowEdge, ...], Shows("flow_edges", ALL, "rows")] = Field(
        description="Signals of the signal flow."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )


class RoomRow(Row):
    """One room of the building."""

    schedule: ClassVar = Schedule("room", subject="rooms", key=("tag",))

    tag: Annotated[str, Shows("room", ALL, "tag", link="tag")] = Field(description="Tag.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="What the client calls it.")
    sheet: Annotated[str, Shows("area", ALL, "tag")] = Field(description="Key of its room sheet.")
    type: Annotated[str, Shows("kind_of_room", ALL)] = Field(description="Title of its kind of room.")
    storey: Annotated[str, Shows("storey", ALL, "tag", link="tag")] = Field(description="Tag of its storey.")
    equipment_room: Annotated[str, Shows("served_from", ALL, "tag", link="tag")] = Field(
        description="Tag of the equipment room that serves it."
    )
    origin: Annotated[Point, Shows("origin", ALL, "coordinates")] = Field(
        description="Where its own coordinates begin, in the building, m."
    )
    outline: Annotated[tuple[Point, ...], Shows("position", ALL, "coordinates", drawn=True)] = Field(
        description="Corners in the building, m."
    )
    seats: Annotated[int, Shows("seats", ALL, "count", sums=True)] = Field(description="Number of seats.")
    microphones: Annotated[int, Shows("microphones", ALL, "count", sums=True)] = Field(
        description="Microphones in use at once."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )


class StoreyRow(Row):
    """One storey."""

    schedule: ClassVar = Schedule("storey", subject="rooms", key=("tag",))

    tag: Annotated[str, Shows("storey", ALL, "tag", link="tag")] = Field(description="Tag.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="Name.")
    height_m: Annotated[float, Shows("floor_above_datum", ALL, "length")] = Field(
        description="Finished floor above the building's datum, m."
    )
    slab_to_slab_m: Annotated[float, Shows("floor_to_floor", ALL, "length")] = Field(
        description="Floor to the floor above, m."
    )


class EquipmentRoomRow(Row):
    """A room with racks."""

    schedule: ClassVar = Schedule("equipment_room", subject="rooms", key=("tag",))

    tag: Annotated[str, Shows("equipment_room", ALL, "tag", link="tag")] = Field(description="Tag.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="Name.")
    storey: Annotated[str, Shows("storey", ALL, "tag", link="tag")] = Field(description="Tag of its storey.")
    at: Annotated[Point, Shows("position", ALL, "coordinates")] = Field(
        description="Position of its racks in the building, m."
    )
    racks: Annotated[tuple[str, ...], Shows("racks", ALL, "tag", link="tag")] = Field(
        description="Tags of its racks."
    )


class DeviceRow(Row):
    """One device."""

    schedule: ClassVar = Schedule("device", subject="equipment", key=("tag",))

    tag: Annotated[str, Shows("device", ALL, "tag", link="tag")] = Field(description="Tag.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of equipment, in words.")
    room: Annotated[str, Shows("room", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room it serves."
    )
    location: Annotated[str, Shows("location", ALL, link="tag")] = Field(
        description="Where it stands: ceiling, table, rack tag."
    )
    storey: Annotated[str, Shows("storey", ALL, "tag")] = Field(description="Tag of the storey it stands on.")
    at: Annotated[Point | None, Shows("position", NOT_CLIENT, "coordinates")] = Field(
        default=None, description="Position in the building, m."
    )
    height_m: Annotated[float | None, Shows("above_floor", NOT_CLIENT, "length")] = Field(
        default=None, description="Height above the floor, m."
    )
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    maker: Annotated[str, Shows("maker", ALL)] = Field(description="Maker.")
    description: Annotated[str, Shows("description", ALL)] = Field(description="What it is.")
    rack_units: Annotated[int, Shows("rack_units", ALL, "count", nought=False)] = Field(
        description="Rack units it takes; 0 where it stands elsewhere."
    )
    typical_w: Annotated[
        float, Shows("typical_power", NOT_CLIENT, "watts", nought=False, subject="power")
    ] = Field(default=0.0, description="Typical power, W.")
    maximum_w: Annotated[
        float, Shows("highest_power", NOT_CLIENT, "watts", nought=False, subject="power")
    ] = Field(default=0.0, description="Highest power, W.")
    poe_class: Annotated[int | None, Shows("poe_class", NOT_CLIENT, "number", subject="power")] = Field(
        default=None, description="Class of power over Ethernet."
    )
    weight_kg: Annotated[float, Shows("weight", NOT_CLIENT, "weight", sums=True, nought=False)] = Field(
        default=0.0, description="Weight, kg."
    )
    furnished_by: Annotated[str, Shows("furnished_by", ALL)] = Field(description="Who furnishes it.")
    lead_time_days: Annotated[int, Shows("lead_time", NOT_CLIENT, "days", nought=False)] = Field(
        default=0, description="Lead time, calendar days."
    )
    address: Annotated[str, Shows("address", NOT_CLIENT, subject="addresses")] = Field(
        default="", description="Network address."
    )
    host: Annotated[str, Shows("host_name", NOT_CLIENT, subject="addresses")] = Field(
        default="", description="Host name."
    )
    switch_port: Annotated[str, Shows("switch_port", NOT_CLIENT, link="tag", subject="ports")] = Field(
        default="", description="Switch and port it is patched to."
    )
    unit_cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", sums=True, subject="price")] = Field(
        default=None, description="What it costs us."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )


class EquipmentLine(Row):
    """All devices of one model."""

    schedule: ClassVar = Schedule("equipment_line", subject="equipment", key=("model",))

    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of equipment, in words.")
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    maker: Annotated[str, Shows("maker", ALL)] = Field(description="Maker.")
    description: Annotated[str, Shows("description", ALL)] = Field(description="What it is.")
    quantity: Annotated[int, Shows("quantity", ALL, "how many")] = Field(description="How many.")
    unit: Annotated[str, Shows("unit", ALL, "unit")] = Field(description="What is counted: each, m.")
    rooms: Annotated[tuple[tuple[str, int], ...], Shows("where", ALL, ("tag", "count"))] = Field(
        description="Tag of room and how many there."
    )
    lead_time_days: Annotated[int, Shows("lead_time", NOT_CLIENT, "days", nought=False)] = Field(
        default=0, description="Lead time, calendar days."
    )
    unit_list: Annotated[Decimal | None, Shows("unit_list", HOUSE, "unit price", subject="price")] = Field(
        default=None, description="List price of one."
    )
    unit_cost: Annotated[Decimal | None, Shows("unit_cost", HOUSE, "unit price", subject="price")] = Field(
        default=None, description="What one costs us."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", subject="price")] = Field(
        default=None, description="What all cost us."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )


class CableRow(Row):
    """One cable."""

    schedule: ClassVar = Schedule("cable", subject="cabling", key=("identity",))

    identity: Annotated[str, Shows("cable", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Device, its port and what it ends in."
    )
    room: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the room it serves."
    )
    signal: Annotated[str, Shows("signal", NOT_CLIENT, "word")] = Field(
        default="", description="Network, loudspeaker line, analogue."
    )
    from_tag: Annotated[str, Shows("from", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Device."
    )
    from_port: Annotated[str, Shows("from_port", NOT_CLIENT)] = Field(
        default="", description="Port of the device."
    )
    from_connector: Annotated[str, Shows("from_connector", NOT_CLIENT)] = Field(
        default="", description="Connector at the device."
    )
    to_tag: Annotated[str, Shows("to", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Equipment it ends in."
    )
    to_port: Annotated[str, Shows("to_port", NOT_CLIENT)] = Field(default="", description="Port there.")
    to_connector: Annotated[str, Shows("to_connector", NOT_CLIENT)] = Field(
        default="", description="Connector there."
    )
    type: Annotated[str, Shows("type", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code of the cable."
    )
    description: Annotated[str, Shows("description", NOT_CLIENT)] = Field(
        default="", description="What the cable is."
    )
    jacket: Annotated[str, Shows("jacket", NOT_CLIENT)] = Field(default="", description="Jacket rating.")
    route: Annotated[str, Shows("route", NOT_CLIENT)] = Field(
        default="", description="Way it takes, in words."
    )
    pathways: Annotated[tuple[str, ...], Shows("pathways", NOT_CLIENT, "tag", link="tag")] = Field(
        default=(), description="Tags of its pathways, in order."
    )
    turns: Annotated[tuple[Point, ...], Shows("position", NOT_CLIENT, "coordinates", drawn=True)] = Field(
        default=(), description="Where it enters and leaves pathways or a shaft, in the building, m."
    )
    from_storey: Annotated[str, Shows("from_storey", NOT_CLIENT, "tag")] = Field(
        default="", description="Storey of the device."
    )
    to_storey: Annotated[str, Shows("to_storey", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Storey of the other end."
    )
    estimated_m: Annotated[float | None, Shows("routed", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Routed length without slack, m."
    )
    slack_m: Annotated[float | None, Shows("slack", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Slack at both ends, m."
    )
    measured: Annotated[bool, Shows("length_from", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether the length was given by hand."
    )
    length_m: Annotated[
        float, Shows("permanent_link", NOT_CLIENT, "length", sums=True, subject="lengths")
    ] = Field(default=0.0, description="Length with slack: the permanent link, m.")
    cords_m: Annotated[float | None, Shows("cords", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Cords at both ends, m."
    )
    channel_m: Annotated[float | None, Shows("channel", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Link and cords, m."
    )
    limit_m: Annotated[float | None, Shows("limit_of_the_link", NOT_CLIENT, "length", subject="lengths")] = (
        Field(default=None, description="Longest link at its temperature, m.")
    )
    margin_m: Annotated[float | None, Shows("margin", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Limit less length, m."
    )
    temperature_c: Annotated[float | None, Shows("temperature", NOT_CLIENT, "temperature")] = Field(
        default=None, description="Temperature of the cable, °C."
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict")] = Field(
        default="", description="holds or fails; empty where nothing is checked."
    )


class RiserLine(Row):
    """All cables of one type between a room and where they end."""

    schedule: ClassVar = Schedule(
        "riser_line", subject="cabling", key=("room", "end", "signal", "description")
    )

    room: Annotated[str, Shows("room", ALL, "tag", link="tag")] = Field(description="Tag of the room.")
    end: Annotated[str, Shows("ends_in", ALL, "tag", link="tag")] = Field(
        description="Tag of the equipment room, or of the room itself."
    )
    signal: Annotated[str, Shows("signal", ALL, "word")] = Field(
        description="Network, loudspeaker line, analogue."
    )
    description: Annotated[str, Shows("cable", ALL)] = Field(description="What the cable is.")
    count: Annotated[int, Shows("cables", ALL, "count")] = Field(description="How many cables.")
    shortest_m: Annotated[float, Shows("shortest", ALL, "length", subject="lengths")] = Field(
        description="Shortest, m."
    )
    longest_m: Annotated[float, Shows("longest", ALL, "length", subject="lengths")] = Field(
        description="Longest, m."
    )


class CableTotal(Row):
    """All cable of one type."""

    schedule: ClassVar = Schedule("cable_total", subject="cabling", key=("type",))

    type: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    description: Annotated[str, Shows("cable", ALL)] = Field(description="What it is.")
    count: Annotated[int, Shows("cables", ALL, "count", sums=True)] = Field(description="How many cables.")
    length_m: Annotated[float, Shows("length", ALL, "length", sums=True, subject="lengths")] = Field(
        description="Sum of their lengths with slack, m."
    )


class PortRow(Row):
    """One port of a switch."""

    schedule: ClassVar = Schedule(
        "port", subject="ports", key=("switch", "port"), called=("{switch}/{port}",)
    )

    switch: Annotated[str, Shows("switch", NOT_CLIENT, "tag")] = Field(
        default="", description="Tag of the switch."
    )
    port: Annotated[int, Shows("port", NOT_CLIENT, "number")] = Field(
        default=0, description="Number of the port."
    )
    device: Annotated[str, Shows("device", NOT_CLIENT, "tag", link="tag", empty="spare")] = Field(
        default="", description="Tag of the device; empty where the port is spare."
    )
    cable: Annotated[str, Shows("cable", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Identity of the cable."
    )
    vlan: Annotated[int | None, Shows("vlan", NOT_CLIENT, "number")] = Field(
        default=None, description="VLAN."
    )
    poe_class: Annotated[int | None, Shows("poe_class", NOT_CLIENT, "number")] = Field(
        default=None, description="Class asked for."
    )
    allocated_w: Annotated[float, Shows("set_aside", NOT_CLIENT, "watts", sums=True, subject="power")] = (
        Field(default=0.0, description="Power set aside by class, W.")
    )
    drawn_w: Annotated[float, Shows("drawn", NOT_CLIENT, "watts", sums=True, subject="power")] = Field(
        default=0.0, description="Power drawn at the source, W."
    )
    loop_ohm: Annotated[float | None, Shows("loop", NOT_CLIENT, "ohms", subject="power")] = Field(
        default=None, description="Loop resistance of the channel, Ω."
    )
    device_v: Annotated[float | None, Shows("at_the_device", NOT_CLIENT, "volts", subject="power")] = Field(
        default=None, description="Voltage at the device, V."
    )
    least_v: Annotated[float | None, Shows("least_needed", NOT_CLIENT, "volts", subject="power")] = Field(
        default=None, description="Least voltage the device needs, V."
    )
    priority: Annotated[int, Shows("power_priority", NOT_CLIENT, "number", nought=False, subject="power")] = (
        Field(default=0, description="Order in which power is kept, 1 first.")
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict", subject="power")] = Field(
        default="", description="holds or fails; empty where not powered."
    )


class SwitchRow(Row):
    """One switch and its sums."""

    schedule: ClassVar = Schedule("switch", subject="power", key=("tag",))

    tag: Annotated[str, Shows("switch", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag."
    )
    model: Annotated[str, Shows("model", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    ports: Annotated[int, Shows("ports", NOT_CLIENT, "count", sums=True, subject="ports")] = Field(
        default=0, description="Ports."
    )
    used: Annotated[int, Shows("used", NOT_CLIENT, "count", sums=True, subject="ports")] = Field(
        default=0, description="Ports used."
    )
    spare: Annotated[
        int, Shows("spare", NOT_CLIENT, "count", sums=True, formula="{ports}-{used}", subject="ports")
    ] = Field(default=0, description="Ports free.")
    spare_wanted: Annotated[int, Shows("spare_wanted", NOT_CLIENT, "count", subject="ports")] = Field(
        default=0, description="Ports to be left free."
    )
    budget_w: Annotated[float, Shows("budget", NOT_CLIENT, "watts")] = Field(
        default=0.0, description="Power budget, W."
    )
    usable_w: Annotated[float, Shows("less_headroom", NOT_CLIENT, "watts")] = Field(
        default=0.0, description="Budget less headroom, W."
    )
    allocated_w: Annotated[float, Shows("set_aside_by_class", NOT_CLIENT, "watts", sums=True)] = Field(
        default=0.0, description="Sum set aside by class, W."
    )
    drawn_w: Annotated[float, Shows("drawn", NOT_CLIENT, "watts", sums=True)] = Field(
        default=0.0, description="Sum drawn at the source, W."
    )
    drops_first: Annotated[tuple[str, ...], Shows("drops_first", NOT_CLIENT, "tag")] = Field(
        default=(), description="Devices that lose power first, were the budget short."
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict")] = Field(
        default="", description="holds or fails."
    )


class WorkingRow(Row):
    """A calculation with its numbers."""

    schedule: ClassVar = Schedule(
        "working",
        subject="checks",
        key=("chapter", "subject", "title"),
        shares_key=True,
        called=("{subject}: {title}",),
    )

    number: Annotated[str, Shows("number", CHECKERS, "tag", link="number", serial=True)] = Field(
        default="", description="Number, such as A101-W12."
    )
    chapter: Annotated[str, Shows("chapter", CHECKERS)] = Field(
        default="", description="Sizing, cabling, power."
    )
    subject: Annotated[str, Shows("of", CHECKERS, "tag", link="subject")] = Field(
        default="", description="Tag or identity of what it is about."
    )
    title: Annotated[str, Shows("what", CHECKERS)] = Field(default="", description="What is calculated.")
    equation: Annotated[str, Shows("equation", CHECKERS)] = Field(
        default="", description="Equation in symbols."
    )
    substituted: Annotated[str, Shows("numbers_put_in", CHECKERS)] = Field(
        default="", description="Equation with the numbers put in."
    )
    values: Annotated[
        tuple[tuple[str, str, float, str], ...], Shows("values", CHECKERS, ("text", "text", "figure", "unit"))
    ] = Field(default=(), description="Symbol, meaning, number and unit of each value put in.")
    result: Annotated[float, Shows("result", CHECKERS, "figure")] = Field(default=0.0, description="Result.")
    unit: Annotated[str, Shows("unit", CHECKERS, "unit")] = Field(
        default="", description="Unit of the result."
    )
    limit: Annotated[float | None, Shows("limit", CHECKERS, "figure")] = Field(
        default=None, description="What the result is held against."
    )
    comparison: Annotated[str, Shows("compared", CHECKERS)] = Field(default="", description="≤ or ≥.")
    verdict: Annotated[str, Shows("verdict", CHECKERS, "verdict")] = Field(
        default="", description="holds or fails; empty where nothing is checked."
    )
    source: Annotated[str, Shows("source", CHECKERS)] = Field(
        default="", description="Where the rule stands."
    )
    assumptions: Annotated[tuple[str, ...], Shows("assumptions", CHECKERS, "tag", refers="assumptions")] = (
        Field(default=(), description="Numbers of assumptions used.")
    )
    questions: Annotated[tuple[str, ...], Shows("questions", CHECKERS, "tag", refers="questions")] = Field(
        default=(), description="Numbers of open questions used."
    )
    note: Annotated[str, Shows("note", CHECKERS)] = Field(
        default="", description="What else a reader should know."
    )


class FindingRow(Row):
    """What a careful reviewer would say."""

    schedule: ClassVar = Schedule(
        "finding", subject="checks", key=("rule", "where"), called=("{where}", "{rule}")
    )

    number: Annotated[str, Shows("number", CHECKERS, "tag", link="number", serial=True)] = Field(
        default="", description="Number, such as A101-F3."
    )
    rule: Annotated[str, Shows("rule", CHECKERS)] = Field(default="", description="Name of the rule.")
    severity: Annotated[str, Shows("severity", CHECKERS, "word")] = Field(
        default="", description="error, warning or note."
    )
    where: Annotated[str, Shows("where", CHECKERS, "tag", link="subject")] = Field(
        default="", description="Tag or identity."
    )
    place: Annotated[str, Shows("place_in_the_files", CHECKERS, serial=True)] = Field(
        default="", description="File and line that caused it."
    )
    message: Annotated[str, Shows("what", CHECKERS)] = Field(default="", description="What is the matter.")
    value: Annotated[float | None, Shows("value", CHECKERS, "figure")] = Field(
        default=None, description="Value found."
    )
    limit: Annotated[float | None, Shows("limit", CHECKERS, "figure")] = Field(
        default=None, description="Limit."
    )
    unit: Annotated[str, Shows("unit", CHECKERS, "unit")] = Field(
        default="", description="Unit of value and limit."
    )
    source: Annotated[str, Shows("source", CHECKERS)] = Field(
        default="", description="Where the rule stands."
    )
    remedy: Annotated[str, Shows("what_would_fix_it", CHECKERS)] = Field(
        default="", description="What would fix it."
    )
    accepted: Annotated[str, Shows("accepted", CHECKERS)] = Field(
        default="", description="Reason, name and date where the designer accepts it."
    )


class FindingCount(Row):
    """How many findings of each severity."""

    schedule: ClassVar = Schedule("finding_count", subject="checks")

    errors: Annotated[int, Shows("errors", ALL, "count")] = Field(description="Errors not accepted.")
    warnings: Annotated[int, Shows("warnings", ALL, "count")] = Field(description="Warnings not accepted.")
    notes: Annotated[int, Shows("notes", ALL, "count")] = Field(description="Notes not accepted.")
    accepted: Annotated[int, Shows("accepted", ALL, "count")] = Field(description="Accepted by the designer.")


class AssumptionRow(Row):
    """A default that was taken because nothing was written."""

    schedule: ClassVar = Schedule("assumption", subject="checks", key=("subject", "title"))

    number: Annotated[str, Shows("number", ALL, "tag", serial=True)] = Field(
        description="Number, such as cabling-A4."
    )
    title: Annotated[str, Shows("assumed", ALL)] = Field(description="What is assumed.")
    subject: Annotated[str, Shows("applies_to", ALL, "tag", link="subject")] = Field(
        description="What it applies to: project, building, kind of room or tag."
    )
    value: Annotated[float | str | bool | None, Shows("value_si", ALL, "by kind")] = Field(
        description="Value taken, SI where a quantity."
    )
    kind: Annotated[str, Shows("kind", ALL, "kind")] = Field(
        description="Kind of quantity, for its unit; empty where none."
    )
    source: Annotated[str, Shows("source", ALL)] = Field(description="Where the default comes from.")
    path: Annotated[str, Shows("written_in", CHECKERS)] = Field(
        default="", description="Where the value would be written."
    )


class QuestionRow(Row):
    """A value that has to be found out."""

    schedule: ClassVar = Schedule("question", subject="checks", key=("subject", "title"))

    number: Annotated[str, Shows("number", ALL, "tag", serial=True)] = Field(
        description="Number, such as cabling-Q2."
    )
    title: Annotated[str, Shows("to_be_found_out", ALL)] = Field(description="What has to be found out.")
    subject: Annotated[str, Shows("applies_to", ALL, "tag", link="subject")] = Field(
        description="What it applies to."
    )
    value: Annotated[float | str | bool | None, Shows("value_meanwhile_si", ALL, "by kind")] = Field(
        description="Value taken meanwhile."
    )
    kind: Annotated[str, Shows("kind", ALL, "kind")] = Field(
        description="Kind of quantity, for its unit; empty where none."
    )
    used_by: Annotated[
        tuple[str, ...], Shows("used_by", CHECKERS, "tag", link="number", sorted=True, refers="workings")
    ] = Field(default=(), description="Numbers of workings that use it.")
    place: Annotated[str, Shows("place_in_the_files", CHECKERS, serial=True)] = Field(
        default="", description="File and line."
    )


class Caution(Row):
    """Something that can hurt somebody."""

    schedule: ClassVar = Schedule("caution", subject="terms", key=("title",))

    title: Annotated[str, Shows("title", ALL)] = Field(description="What it is about.")
    text: Annotated[str, Shows("text", ALL)] = Field(description="The caution.")


class DutyRow(Row):
    """Who does what about one thing."""

    schedule: ClassVar = Schedule("duty", subject="terms", key=("about",))

    about: Annotated[str, Shows("what", ALL)] = Field(description="What it is about.")
    duties: Annotated[tuple[tuple[str, str], ...], Shows("duties", ALL, ("text", "text"))] = Field(
        description="Duty and letters of the party that has it, empty where nobody has."
    )


class SheetRow(Row):
    """A drawing sheet."""

    schedule: ClassVar = Schedule("sheet", subject="drawings", key=("kind", "subject", "part"))

    number: Annotated[str, Shows("sheet", ALL, "tag", link="drawing")] = Field(description="Sheet number.")
    title: Annotated[str, Shows("title", ALL)] = Field(description="Title.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(
        description="riser overall, riser detail, signal flow, plan, conduit sections; later ones likewise."
    )
    subject: Annotated[str, Shows("subject", ALL, "tag")] = Field(
        description="What it shows: empty for the building, a storey's tag, or the key of a room sheet."
    )
    part: Annotated[int, Shows("part", ALL, "number")] = Field(
        description="Part of a drawing that takes several sheets, from 1."
    )
    parts: Annotated[int, Shows("parts", ALL, "count")] = Field(
        description="How many sheets the drawing takes."
    )
    members: Annotated[tuple[str, ...], Shows("members", ALL, "tag")] = Field(
        description="Tags of the rooms, or codes of the boxes, shown on this part; empty where all are."
    )
    first: Annotated[int, Shows("first", ALL, "number")] = Field(
        default=1, description="First cable shown of the first member, from 1 in order of identity."
    )
    last: Annotated[int, Shows("last", ALL, "number")] = Field(
        default=0, description="Last cable shown of the last member; 0 where all are."
    )
