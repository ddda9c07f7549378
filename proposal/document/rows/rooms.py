"""Rows of rooms: kinds of room as designed, their microphones and signal flow, and where they are built."""

from collections import Counter
from collections.abc import Sequence
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.charging import FurtherDay, MeetingDay, MuteRow
from proposal.document.rows.level_map import LevelMapRow
from proposal.document.rows.room_contents import (
    CarriedRow,
    DestinationRow,
    FlowEdge,
    FlowNode,
    MicrophoneRow,
    Point,
    SizeRow,
)
from proposal.document.rows.room_places import AssistiveRow, LevelRow, PlaceRow, WiredMicrophoneRow
from proposal.document.schedule import ALL, HOUSE, NOT_CLIENT, Row, Schedule, Shows, composed, gathered


class RoomSheet(Row):
    """A kind of room as designed, and the rooms built so.

    A room whose own file or fixed sizes change its type has a sheet of its own.
    """

    schedule: ClassVar = Schedule("room_sheet", subject="rooms", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(
        description="Name for file names: the type, or type and room."
    )
    title: Annotated[str, Shows("kind_of_room", ALL, link="sheet", target="key")] = Field(
        description="Name of the kind of room."
    )
    use: Annotated[str, Shows("use", ALL)] = Field(description="How people meet here.")
    rooms: Annotated[tuple[str, ...], Shows("rooms", ALL, "tag", link="tag", follows=True)] = Field(
        description="Tags of the rooms built so."
    )
    outline: Annotated[tuple[Point, ...], Shows("position", ALL, "coordinates", drawn=True)] = Field(
        description="Corners in the room's own coordinates, m."
    )
    area_m2: Annotated[float, Shows("area", ALL, "area")] = Field(description="Floor area, m².")
    ceiling_height_m: Annotated[float, Shows("ceiling_height", ALL, "position")] = Field(
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
    doors: Annotated[
        tuple[tuple[str, Point, float], ...],
        Shows("doors", ALL, ("tag", "coordinates", "length"), drawn=True),
    ] = Field(default=(), description="Tag, middle and width of doors.")
    ceiling_tile_m: Annotated[tuple[float, ...], Shows("ceiling_tile", ALL, "small length")] = Field(
        default=(),
        description="Size of the tiles of its ceiling along x and y, m; empty where none is given.",
    )
    microphones: Annotated[tuple[MicrophoneRow, ...], Shows("microphones", ALL, "rows")] = Field(
        description="Microphones in use at once."
    )
    levels: Annotated[tuple[LevelRow, ...], Shows("levels", ALL, "rows")] = Field(
        default=(), description="Balconies, galleries and stages."
    )
    rows_of_places: Annotated[tuple[PlaceRow, ...], Shows("rows_of_places", ALL, "rows")] = Field(
        default=(), description="Seats and microphones that stand in rows, arcs and grids."
    )
    wired_microphones: Annotated[tuple[WiredMicrophoneRow, ...], Shows("wired_microphones", ALL, "rows")] = (
        Field(default=(), description="Wired microphones.")
    )
    assistive: Annotated[tuple[AssistiveRow, ...], Shows("assistive_listening", ALL, "rows")] = Field(
        default=(), description="Assistive listening that is part of this proposal; none where it is not."
    )
    spare_microphones: Annotated[
        tuple[tuple[str, int], ...], Shows("spare_microphones", ALL, ("text", "count"))
    ] = Field(description="Spares by form.")
    surfaces: Annotated[tuple[tuple[str, str], ...], Shows("finish", ALL, ("text", "text"))] = Field(
        description="Finish by surface."
    )
    sessions: Annotated[
        tuple[tuple[str, int, int], ...],
        Shows("session", ALL, ("text", "time of day", "time of day")),
    ] = Field(description="Name, start and end of each session, minutes after midnight.")
    assistive_listening: Annotated[bool, Shows("assistive_listening_required", ALL, "flag")] = Field(
        default=False, description="Whether assistive listening is required."
    )
    untouchable: Annotated[tuple[tuple[str, str], ...], Shows("not_to_be_touched", ALL, ("text", "text"))] = (
        Field(default=(), description="Surface to which nothing may be fixed, and why.")
    )
    sound_stays: Annotated[str, Shows("sound_stays", ALL)] = Field(
        default="", description="Why its sound may not leave it; empty where it may."
    )
    nothing_planned: Annotated[str, Shows("nothing_planned", ALL)] = Field(
        default="", description="Why nothing is planned in it; empty where something is."
    )
    system: Annotated[str, Shows("microphone_system", ALL)] = Field(
        default="", description="System of its microphones, by which its devices work together."
    )
    sizes: Annotated[tuple[SizeRow, ...], Shows("sizes", ALL, "rows")] = Field(
        description="Boxes of each kind."
    )
    carried: Annotated[tuple[CarriedRow, ...], Shows("inputs_and_outputs", ALL, "rows")] = Field(
        default=(), description="What its mixers or breakouts take and send, sort by sort."
    )
    slots_needed: Annotated[int, Shows("slots_needed", ALL, "count", follows=True)] = Field(
        description="Charge slots needed."
    )
    channels_needed: Annotated[int, Shows("channels_needed", ALL, "count", follows=True)] = Field(
        description="Radio channels needed."
    )
    own_switch: Annotated[bool, Shows("own_switch", ALL, "flag")] = Field(
        description="Whether a breakout's own switch serves the room."
    )
    apart: Annotated[str, Shows("network_kept_apart", ALL, "word")] = Field(
        default="",
        description="alone, isolated, or empty where its network is one with the building's.",
    )
    isolating_port: Annotated[str, Shows("isolating_port", ALL, "tag")] = Field(
        default="", description="Port that joins it to the building and keeps that network off."
    )
    switch_load_bit_s: Annotated[float | None, Shows("busiest_port", ALL, "bits per second")] = Field(
        default=None, description="Streams at the busiest port of the room's own switch, bit/s."
    )
    switch_speed_bit_s: Annotated[float | None, Shows("port_speed", ALL, "speed of a port")] = Field(
        default=None, description="Data rate of a port of the room's own switch, bit/s."
    )
    output: Annotated[str, Shows("output", ALL)] = Field(
        description="mixer or breakout; empty where nothing is planned."
    )
    destinations: Annotated[tuple[DestinationRow, ...], Shows("destinations", ALL, "rows")] = Field(
        description="Where the mix goes."
    )
    returns: Annotated[tuple[DestinationRow, ...], Shows("returns", ALL, "rows")] = Field(
        description="Where return audio comes from."
    )
    day: Annotated[MeetingDay | None, Shows("day", ALL, "rows")] = Field(
        default=None, description="Its usual meeting day; None where no sessions of one are written."
    )
    further_days: Annotated[tuple[FurtherDay, ...], Shows("further_days", ALL, "rows")] = Field(
        default=(), description="Its other kinds of meeting day, in order of names."
    )
    mute_points: Annotated[tuple[tuple[str, str], ...], Shows("mutes_set_at", ALL, ("tag", "text"))] = Field(
        default=(), description="Devices at which a control system can set mutes, and the control point."
    )
    mute_operators: Annotated[
        tuple[tuple[str, str], ...], Shows("mutes_set_by", ALL, ("text", "text"), drawn=True)
    ] = Field(default=(), description="Mute groups, or all, and who sets and releases their mute.")
    mute_controls: Annotated[tuple[str, ...], Shows("by_equipment_of_the_owner", ALL, drawn=True)] = Field(
        default=(), description="Names of the owner's control processors that serve its rooms."
    )
    far_end_mutes: Annotated[str, Shows("mute_of_the_conferencing_system", ALL, drawn=True)] = Field(
        default="",
        description="What a mute set in its conferencing system mutes: room, or far end alone; empty where "
        "it has none.",
    )
    emergency_mute: Annotated[str, Shows("mute_by_the_fire_alarm", ALL, drawn=True)] = Field(
        default="",
        description="Whether the fire alarm mutes it: yes, or where it has a contact; empty where not.",
    )
    in_private: Annotated[str, Shows("sitting_in_private", ALL, drawn=True)] = Field(
        default="", description="How people sit in private there, in the author's words."
    )
    by_others: Annotated[tuple[str, ...], Shows("furnished_by_others", ALL, drawn=True)] = Field(
        default=(), description="What its sound goes to or comes from and nobody brings, by name."
    )
    mutes_joined_at: Annotated[tuple[str, ...], Shows("mutes_joined_at", ALL, drawn=True)] = Field(
        default=(), description="Free ports at which what mutes in its rooms joins their network."
    )
    mutes_run_m: Annotated[float | None, Shows("longest_run_of_ours", ALL, "length", drawn=True)] = Field(
        default=None,
        description="Longest network cable of ours between one of its rooms and those ports, m; none where "
        "they are in the room.",
    )
    mutes_pass: Annotated[tuple[str, ...], Shows("openings_on_the_way", ALL, drawn=True)] = Field(
        default=(), description="Tags of the openings in rated walls and floors on that way."
    )
    mutes: Annotated[tuple[MuteRow, ...], Shows("mutes", ALL, "rows")] = Field(
        default=(), description="Truth table of muting."
    )
    level_map: Annotated[LevelMapRow | None, Shows("level_map", ALL, "rows")] = Field(
        default=None, description="Radio level over the room; None where no microphone is linked."
    )
    flow_nodes: Annotated[tuple[FlowNode, ...], Shows("flow_nodes", ALL, "rows", follows=True)] = Field(
        description="Boxes of the signal flow."
    )
    flow_edges: Annotated[tuple[FlowEdge, ...], Shows("flow_edges", ALL, "rows", follows=True)] = Field(
        description="Signals of the signal flow."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )

    @composed(Shows("network", ALL, "word", together=True))
    def network(self) -> str:
        """Which switch serves the room; none where nothing is planned in it."""
        if self.nothing_planned:
            return ""
        if self.apart:
            return f"network_{self.apart}"
        return "own_switch" if self.own_switch else "switch_in_the_equipment_room"

    @composed(Shows("use", ALL, together=True))
    def use_in_full(self) -> str:
        """How people meet here, and that nothing is planned where that is so."""
        return f"{self.use} Nothing is planned here." if self.nothing_planned else self.use

    @composed(Shows("width", ALL, "length"))
    def width_m(self) -> float:
        """How far it reaches from west to east, m."""
        east = [x for x, _ in self.outline]
        return max(east) - min(east)

    @composed(Shows("depth", ALL, "length"))
    def depth_m(self) -> float:
        """How far it reaches from south to north, m."""
        north = [y for _, y in self.outline]
        return max(north) - min(north)

    @composed(Shows("by_form", ALL, ("text", "count"), together=True))
    def microphones_by_form(self) -> tuple[tuple[str, int], ...]:
        """How many of each form are in use at once."""
        return tuple(Counter(microphone.form for microphone in self.microphones).items())


class Standing(Protocol):
    """A thing with a tag that stands in a room."""

    @property
    def tag(self) -> str:
        """Its tag."""

    @property
    def room(self) -> str:
        """Tag of the room."""


class Building(Protocol):
    """What has rooms and what stands in them."""

    @property
    def room_sheets(self) -> Sequence[RoomSheet]:
        """Kinds of room."""

    @property
    def rooms(self) -> "Sequence[RoomRow]":
        """Rooms."""

    @property
    def devices(self) -> Sequence[Standing]:
        """Devices."""


class RoomRow(Row):
    """One room of the building."""

    schedule: ClassVar = Schedule("room", subject="rooms", key=("tag",))

    tag: Annotated[str, Shows("room", ALL, "tag", link="tag")] = Field(description="Tag.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="What the client calls it.")
    sheet: Annotated[str, Shows("sheet", ALL, "tag")] = Field(description="Key of its room sheet.")
    type: Annotated[str, Shows("kind_of_room", ALL, link="sheet", target="sheet")] = Field(
        description="Title of its kind of room."
    )
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
    levels: Annotated[
        tuple[tuple[str, tuple[Point, ...]], ...],
        Shows("levels", ALL, ("text", "coordinates"), drawn=True),
    ] = Field(default=(), description="Name of each of its levels, and corners in the building, m.")
    seats: Annotated[int, Shows("seats", ALL, "count", sums=True)] = Field(description="Number of seats.")
    microphones: Annotated[int, Shows("microphones", ALL, "count", sums=True, follows=True)] = Field(
        description="Microphones in use at once, those on a cable among them."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )

    @composed(Shows("south_west_corner", ALL, "coordinates", follows=True))
    def corner(self) -> Point:
        """Its corner farthest west and south in the building, as plans have it, m."""
        easts, norths = zip(*self.outline, strict=True)
        return min(easts), min(norths)

    @gathered(Shows("area", ALL, "area"))
    def area_m2(self, document: Building) -> float | None:
        """Floor area, m²."""
        return next((one.area_m2 for one in document.room_sheets if one.key == self.sheet), None)

    @gathered(Shows("ceiling_height", ALL, "position"))
    def ceiling_height_m(self, document: Building) -> float | None:
        """Floor to ceiling, m."""
        return next((one.ceiling_height_m for one in document.room_sheets if one.key == self.sheet), None)

    @gathered(Shows("finishes", ALL))
    def finishes(self, document: Building) -> tuple[str, ...]:
        """Finish by surface."""
        found = (one.surfaces for one in document.room_sheets if one.key == self.sheet)
        return tuple(f"{surface}: {finish}" for surface, finish in next(found, ()))

    @gathered(Shows("devices", ALL, "tag", link="tag", sorted=True))
    def devices(self, document: Building) -> tuple[str, ...]:
        """Tags of its devices."""
        return _standing_in(self.tag, document)


def _standing_in(room: str, document: Building) -> tuple[str, ...]:
    return tuple(device.tag for device in document.devices if device.room == room)


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
    outline: Annotated[tuple[Point, ...], Shows("outer_walls", ALL, "coordinates", drawn=True)] = Field(
        default=(),
        description="Corners of its outer walls in the building, m; empty where not given.",
    )
    walls: Annotated[
        tuple[tuple[str, str, tuple[Point, ...]], ...],
        Shows("walls", ALL, ("tag", "text", "coordinates"), drawn=True),
    ] = Field(
        default=(), description="Tag, construction and points in the building of the walls given on it."
    )
    shared_opening_m: Annotated[
        float, Shows("cables_share_an_opening_within", ALL, "length", drawn=True, follows=True)
    ] = Field(default=0.8, description="So near to one another cables are led to one opening in a wall, m.")
    wall_sleeves: Annotated[
        tuple[tuple[str, str], ...], Shows("sleeves", NOT_CLIENT, ("tag", "text"), follows=True)
    ] = Field(
        default=(),
        description="Tag of each opening in a wall, and the sleeves to set or the hole to make there.",
    )

    @gathered(Shows("rooms", ALL, "tag", link="tag"))
    def rooms(self, document: Building) -> tuple[str, ...]:
        """Tags of the rooms on it."""
        return tuple(room.tag for room in document.rooms if room.storey == self.tag)


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
    outline: Annotated[tuple[Point, ...], Shows("corners", NOT_CLIENT, "coordinates", drawn=True)] = Field(
        default=(), description="Corners of its walls in the building, m; empty where they are not given."
    )
    doors: Annotated[
        tuple[tuple[str, Point, float], ...],
        Shows("doors", NOT_CLIENT, ("tag", "coordinates", "length"), drawn=True),
    ] = Field(default=(), description="Tag, middle and width of its doors, in the building, m.")
    outlets_at: Annotated[Point | None, Shows("mains_outlets_at", NOT_CLIENT, "coordinates", drawn=True)] = (
        Field(default=None, description="Where the outlets for its racks are, m; None where nobody says.")
    )
    earthing_at: Annotated[Point | None, Shows("earthing_bar_at", NOT_CLIENT, "coordinates", drawn=True)] = (
        Field(default=None, description="Where its earthing bar is, m; None where nobody says.")
    )
    switch_ports: Annotated[
        int, Shows("switch_ports", NOT_CLIENT, "count", zero=False, subject="ports", follows=True)
    ] = Field(default=0, description="Ports for devices of all switches in it, of the owner's those free.")
    ports_used: Annotated[
        int, Shows("used", NOT_CLIENT, "count", zero=False, subject="ports", follows=True)
    ] = Field(default=0, description="Those in use.")
    ports_spare: Annotated[
        int, Shows("spare", NOT_CLIENT, "count", zero=False, subject="ports", follows=True)
    ] = Field(default=0, description="Those left.")
    ports_spare_wanted: Annotated[
        int, Shows("spare_wanted", NOT_CLIENT, "count", zero=False, subject="ports", follows=True)
    ] = Field(default=0, description="Ports to be left free over all of them.")
    ports_verdict: Annotated[
        str, Shows("verdict_on_spare_ports", NOT_CLIENT, "verdict", subject="ports", follows=True)
    ] = Field(default="", description="holds or fails; empty where it has no switch.")

    @gathered(Shows("rooms_served", ALL, "tag", link="tag"))
    def rooms_served(self, document: Building) -> tuple[str, ...]:
        """Tags of the rooms that it serves."""
        return tuple(room.tag for room in document.rooms if room.equipment_room == self.tag)

    @gathered(Shows("equipment", ALL, "tag", link="tag", sorted=True))
    def devices(self, document: Building) -> tuple[str, ...]:
        """Tags of the devices in it."""
        return _standing_in(self.tag, document)
