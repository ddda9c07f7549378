"""A calculation as the calculation pages list it."""

from proposal.field_classes import dataclass
from proposal.standards.working import Working


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculation:
    """A working with its chapter and what it is about."""

    chapter: str
    subject: str
    working: Working
