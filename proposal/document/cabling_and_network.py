"""Cables, pathways, network, racks, power and sound: the third part of a document."""

from typing import Annotated

from pydantic import Field

from proposal.document.rows.cable_types import CableTypeRow
from proposal.document.rows.cabling import CableRow, CableTotal, RiserLine
from proposal.document.rows.loudspeaker_lines import LineLoudspeakerRow, LoudspeakerLineRow
from proposal.document.rows.mains import CircuitRow, EnergyRow, MainsLoadRow, MainsOutletRow
from proposal.document.rows.network import (
    NetworkHostRow,
    NetworkModelRow,
    NetworkQuestionRow,
    NetworkUseRow,
    SwitchTrafficRow,
    VlanRow,
)
from proposal.document.rows.patch_table import PatchRow
from proposal.document.rows.pathways import ContentRow, NodeRow, PathwayRow, PenetrationRow, PullRow
from proposal.document.rows.power import PortRow, SwitchRow
from proposal.document.rows.racks import RackPlaceRow, RackRow
from proposal.document.rows.sound import AudioEndRow, ChannelRow, ControlRow, SettingRow, StreamRow
from proposal.document.rows.standby import PowerPathRow, RoomWithoutMainsRow, StandbySupplyRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.document.schedule import ALL, NOT_CLIENT, Row, Shows


class CablingAndNetwork(Row):
    """What a document says of cables, network, power and sound."""

    riser_lines: Annotated[tuple[RiserLine, ...], Shows("riser_lines", ALL, "rows", follows=True)] = Field(
        description="Cables by room and type."
    )
    cable_totals: Annotated[tuple[CableTotal, ...], Shows("cable_by_type", ALL, "rows", follows=True)] = (
        Field(description="Cables by type.")
    )
    cable_types: Annotated[tuple[CableTypeRow, ...], Shows("cable_types", NOT_CLIENT, "rows")] = Field(
        default=(), description="Types of cable and cord by model."
    )
    cables: Annotated[tuple[CableRow, ...], Shows("cable_schedule", NOT_CLIENT, "rows")] = Field(
        default=(), description="Cables by identity."
    )
    switches: Annotated[tuple[SwitchRow, ...], Shows("switches", NOT_CLIENT, "rows")] = Field(
        default=(), description="Switches by tag."
    )
    nodes: Annotated[tuple[NodeRow, ...], Shows("nodes", NOT_CLIENT, "rows")] = Field(
        default=(), description="Nodes of pathways by tag."
    )
    pathways: Annotated[tuple[PathwayRow, ...], Shows("pathways", NOT_CLIENT, "rows")] = Field(
        default=(), description="Pathways by tag."
    )
    pathway_contents: Annotated[
        tuple[ContentRow, ...], Shows("contents_of_pathways", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Cables of each type in each pathway.")
    penetrations: Annotated[tuple[PenetrationRow, ...], Shows("openings_to_close", ALL, "rows")] = Field(
        default=(), description="Openings through rated walls and floors."
    )
    pulls: Annotated[tuple[PullRow, ...], Shows("pulls_through_conduits", NOT_CLIENT, "rows")] = Field(
        default=(), description="Conduits as cables are pulled through them."
    )
    switch_links: Annotated[tuple[SwitchLinkRow, ...], Shows("links_between_switches", ALL, "rows")] = Field(
        default=(), description="Links between switches, by the farther switch."
    )
    vlans: Annotated[tuple[VlanRow, ...], Shows("vlans", ALL, "rows", follows=True)] = Field(
        default=(), description="VLANs that the system uses, that of audio first."
    )
    network_hosts: Annotated[
        tuple[NetworkHostRow, ...], Shows("devices_on_the_network", ALL, "rows", follows=True)
    ] = Field(default=(), description="Everything on the network by tag, with what it sends and takes.")
    switch_traffic: Annotated[
        tuple[SwitchTrafficRow, ...], Shows("traffic_of_switches", ALL, "rows", follows=True)
    ] = Field(default=(), description="What passes each switch, and what it has to hold.")
    network_uses: Annotated[tuple[NetworkUseRow, ...], Shows("to_be_opened", ALL, "rows", follows=True)] = (
        Field(default=(), description="Uses of the network, and what has to be opened for them.")
    )
    network_models: Annotated[
        tuple[NetworkModelRow, ...], Shows("models_on_the_network", ALL, "rows", follows=True)
    ] = Field(default=(), description="Models on the network: how they are found and kept.")
    network_questions: Annotated[
        tuple[NetworkQuestionRow, ...], Shows("questions_about_the_network", ALL, "rows", follows=True)
    ] = Field(default=(), description="What the network team and makers are to be asked.")
    patches: Annotated[tuple[PatchRow, ...], Shows("patch_table", NOT_CLIENT, "rows", follows=True)] = Field(
        default=(), description="Joins of the network from end to end, by identity."
    )
    racks: Annotated[tuple[RackRow, ...], Shows("racks", NOT_CLIENT, "rows")] = Field(
        default=(), description="Racks by tag."
    )
    rack_places: Annotated[
        tuple[RackPlaceRow, ...], Shows("rack_places", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="What stands in each rack, from above downwards.")
    circuits: Annotated[tuple[CircuitRow, ...], Shows("load_schedule", ALL, "rows", follows=True)] = Field(
        default=(), description="Mains circuits by place."
    )
    mains_outlets: Annotated[
        tuple[MainsOutletRow, ...], Shows("mains_outlets", ALL, "rows", follows=True)
    ] = Field(default=(), description="Mains outlets by circuit.")
    mains_loads: Annotated[tuple[MainsLoadRow, ...], Shows("mains_loads", ALL, "rows", follows=True)] = Field(
        default=(), description="What every device takes from the mains, by name."
    )
    standby_supplies: Annotated[
        tuple[StandbySupplyRow, ...], Shows("standby_supplies", ALL, "rows", follows=True)
    ] = Field(default=(), description="Standby supplies by tag.")
    rooms_without_mains: Annotated[
        tuple[RoomWithoutMainsRow, ...], Shows("rooms_without_mains", ALL, "rows", follows=True)
    ] = Field(default=(), description="What every room keeps when the mains fails, where anything does.")
    power_paths: Annotated[tuple[PowerPathRow, ...], Shows("power_paths", ALL, "rows", follows=True)] = Field(
        default=(),
        description="What feeds devices that are not plugged into the mains, where any stays up.",
    )
    energy: Annotated[tuple[EnergyRow, ...], Shows("energy_and_heat", ALL, "rows", follows=True)] = Field(
        default=(), description="Energy in a year and heat by room and equipment room."
    )
    ports: Annotated[tuple[PortRow, ...], Shows("switch_ports", NOT_CLIENT, "rows")] = Field(
        default=(), description="Switch ports in order."
    )
    channels: Annotated[tuple[ChannelRow, ...], Shows("channel_list", NOT_CLIENT, "rows")] = Field(
        default=(), description="Microphones and the way of their sound, by room."
    )
    streams: Annotated[tuple[StreamRow, ...], Shows("streams_of_networked_audio", NOT_CLIENT, "rows")] = (
        Field(default=(), description="Streams of networked audio by number.")
    )
    audio_ends: Annotated[tuple[AudioEndRow, ...], Shows("inputs_and_outputs", NOT_CLIENT, "rows")] = Field(
        default=(), description="Inputs and outputs of mixers and breakouts beside the microphones'."
    )
    loudspeaker_lines: Annotated[
        tuple[LoudspeakerLineRow, ...], Shows("loudspeaker_lines", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Loudspeaker lines by room and channel.")
    line_loudspeakers: Annotated[
        tuple[LineLoudspeakerRow, ...], Shows("line_loudspeakers", NOT_CLIENT, "rows", follows=True)
    ] = Field(default=(), description="Loudspeakers on lines, from the amplifier on.")
    settings: Annotated[tuple[SettingRow, ...], Shows("configuration_sheets", NOT_CLIENT, "rows")] = Field(
        default=(), description="Configuration sheets, in the order of the work."
    )
    controls: Annotated[tuple[ControlRow, ...], Shows("control_points", NOT_CLIENT, "rows")] = Field(
        default=(), description="What a control system can read or set, by device."
    )
