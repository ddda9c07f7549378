"""Sources as pages print them, and as data files name them."""

import pytest

from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source, source_of_word
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


@pytest.mark.parametrize(
    ("word", "kind", "printed"),
    [
        ("common practice", "common practice", "common practice"),
        ("editable default (invented)", "editable default", "editable default: invented"),
        ("common practice (memory)", "common practice", "common practice (memory)"),
        ("ITU-R P.1238 (memory)", "published", "ITU-R P.1238 (memory)"),
        ("", "editable default", "editable default"),
    ],
)
def test_a_source_word_of_a_data_file_is_a_source(word: str, kind: str, printed: str) -> None:
    found = source_of_word(word)
    assert (found.kind, str(found)) == (kind, printed)


def test_a_published_source_must_be_named() -> None:
    with pytest.raises(ValueError, match="title of the publication"):
        Source()
