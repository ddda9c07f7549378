"""The sheets of the price of one edition, linked from the inputs to the total."""

from collections.abc import Mapping
from dataclasses import field

from proposal.document.document import Document
from proposal.exports.workbook.linked_sheet import LinkedSheet
from proposal.exports.workbook.named_inputs import NamedInputs
from proposal.field_classes import dataclass

HOURS_PLACES = 2


@dataclass(slots=True)
class LinkedBook:
    """The inputs, and the sheets by the name of their schedule.

    follows: names of the schedules whose sums all follow the inputs.
    """

    document: Document
    inputs: NamedInputs
    sheets: Mapping[str, LinkedSheet]
    follows: set[str] = field(default_factory=set)

    @property
    def places(self) -> int:
        """Return the decimal places of amounts."""
        return self.inputs.places
