"""A field whose declaration names no reader any more leaves every output: cells and facts alike."""

import io
import re
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import pytest

from proposal import editions
from proposal.differences.changes import State
from proposal.differences.inputs import Inputs
from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.findings import FindingRow, WorkingRow
from proposal.document.rows.price import PriceTotal
from proposal.document.rows.terms import Cover
from proposal.document.schedule import Row, Shows, columns_of
from proposal.editions import changes_for, edition_of
from proposal.exports.comparison import comparison_json, comparison_text
from proposal.exports.csv_files import csv_files
from proposal.exports.document_json import document_json, document_schema
from proposal.exports.table import lasting_schedules, schedules
from proposal.exports.workbook.book import workbook
from tests.pages.site import pages_for
from tests.sample_document import sample_document

CANARY = "qzxwv"
READER: Reader = "estimator"
# Field, how a row of the document is told that holds it, and where it is shown.
FIELDS: Mapping[str, tuple[type[Row], str, str]] = {
    "a cell": (CableRow, "cables", "description"),
    "a fact of a finding": (FindingRow, "findings", "source"),
    "a fact as code": (FindingRow, "findings", "rule"),
    "a fact of a calculation": (WorkingRow, "workings", "source"),
    "a fact of the cover": (Cover, "cover", "record_digest"),
    "a fact of the price": (PriceTotal, "price", "currency"),
    "facts of groups": (Document, "", "parties"),
}


def with_canary(document: Document, held: str, name: str, word: str) -> Document:
    """Return a document in which a field of one row holds a word."""
    if not held:
        return document.model_copy(update={name: (("Z", word),)})
    rows: Any = getattr(document, held)
    if isinstance(rows, tuple):
        return document.model_copy(update={held: (rows[0].model_copy(update={name: word}), *rows[1:])})
    return document.model_copy(update={held: rows.model_copy(update={name: word})})


def outputs(before: Document, after: Document) -> Mapping[str, str]:
    """Return all that is made of a document for a reader who sees everything, as text."""
    edition = edition_of(after, READER)
    date = after.cover.revision.date
    earlier = State(label="before", document=before, date=date)
    later = State(label="after", document=after, date=date)
    changes = changes_for(READER, earlier, later, Inputs())
    book = zipfile.ZipFile(io.BytesIO(workbook(edition, schedules(edition))))
    return {
        "pages": "\n".join(pages_for(after, READER).pages.values()),
        "csv": b"\n".join(csv_files(schedules(edition)).values()).decode(),
        "lasting": b"\n".join(csv_files(lasting_schedules(edition)).values()).decode(),
        "workbook": "\n".join(book.read(name).decode() for name in book.namelist() if name.endswith(".xml")),
        "json": document_json(edition).decode(),
        "comparison": comparison_text(changes, READER) + comparison_json(changes, READER),
    }


@contextmanager
def without(part: type[Row], name: str) -> Iterator[None]:
    """Take the readers out of the one declaration of a field."""
    shows = columns_of(part)[name].shows
    before = shows.readers
    _declare(shows, frozenset())
    try:
        yield
    finally:
        _declare(shows, before)


def _declare(shows: Shows, readers: frozenset[Reader]) -> None:
    object.__setattr__(shows, "readers", readers)
    for kept in vars(editions).values():
        if hasattr(kept, "cache_clear"):
            kept.cache_clear()


@pytest.mark.parametrize(("part", "held", "name"), FIELDS.values(), ids=FIELDS)
def test_a_field_that_nobody_is_declared_to_read_leaves_every_output(
    part: type[Row], held: str, name: str
) -> None:
    before = sample_document()
    after = with_canary(before, held, name, CANARY)
    told = {output for output, text in outputs(before, after).items() if CANARY in text}
    # A field of the document itself is no row of a file.
    files = {"csv", "lasting", "workbook"} if held else set()
    assert told == {"pages", "json", "comparison", *files}
    with without(part, name):
        left = {output for output, text in outputs(before, after).items() if CANARY in text}
        schema = document_schema()
    assert left == set()
    named = schema["$defs"][part.__name__] if held else schema
    assert named["properties"][name]["readers"] == []


def test_a_heading_that_changes_in_the_table_of_words_changes_wherever_it_stands() -> None:
    """Of a cell and of a fact, on pages, in files and in what a comparison tells."""
    before = sample_document()
    headings = {"headings.cable": CANARY, "headings.reason_for_issuing_it_so": f"{CANARY}2"}
    words = {**before.words, **headings}
    changed = with_canary(before, "cover", "with_errors", "why").model_copy(update={"words": words})
    told = outputs(before.model_copy(update={"words": words}), changed)
    for heading in headings.values():
        found = {output for output, text in told.items() if re.search(rf"{heading}\b", text, re.I)}
        assert found >= {"pages", "csv", "workbook"}
    assert re.search(rf"{CANARY}2\b", told["comparison"], re.I)
