"""Room types and the rooms built from them."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from proposal.model.assistive_listening import AssistiveListening
from proposal.model.base import Name, Written, assumed, unwritten
from proposal.model.latency_rules import LatencyLimit
from proposal.model.loudspeaker_rules import Line
from proposal.model.microphone_positions import Form, MicrophonePosition, MicrophoneRow, Switch, WiredPosition
from proposal.model.radio.radio import RoomRadio
from proposal.model.room_shape import Ceiling, Door, Furniture, Outline, Point, RoomLevel, Seat, SeatRow
from proposal.quantities.messages import refusal
from proposal.quantities.parsing import Angle, Length, Power, TimeOfDay

HangingPlace = Literal["ceiling", "wall"]
Surface = Literal["ceiling", "walls", "floor", "furniture"]
RoomNetwork = Literal["automatic", "rack", "alone", "isolated"]


class SoundEnd(Written):
    """Equipment of others at which sound of the room ends or begins: where return audio comes from."""

    name: str = Field(
        description="What it is: conferencing codec, room loudspeakers, recorder, interpreters."
    )
    signal: Literal["analogue", "networked audio", "USB"] = Field(description="How the signal is carried.")
    channels: Annotated[int, Field(ge=1, le=64)] = Field(default=1, description="Number of channels.")
    latency_limit: LatencyLimit | None = Field(
        default=None,
        description="Longest delay from a microphone to it, such as 20 ms where people in the room listen by "
        "it; left out, the rule of the project. Of a return: longest delay from it to those who hear it; "
        "left out, none is held against it.",
    )
    mutes_room: bool | None = Field(
        default=None,
        description="Of a conferencing system: whether a mute set there mutes the microphones in the room "
        "too. Left out, it does where networked audio joins it, since mutes are set over that network.",
    )
    announcements: bool = Field(
        default=False,
        description="Of a return: whether announcements (paging) come by it, which the loudspeakers of the "
        "room play.",
    )


class Destination(SoundEnd):
    """Where the room's mix goes."""

    carries: Annotated[tuple[Name, ...], Field(max_length=64)] = Field(
        default=(),
        description="What each channel carries, in order: `mix`, a microphone such as `M1`, a mute group "
        "such as `group dais`, or return audio such as `return far-end`; the mix on all where left out. "
        "Others than the mix need a mixer.",
    )
    heard_in_room: bool = Field(
        default=False,
        description="Whether people in the room listen by it, such as a loudspeaker with its own amplifier. "
        "It is held against the delay allowed in the room then.",
    )

    operated_by: Annotated[str, Field(max_length=200)] = Field(
        default="",
        description="Who starts and stops what stands there, where it records, and at what, such as "
        "`the clerk, at the recorder`.",
    )

    @model_validator(mode="after")
    def _says_each_channel(self) -> "Destination":
        """Refuse sources of some channels alone."""
        if self.carries and len(self.carries) != self.channels:
            raise refusal(
                f"under carries one source for each of {self.channels} channels, such as "
                "`carries: [mix, M1]` for 2",
                f"{len(self.carries)}",
            )
        return self


_NO_REASONS = ("yes", "no", "true", "false")


def _a_reason(why: str) -> str:
    """Return a reason as it is written, or refuse yes in place of it."""
    if why.casefold() in _NO_REASONS:
        raise refusal("the reason in words, such as closed sessions", why)
    return why


class Session(Written):
    """One meeting of a day of the room."""

    start: TimeOfDay = Field(description="When it starts, such as 09:00.")
    end: TimeOfDay = Field(description="When it ends.", examples=["12:30"])


class Loudspeaker(Written):
    """A loudspeaker of the room, on the ceiling or on a wall, and the zone that plays it."""

    at: Point = Field(description="Position in the room type's own coordinates, x then y.")
    mounting: HangingPlace = Field(
        default="ceiling",
        description="Where it hangs: on the ceiling, from where it plays straight down, or on a wall, from "
        "where it plays into the room; on a wall its height is written too.",
    )
    height: Annotated[Length, Field(gt=0, le=100)] | None = Field(
        default=None, description="Height of its middle above the floor; that of the ceiling where left out."
    )
    tilt: Annotated[Angle, Field(ge=0, le=60)] = Field(
        default=0.0, description="How far one on a wall is turned down from level, such as 10°."
    )
    zone: str = Field(default="room", description="Loudspeakers of one zone share an amplifier channel.")
    model: str = Field(
        default="", description="Model code; the least-cost one of the library where left out."
    )
    tap: Annotated[Power, Field(gt=0, le=10_000)] | None = Field(
        default=None,
        description="Tap of its transformer, or the power that it gets on a line without transformers; the "
        "least that is loud enough for its listeners where left out.",
    )

    @model_validator(mode="after")
    def _says_how_high(self) -> "Loudspeaker":
        """Refuse a loudspeaker on a wall of which nobody says how high it hangs."""
        if self.mounting == "wall" and self.height is None:
            raise refusal("a height for a loudspeaker on a wall, such as `height: 2.4 m`", "none")
        return self


class RoomType(Written):
    """A kind of room: its shape, its seats and what its meetings need."""

    name: str = Field(description="What the kind of room is called in the proposal.")
    use: str = Field(description="How people meet here, in a sentence the client will read.")
    outline: Outline = Field(
        description="Corners of the room, in order, in its own coordinates.",
        examples=[[["0 m", "0 m"], ["6 m", "0 m"], ["6 m", "5 m"], ["0 m", "5 m"]]],
    )
    ceiling: Ceiling = Field(description="The ceiling.")
    furniture: Annotated[Mapping[str, Furniture], Field(max_length=1000)] = Field(
        default={}, description="Tables and benches by tag."
    )
    levels: Annotated[Mapping[str, RoomLevel], Field(max_length=20)] = Field(
        default={}, description="Balconies, galleries and stages by tag."
    )
    doors: Annotated[Mapping[str, Door], Field(max_length=100)] = Field(
        default={}, description="Doors by tag, drawn on plans; those that nobody gives are not drawn."
    )
    seats: Annotated[Mapping[str, Seat], Field(max_length=10_000)] = Field(
        default={}, description="Seats by tag."
    )
    seat_rows: Annotated[Mapping[str, SeatRow], Field(max_length=500)] = Field(
        default={}, description="Seats in rows, arcs and grids, by the code that their tags begin with."
    )
    microphone_rows: Annotated[Mapping[str, MicrophoneRow], Field(max_length=100)] = Field(
        default={}, description="Microphones in rows, by the code that their tags begin with."
    )
    microphones: Annotated[Mapping[str, MicrophonePosition], Field(max_length=500)] = Field(
        default={},
        description="Microphones in use at once, by tag; none in a room that only listens, such as a lobby "
        "with loudspeakers.",
    )
    wired_microphones: Annotated[Mapping[str, WiredPosition], Field(max_length=200)] = Field(
        default={}, description="Wired microphones, by tag: beside the wireless ones, without a battery."
    )
    system: str = assumed(
        "",
        "System of its microphones, as the library names it; left out, that of the rules, else by cost.",
        "The microphone system of the project's rules, else the one with the least cost in the room",
    )
    spare_microphones: Mapping[Form, Annotated[int, Field(ge=0, le=100)]] = assumed(
        dict,
        "Spare microphones held charged, by form.",
        "No spare microphones are held",
        "editable default; about one spare in eight to ten is common practice",
    )
    spares_paired: bool = assumed(
        False,
        "Whether spare microphones keep a radio channel of their own.",
        "Whether spare microphones hold a radio channel of their own before they replace another",
        "common practice",
    )
    switch: Switch | None = assumed(
        None,
        "What the switches of its microphones do: toggle, press to speak, push to talk, push to mute, none.",
        "A press of the switch turns a microphone on or off where its model can do so; nobody has to hold a "
        "button to be heard unless it is asked",
    )
    output: Literal["mixer", "breakout"] = assumed(
        "mixer",
        "Whether audio leaves through an automatic mixer or through analogue breakouts.",
        "Audio leaves the room through an automatic mixer",
    )
    network: RoomNetwork = assumed(
        "automatic",
        "`rack` cables every device to the equipment room; `automatic` may use a breakout's own switch; "
        "`alone` joins the room's devices to one another and to nothing else; `isolated` does so too, but "
        "for one link to the building through a port that keeps its network off.",
        "A breakout's own switch serves the room where every device fits on it and it costs least; in a "
        "building without equipment rooms each room stands alone",
    )
    destinations: Annotated[Mapping[str, Destination], Field(max_length=100)] = Field(
        default={}, description="Where the mix goes, by tag."
    )
    returns: Annotated[Mapping[str, SoundEnd], Field(max_length=100)] = Field(
        default={}, description="Where return audio comes from, by tag: far end, interpreters."
    )
    assistive_listening: bool = Field(
        default=False,
        description="Whether assistive listening is required in the room. Where others furnish it, such as "
        "an induction loop, write a destination whose name says so, with `assistive`, `hearing aids`, "
        "`hearing loop` or `hard of hearing`; left out, devices of the library are chosen.",
    )
    assistive_devices: AssistiveListening = Field(
        default=unwritten(AssistiveListening),
        description="Where the devices for assistive listening stand that the program chooses where it is "
        "required and no destination serves it.",
    )
    charging_at: Point | None = assumed(
        None,
        "Where the chargers stand, in the room type's own coordinates.",
        "Chargers stand at the middle of the room's longest wall",
    )
    charging_height: Annotated[Length, Field(ge=0, le=3)] = assumed(
        0.75, "Height of the chargers above the floor.", "Chargers stand at table height"
    )
    access_points_at: Annotated[Mapping[str, Point], Field(max_length=200)] = assumed(
        dict,
        "Positions of access points by their codes, such as AP1; left out, they are placed.",
        "Access points hang where the weakest microphone is received best, then a second one, 3 m apart",
    )
    access_points_on: HangingPlace | None = Field(
        default=None,
        description="Where access points with written positions hang: on the ceiling or on a wall; left out, "
        "on the ceiling, or on a wall where the ceiling may not be touched.",
    )
    breakouts_at: Point | None = assumed(
        None,
        "Where breakouts stand, in the room type's own coordinates.",
        "Breakouts stand beside the chargers",
    )
    loudspeakers: Annotated[Mapping[str, Loudspeaker], Field(max_length=1000)] = Field(
        default={}, description="Loudspeakers by tag."
    )
    loudspeaker_line: Line | None = Field(
        default=None,
        description="Lines to its loudspeakers: 70.7 V, 100 V or low impedance; as the rules for "
        "loudspeakers say where left out.",
    )
    sessions: Annotated[Mapping[str, Session], Field(max_length=100)] = Field(
        default={}, description="The meetings of a usual day by name."
    )
    days: Annotated[
        Mapping[Name, Annotated[Mapping[str, Session], Field(min_length=1, max_length=100)]],
        Field(max_length=20),
    ] = Field(
        default={},
        description="Further kinds of day by name, such as budget: the meetings of such a day by name.",
    )
    radio: RoomRadio = Field(
        default=unwritten(RoomRadio), description="Power, walls, group and obstructions of its radio."
    )
    surfaces: Mapping[Literal["floor", "ceiling", "walls", "windows", "curtains"], str] = Field(
        default={}, description="What the room is finished with, by surface."
    )
    untouchable: Mapping[Surface, Name] = Field(
        default={},
        examples=[{"ceiling": "painted in 1911 and protected"}],
        description="Surfaces to which nothing may be fixed, each with the reason: ceiling, walls, floor or "
        "furniture.",
    )
    sound_stays: Annotated[str, AfterValidator(_a_reason)] = Field(
        default="",
        description="Why the sound of the room may not leave it, such as closed sessions; left out, it may.",
    )
    sound_stays_in: Annotated[tuple[Name, ...], Field(max_length=50)] = Field(
        default=(),
        description="States of building.yaml in which the sound stays, such as closed; all where left out.",
    )
    sound_may_reach: Annotated[tuple[Name, ...], Field(max_length=50)] = Field(
        default=(),
        description="Destinations of the room that its sound may reach all the same, such as the recorder of "
        "a closed hearing; sound_stays holds for all others.",
    )
    sound_may_pass: Annotated[
        Mapping[Name, Annotated[Name, AfterValidator(_a_reason)]], Field(max_length=20)
    ] = Field(
        default={},
        description="Equipment rooms that count as part of the room for its sound, by tag with the reason, "
        "such as `ER1: locked, the clerk alone has the key`; it may go no further from there.",
    )
    unplugged: Annotated[tuple[Name, ...], Field(max_length=50)] = Field(
        default=(),
        description="Ports whose leads are pulled out before those states begin: of the room, such as "
        "BO1/N1, or of any device by its whole tag, such as B102-MX1/N1.",
    )
    in_private: Annotated[str, Field(max_length=1000)] = Field(
        default="",
        description="How people sit in private there while the sound stays on in the room, in sentences the "
        "client will read.",
    )
    nothing_planned: Annotated[str, AfterValidator(_a_reason)] = Field(
        default="",
        description="Why nothing is planned in the room, such as people only wait here; it stands on plans "
        "and in tables, and gets no equipment.",
    )
    mute_operators: Annotated[Mapping[Name, Name], Field(max_length=100)] = Field(
        default={},
        description="Who sets the mute of a group, by its name, or of `all`, such as `dais: the chair`.",
    )
    internal_note: str = Field(default="", description="For the integrator's own estimators only.")

    def pulled_out(self, room: str) -> frozenset[str]:
        """Return the ports, with their devices, whose leads are pulled out before the sound has to stay.

        room: tag of the room that is laid out so.
        """
        return frozenset(
            port if "-" in port.partition("/")[0] else f"{room}-{port}" for port in self.unplugged
        )

    @model_validator(mode="after")
    def _says_why_and_when(self) -> "RoomType":
        """Refuse states of a sound that may leave the room, and leads that are pulled out for ever."""
        if self.sound_stays_in and not self.sound_stays:
            raise refusal(
                "why the sound stays beside sound_stays_in, such as `sound_stays: closed sessions`", "none"
            )
        if self.sound_may_reach and not self.sound_stays:
            raise refusal(
                "why the sound stays beside sound_may_reach, such as `sound_stays: closed sessions`", "none"
            )
        if self.sound_may_pass and not self.sound_stays:
            raise refusal(
                "why the sound stays beside sound_may_pass, such as `sound_stays: closed sessions`", "none"
            )
        if self.unplugged and not self.sound_stays_in:
            raise refusal(
                "the states in which leads are pulled out beside unplugged, such as "
                "`sound_stays_in: [closed]`",
                "none",
            )
        return self


class Room(Written):
    """One line of the room schedule with the layout that holds for it."""

    name: str = Field(description="What the client calls the room.")
    type: Name = Field(description="Name of its room type: a file in room_types/.")
    storey: Name = Field(description="Tag of its storey in building.yaml.")
    x: Length = Field(description="East position of the room type's origin in the building.")
    y: Length = Field(description="North position of the room type's origin in the building.")
    rotation: Annotated[Angle, Field(ge=-360, le=360)] = Field(
        default=0.0, description="Rotation about the room type's origin, counter-clockwise."
    )
    mirrored: bool = Field(
        default=False, description="Whether the room type is mirrored along x before it is rotated."
    )
    equipment_room: str = assumed(
        "",
        "Tag of the equipment room that serves it; left out, the one with the shortest route.",
        "Each room is served by the equipment room with the shortest route",
    )
    internal_note: str = Field(default="", description="For the integrator's own estimators only.")
    layout: RoomType = Field(description="Its room type with what rooms/<tag>.yaml changes.")
    changed: bool = Field(default=False, description="Whether rooms/<tag>.yaml changes its type.")
