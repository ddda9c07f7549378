"""Rows of the links between switches."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows


class SwitchLinkRow(Row):
    """A link between two switches, with what passes it."""

    schedule: ClassVar = Schedule("switch_link", subject="ports", key=("identity",))

    identity: Annotated[str, Shows("link_between", ALL, "tag")] = Field(
        default="",
        description="Identity of its cable or cord: the farther switch, its port, and where it ends.",
    )
    from_switch: Annotated[str, Shows("from", ALL, "tag", link="tag")] = Field(
        default="", description="Tag of the switch that is farther from the first one."
    )
    from_port: Annotated[str, Shows("from_port", ALL)] = Field(default="", description="Its uplink port.")
    to_switch: Annotated[str, Shows("to", ALL, "tag", link="tag", empty="owner's network")] = Field(
        default="", description="Tag of the switch that is nearer; empty for the owner's network."
    )
    to_port: Annotated[str, Shows("to_port", ALL)] = Field(
        default="", description="Its uplink port, or the port of the owner's network."
    )
    verdict: Annotated[str, Shows("verdict", ALL, "verdict")] = Field(
        default="", description="holds or fails."
    )
    medium: Annotated[str, Shows("medium", ALL, "word", empty="none suits")] = Field(
        default="", description="copper or fibre; empty where nothing of the library joins them."
    )
    module: Annotated[str, Shows("module_at_each_end", NOT_CLIENT, "tag", link="model", empty="none")] = (
        Field(default="", description="Model code of the fibre module in each port.")
    )
    length_m: Annotated[float, Shows("length", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=0.0, description="Of its cable, or of its one cord in a room, m."
    )
    reach_m: Annotated[float | None, Shows("reach", NOT_CLIENT, "length", subject="lengths")] = Field(
        default=None, description="Farthest that its modules drive, cords included, m."
    )
    speed_bit_s: Annotated[float, Shows("speed", ALL, "speed of a port")] = Field(
        default=0.0, description="Data rate of the link, bit/s."
    )
    inwards_bit_s: Annotated[float, Shows("load_inwards", ALL, "bits per second", follows=True)] = Field(
        default=0.0, description="What passes towards the first switch, bit/s."
    )
    outwards_bit_s: Annotated[float, Shows("load_outwards", ALL, "bits per second", follows=True)] = Field(
        default=0.0, description="What passes away from the first switch, bit/s."
    )
    streams_in: Annotated[int, Shows("streams_inwards", ALL, "count", follows=True)] = Field(
        default=0, description="Streams that pass towards the first switch."
    )
    streams_out: Annotated[int, Shows("streams_outwards", ALL, "count", follows=True)] = Field(
        default=0, description="Streams that pass away from the first switch."
    )
    audio_in_bit_s: Annotated[
        float, Shows("audio_inwards", ALL, "bits per second", zero=False, follows=True)
    ] = Field(
        default=0.0,
        description="What those streams take, each packet with 4 bytes for the VLAN tag, bit/s.",
    )
    audio_out_bit_s: Annotated[
        float, Shows("audio_outwards", ALL, "bits per second", zero=False, follows=True)
    ] = Field(
        default=0.0,
        description="What the streams away take, each packet with 4 bytes for the VLAN tag, bit/s.",
    )
    control_bit_s: Annotated[
        float, Shows("control_of_what_is_beyond", ALL, "bits per second", zero=False, follows=True)
    ] = Field(
        default=0.0,
        description="Control and monitoring of all devices beyond the link, in each direction, bit/s.",
    )
