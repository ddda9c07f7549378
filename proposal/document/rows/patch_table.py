"""Rows of the patch table."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import NOT_CLIENT, Row, Schedule, Shows


class PatchRow(Row):
    """One join of the network, from the device's port to the switch's."""

    schedule: ClassVar = Schedule("patch", subject="ports", key=("identity",))

    identity: Annotated[str, Shows("cable_or_cord", NOT_CLIENT, "tag")] = Field(
        default="", description="Identity of its cable; of its cord, where a cord alone joins two devices."
    )
    device: Annotated[str, Shows("device", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of what is joined."
    )
    device_port: Annotated[str, Shows("port", NOT_CLIENT)] = Field(default="", description="Its port.")
    first_cord: Annotated[str, Shows("cord_at_the_device", NOT_CLIENT, "tag", empty="none")] = Field(
        default="", description="Model code of the cord there."
    )
    first_panel: Annotated[str, Shows("from_panel", NOT_CLIENT, empty="none")] = Field(
        default="", description="Rack and panel port where a cable from rack to rack begins."
    )
    cable: Annotated[str, Shows("type", NOT_CLIENT, "tag", empty="cord alone")] = Field(
        default="", description="Model code of the cable."
    )
    panel: Annotated[str, Shows("panel_port", NOT_CLIENT, empty="none")] = Field(
        default="", description="Rack and panel port where it ends; none where it ends in a device."
    )
    last_cord: Annotated[str, Shows("cord_at_the_switch", NOT_CLIENT, "tag", empty="none")] = Field(
        default="", description="Model code of the cord from there to the switch, or to the PoE source."
    )
    source: Annotated[str, Shows("poe_source", NOT_CLIENT, "tag", link="tag", empty="none")] = Field(
        default="", description="Tag of the PoE source to which that cord leads, before the switch."
    )
    source_cord: Annotated[str, Shows("cord_from_the_source", NOT_CLIENT, "tag", empty="none")] = Field(
        default="", description="Model code of the cord from the PoE source to the switch."
    )
    switch: Annotated[str, Shows("switch", NOT_CLIENT, "tag", link="tag", empty="owner's network")] = Field(
        default="", description="Tag of the switch, or of the breakout that holds it."
    )
    switch_port: Annotated[str, Shows("switch_port", NOT_CLIENT)] = Field(default="", description="Its port.")
