"""Every page of the municipal project as its readers get it: no metric unit, British word or foreign money.

The words are those that a reader in the United States would stumble over, not those of the table of words.
"""

import html
import re
from collections.abc import Mapping
from functools import cache

import pytest

from proposal.document.readers import READERS, Reader
from tests.pages.site import pages_for
from tests.review.editing import PROJECTS
from tests.whole_projects import whole_document

UNIT = r"(?:mm|cm|m|km|mm²|m²|m³|m³/h|kg|g|N|kN|N/m|Ω/m|W/m|dB/km|K·m/W|°C|K|l|ml)"
METRIC = re.compile(
    rf"(?<![\w.])\d[\d,.]*\s?{UNIT}(?![\w²³/·])|\((?!N\)){UNIT}\)"
    r"|\b(?:milli|centi|kilo)?metres?\b|\b(?<!impedance )meters?\b|\bkilograms?\b|\bCelsius\b|\bkelvins?\b"
)
ALONE = re.compile(rf"(?<=>)\s*{UNIT}\s*(?=</td>)")
"""A unit that fills a cell."""
BRITISH = re.compile(
    r"\b(?:\w*(?:colour|labour|neighbour|behaviour|favour|honour)\w*|analogue|catalogue|programmes?|storeys?|"
    r"licen(?:ce|ces)|fibres?|centres?|met(?:re|res)|grey|aluminium|\w+elled|labelling|panelling|timber|"
    r"plasterboard|mains|earthing|first fix|second fix|retention|take-off|fire-stopping|unscreened|screened|"
    r"\w*(?:organ|synchron|recogn|summar|author|item|minim|maxim|mobil|real)is(?:e|ed|es|ing|ation)|tick(?:ed|ing)?|"
    r"cupboards?|lorry|skirting|trunking|per cent|whilst)\b",
    re.IGNORECASE,
)
FOREIGN = re.compile(r"€|£|\bEUR\b|\bGBP\b")
LABEL = re.compile(r'aria-label="([^"]*)"')
KEYS = re.compile(r"\b[a-z]\w*(?:\.\w+)+|\b[\w ]+ (?:box|reel)\.\w+")
"""Keys of files of a project and of the library, which have one spelling."""
NOT_TEXT = re.compile(r"\w+(?:-|&#45;)A\d+|<[^>]*>|\]\([^)]*\)|\{[:#][^}]*\}|\{ #[^}]*\}")


@cache
def as_made(reader: Reader) -> Mapping[str, str]:
    return pages_for(whole_document(PROJECTS / "municipal"), reader).pages


@cache
def pages(reader: Reader) -> Mapping[str, str]:
    made = as_made(reader)
    # What screen readers say of a table stands in its tag.
    said = {path: f"{page} {' '.join(LABEL.findall(page))}" for path, page in made.items()}
    return {path: KEYS.sub(" ", html.unescape(NOT_TEXT.sub(" ", page))) for path, page in said.items()}


def found(pattern: "re.Pattern[str]", reader: Reader) -> list[str]:
    return sorted(
        f"{path}: {page[max(0, one.start() - 40) : one.end() + 20]!r}"
        for path, page in pages(reader).items()
        for one in pattern.finditer(page)
    )


@pytest.mark.parametrize("reader", READERS)
def test_no_page_has_a_metric_unit_or_a_british_word(reader: Reader) -> None:
    assert found(METRIC, reader) == []
    assert found(BRITISH, reader) == []
    cells = {path: ALONE.findall(html.unescape(page)) for path, page in as_made(reader).items()}
    assert {path: units for path, units in cells.items() if units} == {}


@pytest.mark.parametrize("reader", ["client", "reviewer", "installer"])
def test_no_page_has_foreign_money(reader: Reader) -> None:
    assert found(FOREIGN, reader) == []


def test_the_search_finds_what_it_looks_for() -> None:
    said = "labour of 3 m in 2.5 kg, a licence, EUR 4, analogue, 20 °C, first fix, load (kN)"
    assert [len(pattern.findall(said)) for pattern in (METRIC, BRITISH, FOREIGN)] == [4, 4, 1]
    assert ALONE.findall("<td> m²</td><td>ft</td>") == [" m²"]
