"""What a sheet shows is worked out again where anything changed that it read, and not where nothing did."""

from pathlib import Path
from typing import Any

import pytest

from proposal.differences.inputs import inputs_of
from proposal.document.document import Document
from proposal.drawings.kinds import drawing_of
from proposal.editions import Edition, edition_of, with_changes
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.page_reads import Reads
from proposal.publish.cache import drawing_key
from proposal.publish.earlier_issue import last_issue
from proposal.publish.kept_sheets import KeptSheets, SheetFacts
from tests.publish.test_kept_pages import Kept, Missing
from tests.whole_projects import whole_document

EXAMPLE = Path(__file__).parents[2] / "example_project"


@pytest.fixture(scope="module")
def document() -> Document:
    return whole_document(EXAMPLE)


@pytest.fixture(scope="module")
def kept(document: Document) -> Kept:
    """What is kept of all sheets of the example."""
    kept = Kept()
    known(edition_with(document), kept)
    return kept


@pytest.fixture(scope="module")
def first(document: Document) -> dict[str, SheetFacts]:
    """What is known of each sheet without anything kept."""
    edition = edition_with(document)
    return {row.number: facts_of(edition, row.number) for row in sheets_of(document)}


def edition_with(document: Document) -> Edition:
    """Return an edition that tells what changed since the last issue of the example."""
    earlier = last_issue(EXAMPLE, None)
    assert earlier is not None
    return with_changes(edition_of(document, "estimator"), earlier.before.state, inputs_of(()))


def facts_of(edition: Edition, number: str) -> SheetFacts:
    """Return what is known of a sheet without anything kept."""
    sheet = next(row for row in sheets_of(edition.document) if row.number == number)
    drawing = drawing_of(edition, sheet)
    return SheetFacts(drawing_key(sheet.kind, drawing.spec), drawing.alternative, drawing.change)


def known(edition: Edition, kept: Kept) -> tuple[dict[str, SheetFacts], list[str]]:
    """Return what is known of every sheet, with the numbers of those that were worked out."""
    sheets = KeptSheets(Reads(edition, {}, {}), kept)  # type: ignore[arg-type] # all that is used of it
    anew: list[str] = []
    found: dict[str, SheetFacts] = {}
    for row in sheets_of(edition.document):

        def made(seen: Edition, number: str = row.number) -> SheetFacts:
            anew.append(number)
            return facts_of(seen, number)

        found[row.number] = sheets.facts(row, made)
    sheets.keep()
    return found, anew


def test_sheets_of_the_same_edition_are_known(
    document: Document, kept: Kept, first: dict[str, SheetFacts]
) -> None:
    # The same texts in other objects: nothing stands on identity.
    again = edition_with(Document.model_validate_json(document.model_dump_json()))
    assert known(again, kept.copy()) == (first, [])
    assert {one.change for one in first.values()} == {"as before", "changed", "new"}


def test_a_sheet_shows_the_same_where_all_that_it_did_not_note_is_missing(document: Document) -> None:
    reads = Reads(edition_with(document), {}, {})
    seen: Any = reads.edition.document
    whole = seen._held
    for sheet in sheets_of(document):
        with reads.noting() as names:
            drawing = drawing_of(reads.edition, sheet)
        read = {name[2] for name in names if name[:2] == ("edition", "document") and len(name) > 2}
        assert ("edition", "document") not in names, sheet.number
        held: dict[str, Any] = {
            name: value if name in read else Missing() for name, value in whole.__dict__.items()
        }
        seen._held = Document.model_construct(**held)
        seen._seen.clear()
        try:
            assert drawing_of(reads.edition, sheet) == drawing, sheet.number
        finally:
            seen._held = whole
            seen._seen.clear()


@pytest.mark.parametrize("name", ["devices", "room_sheets", "cover"])
def test_a_sheet_is_worked_out_again_where_a_field_changed_that_it_reads(
    document: Document, kept: Kept, first: dict[str, SheetFacts], name: str
) -> None:
    edition = edition_with(document.model_copy(update={name: _otherwise(getattr(document, name))}))
    wanted = {number: facts_of(edition, number) for number in first}
    assert wanted != first
    found, anew = known(edition, kept.copy())
    assert found == wanted
    assert {number for number in first if wanted[number] != first[number]} <= set(anew)


def _otherwise(value: Any) -> Any:
    """Return rows of which the first is changed, or a row with other words."""
    if isinstance(value, tuple):
        first, *others = value
        named = "title" if "title" in type(first).model_fields else "model"
        return (first.model_copy(update={named: f"{getattr(first, named)} otherwise"}), *others)
    return value.model_copy(update={"name": f"{value.name} otherwise"})


def test_a_word_of_a_kind_of_room_that_no_sheet_shows_works_none_out(document: Document, kept: Kept) -> None:
    sheet, *others = document.room_sheets
    changed = (sheet.model_copy(update={"use": "Otherwise."}), *others)
    _, anew = known(edition_with(document.model_copy(update={"room_sheets": changed})), kept.copy())
    assert anew == []


def test_what_a_sheet_reads_is_not_noted_for_the_page_that_shows_it(document: Document) -> None:
    reads = Reads(edition_with(document), {}, {})
    sheet = sheets_of(document)[0]
    with reads.noting() as page:
        assert reads.edition.document.cover
        with reads.noting() as inner:
            drawing_of(reads.edition, sheet)
        assert reads.edition.document.price is not None
    there = ("edition", "document", "?")
    assert page == {there, ("edition", "document", "cover"), ("edition", "document", "price")}
    assert len(inner) > len(page)


def test_a_damaged_store_costs_time_and_nothing_else(
    document: Document, kept: Kept, first: dict[str, SheetFacts]
) -> None:
    damaged = kept.copy()
    for key in list(damaged._held):
        damaged.keep(key, damaged._held[key][:-9])
    assert known(edition_with(document), damaged) == (first, list(first))
