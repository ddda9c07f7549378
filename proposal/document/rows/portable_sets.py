"""Rows about portable sets, the places where they are used, and their microphones there."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows

Point = tuple[float, float]


class PortableSetRow(Row):
    """A portable set: a cart that is one and the same in all states of the building."""

    schedule: ClassVar = Schedule("portable_set", subject="rooms", key=("tag",))

    tag: Annotated[str, Shows("set", ALL, "tag", link="tag")] = Field(description="Its tag.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="What the client calls it.")
    microphones: Annotated[int, Shows("microphones", ALL, "count")] = Field(
        description="Microphones in use at once."
    )
    charger: Annotated[str, Shows("chargers_are", ALL)] = Field(
        description="with the set, or where it is kept."
    )
    lowest: Annotated[float | None, Shows("lowest_aged_battery", ALL, "share")] = Field(
        default=None, description="Lowest state of charge of any day, batteries at the end of their life."
    )
    reserve: Annotated[float, Shows("reserve_wanted", ALL, "share")] = Field(
        description="State of charge that is to be left."
    )
    put_away_in: Annotated[tuple[str, ...], Shows("put_away_in", ALL, empty="none")] = Field(
        description="States in which it is put away."
    )


class PortableUseRow(Row):
    """A portable set in a place, in states that are alike for radio."""

    schedule: ClassVar = Schedule("portable_use", subject="rooms", key=("set", "states"))

    set: Annotated[str, Shows("set", ALL, "tag", link="tag")] = Field(description="Tag of the set.")
    states: Annotated[tuple[str, ...], Shows("states", ALL)] = Field(description="Names of the states.")
    place: Annotated[str, Shows("place", ALL)] = Field(
        description="Where it stands: tag and name of a room, or what the place outdoors is called."
    )
    key_of_place: Annotated[str, Shows("key_of_the_place", ALL)] = Field(
        default="", description="Key of the place, as the project names it."
    )
    room: Annotated[str, Shows("room", ALL, "tag", link="tag", empty="outdoors")] = Field(
        default="", description="Tag of the room it stands in; empty outdoors."
    )
    needs: Annotated[str, Shows("needs_there", ALL, empty="nothing")] = Field(
        description="What it needs of the place, such as an outlet; empty for nothing."
    )
    outlet: Annotated[bool, Shows("outlet_there", ALL, "flag")] = Field(
        description="Whether an outlet of the mains is there."
    )
    outlet_marks: Annotated[tuple[str, ...], Shows("outlet_mark", ALL, "tag", empty="none")] = Field(
        default=(), description="Marks of the outlets there that its leads are plugged into."
    )
    outcome: Annotated[str, Shows("plan", ALL, "verdict")] = Field(
        description="planned, impossible or not settled: whether all microphones have room on the air then."
    )
    missing: Annotated[int, Shows("without_a_place", ALL, "count")] = Field(
        description="Microphones for which no place on the air was found then, of rooms and sets."
    )
    storey: Annotated[str, Shows("storey", ALL, "tag", link="tag")] = Field(
        default="", description="Tag of the storey on whose height the place lies."
    )
    outline: Annotated[tuple[Point, ...], Shows("position", ALL, "coordinates", drawn=True)] = Field(
        default=(), description="Corners of the set's own outline there, in the building, m."
    )
    standing: Annotated[
        tuple[tuple[str, Point, float | None], ...],
        Shows("devices", ALL, ("tag", "coordinates", "length"), drawn=True),
    ] = Field(
        default=(),
        description="Tag, position in the building and height above the ground of each device that is taken "
        "there, m.",
    )
    worst_margin_db: Annotated[float | None, Shows("margin_of_the_weakest_microphone", NOT_CLIENT, "dB")] = (
        Field(default=None, description="Margin of its weakest microphone there, dB.")
    )


class PortableLinkRow(Row):
    """The link of a portable microphone in a place."""

    schedule: ClassVar = Schedule("portable_link", subject="radio", key=("microphone", "states"))

    microphone: Annotated[str, Shows("microphone", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Its tag."
    )
    states: Annotated[tuple[str, ...], Shows("states", NOT_CLIENT)] = Field(
        default=(), description="Names of the states."
    )
    place: Annotated[str, Shows("place", NOT_CLIENT)] = Field(default="", description="Where its set stands.")
    access_point: Annotated[str, Shows("access_point", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of its access point."
    )
    distance_m: Annotated[float, Shows("distance", NOT_CLIENT, "length")] = Field(
        default=0.0, description="From microphone to access point, m."
    )
    loss_db: Annotated[float, Shows("path_loss", NOT_CLIENT, "dB")] = Field(
        default=0.0, description="Loss of the path, dB: by free space outdoors."
    )
    margin_db: Annotated[float, Shows("margin", NOT_CLIENT, "dB")] = Field(
        default=0.0, description="Above sensitivity and fade margin, dB."
    )
    carrier: Annotated[int | None, Shows("carrier", NOT_CLIENT, "number")] = Field(
        default=None, description="Carrier, from 0."
    )
    slots: Annotated[
        tuple[int, ...], Shows("slot_pairs", NOT_CLIENT, "number", sorted=True, empty="none")
    ] = Field(default=(), description="Slot pairs of the frame on it, from 0.")
    further: Annotated[tuple[str, ...], Shows("slot_pairs_on_other_carriers", NOT_CLIENT)] = Field(
        default=(), description="Other carriers with their slot pairs, where a link spreads over carriers."
    )
