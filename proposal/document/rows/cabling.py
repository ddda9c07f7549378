"""Rows of cables: every cable, its totals, and what runs from where to where."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.room_contents import Point
from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows, composed


class CableRow(Row):
    """One cable."""

    schedule: ClassVar = Schedule(
        "cable",
        subject="cabling",
        key=("identity",),
        views={
            "check": "identity verdict room signal type jacket estimated_m slack_m length_from "
            "length_m cords_m channel_m limit_m margin_m temperature_c",
            "pull": "identity type description jacket from_tag to_tag to_storey pathways route rises_at "
            "comes_down_at first_run_m last_run_m floor_m length_m",
            "terminate": "identity signal from_tag from_port from_connector from_panel to_tag to_port "
            "to_connector type",
            "test": "identity verdict from_tag to_tag type length_m limit_m measured_on_site tested",
            "price": "identity room signal type description jacket estimated_m slack_m length_m",
        },
    )

    identity: Annotated[str, Shows("cable", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Device, its port and what it ends in."
    )
    room: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the room it serves."
    )
    signal: Annotated[str, Shows("signal", NOT_CLIENT, "word")] = Field(
        default="", description="Network, fibre, loudspeaker line, analogue."
    )
    from_tag: Annotated[str, Shows("from", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Device."
    )
    from_port: Annotated[str, Shows("from_port", NOT_CLIENT)] = Field(
        default="", description="Port of the device."
    )
    from_connector: Annotated[str, Shows("from_connector", NOT_CLIENT)] = Field(
        default="", description="What the cable ends in there: a connector on it, or the outlet."
    )
    from_panel: Annotated[str, Shows("from_panel", NOT_CLIENT)] = Field(
        default="", description="Rack and panel port where it begins, of a cable from rack to rack."
    )
    to_tag: Annotated[str, Shows("to", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Equipment it ends in."
    )
    to_port: Annotated[str, Shows("to_port", NOT_CLIENT)] = Field(default="", description="Port there.")
    to_connector: Annotated[str, Shows("to_connector", NOT_CLIENT)] = Field(
        default="", description="What the cable ends in there: a connector on it, or a jack of the panel."
    )
    type: Annotated[str, Shows("type", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code of the cable."
    )
    description: Annotated[str, Shows("description", NOT_CLIENT)] = Field(
        default="", description="What the cable is."
    )
    jacket: Annotated[str, Shows("jacket", NOT_CLIENT)] = Field(default="", description="Jacket rating.")
    route: Annotated[str, Shows("route", NOT_CLIENT, folds=True)] = Field(
        default="", description="Way it takes, in words."
    )
    pathways: Annotated[tuple[str, ...], Shows("pathways", NOT_CLIENT, "tag", link="tag")] = Field(
        default=(), description="Tags of its pathways, in order."
    )
    turns: Annotated[tuple[Point, ...], Shows("position", NOT_CLIENT, "coordinates", drawn=True)] = Field(
        default=(), description="Where it enters and leaves pathways or a shaft, in the building, m."
    )
    rises_at: Annotated[Point | None, Shows("goes_up_at", NOT_CLIENT, "coordinates")] = Field(
        default=None, description="Where it goes up at a wall to what lies above its device, m."
    )
    comes_down_at: Annotated[Point | None, Shows("comes_down_at", NOT_CLIENT, "coordinates")] = Field(
        default=None, description="Where it comes down at a wall to the device of its room, m."
    )
    conduit: Annotated[str, Shows("conduit_in_the_wall", NOT_CLIENT)] = Field(
        default="",
        description="Conduit in the wall where it goes up or comes down, as the place sells it, and what "
        "lies in it; empty where it does neither.",
    )
    first_run_m: Annotated[float | None, Shows("first_run_at", NOT_CLIENT, "length")] = Field(
        default=None, description="Height of its first level run outside pathways above the floor, m."
    )
    last_run_m: Annotated[float | None, Shows("last_run_at", NOT_CLIENT, "length")] = Field(
        default=None, description="Height of its last level run outside pathways above the floor there, m."
    )
    floor_m: Annotated[float, Shows("on_the_floor", NOT_CLIENT, "length", sums=True, subject="lengths")] = (
        Field(default=0.0, description="What of it lies along the floor of a room, in or under something, m.")
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
    slack_from_m: Annotated[
        float | None, Shows("slack_at_devices", NOT_CLIENT, "length", subject="lengths")
    ] = Field(default=None, description="Slack left where it begins, m.")
    slack_to_m: Annotated[
        float | None, Shows("slack_at_far_ends", NOT_CLIENT, "length", subject="lengths")
    ] = Field(default=None, description="Slack left where it ends, m.")
    measured: Annotated[bool, Shows("measured", NOT_CLIENT, "flag")] = Field(
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
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict", empty="no_longest_link")] = Field(
        default="", description="holds or fails; empty where nothing is checked."
    )

    @composed(Shows("length_from", NOT_CLIENT, "word", together=True))
    def length_from(self) -> str:
        """Where its length comes from."""
        return "measured" if self.measured else "estimate"

    @composed(Shows("measured_on_site", NOT_CLIENT, "blank"))
    def measured_on_site(self) -> str:
        """Its length as measured on site, to be filled in."""
        return ""

    @composed(Shows("tested_by_date", NOT_CLIENT, "blank"))
    def tested(self) -> str:
        """Who tested it and when, to be filled in."""
        return ""


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
