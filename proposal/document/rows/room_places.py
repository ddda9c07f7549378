"""Rows of places in a room: levels, rows of seats, wired microphones, assistive listening."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, Row, Schedule, Shows

Point = tuple[float, float]


class LevelRow(Row):
    """A part of a kind of room whose floor lies higher or lower."""

    schedule: ClassVar = Schedule("room_level", subject="rooms", key=("code",))

    code: Annotated[str, Shows("level", ALL, "tag")] = Field(description="Code within the room.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="What it is called.")
    height_m: Annotated[float, Shows("above_the_floor", ALL, "position")] = Field(
        description="Its floor above the floor of the room, m; below 0 where it lies deeper."
    )
    area_m2: Annotated[float, Shows("area", ALL, "area")] = Field(description="Floor area, m².")
    seats: Annotated[int, Shows("seats", ALL, "count", sums=True)] = Field(description="Seats on it.")
    microphones: Annotated[int, Shows("microphones", ALL, "count", sums=True)] = Field(
        description="Microphones on it, on a cable or not."
    )


class PlaceRow(Row):
    """Seats or microphones in a row, an arc or a grid of a kind of room."""

    schedule: ClassVar = Schedule("row_of_places", subject="rooms", key=("code",))

    code: Annotated[str, Shows("row", ALL, "tag")] = Field(description="Name of the row, or of its grid.")
    holds: Annotated[str, Shows("holds", ALL)] = Field(
        description="What stands in it: seats, or form and pattern of its microphones."
    )
    rows: Annotated[tuple[str, ...], Shows("rows_behind_one_another", ALL, "tag")] = Field(
        default=(), description="Codes of the rows of a grid."
    )
    numbers: Annotated[str, Shows("numbers", ALL)] = Field(
        description="Numbers in the order in which they stand."
    )
    places: Annotated[int, Shows("places", ALL, "count", sums=True)] = Field(
        description="Places in all its rows."
    )
    first: Annotated[Point, Shows("first_place", ALL, "coordinates")] = Field(
        description="Position of the first one, m."
    )
    last: Annotated[Point, Shows("last_place", ALL, "coordinates")] = Field(
        description="Position of the last one, m."
    )
    arc_m: Annotated[float, Shows("height_of_the_arc", ALL, "length", zero=False)] = Field(
        default=0.0, description="How far the middle of the row stands out to its left, m."
    )
    step: Annotated[Point | None, Shows("step_from_row_to_row", ALL, "coordinates")] = Field(
        default=None, description="From each row of a grid to the next, m."
    )
    level: Annotated[str, Shows("level", ALL, "tag")] = Field(
        default="", description="Code of the level it stands on; empty for the floor of the room."
    )
    serves: Annotated[str, Shows("serves", ALL, "tag")] = Field(
        default="", description="Row of seats that its microphones serve."
    )
    mute_group: Annotated[str, Shows("mute_group", ALL)] = Field(default="", description="Mute group.")
    return_audio: Annotated[bool, Shows("return_audio", ALL, "flag")] = Field(
        default=False, description="Whether talkers hear return audio at its microphones."
    )


class WiredMicrophoneRow(Row):
    """One wired microphone of a kind of room."""

    schedule: ClassVar = Schedule("wired_microphone", subject="rooms", key=("code",))

    code: Annotated[str, Shows("microphone", ALL, "tag")] = Field(
        description="Code within the room, such as W1."
    )
    form: Annotated[str, Shows("form", ALL, "word")] = Field(
        description="Gooseneck, boundary, handheld or hanging."
    )
    pattern: Annotated[str, Shows("pattern", ALL)] = Field(description="Pickup pattern.")
    at: Annotated[Point, Shows("position", ALL, "coordinates")] = Field(
        description="Position in the room's own coordinates, m."
    )
    height_m: Annotated[float, Shows("height", ALL, "position")] = Field(
        description="Height above the floor of the room, m."
    )
    level: Annotated[str, Shows("level", ALL, "tag")] = Field(
        default="", description="Code of the level it stands on; empty for the floor of the room."
    )
    seat: Annotated[str, Shows("seat", ALL)] = Field(description="Tag and name of the seat it serves.")
    mute_group: Annotated[str, Shows("mute_group", ALL)] = Field(description="Mute group.")
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    input: Annotated[str, Shows("input", ALL, "tag")] = Field(
        default="", description="Input of the mixer in the first room of the kind; empty where none is left."
    )
    phantom_a: Annotated[float, Shows("phantom_power_takes", ALL, "milliamperes", zero=False)] = Field(
        default=0.0, description="Current that it takes from phantom power of 48 V, A."
    )
    given_a: Annotated[float, Shows("phantom_power_gives", ALL, "milliamperes", zero=False)] = Field(
        default=0.0, description="Current that its input gives, A."
    )


class AssistiveRow(Row):
    """Assistive listening of a kind of room: what its seats ask for, and what it has."""

    schedule: ClassVar = Schedule("assistive_listening", subject="rooms", key=("seats",))

    seats: Annotated[int, Shows("seats", ALL, "count")] = Field(description="Seats in the room.")
    asked_by: Annotated[str, Shows("asked_by", ALL)] = Field(
        description="Code, law or contract that asks for it, or that none is named."
    )
    receivers_wanted: Annotated[int, Shows("receivers_wanted", ALL, "count")] = Field(
        description="Receivers that the seats ask for."
    )
    receivers: Annotated[int, Shows("receivers", ALL, "count")] = Field(description="Receivers.")
    compatible_wanted: Annotated[int, Shows("for_hearing_aids_wanted", ALL, "count")] = Field(
        description="Receivers that hearing aids have to be able to use."
    )
    compatible: Annotated[int, Shows("for_hearing_aids", ALL, "count")] = Field(
        description="Receivers that they can use, with a neck loop or by themselves."
    )
    neck_loops: Annotated[int, Shows("neck_loops", ALL, "count")] = Field(description="Neck loops.")
    area_m2: Annotated[float, Shows("area_with_levels", ALL, "area")] = Field(
        description="Floor area with the levels above it, m²."
    )
    carrier: Annotated[str, Shows("carried_by", ALL, "word", empty="none_stated")] = Field(
        default="", description="What carries the sound: infrared, radio or induction loop."
    )
    not_allowed: Annotated[tuple[tuple[str, str], ...], Shows("not_allowed", ALL, ("word", "text"))] = Field(
        default=(), description="What may not carry it, each with the reason."
    )
    transmitters: Annotated[int, Shows("transmitters", ALL, "count")] = Field(description="Transmitters.")
    chargers: Annotated[int, Shows("chargers_for_receivers", ALL, "count")] = Field(
        description="Chargers for receivers."
    )
    slots: Annotated[int, Shows("places_in_them", ALL, "count")] = Field(
        description="Receivers that they hold."
    )
    signs: Annotated[int, Shows("signs", ALL, "count")] = Field(
        description="Signs that tell of assistive listening."
    )
