"""Microphones of a room type: form, pattern, place and switch of each."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from proposal.model.base import Written, assumed
from proposal.model.room_shape import Point
from proposal.model.rows_of_places import OF_LEVEL, RowOfPlaces
from proposal.quantities.messages import refusal
from proposal.quantities.parsing import Length

Form = Literal["handheld", "bodypack", "boundary", "gooseneck"]


Pattern = Literal["omnidirectional", "cardioid", "supercardioid"]


WiredForm = Literal["gooseneck", "boundary", "handheld", "hanging"]


MicrophoneMounting = Literal["ceiling", "wall", "table", "stand", "furniture"]


Switch = Literal["toggle", "press to speak", "push to talk", "push to mute", "none"]


class MicrophonePosition(Written):
    """One microphone in use and where it stands."""

    form: Form = Field(description="Handheld, bodypack, boundary or gooseneck.")
    pattern: Pattern = Field(description="Pickup pattern.")
    at: Point = Field(description="Position in the room type's own coordinates, x then y.")
    height: Annotated[Length, Field(ge=0, le=100)] | None = Field(
        default=None,
        description="Height above the floor; left out, that of its form in the rules for microphones.",
    )
    level: str = Field(default="", description=OF_LEVEL)
    seat: str = Field(default="", description="Tag of the seat it serves, if it serves one.")
    return_audio: bool = Field(
        default=False, description="Whether the talker hears return audio at the microphone."
    )
    switch: Switch | None = Field(
        default=None,
        description="What its switch does: toggle (open until pressed), press to speak (muted until "
        "pressed), push to talk (held to speak), push to mute or none; left out, as its room type says.",
    )
    mounting: MicrophoneMounting | None = Field(
        default=None,
        description="Where it is held: on the ceiling, a wall, a table or a stand, or built into furniture; "
        "left out, in the hand, on the body or on the table, by its form. On a ceiling or a wall its height "
        "is written too.",
    )
    mute_group: str = Field(default="all", description="Microphones of one group are muted together.")
    accessories: Annotated[tuple[str, ...], Field(max_length=20)] = assumed(
        (),
        "Model codes of what goes with it, such as a lavalier and a cover.",
        "A bodypack has the least-cost headset or lavalier of its system",
    )

    @model_validator(mode="after")
    def _says_how_high(self) -> "MicrophonePosition":
        """Refuse a microphone above people's heads of which nobody says how high it hangs."""
        if self.mounting in ("ceiling", "wall") and self.height is None:
            raise refusal(f"a height for a microphone on a {self.mounting}, such as `height: 2.4 m`", "none")
        return self


class WiredPosition(Written):
    """One wired microphone to an input of the room's mixer, and where it stands."""

    form: WiredForm = Field(description="Gooseneck, boundary, handheld or hanging.")
    pattern: Pattern = Field(description="Pickup pattern.")
    at: Point = Field(description="Position in the room type's own coordinates, x then y.")
    height: Annotated[Length, Field(ge=0, le=100)] | None = Field(
        default=None,
        description="Height above the floor; left out, that of its form in the rules for microphones; a "
        "hanging one ends 0.5 m below the ceiling.",
    )
    level: str = Field(default="", description=OF_LEVEL)
    seat: str = Field(default="", description="Tag of the seat it serves, if it serves one.")
    model: str = Field(
        default="", description="Model code; the least-cost one of the library where left out."
    )
    mute_group: str = Field(default="all", description="Microphones of one group are muted together.")


class MicrophoneRow(RowOfPlaces):
    """Microphones in a row, alike but for where they stand."""

    seats: str = Field(
        default="",
        description="Code of the row of seats that they serve, number by number; none where left out.",
    )
    form: Form = Field(description="Handheld, bodypack, boundary or gooseneck.")
    pattern: Pattern = Field(description="Pickup pattern.")
    return_audio: bool = Field(
        default=False, description="Whether talkers hear return audio at these microphones."
    )
    mute_group: str = Field(default="all", description="Microphones of one group are muted together.")
