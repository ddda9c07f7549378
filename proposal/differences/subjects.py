"""What a changed row and its fields are called, and under which subject a reader looks for them."""

import datetime
from collections.abc import Mapping
from functools import lru_cache
from typing import get_args

from proposal.differences.difference import Path
from proposal.document.document import Document
from proposal.document.headings import Words
from proposal.document.readers import Shown
from proposal.document.schedule import Column, Row, Subject, columns_of, part_in
from proposal.document.values import Values
from proposal.quantities import formatting

SUBJECTS: tuple[Subject, ...] = get_args(Subject)


def columns_at(path: Path) -> tuple[Column, ...]:
    """Return the columns that a path leads through, the outermost first.

    path: of a field or a row, its first step a field of the document.
    """
    return tuple(column for column, _ in _along(_fields_in(path)))


def subject_of(path: Path) -> Subject:
    """Return the subject under which a change at a path is listed.

    path: of a field or a row, its first step a field of the document.
    """
    subject: Subject = Document.schedule.subject
    for column, part in _along(_fields_in(path)):
        if column.shows.subject is not None:
            subject = column.shows.subject
        elif part is not None and issubclass(part, Row):
            subject = part.schedule.subject
    return subject


def _fields_in(path: Path) -> tuple[str, ...]:
    return tuple(step for step in path if not isinstance(step, tuple))


@lru_cache(maxsize=4096)
def _along(steps: tuple[str, ...]) -> tuple[tuple[Column, type[Shown] | None], ...]:
    """Return the columns at some steps, each with the class of parts that it holds, until a key of a mapping.

    steps: names of fields, the first of the document; thousands of rows have the same.
    """
    found: list[tuple[Column, type[Shown] | None]] = []
    part: type[Shown] | None = Document
    for step in steps:
        if part is None or step not in columns_of(part):
            break
        column = columns_of(part)[step]
        part = part_in(part.model_fields[step].annotation)
        found.append((column, part))
    return tuple(found)


def label_of(column: Column, words: Words) -> str:
    """Return what a field is called within a sentence: its heading without the capital at the start."""
    heading = words.heading(column.shows.heading)
    return heading if heading[1:2].isupper() else heading[:1].lower() + heading[1:]


def titles_of(document: Document) -> dict[str, str]:
    """Return by their keys the titles of what has other names: kinds of room, assumptions, questions."""
    return (
        {row.key: row.title for row in document.room_sheets}
        | {row.key: row.title for row in document.assumptions}
        | {row.key: row.title for row in document.questions}
    )


def name_of(path: Path, titles: Mapping[str, str], values: Values) -> str:
    """Return what a row is called, such as `cable A101-AP1/N1/ER2-RK1`.

    path: of the row, or of a single part of the document.
    titles: of what is not called by its key, as `titles_of` gives them.
    values: how the document writes values.
    """
    words = values.words
    names: list[str] = []
    part: type[Shown] | None = Document
    for step in path:
        if isinstance(step, tuple):
            assert part is not None
            names[-1] = f"{names[-1]} {_called(part, step, titles, values)}".strip()
            continue
        column = columns_of(part)[step] if part is not None and step in columns_of(part) else None
        if column is None or part is None:
            names.append(step)
            part = None
            continue
        part = part_in(part.model_fields[step].annotation)
        noun = words.row(part.schedule.name) if part is not None and issubclass(part, Row) else ""
        names.append(noun or ("" if part is not None else label_of(column, words)))
    return ", ".join(name for name in names if name)


def _called(part: type[Shown], key: tuple[str, ...], titles: Mapping[str, str], values: Values) -> str:
    """Return what a row is called by its key."""
    assert issubclass(part, Row)
    schedule = part.schedule
    if schedule.name == "room_sheet":
        return titles.get(key[0], key[0])
    named = {name: _in_words(part, name, text, values) for name, text in zip(schedule.key, key, strict=False)}
    if schedule.name in ("assumption", "question"):
        named["title"] = titles.get(named["key"], named["key"])
    rest = key[len(schedule.key) :]  # tells rows of one key apart
    parts = [shape.format(**named) for shape in schedule.called] if schedule.called else list(named.values())
    shown = [one for one in (*parts, *rest) if one]
    if not shown and schedule.unnamed:
        return values.words.value(schedule.unnamed)
    return ", ".join(shown)


def _in_words(part: type[Shown], name: str, text: str, values: Values) -> str:
    """Return a part of a key as its reader expects it: dates in words, nothing where one is not set."""
    column = columns_of(part).get(name)
    if column is not None and column.shows.quantity == "unit":
        return formatting.unit_of("length", values.units) if text == "m" else text
    if column is None or column.shows.quantity != "date":
        return text
    return "" if text == str(None) else formatting.date(datetime.date.fromisoformat(text), values.locale)
