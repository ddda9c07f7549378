"""Rows about rooms whose sound may not leave them."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows


class ContainedSoundRow(Row):
    """A room whose sound may not leave it, and what a search over all that is joined found."""

    schedule: ClassVar = Schedule("contained_sound", subject="rooms", key=("room",))

    room: Annotated[str, Shows("room", ALL, "tag", link="tag")] = Field(description="Its tag.")
    reason: Annotated[str, Shows("reason", ALL)] = Field(description="Why its sound may not leave it.")
    verdict: Annotated[str, Shows("verdict", ALL, "verdict")] = Field(
        description="stays, or leaves where a way out was found."
    )
    states: Annotated[tuple[str, ...], Shows("states", ALL, empty="always")] = Field(
        default=(), description="States of the building in which it holds; all where there are none."
    )
    may_reach: Annotated[tuple[str, ...], Shows("sound_may_reach", ALL, empty="none")] = Field(
        default=(), description="Names of destinations that it may reach all the same."
    )
    may_pass: Annotated[tuple[str, ...], Shows("sound_may_pass", ALL, empty="none")] = Field(
        default=(), description="Equipment rooms that count as part of the room, each with the reason."
    )
    unplugged: Annotated[tuple[str, ...], Shows("leads_pulled_out", ALL, empty="none")] = Field(
        default=(), description="Ports whose leads are pulled out before those states begin."
    )
    encryption: Annotated[tuple[str, ...], Shows("encryption", ALL, empty="none_stated")] = Field(
        default=(), description="How its radio links keep speech private; none where one of them does not."
    )
    reached: Annotated[
        tuple[str, ...], Shows("sound_reaches", NOT_CLIENT, "tag", link="tag", sorted=True, follows=True)
    ] = Field(default=(), description="Tags of all that the sound of its microphones reaches.")
    way_out: Annotated[str, Shows("way_out", NOT_CLIENT, empty="none", follows=True)] = Field(
        default="", description="The shortest way out, step by step; empty where there is none."
    )
