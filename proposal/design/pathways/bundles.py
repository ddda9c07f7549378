"""A bundle of cables in a pathway, or on a run outside them, and how warm power over Ethernet makes it."""

from proposal.field_classes import dataclass
from proposal.standards.working import Working


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """The warmest bundle of a pathway, or of a run outside pathways.

    cables: how many lie there; tied: how many of them are tied in one bundle.
    rise: its warming; None where nothing in it is powered.
    most: how many cables of this kind, the hottest first, keep to 15 K; None where all that lie there do.
    """

    cables: int
    tied: int
    rise: Working | None = None
    most: int | None = None

    @property
    def rise_k(self) -> float:
        """Return how much warmer than the air its cables are, K."""
        return self.rise.result if self.rise else 0.0

    @property
    def holds(self) -> bool:
        """Return whether it gets no warmer than is allowed."""
        return self.rise is None or self.rise.verdict != "fails"
