"""Every row of a document is known again in another one, by what it is."""

from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from proposal.differences.keys import natural_key, references_of, serials_of
from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.readers import Shown
from proposal.document.schedule import Row, columns_of, parts_of
from proposal.model.loading import load_project
from proposal.pipeline import compute

ROOT = Path(__file__).parent.parent.parent
PROJECTS = [
    ROOT / "example_project",
    ROOT / "shared" / "starter",
    *(ROOT / "tests" / "projects" / name for name in ("failing", "minimal", "us_customary")),
]


@lru_cache
def document(folder: Path) -> Document:
    return document_of(compute(load_project(folder)))


def collections(value: Any) -> Iterator[tuple[Shown, ...]]:
    """Yield every collection of rows of a document, nested ones too."""
    if isinstance(value, Shown):
        for name in type(value).model_fields:
            yield from collections(getattr(value, name))
    elif isinstance(value, tuple):
        if value and all(isinstance(item, Shown) for item in value):
            yield value
        for item in value:
            yield from collections(item)


def row_classes(kind: Any, inside: bool = False) -> Iterator[type[Shown]]:
    """Yield every class whose rows stand in a collection, by the types alone."""
    if isinstance(kind, type) and issubclass(kind, Shown):
        if inside:
            yield kind
        for field in kind.model_fields.values():
            yield from row_classes(field.annotation)
    else:
        for inner in getattr(kind, "__args__", ()):
            yield from row_classes(inner, inside=getattr(kind, "__origin__", None) is tuple)


def test_every_class_of_rows_has_a_key_of_fields_that_it_has() -> None:
    for kind in row_classes(Document):
        assert issubclass(kind, Row)
        assert kind.schedule.key, kind
        for name in kind.schedule.key:
            assert name in kind.model_fields or isinstance(getattr(kind, name), property), (kind, name)


@pytest.mark.parametrize("folder", PROJECTS, ids=lambda folder: folder.name)
def test_no_two_rows_have_one_key(folder: Path) -> None:
    for rows in collections(document(folder)):
        assert isinstance(rows[0], Row)
        if not rows[0].schedule.shares_key:
            twice = [key for key, count in Counter(map(natural_key, rows)).items() if count > 1]
            assert not twice, type(rows[0])


def test_serials_and_references_are_fields_and_name_collections_with_numbers() -> None:
    serials = {kind.__name__: serials_of(kind) for kind in parts_of(Document) if serials_of(kind)}
    assert serials["FindingRow"] == {"number", "place"}
    assert serials["TakeoffRow"] == {"number"}
    for kind in parts_of(Document):
        assert issubclass(kind, Row)
        assert not serials_of(kind) & set(kind.schedule.key)
        for collection in references_of(kind).values():
            rows = next(row_classes(Document.model_fields[collection].annotation))
            assert "number" in rows.model_fields
    assert {name for kind in parts_of(Document) for name in references_of(kind)} == {
        "assumptions",
        "questions",
        "used_by",
    }


def test_every_heading_row_and_subject_has_a_word() -> None:
    words = document(PROJECTS[0]).words
    for kind in parts_of(Document):
        assert issubclass(kind, Row)
        assert f"subjects.{kind.schedule.subject}" in words
        for column in columns_of(kind).values():
            assert f"headings.{column.shows.heading}" in words, (kind, column.name)
            assert column.shows.subject is None or f"subjects.{column.shows.subject}" in words
