"""Cover, rooms and equipment: the first part of a document."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from proposal.document.rows.alternates import AlternateRow
from proposal.document.rows.contained_sound import ContainedSoundRow
from proposal.document.rows.equipment import DeviceRow, EquipmentLine
from proposal.document.rows.latency import LatencyRow
from proposal.document.rows.owner_equipment import OwnerEquipmentRow, OwnerJoinRow
from proposal.document.rows.pack_life import PackLifeRow
from proposal.document.rows.portable_sets import PortableLinkRow, PortableSetRow, PortableUseRow
from proposal.document.rows.rooms import EquipmentRoomRow, RoomRow, RoomSheet, StoreyRow
from proposal.document.rows.states import JoinedSoundRow, StateRow
from proposal.document.rows.terms import Cover
from proposal.document.schedule import ALL, HOUSE, NOT_CLIENT, Row, Shows

SCHEMA_VERSION = 4


class RoomsAndEquipment(Row):
    """What a document says of the building, its rooms and the equipment in them."""

    schema_version: Annotated[int, Shows("schema_version", ALL, "number")] = Field(
        default=SCHEMA_VERSION, description="Version of this layout."
    )
    program_version: Annotated[str, Shows("program_version", ALL)] = Field(
        description="Version of the program that computed it."
    )
    cover: Annotated[Cover, Shows("cover", ALL, "rows")] = Field(description="Cover.")
    included_alternates: Annotated[tuple[AlternateRow, ...], Shows("included_alternates", ALL, "rows")] = (
        Field(
            default=(), description="Alternates that are accepted and part of this, in order of application."
        )
    )
    words: Annotated[Mapping[str, str], Shows("words", ALL)] = Field(
        default={}, description="Words of headings and coded values, by section and key."
    )
    wording: Annotated[Mapping[str, str], Shows("wording", ALL)] = Field(
        description="The author's prose in Markdown, by name."
    )
    storeys: Annotated[tuple[StoreyRow, ...], Shows("storeys", ALL, "rows")] = Field(
        description="Storeys, lowest first."
    )
    equipment_rooms: Annotated[tuple[EquipmentRoomRow, ...], Shows("equipment_rooms", ALL, "rows")] = Field(
        description="Equipment rooms by tag."
    )
    room_sheets: Annotated[tuple[RoomSheet, ...], Shows("room_sheets", ALL, "rows")] = Field(
        description="Kinds of room as designed."
    )
    rooms: Annotated[tuple[RoomRow, ...], Shows("rooms", ALL, "rows")] = Field(description="Rooms by tag.")
    states: Annotated[tuple[StateRow, ...], Shows("states", ALL, "rows")] = Field(
        default=(), description="States in which the building is used, in the order written."
    )
    joined_sound: Annotated[tuple[JoinedSoundRow, ...], Shows("joined_sound", NOT_CLIENT, "rows")] = Field(
        default=(), description="The ways of sound between joined rooms, state by state."
    )
    latencies: Annotated[
        tuple[LatencyRow, ...], Shows("delay_of_sound", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="How long sound takes from microphones to those who listen.")
    contained_sound: Annotated[tuple[ContainedSoundRow, ...], Shows("contained_sound", ALL, "rows")] = Field(
        default=(), description="Rooms whose sound may not leave them."
    )
    portable_sets: Annotated[tuple[PortableSetRow, ...], Shows("portable_sets", ALL, "rows")] = Field(
        default=(), description="Portable sets by tag; none where the building has none."
    )
    portable_uses: Annotated[tuple[PortableUseRow, ...], Shows("portable_uses", ALL, "rows")] = Field(
        default=(), description="Where each portable set is used in which states."
    )
    portable_links: Annotated[tuple[PortableLinkRow, ...], Shows("portable_links", NOT_CLIENT, "rows")] = (
        Field(default=(), description="The link of each portable microphone in each place.")
    )
    devices: Annotated[tuple[DeviceRow, ...], Shows("equipment_by_device", ALL, "rows")] = Field(
        description="Devices by tag."
    )
    owner_equipment: Annotated[tuple[OwnerEquipmentRow, ...], Shows("owner_equipment", ALL, "rows")] = Field(
        default=(), description="Equipment of the owner by tag, with what it needs."
    )
    owner_joins: Annotated[
        tuple[OwnerJoinRow, ...], Shows("owner_joins", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Ports of the owner's equipment, and what they are joined to.")
    equipment: Annotated[
        tuple[EquipmentLine, ...], Shows("equipment_by_model", ALL, "rows", follows=True)
    ] = Field(description="Devices by model.")
    pack_lives: Annotated[
        tuple[PackLifeRow, ...], Shows("packs_over_the_years", ALL, "rows", follows=True)
    ] = Field(default=(), description="Packs of microphones over the years.")
    equipment_cost: Annotated[Decimal | None, Shows("equipment_cost", HOUSE, "money", subject="price")] = (
        Field(default=None, description="What all equipment costs us.")
    )
