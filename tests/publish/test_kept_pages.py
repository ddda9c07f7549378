"""A page is written anew where anything changed that it read, and not where nothing did."""

import types
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, Union, get_args, get_origin

import pytest

from proposal.document.document import Document
from proposal.document.readers import READERS, Reader, Shown
from proposal.document.rows.alternates import AlternateRow
from proposal.document.schedule import parts_of
from proposal.document.whole_proposal import OpenAlternate, Proposal
from proposal.editions import Edition, edition_of_proposal, with_changes
from proposal.pages.site_pages import PlannedPages, planned_pages
from proposal.publish.kept_pages import written_pages
from tests.long_form import LONG
from tests.pages.site import drawings_for, templates
from tests.pages.test_changes import AFTER, BEFORE, INPUTS, changed_edition


class Kept:
    """Keeps what a build keeps, in memory."""

    def __init__(self) -> None:
        self._held: dict[str, bytes] = {}

    def found(self, key: str) -> bytes | None:
        return self._held.get(key)

    def keep(self, key: str, content: bytes) -> None:
        self._held[key] = content

    def copy(self) -> "Kept":
        other = Kept()
        other._held = dict(self._held)
        return other


def edition_with(reader: Reader, document: Document) -> Edition:
    """Return an edition that offers an alternate and tells what changed."""
    row = AlternateRow(key="other", name="The other way", description="As it was before.", price="stated")
    whole = Proposal(document=document, alternates=(OpenAlternate(row=row, document=BEFORE),))
    earlier = changed_edition(reader).changes
    assert earlier is not None
    return with_changes(edition_of_proposal(whole, reader), replace(earlier.before, document=BEFORE), INPUTS)


def planned(edition: Edition) -> PlannedPages:
    return planned_pages(edition, drawings_for(edition.document), templates())


def fresh(edition: Edition) -> dict[str, str]:
    """Return the pages as they are without anything kept."""
    pages = planned(edition)
    return {path: pages.page(path) for path in pages.views}


@pytest.fixture(scope="module")
def editions() -> Mapping[Reader, Edition]:
    return {reader: edition_with(reader, AFTER) for reader in READERS}


def written(edition: Edition, kept: Kept, patch: pytest.MonkeyPatch) -> tuple[dict[str, str], list[str]]:
    """Return the pages of an edition with the paths of those that were written anew."""
    anew: list[str] = []
    whole = PlannedPages.page_and_reads

    def page_and_reads(pages: PlannedPages, path: str) -> Any:
        anew.append(path)
        return whole(pages, path)

    with patch.context() as here:
        here.setattr(PlannedPages, "page_and_reads", page_and_reads)
        return written_pages(planned(edition), kept), anew  # type: ignore[arg-type] # all that is used of it


@pytest.mark.parametrize("reader", READERS)
def test_pages_of_the_same_edition_are_kept(
    reader: Reader, editions: Mapping[Reader, Edition], monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = Kept()
    first, anew = written(editions[reader], kept, monkeypatch)
    assert list(first) == anew
    assert first == fresh(editions[reader])
    # The same texts in other objects: nothing stands on identity.
    again = edition_with(reader, Document.model_validate_json(AFTER.model_dump_json()))
    second, anew = written(again, kept, monkeypatch)
    assert (second, anew) == (first, [])


class Missing:
    """Stands where nothing was read: whatever is done with it fails."""

    def __getattr__(self, name: str) -> Any:
        raise AssertionError(f"{name} of what was not noted as read")

    __iter__ = __len__ = __bool__ = __eq__ = __str__ = __hash__ = None  # type: ignore[assignment]


@pytest.mark.parametrize("reader", READERS)
def test_a_page_is_the_same_where_all_that_it_did_not_note_is_missing(
    reader: Reader, editions: Mapping[Reader, Edition]
) -> None:
    """Whatever a page reads without noting it would be found missing here."""
    pages = planned(editions[reader])
    seen: Any = pages.reads.edition.document
    whole = seen._held
    for path in pages.views:
        page, names = pages.page_and_reads(path)
        read = {name[2] for name in names if name[:2] == ("edition", "document") and len(name) > 2}
        if ("edition", "document") in names:
            continue
        held: dict[str, Any] = {
            name: value if name in read else Missing() for name, value in whole.__dict__.items()
        }
        seen._held = Document.model_construct(**held)
        seen._seen.clear()
        try:
            assert pages.page(path) == page, path
        finally:
            seen._held = whole
            seen._seen.clear()
    assert sum(("edition", "document") in pages.page_and_reads(path)[1] for path in pages.views) == 0


def otherwise(value: Any) -> Iterator[Any]:
    """Yield a field's value as something else: fewer rows, and other words in the first of them."""
    if isinstance(value, tuple) and value:
        yield value[:-1]
        if isinstance(value[0], Shown):
            yield (_reworded(value[0]), *value[1:])
    elif isinstance(value, Shown):
        yield _reworded(value)
    elif isinstance(value, Mapping) and value:
        yield {name: f"{text} otherwise" if isinstance(text, str) else text for name, text in value.items()}


_KNOWN_BY = {"schema_version", "program_version"}


def _reworded(row: Shown) -> Shown:
    """Return a row with other words in every text that is no code or key."""
    texts = {
        name: f"{value} otherwise"
        for name, value in row.__dict__.items()
        if type(value) is str and value and " " in value
    }
    return row.model_copy(update=texts)


READ_HERE = ("room_sheets", "rooms", "wording", "findings", "words", "sheets")


def test_a_page_is_written_anew_where_a_field_changed_that_it_reads(
    editions: Mapping[Reader, Edition], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every field of the document in turn, in the long form; some that most pages read in the short one."""
    reader: Reader = "estimator"
    kept = Kept()
    before, _ = written(editions[reader], kept, monkeypatch)
    changed = 0
    for name in Document.model_fields if LONG else READ_HERE:
        if name in _KNOWN_BY:
            continue
        for value in otherwise(getattr(AFTER, name)):
            try:
                edition = edition_with(reader, AFTER.model_copy(update={name: value}))
                wanted = fresh(edition)
            except (LookupError, StopIteration, TypeError, ValueError):
                continue  # no proposal is like that: rows name what is gone
            found, anew = written(edition, kept.copy(), monkeypatch)
            assert found == wanted, name
            changed += sum(before.get(path) != page for path, page in wanted.items())
            assert {path for path, page in wanted.items() if before.get(path) != page} <= set(anew), name
    assert changed > len(READ_HERE)


def test_a_word_of_a_kind_of_room_writes_few_pages_anew(
    editions: Mapping[Reader, Edition], monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = Kept()
    first, _ = written(editions["estimator"], kept, monkeypatch)
    sheet, *others = AFTER.room_sheets
    document = AFTER.model_copy(
        update={"room_sheets": (sheet.model_copy(update={"use": "Otherwise."}), *others)}
    )
    second, anew = written(edition_with("estimator", document), kept, monkeypatch)
    assert second != first
    assert f"rooms/{sheet.key}.md" in anew
    assert len(anew) < len(first) / 3, anew


def test_a_damaged_store_costs_time_and_nothing_else(
    editions: Mapping[Reader, Edition], monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = Kept()
    first, _ = written(editions["client"], kept, monkeypatch)
    for key in list(kept._held):
        kept.keep(key, kept._held[key][:-9])
    second, anew = written(editions["client"], kept, monkeypatch)
    assert (second, anew) == (first, list(first))


def test_no_field_holds_kinds_of_values_that_are_written_alike() -> None:
    """Digests are of JSON: a text and an amount there, or rows of two classes, could not be told apart."""
    mixed = []
    for part in parts_of(Document):
        for name, info in part.model_fields.items():
            for kinds in unions_in(info.annotation):
                written_as_text = {kind for kind in kinds if kind not in (int, float, bool, type(None))}
                if len(written_as_text) > 1 and not all(get_origin(kind) is tuple for kind in kinds):
                    mixed.append((part.__name__, name, sorted(map(str, kinds))))
    assert mixed == []


def unions_in(annotation: Any) -> Iterator[tuple[Any, ...]]:
    inner = get_args(annotation)
    if get_origin(annotation) in (Union, types.UnionType):
        yield inner
    for one in inner:
        yield from unions_in(one)
