"""Sources as pages print them."""

import pytest

from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source
from tests.standards.sample_formulas import STANDARD


@pytest.mark.parametrize(
    ("source", "printed"),
    [
        (STANDARD, "ANSI/TIA-568.2-D, 6.4"),
        (Source("TIA TSB-184-A", memory=True), "TIA TSB-184-A (memory)"),
        (Source("Sound Systems", "4th edition", "p. 12"), "Sound Systems, 4th edition, p. 12"),
        (COMMON_PRACTICE, "common practice"),
        (EDITABLE_DEFAULT, "editable default"),
        (Source("of our own", kind="common practice"), "common practice: of our own"),
    ],
)
def test_a_source_prints_its_edition_clause_and_memory(source: Source, printed: str) -> None:
    assert str(source) == printed


def test_a_published_source_must_be_named() -> None:
    with pytest.raises(ValueError, match="title of the publication"):
        Source()
