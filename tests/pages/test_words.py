"""Pages are written in the words of the trade: nothing quaint."""

import re
from pathlib import Path

import pytest

from proposal.document.readers import READERS, Reader
from proposal.resources import resource
from tests.pages.site import browsed, sample_pages

# Judged by hand: words that a client would stop at, and what is written instead.
QUAINT = {
    r"reckon\w*": "compute",
    r"mend(ed|ing|s)?": "fix",
    r"lest": "so that … not",
    r"heed\w*": "follow",
    r"anew": "again",
    r"borne": "tolerated",
    r"built so": "of this kind",
    r"thereof|herein\w*|whereby|wherein|henceforth": "plain words",
    r"amongst|whilst": "among, while",
    r"nought": "zero",
    r"on a page of (its|their) own": "on a separate page",
    r"any more": "no longer",
    r"the other way round": "say what happens",
}
PATTERN = re.compile(rf"\b(?:{'|'.join(QUAINT)})\b", re.IGNORECASE)


def quaint(words: str) -> list[str]:
    return [found[0] for found in PATTERN.finditer(words)]


def test_the_words_are_found() -> None:
    assert quaint("Reckoned anew, and mended.") == ["Reckoned", "anew", "mended"]
    assert quaint("recommended, amended and computed again") == []


@pytest.mark.parametrize("reader", READERS)
def test_no_page_of_an_edition_has_a_quaint_word(reader: Reader) -> None:
    found: dict[str, list[str]] = {}
    for path, page in sample_pages(reader).pages.items():
        said = quaint(browsed(page).text)
        if said:
            found[path] = said
    assert found == {}


def test_what_pages_are_made_of_has_none_either() -> None:
    """Branches of templates and words of the tables that the sample does not show."""
    files = [
        *resource("templates").glob("*.jinja"),
        *(resource("shared") / "wording").glob("*.yaml"),
        *(resource("shared") / "site" / "theme").glob("*.html"),
        *(Path(__file__).parents[2] / "example_project" / "wording").glob("*.md"),
    ]
    assert len(files) > 50
    # Keys of the table of words are no words of a page.
    texts = {path.name: re.sub(r"(?m)^\s*[\w.]+:", "", path.read_text("utf-8")) for path in files}
    assert {name: quaint(text) for name, text in texts.items() if quaint(text)} == {}
