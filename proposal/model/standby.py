"""What stays up when the mains fails, and for how long."""

from typing import Annotated

from pydantic import Field

from proposal.model.base import Name, Written
from proposal.quantities.parsing import Duration


class Standby(Written):
    """What a standby supply is to do in a rack, or in each rack of an equipment room."""

    time: Annotated[Duration, Field(ge=0, le=86_400)] = Field(
        description="How long what it feeds stays up when the mains fails, its battery at the end of its "
        "life; 0 min for a rack without one in an equipment room that has some."
    )
    without: Annotated[tuple[Name, ...], Field(max_length=100)] = Field(
        default=(),
        description="What need not stay up: tags of devices, or kinds such as amplifier and owner_equipment.",
    )
