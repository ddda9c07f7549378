"""Rules about the time that sound takes from a microphone to those who listen."""

from typing import Annotated

from pydantic import Field

from proposal.model.base import Written, assumed
from proposal.quantities.parsing import Duration

LatencyLimit = Annotated[Duration, Field(gt=0, le=10)]
"""The longest time that sound may take to a listener."""


class LatencyRules(Written):
    """Limits of the time that sound takes, and what a receiver of networked audio adds."""

    in_room: LatencyLimit = assumed(
        0.020,
        "Longest delay from a microphone to loudspeakers, in joined rooms too.",
        "Longest delay from a microphone to loudspeakers, in joined rooms too",
        "common practice",
    )
    elsewhere: LatencyLimit = assumed(
        0.050,
        "Longest delay from a microphone to what takes the mix elsewhere, such as a codec or a recorder.",
        "Longest delay from a microphone to what takes the mix elsewhere",
        "common practice",
    )
    receive_buffer: Annotated[Duration, Field(ge=0, le=1)] = assumed(
        0.001,
        "Time that a receiver of networked audio holds back what has arrived, for packets that are late.",
        "Time that a receiver of networked audio holds back what has arrived",
        "common practice",
    )
