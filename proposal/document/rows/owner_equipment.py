"""Rows of what the owner furnishes: what it needs, and how it is joined."""

import datetime
from collections.abc import Sequence
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.programme import Planned
from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows, gathered
from proposal.quantities.formatting import listed

FIRST_FIX, SECOND_FIX = "first fix", "second fix"


class Storeyed(Protocol):
    """What stands on a storey."""

    @property
    def tag(self) -> str:
        """Tag of the room."""

    @property
    def storey(self) -> str:
        """Tag of the storey."""


class PlannedRooms(Planned, Protocol):
    """What has a programme, and rooms on storeys."""

    @property
    def rooms(self) -> Sequence[Storeyed]:
        """Rooms."""

    @property
    def equipment_rooms(self) -> Sequence[Storeyed]:
        """Equipment rooms."""

    @property
    def parties(self) -> Sequence[tuple[str, str]]:
        """Letters and names of the parties."""


class OwnerEquipmentRow(Row):
    """One thing that the owner furnishes, with what it needs."""

    schedule: ClassVar = Schedule("owner_equipment", subject="equipment", key=("tag",))

    tag: Annotated[str, Shows("device", ALL, "tag", link="tag")] = Field(description="Tag.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="What the owner calls it.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Sort of equipment, in words.")
    room: Annotated[str, Shows("room", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room it stands in."
    )
    location: Annotated[str, Shows("location", ALL, link="tag")] = Field(
        description="Where it stands: table, rack tag."
    )
    serves: Annotated[tuple[str, ...], Shows("rooms_served", ALL, ("tag",), link="tag")] = Field(
        description="Tags of the rooms it takes part in."
    )
    parties: Annotated[tuple[str, ...], Shows("parties", ALL, drawn=True)] = Field(
        default=(), description="Letters of the parties that furnish it and put it in place."
    )
    rack_units: Annotated[int, Shows("rack_units", ALL, "count", zero=False)] = Field(
        description="Rack units to be kept for it; 0 where it stands elsewhere."
    )
    power_w: Annotated[float, Shows("typical_power", ALL, "watts", zero=False)] = Field(
        description="Power from the mains, W."
    )
    heat_w: Annotated[float, Shows("heat_given_off", ALL, "watts", zero=False)] = Field(
        description="Heat to be carried off, W."
    )
    network_ports: Annotated[int, Shows("ports_on_the_network", ALL, "count", zero=False)] = Field(
        description="Network ports that it needs."
    )
    audio_ports: Annotated[int, Shows("ports_for_audio", ALL, "count", zero=False)] = Field(
        description="Analogue and USB ports of it that are joined."
    )
    spare_ports: Annotated[int, Shows("ports_spare", ALL, "count")] = Field(
        description="Ports of it that may be used and are not."
    )
    addresses: Annotated[tuple[str, ...], Shows("address", NOT_CLIENT, ("text",))] = Field(
        default=(), description="Network addresses given to it."
    )

    @gathered(Shows("furnished_by", ALL))
    def furnished_by(self, document: PlannedRooms) -> str:
        """Names of the parties that furnish it and put it in place."""
        names = dict(document.parties)
        return listed([names.get(one, one) for one in self.parties])

    @gathered(Shows("in_place_by", ALL, "date"))
    def in_place_by(self, document: PlannedRooms) -> datetime.date | None:
        """Day on which second fix begins on its storey; none without a programme."""
        places = (*document.rooms, *document.equipment_rooms)
        storeys = {one.storey for one in places if one.tag == self.room}
        days = [one.start for one in document.activities if one.kind == SECOND_FIX and one.storey in storeys]
        return min(days, default=None)


class OwnerJoinRow(Row):
    """One port of the owner's equipment, and what it is joined to."""

    schedule: ClassVar = Schedule(
        "owner_join", subject="equipment", key=("device", "joined_to", "joined_port", "carries")
    )

    device: Annotated[str, Shows("device", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the owner's equipment."
    )
    port: Annotated[str, Shows("port", NOT_CLIENT, empty="none_left")] = Field(
        default="", description="Its port; empty where it has none left."
    )
    connector: Annotated[str, Shows("connector_there", NOT_CLIENT)] = Field(
        default="", description="Connector there."
    )
    signal: Annotated[str, Shows("signal", NOT_CLIENT, "word")] = Field(
        default="", description="What passes: network, analogue or USB."
    )
    carries: Annotated[str, Shows("carries", NOT_CLIENT)] = Field(
        default="", description="What it is for, in words."
    )
    joined_to: Annotated[str, Shows("joined_to", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the mixer, breakout or switch at the other end."
    )
    joined_port: Annotated[str, Shows("to_port", NOT_CLIENT)] = Field(default="", description="Port there.")
    joined_connector: Annotated[str, Shows("to_connector", NOT_CLIENT)] = Field(
        default="", description="Connector of the mixer or breakout there; empty for a switch."
    )
    cable: Annotated[str, Shows("cable_or_cord", NOT_CLIENT, "tag", empty="cord alone")] = Field(
        default="", description="Identity of the cable between them; empty where a cord joins them."
    )
