"""Rows of others who use the band of the microphones."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.room_contents import Point
from proposal.document.schedule import ALL, NOT_CLIENT, Row, Schedule, Shows


class BandUserRow(Row):
    """Somebody else on the band, as the client told us of them."""

    schedule: ClassVar = Schedule("band_user", subject="radio", key=("tag",))

    tag: Annotated[str, Shows("other_user", ALL, "tag")] = Field(
        description="Tag, as neighbourhoods name it."
    )
    name: Annotated[str, Shows("name", ALL)] = Field(description="Who or what it is.")
    storey: Annotated[str, Shows("storey", ALL, "tag")] = Field(description="Tag of the storey.")
    at: Annotated[Point, Shows("position", ALL, "coordinates")] = Field(
        description="Position in the building, m."
    )
    links: Annotated[int, Shows("links", ALL, "count", sums=True)] = Field(
        description="Links that it holds at once."
    )
    slot_pairs: Annotated[int, Shows("slot_pairs_a_link", NOT_CLIENT, "count")] = Field(
        default=0, description="Slot pairs of one of its links."
    )
    radiated_dbm: Annotated[float, Shows("radiated", NOT_CLIENT, "dBm")] = Field(
        default=0.0,
        description="Its power, dBm; where nobody states it, the most that the region allows.",
    )
    synchronised: Annotated[bool, Shows("in_step_with_ours", NOT_CLIENT, "flag")] = Field(
        default=False, description="Whether its frame is kept in step with ours."
    )
