"""A schedule as a plain table: the columns that its rows declare, for one edition's reader."""

import datetime
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from proposal.document.document import Document
from proposal.document.quantities import Quantity
from proposal.document.readers import Reader, Shown
from proposal.document.schedule import Column as Declared
from proposal.document.schedule import Job, Row, Shows, columns_of, part_in, visible
from proposal.document.values import Values, converted, field_text, is_nothing, spelled, values_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

HOURS_PLACES = 2
Value = str | int | float | Decimal | bool | datetime.date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table.

    name: name in formulas.
    heading: what stands on top, without the unit.
    quantity: how its values are written.
    unit: unit of its values, empty where there is none.
    formula: a spreadsheet formula in which {name} stands for the cell of another column, empty where the
        values are plain; the table's value is then what the formula gives.
    total: whether its values are added up.
    """

    name: str
    heading: str
    quantity: Quantity = "text"
    unit: str = ""
    formula: str = ""
    total: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A schedule: name for files and sheets, title, columns and rows of values in their order."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Value, ...], ...]


def schedules(edition: Edition) -> tuple[Table, ...]:
    """Return every schedule of an edition that holds something, in the order of the document.

    Rows inside rows are a schedule of their own, which begins with what names the row that holds them. What
    is one of a kind, such as the cover, is a schedule of one row.
    """
    return tuple(_tables(edition, lambda _: True))


def job_schedules(edition: Edition, job: Job) -> tuple[Table, ...]:
    """Return the schedules whose rows say what a job needs of them, each with those columns alone.

    edition: what may be exported.
    """
    parts = _parts_by_name()
    found: list[Table] = []
    for table in schedules(edition):
        part = parts.get(table.name)
        wanted = part.schedule.views.get(job, "").split() if part is not None else []
        places = [n for n, column in enumerate(table.columns) if _field_of(column) in wanted]
        if places:
            columns = tuple(table.columns[n] for n in places)
            rows = tuple(tuple(row[n] for n in places) for row in table.rows)
            found.append(replace(table, columns=columns, rows=rows))
    return tuple(found)


def _field_of(column: Column) -> str:
    """Return the name of the field that a column of a file is of: a place has one for each axis."""
    return column.name.removesuffix("_east").removesuffix("_north")


def _parts_by_name() -> dict[str, type[Row]]:
    """Return the classes of the rows of schedules in files, by the names of these."""
    return {
        column.name.replace("_", "-"): part
        for column in columns_of(Document).values()
        if column.shows.quantity == "rows"
        and (info := Document.model_fields.get(column.name)) is not None
        and (part := part_in(info.annotation)) is not None
        and issubclass(part, Row)
    }


def lasting_schedules(edition: Edition) -> tuple[Table, ...]:
    """Return the same schedules with all that rows hold of their own, and nothing that follows from others.

    A row that stays what it is then stays as it is, whatever comes before it or moves elsewhere. Left out are
    numbers that tell where a row stands among others, what is composed of others, and what is declared to
    follow. Where that is a part of what names a row, rows that are then the same stand once. Collections of
    one schedule, such as the findings of design and price, are one table, whose first column says which they
    are.
    """
    parts = _parts_by_name()
    count = Counter(part.schedule.name for part in parts.values())
    together: dict[str, list[Table]] = {}
    for table in _tables(edition, _lasts):
        part = parts.get(table.name)
        found = _each_once(table) if part is not None and _loses_its_name(part) else table
        shared = part is not None and count[part.schedule.name] > 1
        name = part.schedule.name.replace("_", "-") if part is not None and shared else table.name
        together.setdefault(name, []).append(_named(found, name) if shared else found)
    return tuple(
        replace(tables[0], rows=tuple(row for table in tables for row in table.rows))
        for tables in together.values()
    )


def _loses_its_name(part: type[Row]) -> bool:
    """Say whether a part of what names rows follows from others, so that several may be the same without."""
    columns = columns_of(part)
    return any(key in columns and columns[key].shows.follows for key in part.schedule.key)


def _each_once(table: Table) -> Table:
    """Return a table without rows that are the same as others, in the order of their texts.

    None of them then moves with what it was said of.
    """
    rows = sorted(set(table.rows), key=lambda row: ["" if value is None else str(value) for value in row])
    return replace(table, rows=tuple(rows))


def _lasts(column: Declared) -> bool:
    """Say whether a column holds something of its own that other rows do not change."""
    shows = column.shows
    return not (shows.serial or shows.refers or shows.follows or column.composed)


def _named(table: Table, name: str) -> Table:
    """Return a table as a part of another, with its title in a column before the others."""
    return Table(
        name=name,
        title=name,
        columns=(Column(name="schedule", heading="Schedule"), *table.columns),
        rows=tuple((table.title, *row) for row in table.rows),
    )


def _tables(edition: Edition, wanted: Callable[[Declared], bool]) -> Iterator[Table]:
    whole = _Whole(edition.document, edition.reader, values_of(edition.document), wanted)
    for column in columns_of(Document).values():
        if edition.reader not in column.shows.readers or column.shows.quantity != "rows":
            continue
        if not whole.wanted(column):
            continue
        found: Any = getattr(edition.document, column.name)
        rows = found if isinstance(found, tuple) else () if found is None else (found,)
        if rows:
            yield from _schedule(column, rows, whole, (), column.name)


@dataclass(frozen=True, slots=True)
class _Whole:
    """What rows stand in: the document, who reads it, how it writes values, and which columns are wanted."""

    document: Document
    reader: Reader
    values: Values
    wanted: Callable[[Declared], bool]


Outer = tuple[tuple[Declared, ...], tuple[Value, ...]]


def _schedule(
    column: Declared,
    rows: Sequence[Row],
    whole: _Whole,
    outer: Sequence[Outer],
    name: str,
) -> Iterator[Table]:
    """Yield the table of a collection and those of the rows inside its rows.

    outer: for each row, the columns that name what holds it and their values; none for the document's own.
    """
    part, reader, values = type(rows[0]), whole.reader, whole.values
    shown = [one for one in visible(part, reader) if _has_cell(one) and whole.wanted(one)]
    before = outer[0][0] if outer else ()
    if shown:
        yield Table(
            name=name.replace("_", "-"),
            title=values.heading(column.shows),
            columns=tuple(one for held in (*before, *shown) for one in _columns(held, values)),
            rows=tuple(
                (*(outer[place][1] if outer else ()), *_cells(row, shown, whole))
                for place, row in enumerate(rows)
            ),
        )
    keys = (columns_of(part)[key] for key in part.schedule.key if key in columns_of(part))
    names = [one for one in keys if whole.wanted(one)]
    for inner in visible(part, reader):
        if inner.shows.quantity != "rows" or not whole.wanted(inner):
            continue
        held: list[Row] = []
        holders: list[Outer] = []
        for place, row in enumerate(rows):
            found = inner.of(row, whole.document)
            mine = found if isinstance(found, tuple) else () if found is None else (found,)
            held += mine
            own = outer[place] if outer else ((), ())
            holders += [((*own[0], *names), (*own[1], *_cells(row, names, whole)))] * len(mine)
        if held:
            yield from _schedule(inner, held, whole, holders, f"{name}_{inner.name}")


def _has_cell(column: Declared) -> bool:
    shows = column.shows
    return not (shows.drawn or shows.together) and shows.quantity not in ("rows", "blank")


def _columns(column: Declared, values: Values) -> Iterator[Column]:
    shows = column.shows
    heading, unit = values.heading(shows), values.unit(shows)
    if shows.quantity == "coordinates":
        for axis in ("east", "north"):
            yield Column(
                name=f"{column.name}_{axis}",
                heading=f"{heading}, {values.words.value(axis)}",
                quantity="position",
                unit=unit,
            )
        return
    quantity = "text" if isinstance(shows.quantity, tuple) else shows.quantity
    if quantity in ("money", "difference", "unit price", "price by unit"):
        unit = values.currency
    yield Column(
        name=column.name,
        heading=heading,
        quantity=quantity,
        unit=unit,
        formula=_rounded(shows, values.currency),
        total=shows.sums,
    )


def _rounded(shows: Shows, currency: str) -> str:
    """Return the formula of a column, rounded where the value it gives is: half up, away from zero."""
    if not shows.formula or shows.quantity not in ("money", "hours"):
        return shows.formula
    places = formatting.money_places(currency) if shows.quantity == "money" else HOURS_PLACES
    return f"ROUND({shows.formula},{places})"


def _cells(row: Shown, columns: Sequence[Declared], whole: _Whole) -> tuple[Value, ...]:
    return tuple(one for column in columns for one in _cell(row, column, whole))


def _cell(row: Shown, column: Declared, whole: _Whole) -> Iterator[Value]:
    shows, values = column.shows, whole.values
    value = (
        spelled(column.of(row, whole.document), shows, values.words)
        if shows.words
        else column.of(row, whole.document)
    )
    if shows.quantity == "coordinates":
        yield from (None, None) if value is None else (converted(one, "length", values) for one in value)
    elif is_nothing(value):
        # A column of figures holds no words: programs add it up.
        yield values.words.value(shows.empty) if shows.empty and not shows.is_numeric else None
    elif isinstance(value, str | tuple) or isinstance(shows.quantity, tuple):
        yield field_text(value, shows.quantities, values, row)
    elif isinstance(value, Decimal) and shows.quantity == "money":
        yield formatting.amount(value, values.currency)
    elif isinstance(value, Decimal) and shows.quantity in ("unit price", "price by unit"):
        yield formatting.unit_amount(value, values.currency)
    elif (
        isinstance(value, Decimal) and shows.quantity in ("length", "small length", "cut length", "position")
    ) or isinstance(value, float):
        yield converted(value, shows.quantity, values)
    else:
        yield value
