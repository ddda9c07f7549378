"""Rows of what a room holds: microphones, sizes, criteria, destinations and its signal flow."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, Row, Schedule, Shows, composed

Point = tuple[float, float]


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
    height_m: Annotated[float | None, Shows("height", ALL, "position")] = Field(
        default=None, description="Height above the floor, m."
    )
    seat: Annotated[str, Shows("seat", ALL)] = Field(description="Tag and name of the seat it serves.")
    mounting: Annotated[str, Shows("mounting", ALL, "word")] = Field(
        default="", description="Where it is held: ceiling, wall, table, stand, furniture, hand or body."
    )
    return_audio: Annotated[bool, Shows("return_audio", ALL, "flag")] = Field(
        description="Whether the talker hears return audio."
    )
    switch: Annotated[str, Shows("switch", ALL, "word")] = Field(
        default="", description="What its switch does."
    )
    mute_group: Annotated[str, Shows("mute_group", ALL)] = Field(description="Mute group.")
    access_point: Annotated[str, Shows("access_point", ALL, "tag")] = Field(
        description="Code of the access point that serves it, such as AP1."
    )
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    accessories: Annotated[tuple[str, ...], Shows("accessories", ALL, "tag", link="model")] = Field(
        default=(), description="Model codes of what goes with it, such as a lavalier."
    )


class SizeRow(Row):
    """How many boxes of one model a kind of room takes, and why."""

    schedule: ClassVar = Schedule("size", subject="rooms", key=("kind", "model"))

    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of equipment.")
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    description: Annotated[str, Shows("description", ALL)] = Field(description="What it is.")
    quantity: Annotated[int, Shows("boxes", ALL, "count")] = Field(description="Boxes in one room.")
    capacity: Annotated[int, Shows("capacity_of_each", ALL, "count", zero=False)] = Field(
        description="Channels, slots or inputs of one box; of a charger, slots that take the room's forms."
    )
    other_slots: Annotated[int, Shows("slots_for_other_forms", ALL, "count", zero=False)] = Field(
        default=0, description="Slots of one charger that take other forms of microphone only."
    )
    slots_by_form: Annotated[tuple[str, ...], Shows("slots_by_form", ALL)] = Field(
        default=(),
        description="Of one charger whose slots differ: how many take which forms; empty for any other box.",
    )
    need: Annotated[int, Shows("need", ALL, "count")] = Field(
        description="Channels, slots or inputs the room needs of this kind."
    )
    spare: Annotated[int, Shows("spare", ALL, "count")] = Field(
        description="What the kind's boxes have over the need."
    )
    chosen_by: Annotated[str, Shows("chosen_by", ALL, words="chosen")] = Field(
        description="`designer` where fixed by hand, else `least cost`."
    )

    @property
    def provided(self) -> int:
        """What all boxes of its kind give the room, those of other models included."""
        return self.need + self.spare

    @composed(Shows("capacity_in_all", ALL, "count", zero=False))
    def capacity_in_all(self) -> int:
        """Channels, slots or inputs of all its boxes."""
        return self.quantity * self.capacity

    @composed(Shows("needed", ALL, "count", together=True))
    def needed(self) -> int | None:
        """What the room needs of them; nothing where its boxes hold none."""
        return self.need if self.capacity else None

    @composed(Shows("spare", ALL, "count", together=True))
    def left_over(self) -> int | None:
        """What they have over the need; nothing where they hold none."""
        return self.spare if self.capacity else None


class CarriedRow(Row):
    """One sort of input or output of a room's mixers or breakouts: how many are needed and provided."""

    schedule: ClassVar = Schedule("carried", subject="rooms", key=("what",))

    what: Annotated[str, Shows("input_or_output", ALL)] = Field(description="Sort of input or output.")
    need: Annotated[int, Shows("needed", ALL, "count")] = Field(description="How many the room needs.")
    given: Annotated[int, Shows("provided", ALL, "count")] = Field(description="How many the boxes have.")

    @composed(Shows("spare", ALL, "count"))
    def spare(self) -> int:
        """What they have over the need."""
        return self.given - self.need


class CriterionRow(Row):
    """A criterion with what is required and what is designed, in words and in the units of its reader."""

    schedule: ClassVar = Schedule("criterion", subject="rooms", key=("criterion",))

    criterion: Annotated[str, Shows("criterion", ALL)] = Field(description="What is judged.")
    required: Annotated[str, Shows("required", ALL)] = Field(description="What is required.")
    designed: Annotated[str, Shows("as_designed", ALL)] = Field(description="What the design reaches.")
    at: Annotated[str, Shows("at", ALL, "tag", link="tag")] = Field(
        default="", description="Cable or device at which it reaches that; empty for the whole room."
    )
    verdict: Annotated[str, Shows("verdict", ALL, "verdict", empty="no_limit_set")] = Field(
        default="", description="holds, fails or tested in commissioning; empty where nothing is judged."
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
    carries: Annotated[tuple[str, ...], Shows("channels_carry", ALL)] = Field(
        default=(), description="What each channel carries, in order; empty where all carry the mix."
    )
    heard_in_room: Annotated[bool, Shows("heard_in_the_room", ALL, "flag")] = Field(
        default=False, description="Whether people in the room listen by it."
    )
    keeps: Annotated[bool, Shows("keeps_the_sound", ALL, "flag")] = Field(
        default=False, description="Whether what it gets is kept, as by a recorder."
    )
    operated_by: Annotated[str, Shows("started_and_stopped_by", ALL)] = Field(
        default="", description="Who starts and stops it; empty where nobody says."
    )
    with_returns: Annotated[tuple[str, ...], Shows("with_sound_of", ALL)] = Field(
        default=(), description="Names of the returns whose sound it gets beside the room's own."
    )
    announcements: Annotated[bool, Shows("announcements", ALL, "flag")] = Field(
        default=False, description="Of a return: whether announcements come by it."
    )

    @property
    def of_joined_rooms(self) -> bool:
        """Whether it leads to or from rooms that a state of the building joins."""
        return self.code.startswith("joined-")


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
        description="radio, networked audio, network, analogue, USB or loudspeaker line."
    )
    label: Annotated[str, Shows("label", ALL)] = Field(description="What it carries: channels, port.")
    returning: Annotated[bool, Shows("returning", ALL, "flag")] = Field(
        description="Whether it is return audio."
    )
    cable: Annotated[str, Shows("cable", ALL, "tag")] = Field(
        description="Identity of the cable with the room's tag left out, empty where none."
    )
    start_port: Annotated[str, Shows("from_port", ALL)] = Field(
        default="", description="Port of the box it leaves at which a cable ends; empty where none does."
    )
    end_port: Annotated[str, Shows("to_port", ALL)] = Field(
        default="", description="Port of the box it enters at which a cable ends; empty where none does."
    )
    connector: Annotated[str, Shows("connector_there", ALL)] = Field(
        default="", description="Connector where its cable begins, and the highest level there, dBu."
    )

    @property
    def way(self) -> str:
        """Whether it is return audio, as a word; empty where it is not."""
        return "return audio" if self.returning else ""
