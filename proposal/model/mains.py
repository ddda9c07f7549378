"""The mains of the building."""

from typing import Annotated

from pydantic import Field

from proposal.model.base import Written, assumed
from proposal.quantities.parsing import Frequency, Voltage

OF_REGION = {"europe": (230.0, 50.0), "north_america": (120.0, 60.0)}
"""Nominal voltage and frequency (IEC 60038, memory)."""


class Mains(Written):
    """Voltage and frequency of the outlets that equipment is plugged into."""

    voltage: Annotated[Voltage, Field(ge=100, le=250)] | None = assumed(
        None,
        "Voltage of the outlets; left out, that of the region.",
        "Outlets have the usual voltage of the region: 230 V in Europe, 120 V in North America",
        "published IEC 60038 (memory)",
    )
    frequency: Annotated[Frequency, Field(ge=50, le=60)] | None = assumed(
        None,
        "Frequency of the mains; left out, that of the region.",
        "The mains have the usual frequency of the region: 50 Hz in Europe, 60 Hz in North America",
        "published IEC 60038 (memory)",
    )
