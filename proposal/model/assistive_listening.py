"""Assistive listening as a project asks for it: how many receivers, and where its devices stand."""

import re
from collections.abc import Mapping
from typing import Annotated, Literal, Protocol

from pydantic import Field, model_validator

from proposal.model.base import Name, Written, assumed
from proposal.quantities.messages import refusal
from proposal.quantities.parsing import Fraction, Length

TransmitterPlace = Literal["wall", "ceiling", "stand", "table"]
SignPlace = Literal["wall", "table"]
Point = tuple[Length, Length]
Carrier = Literal["infrared", "radio", "induction loop"]
"""What carries the sound of assistive listening to its receivers."""
LAW_OF_TABLE = "north_america"
"""Region where the published table of receivers by seats is law; elsewhere it is an assumption."""
NotAllowed = Annotated[Mapping[Carrier, Name], Field(max_length=3)]
_Few = Annotated[int, Field(ge=0, le=1000)]


class AssistiveRules(Written):
    """How many receivers for assistive listening a room has, by its seats."""

    share: Annotated[Fraction, Field(gt=0, le=1)] | None = assumed(
        None,
        "Receivers as a share of the seats, as the code of the place asks, such as 4 %.",
        "Receivers for assistive listening follow the seats as in the 2010 ADA Standards, Table 219.3, "
        "where no share of a local code is written",
        "published: 2010 ADA Standards, Table 219.3",
    )
    not_allowed: NotAllowed = Field(
        default={},
        description="What may not carry the sound in any room, each with the reason, such as "
        "`infrared: it passes the glass walls`.",
    )
    code: str = Field(
        default="", description="The code, law or contract that asks for the share, as it is to be printed."
    )
    least: _Few = assumed(
        2,
        "Fewest receivers in a room, beside a share.",
        "Fewest receivers for assistive listening in a room",
    )
    compatible_share: Annotated[Fraction, Field(ge=0, le=1)] = assumed(
        0.25,
        "Share of the receivers that hearing aids with a telecoil can use.",
        "Share of the receivers that hearing aids with a telecoil can use",
        "published: 2010 ADA Standards, Table 219.3",
    )
    least_compatible: _Few = assumed(
        2,
        "Fewest receivers that hearing aids can use.",
        "Fewest receivers in a room that hearing aids with a telecoil can use",
        "published: 2010 ADA Standards, Table 219.3",
    )

    @model_validator(mode="after")
    def _says_who_asks(self) -> "AssistiveRules":
        """Refuse a share of which nobody says where it comes from."""
        if self.share is not None and not self.code:
            raise refusal("`code:` beside `share:`, such as `code: Building code of Anyshire, 4.2`", "none")
        return self


class AssistiveListening(Written):
    """Where the devices for assistive listening stand in a room."""

    transmitters_at: Annotated[Mapping[str, Point], Field(max_length=50)] = assumed(
        dict,
        "Positions of transmitters by their codes, such as AT1, in the room type's own coordinates.",
        "Transmitters for assistive listening hang along the room's longest wall, at equal distances; under "
        "the ceiling or on stands beside it where they may not hang there, on a table with the chargers",
    )
    not_allowed: NotAllowed = Field(
        default={},
        description="What may not carry the sound in this room, each with the reason, beside what the rules "
        "of the project exclude.",
    )
    transmitters_on: TransmitterPlace | None = Field(
        default=None,
        description="Where transmitters are: on a wall, the ceiling, a stand or a table; left out, on a "
        "wall, else on the first of the others that their model allows and that may be touched.",
    )
    transmitter_height: Annotated[Length, Field(gt=0, le=50)] | None = assumed(
        None,
        "Height of the transmitters above the floor.",
        "Transmitters for assistive listening are 0.3 m below the ceiling on a wall, right under it on the "
        "ceiling, at 2 m on a stand, and as high as the chargers on a table",
    )
    receivers: Annotated[int, Field(ge=1, le=5000)] | None = Field(
        default=None,
        description="Receivers that the client asks for in the room, where its seats want fewer.",
    )
    signs: Annotated[int, Field(ge=0, le=50)] = assumed(
        1,
        "Signs that tell of assistive listening.",
        "One sign tells of assistive listening where its receivers are handed out",
    )
    signs_on: SignPlace | None = Field(
        default=None,
        description="Where signs are: on a wall or a table; left out, on a wall, else on a table where walls "
        "may not be touched.",
    )


class Named(Protocol):
    """What has a name."""

    @property
    def name(self) -> str:
        """What it is called."""


class WithSound(Protocol):
    """A room with what takes its sound and what brings sound to it."""

    @property
    def destinations(self) -> Mapping[str, Named]:
        """What takes its sound."""

    @property
    def returns(self) -> Mapping[str, Named]:
        """What brings sound to it."""


def serves_assistive_listening(layout: WithSound) -> bool:
    """Return whether something of assistive listening is among a room's destinations and returns."""
    ends = (*layout.destinations.values(), *layout.returns.values())
    return any(_LISTENING.search(one.name) for one in ends)


_LISTENING = re.compile(
    r"assistive|hard of hearing|hearing[ -](aid|loop|assist|impair|system|support|help|receiver)|"
    r"(induction|audio)[ -](frequency )?loop",
    re.IGNORECASE,
)
"""Words by which a destination is a system for assistive listening; a hearing alone is a meeting."""
