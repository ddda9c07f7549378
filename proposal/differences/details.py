"""A difference as its reader sees it: by subject and row, every value with its unit."""

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from proposal.differences.consequences import Amount, Consequence
from proposal.differences.difference import ABSENT, Addition, Change, Difference, Path, Removal
from proposal.differences.keys import natural_key
from proposal.differences.subjects import SUBJECTS, label_of, name_of, subject_of
from proposal.document import formatting
from proposal.document.document import Document
from proposal.document.readers import Shown
from proposal.document.rows import Cover

Sign = Literal["new", "removed", "changed"]
_LONGEST = 100
# Ending of a field's name → kind of quantity.
_KINDS: Mapping[str, str] = {
    "_m2": "area",
    "_m": "length",
    "_w": "power",
    "_v": "voltage",
    "_ohm": "resistance",
    "_dbm": "level_dbm",
    "_db": "level",
    "_kg": "mass",
    "_c": "temperature",
    "_n": "force",
    "_hz": "frequency_mhz",
    "_bit_s": "data_rate",
}
_FRACTIONS = frozenset(
    {"fill", "waste", "probability", "reserve", "docked_share", "in_use_share", "share", "rate", "tax_rate"}
)
_POINTS = frozenset({"at", "origin", "outline", "low", "high", "worst_at"})
_MONEY = frozenset(
    {
        "balance",
        "bound",
        "cost",
        "due",
        "equipment_cost",
        "incoming",
        "labour_cost",
        "list_price",
        "margin",
        "materials_cost",
        "outgoing",
        "price",
        "reserve",
        "retained",
        "selling",
        "supply",
        "tax",
        "total",
        "unit_cost",
        "unit_list",
        "unit_price",
        "work",
    }
)


@dataclass(frozen=True, slots=True)
class Fact:
    """A field of a changed row.

    label: what it is called.
    before, after: its values with their units; empty both where they are too long to show.
    """

    label: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """A row that is new, gone or changed.

    subject: under which it is listed.
    sign: what became of it.
    name: what it is called.
    about: of a new or removed row, what it is.
    facts: of a changed row, what changed.
    path: of the row, in the document.
    row: the row, where one is.
    """

    subject: str
    sign: Sign
    name: str
    about: str
    facts: tuple[Fact, ...]
    path: Path


def details_of(difference: Difference, before: Document, after: Document) -> tuple[Detail, ...]:
    """Return the rows that differ, by subject, in the order of the document.

    A change that is smaller than what is shown of its value is left out, and so is mere renumbering.
    """
    titles = {sheet.key: sheet.title for sheet in (*before.room_sheets, *after.room_sheets)}
    cover = after.cover
    found: list[Detail] = []
    changed: dict[tuple[str, Path], list[Fact]] = {}
    for change in difference.changes:
        fact = _fact(change, cover, _unit_of(change, after))
        if fact is not None:
            changed.setdefault((subject_of(change.path), _row_path(change.path)), []).append(fact)
    signs: tuple[tuple[Sign, Sequence[Addition | Removal]], ...] = (
        ("new", difference.additions),
        ("removed", difference.removals),
    )
    for sign, rows in signs:
        for one in rows:
            found.append(
                Detail(
                    subject=subject_of(one.path),
                    sign=sign,
                    name=name_of(one.path, titles),
                    about=_about(one.row, one.path),
                    facts=(),
                    path=one.path,
                )
            )
    found += [
        Detail(
            subject=subject,
            sign="changed",
            name=name_of(path, titles),
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
    return len(difference.changes) - sum(len(one.facts) for one in details)


def _row_path(path: Path) -> Path:
    """Return the path of the row that a field belongs to, or of what holds it where it is in no row."""
    for place in range(len(path) - 1, -1, -1):
        if isinstance(path[place], tuple):
            return path[: place + 1]
    return path[:-1] or path


def _label(path: Path) -> str:
    """Return what the field of a change is called within its row."""
    steps = path[len(_row_path(path)) :] or path[-1:]
    return ", ".join(label_of(str(step)) for step in steps)


def _unit_of(change: Change, document: Document) -> str:
    """Return the unit that a working or finding states for its own numbers."""
    if str(change.path[0]) not in ("workings", "findings"):
        return ""
    rows = getattr(document, str(change.path[0]))
    key = change.path[1]
    return next((str(row.unit) for row in rows if natural_key(row) == key[: len(natural_key(row))]), "")


def _fact(change: Change, cover: Cover, unit: str) -> Fact | None:
    label, name = _label(change.path), str(change.path[-1])
    if _is_list(change.before) and _is_list(change.after):
        lists = [[_value(item, "", cover, "") for item in side] for side in (change.before, change.after)]
        return Fact(label, *_names(*lists))
    before, after = _value(change.before, name, cover, unit), _value(change.after, name, cover, unit)
    if before == after:
        return None if before else Fact(label, "", "")
    if max(len(before), len(after)) > _LONGEST:
        return Fact(label, "", "")
    return Fact(label, before, after)


def _is_list(value: Any) -> bool:
    """Say whether a value is a list of things, each of which stands for itself."""
    return (
        isinstance(value, tuple)
        and len(value) > 1
        and all(isinstance(item, str) or _is_named(item) for item in value)
    )


def _is_named(item: Any) -> bool:
    return isinstance(item, tuple) and bool(item) and isinstance(item[0], str)


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


def _value(value: Any, name: str, cover: Cover, unit: str) -> str:
    """Return a value as its reader expects it; empty where it cannot be shown in a line."""
    if value is ABSENT or value is None or value == "" or value == ():
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime.date):
        return formatting.date(value, cover.locale)
    if isinstance(value, Decimal):
        return _decimal(value, name, cover)
    if isinstance(value, int | float):
        return _number(value, name, cover, unit)
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return _tuple(value, name, cover, unit)
    return ""


def _number(value: float, name: str, cover: Cover, unit: str) -> str:
    for ending, kind in _KINDS.items():
        if name.endswith(ending):
            return formatting.quantity(value, kind, cover.units, cover.locale)
    if name in _FRACTIONS:
        return formatting.quantity(value, "fraction", cover.units, cover.locale)
    shown = formatting.significant(float(value), cover.locale)
    return f"{shown} {unit}" if unit not in ("", "-") else shown


def _decimal(value: Decimal, name: str, cover: Cover) -> str:
    if name.endswith("_m"):
        return formatting.quantity(float(value), "length", cover.units, cover.locale)
    if name.endswith("hours"):
        return f"{formatting.short_number(value, cover.locale, 2)} h"
    if name in _FRACTIONS:
        return formatting.quantity(float(value), "fraction", cover.units, cover.locale)
    if name in _MONEY:
        return formatting.money(value, cover.currency, cover.locale)
    return formatting.short_number(value, cover.locale, 3)


def _tuple(value: tuple[Any, ...], name: str, cover: Cover, unit: str) -> str:
    if name in _POINTS and len(value) == 2 and all(isinstance(item, int | float) for item in value):
        return ", ".join(
            formatting.short_quantity(item, "length", cover.units, cover.locale) for item in value
        )
    parts = [_value(item, name, cover, unit) for item in value]
    separator = " " if _is_named(value) and any(not isinstance(item, str) for item in value) else ", "
    return separator.join(parts) if all(parts) else ""


def _about(row: Shown, path: Path) -> str:
    """Return what a row is in a few words, where its name does not say it."""
    named = " ".join(part for step in path if isinstance(step, tuple) for part in step)
    for field in ("message", "description", "name", "title", "kind", "type", "what"):
        value = getattr(row, field, "")
        if isinstance(value, str) and value and value not in named:
            return value if len(value) <= _LONGEST else value[: _LONGEST - 1] + "…"
    return ""


def amount_text(amount: Amount | None, kind: str, cover: Cover) -> str:
    """Return a total with its unit; a dash where there is none."""
    if amount is None:
        return "–"
    if isinstance(amount, datetime.date):
        return formatting.date(amount, cover.locale)
    if kind == "money" and isinstance(amount, Decimal):
        return formatting.money(amount, cover.currency, cover.locale)
    if kind == "hours":
        return f"{formatting.short_number(amount, cover.locale, 2)} h"
    if kind == "count":
        return formatting.number(amount, cover.locale)
    return formatting.quantity(float(amount), kind, cover.units, cover.locale)


def change_text(consequence: Consequence, cover: Cover) -> str:
    """Return how much more or less a total is now, with its sign; empty where that cannot be said."""
    by = consequence.by
    if by is None or isinstance(by, datetime.date):
        return ""
    if consequence.kind == "date":
        shown = formatting.count_of(abs(int(by)), "day")
        return f"{shown} later" if by > 0 else f"{shown} earlier"
    sign = "+" if by > 0 else "−" if by < 0 else "±"
    return sign + amount_text(-by if by < 0 else by, consequence.kind, cover)


def by_subject(details: Sequence[Detail]) -> Iterator[tuple[str, tuple[Detail, ...]]]:
    """Yield each subject that has details, with them."""
    for subject in SUBJECTS:
        mine = tuple(one for one in details if one.subject == subject)
        if mine:
            yield subject, mine
