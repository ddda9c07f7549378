"""A difference as its reader sees it: by subject and row, every value as its field was declared."""

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field

from proposal.differences.consequences import Amount, Consequence
from proposal.differences.difference import ABSENT, Addition, Change, Difference, Path, Removal
from proposal.differences.places import Rows, quantities_at
from proposal.differences.subjects import SUBJECTS, columns_at, label_of, name_of, subject_of, titles_of
from proposal.document.document import Document
from proposal.document.headings import Words
from proposal.document.quantities import BESIDE, Quantity
from proposal.document.readers import Shown
from proposal.document.schedule import ALL, Row, Schedule, Shows, Subject, composed
from proposal.document.values import (
    Values,
    amount_text,
    field_text,
    is_nothing,
    item_text,
    spelled,
    values_of,
)
from proposal.quantities import formatting

Sign = Literal["new", "removed", "changed"]
_LONGEST = 100
_MOST_ITEMS = 10_000
# Group of those rows of the offer that are shares of a whole.
LUMP = "lump"


class Fact(Row):
    """A field of a changed row; both values are empty where they are too long to show."""

    schedule: ClassVar = Schedule("fact", subject="terms")

    label: Annotated[str, Shows("name", ALL)] = Field(description="What the field is called.")
    before: Annotated[str, Shows("input_before", ALL)] = Field(description="Its value before, with its unit.")
    after: Annotated[str, Shows("input_after", ALL)] = Field(description="Its value now.")


# Collections whose rows have a name of their own, under which pages know them.
_NAMED = frozenset({"rooms", "devices", "cables", "pathways", "storeys", "equipment_rooms", "margins"})


class Detail(Row):
    """A row that is new, gone or changed."""

    schedule: ClassVar = Schedule("detail", subject="terms")

    subject: Annotated[Subject, Shows("subject", ALL, drawn=True)] = Field(
        description="Under which it is listed."
    )
    sign: Annotated[Sign, Shows("is", ALL, "verdict")] = Field(description="What became of it.")
    name: Annotated[str, Shows("name", ALL)] = Field(description="What it is called.")
    about: Annotated[str, Shows("description", ALL)] = Field(
        description="Of a new or removed row, what it is."
    )
    facts: Annotated[tuple[Fact, ...], Shows("in_detail", ALL, "rows")] = Field(
        description="Of a changed row, what changed."
    )
    path: Annotated[Path, Shows("where", ALL, drawn=True)] = Field(description="Of the row, in the document.")

    @composed(Shows("what", ALL, link="tag", target="named"))
    def called(self) -> str:
        """What it is called, at the start of a line."""
        return _capital(self.name)

    @composed(Shows("where", ALL, "tag", drawn=True))
    def named(self) -> str:
        """Name under which a page knows it; empty where none does."""
        key = self.path[1] if len(self.path) > 1 else ""
        known = self.sign != "removed" and self.path[0] in _NAMED and isinstance(key, tuple)
        return key[0] if known else ""

    @composed(Shows("in_detail", ALL, lines=True))
    def in_detail(self) -> tuple[str, ...]:
        """What it is, or field by field what changed."""
        return tuple(map(_fact_text, self.facts)) if self.facts else (self.about,)


def _fact_of(label: str, before: str, after: str) -> Fact:
    return Fact(label=label, before=before, after=after)


def _fact_text(fact: Fact) -> str:
    label = _capital(fact.label)
    return f"{label}: {fact.before} → {fact.after}" if fact.before or fact.after else label


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def details_of(difference: Difference, before: Document, after: Document) -> tuple[Detail, ...]:
    """Return the rows that differ, by subject, in the order of the document.

    A change that is smaller than what is shown of its value is left out, and so is mere renumbering, and what
    lumps of the offer come to: they are shares of the whole, and with any part of it every lump is another.
    """
    titles = titles_of(before) | titles_of(after)
    values = values_of(after)
    sides = _Side(before, values), _Side(after, values)
    found: list[Detail] = []
    changed: dict[tuple[Subject, Path], list[Fact]] = {}
    parts: list[tuple[Sign, Path, Any]] = []
    for change in difference.changes:
        if _is_share(change.path):
            continue
        if isinstance(change.before, Shown) or isinstance(change.after, Shown):
            came = is_nothing(change.before)
            parts.append(("new" if came else "removed", change.path, change.after if came else change.before))
            continue
        fact = _fact(change, sides, values.words)
        if fact is not None:
            changed.setdefault((subject_of(change.path), _row_path(change.path)), []).append(fact)
    rows: list[tuple[Sign, Sequence[Addition | Removal]]] = [
        ("new", difference.additions),
        ("removed", difference.removals),
    ]
    parts += [(sign, one.path, one.row) for sign, mine in rows for one in mine]
    for sign, path, row in parts:
        found.append(
            Detail(
                subject=subject_of(path),
                sign=sign,
                name=name_of(path, titles, values),
                about=_about(row, path),
                facts=(),
                path=path,
            )
        )
    found += [
        Detail(
            subject=subject,
            sign="changed",
            name=name_of(path, titles, values),
            about="",
            facts=tuple(facts),
            path=path,
        )
        for (subject, path), facts in changed.items()
    ]
    places = {subject: place for place, subject in enumerate(SUBJECTS)}
    fields = {name: place for place, name in enumerate(Document.model_fields)}
    found.sort(key=lambda one: (places[one.subject], fields[str(one.path[0])]))
    return tuple(found)


def unseen(difference: Difference, details: Sequence[Detail]) -> int:
    """Return how many fields changed by less than what is shown of them."""
    parts = sum(one.sign != "changed" and isinstance(one.path[-1], str) for one in details)
    facts = sum(len(one.facts) for one in details)
    return len(difference.changes) - shares(difference) - parts - facts


def shares(difference: Difference) -> int:
    """Return how many figures changed that are shares of the whole price."""
    return sum(1 for change in difference.changes if _is_share(change.path))


def _is_share(path: Path) -> bool:
    """Say whether a field is of a lump of the offer."""
    return path[0] == "offer" and len(path) > 1 and path[1][:1] == (LUMP,)


def _row_path(path: Path) -> Path:
    """Return the path of the row that a field belongs to, or of what holds it where it is in no row."""
    for place in range(len(path) - 1, -1, -1):
        if isinstance(path[place], tuple):
            return path[: place + 1]
    return path[:-1] or path


def _label(path: Path, words: Words) -> str:
    """Return what the field of a change is called within its row."""
    columns = columns_at(path)
    outer = len(columns_at(_row_path(path)))
    names = [label_of(column, words) for column in columns[outer:] or columns[-1:]]
    if path[-1] != columns[-1].name:
        names.append(str(path[-1]))  # a key of a mapping
    return ", ".join(names)


class _Side:
    """One of the two documents, and how its values are written: as the later one, in its own currency."""

    def __init__(self, document: Document, values: Values) -> None:
        self._rows = Rows(document)
        self._values = replace(values, currency=document.cover.currency)

    def text(self, value: Any, held: tuple[Quantity, ...], path: Path) -> str:
        """Return a value of this side in a line."""
        value = None if value is ABSENT else value
        row = self._rows.holding(path) if any(one in BESIDE for one in held) else None
        return field_text(value, held, self._values, row)

    def items(self, value: Sequence[Any], held: tuple[Quantity, ...]) -> list[str]:
        """Return the items of a list of this side, one by one."""
        return [item_text(item, held, self._values) for item in value]


def _fact(change: Change, sides: tuple[_Side, _Side], words: Words) -> Fact | None:
    held = quantities_at(change.path)
    label = _label(change.path, words)
    shows = columns_at(change.path)[-1].shows
    values = change.before, change.after
    if shows.words:
        values = spelled(change.before, shows, words), spelled(change.after, shows, words)
    if held[0] in ("text", "word", "tag") and all(isinstance(one, tuple) and len(one) > 1 for one in values):
        lists = [side.items(one, held) for side, one in zip(sides, values, strict=True)]
        return _fact_of(label, *_names(*lists))
    if any(isinstance(one, tuple) and len(one) > _MOST_ITEMS for one in values):
        # It would be written out only to be left out for its length.
        return _fact_of(label, "", "")
    before, after = (side.text(one, held, change.path) for side, one in zip(sides, values, strict=True))
    if before == after:
        return None
    if max(len(before), len(after)) > _LONGEST:
        return _fact_of(label, "", "")
    return _fact_of(label, before, after)


def _names(before: Sequence[str], after: Sequence[str]) -> tuple[str, str]:
    """Return what only the one and only the other of two lists holds."""
    gone = [name for name in before if name not in after]
    come = [name for name in after if name not in before]
    if not gone and not come:
        return "", ""
    return _list(gone), _list(come)


def _list(names: Sequence[str]) -> str:
    if not names or not all(names):
        return "without"
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return "with " + ", ".join(names[:3]) + more


def _about(row: Shown, path: Path) -> str:
    """Return what a row is in a few words, where its name does not say it."""
    named = " ".join(part for step in path if isinstance(step, tuple) for part in step)
    for field in ("message", "description", "name", "title", "kind", "type", "what"):
        value = getattr(row, field, "")
        if isinstance(value, str) and value and value not in named:
            return value if len(value) <= _LONGEST else value[: _LONGEST - 1] + "…"
    return ""


def total_texts(consequence: Consequence, values: Values) -> tuple[str, str]:
    """Return a total of two documents with its unit, before and after; empty where there is none.

    values: how the later one writes values; amounts are in the currency of their document.
    """
    before, after = (
        ""
        if amount is None
        else _total_text(amount, consequence.quantity, replace(values, currency=currency))
        for amount, currency in zip(
            (consequence.before, consequence.after), consequence.currencies, strict=True
        )
    )
    return before, after


def _total_text(amount: Amount, quantity: Quantity, values: Values) -> str:
    if isinstance(amount, datetime.date):
        return formatting.date(amount, values.locale)
    return amount_text(amount, quantity, values)


def change_text(consequence: Consequence, values: Values) -> str:
    """Return how much more or less a total is now, with its sign; empty where that cannot be said."""
    by = consequence.by
    if by is None or isinstance(by, datetime.date):
        return ""
    if consequence.quantity == "date":
        shown = formatting.count_of(abs(int(by)), "day")
        return f"{shown} later" if by > 0 else f"{shown} earlier"
    sign = "+" if by > 0 else "−" if by < 0 else "±"
    return sign + _total_text(-by if by < 0 else by, consequence.quantity, values)


def by_subject(details: Sequence[Detail], words: Words) -> Iterator[tuple[str, tuple[Detail, ...]]]:
    """Yield the heading of each subject that has details, with them."""
    for subject in SUBJECTS:
        mine = tuple(one for one in details if one.subject == subject)
        if mine:
            yield words.subject(subject), mine
