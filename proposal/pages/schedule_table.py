"""Tables whose columns are what their rows declare, as far as an edition has something for them."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any, Generic, TypeVar

from proposal.document.readers import Reader, Shown
from proposal.document.schedule import JOBS, Job, Shows, columns_of
from proposal.document.schedule import Column as Declared
from proposal.document.schedule import Row as Declaring
from proposal.document.values import cell_order, cell_text, field_text
from proposal.field_classes import dataclass
from proposal.pages.markdown import Html, html_text, join, text
from proposal.pages.marks import mark_of
from proposal.pages.page_context import PageContext
from proposal.pages.phrases import code_runs, natural
from proposal.pages.tables import Cell, Column, View, table

Row = TypeVar("Row")
Part = TypeVar("Part", bound=Shown)
Whole = TypeVar("Whole")

_OWN_JOB: Mapping[Reader, Job] = {"reviewer": "check", "estimator": "price", "installer": "pull"}
"""What each reader does with schedules; clients see few columns, and all of them."""
_ORDER: Mapping[str, int] = {job: place for place, job in enumerate(JOBS)}
_FEW_COLUMNS = 8
"""Columns that are read at a glance, so that no choice among them is offered."""
_LONG_TEXT = 48
"""Signs of a text above which it may be folded."""


@dataclass(frozen=True, slots=True)
class Field(Generic[Row]):
    """A column and what it shows of a row.

    column: heading, or a bare text for a column of words.
    value: what the cell holds; None or an empty text is an empty cell.
    keep: whether the column stands even where every cell is empty, to be filled in on paper.
    total: what all rows come to; None where the column adds up to nothing.
    name: of the field or composed column that it shows; empty where it is made by hand.
    views: for which jobs it is shown; None where it is for all.
    opens: code of the view in which its reader finds a schedule first.
    """

    column: Column | str
    value: Callable[[Row], object]
    keep: bool = False
    total: Callable[[Sequence[Row]], object] | None = None
    name: str = ""
    views: tuple[View, ...] | None = None
    opens: str = ""


def fields_of(here: PageContext, part: type[Part], *names: str) -> tuple[Field[Part], ...]:
    """Return columns of a schedule as its rows declare them; a place has one for each axis.

    part: class of the rows.  names: of its fields and composed columns, in order.
    Raises KeyError where the rows have none of such a name.
    """
    declared = columns_of(part)
    return tuple(field for name in names for field in _fields(here, part, declared[name]))


def of_part(fields: Iterable[Field[Part]], part: Callable[[Whole], Part]) -> tuple[Field[Whole], ...]:
    """Return columns of a part as columns of what holds it.

    fields: of the part, as its rows declare them.  part: returns the part of what holds it.
    """
    return tuple(_of_part(field, part) for field in fields)


def _of_part(field: Field[Part], part: Callable[[Whole], Part]) -> Field[Whole]:
    total = field.total
    return Field(
        field.column,
        lambda whole: field.value(part(whole)),
        keep=field.keep,
        total=None if total is None else lambda rows: total([part(one) for one in rows]),
        name=field.name,
        views=field.views,
        opens=field.opens,
    )


def _fields(here: PageContext, part: type[Shown], column: Declared) -> tuple[Field[Any], ...]:
    shows = column.shows
    if here.edition.reader not in shows.readers or shows.drawn:
        return ()
    heading, unit = here.values.heading(shows), here.values.unit(shows)
    views, opens = _views_of(here, part, column.name), _OWN_JOB.get(here.edition.reader, "")
    if shows.quantity == "coordinates":
        return tuple(
            Field(
                Column(f"{heading}, {here.values.words.value(axis)}", numeric=True, unit=unit),
                _axis(here, column, place),
                name=column.name,
                views=views,
                opens=opens,
            )
            for place, axis in enumerate(("east", "north"))
        )
    numeric = shows.is_numeric or _sorts_by_size(part, column)
    head = Column(heading, numeric=numeric, unit=unit) if numeric or unit else heading
    return (
        Field(
            head,
            lambda row: cell_of(here, column, row),
            keep=shows.quantity == "blank",
            total=(lambda rows: _sum(here, column, rows)) if shows.sums else None,
            name=column.name,
            views=views,
            opens=opens,
        ),
    )


def _views_of(here: PageContext, part: type[Shown], name: str) -> tuple[View, ...] | None:
    """Return the views of a schedule that show a column, as its rows declare them; None without any."""
    if not issubclass(part, Declaring) or not part.schedule.views or here.edition.reader not in _OWN_JOB:
        return None
    words = here.values.words
    return tuple(View(job, words.value(job, "job")) for job in part.schedule.jobs_of(name))


def _sorts_by_size(part: type[Shown], column: Declared) -> bool:
    """Say whether a column holds figures in words, and sorts by a column of figures beside it."""
    beside, held = column.shows.order, column.shows.quantities
    figures = held == ("text",) or "figure" in held
    return bool(beside) and figures and columns_of(part)[beside].shows.is_numeric


def _sum(here: PageContext, column: Declared, rows: Sequence[Any]) -> object:
    """Return what rows come to in a column that adds up; nothing where none holds a value."""
    held = [value for value in (column.of(row, here.document) for row in rows) if value is not None]
    nothing = Decimal(0) if held and isinstance(held[0], Decimal) else 0
    return _shown(here, sum(held, nothing), column.shows, None) if held else None


def _axis(here: PageContext, column: Declared, place: int) -> Callable[[Any], Cell | None]:
    def coordinate(row: Shown) -> Cell | None:
        point = column.of(row, here.document)
        return None if point is None else here.cell(point[place], "position")

    return coordinate


def cell_of(here: PageContext, column: Declared, row: Shown) -> object:
    """Return what a row holds in a declared column, with its links and by what it sorts."""
    shows, value = column.shows, column.of(row, here.document)
    if (value is None or value == "") and not shows.empty:
        return None  # most cells of wide schedules
    if _names(column, row) and here.stands_here(value):
        return value
    if shows.target and value:
        return here.linked(str(getattr(row, shows.target)), shows.link, value)
    shown = _shown(here, value, shows, row)
    return _ordered(here, shown, row, shows.order) if shows.order and shown is not None else shown


def _ordered(here: PageContext, shown: object, row: Shown, beside: str) -> object:
    """Return a cell that sorts by another column of its row."""
    by = columns_of(row.__class__)[beside]
    order = cell_order(by.of(row, here.document), by.shows, here.values)
    return shown if order is None else Cell(shown.content if isinstance(shown, Cell) else shown, order)


def _names(column: Declared, row: Shown) -> bool:
    """Say whether a column holds what its row is known by."""
    return isinstance(row, Declaring) and (column.shows.serial or row.schedule.key == (column.name,))


def _shown(here: PageContext, value: Any, shows: Shows, row: Shown | None) -> object:
    if shows.quantity == "verdict":
        code = str(value or shows.empty)
        return mark_of(code, here.values.words.value(code, shows.words)) if code else None
    if shows.quantity == "code" and isinstance(value, str) and value:
        return Html(f"<code>{html_text(value)}</code>")
    if shows.link and isinstance(value, str) and value:
        return here.linked(value, shows.link)
    if shows.folds and isinstance(value, str) and len(value) > _LONG_TEXT:
        return _folded(value)
    if shows.lines and isinstance(value, tuple):
        return Html("<br>".join(html_text(line) for line in value if line))
    if isinstance(value, tuple) and value and (shows.link or shows.sorted):
        return _several(here, value, shows, row)
    shown = cell_text(value, shows, here.values, row)
    if not shown:
        return None
    order = cell_order(value, shows, here.values)
    return shown if order is None else Cell(shown, order)


def _folded(value: str) -> Html:
    """Return a long text as its beginning, which opens to the whole."""
    beginning = value[:_LONG_TEXT].rsplit(" ", 1)[0].rstrip(",;")
    return Html(
        f'<details class="fold"><summary>{html_text(beginning)}\u2009…</summary>{html_text(value)}</details>'
    )


def _several(here: PageContext, value: Sequence[Any], shows: Shows, row: Shown | None) -> Html:
    """Return several names as a list in one line, each a link where it has a target."""
    if shows.sorted:
        runs = code_runs(sorted(map(str, value), key=natural))
        listed = join((join((here.linked(end, shows.link) for end in ends), " to ") for ends in runs), ", ")
        if not shows.most or len(runs) <= shows.most:
            return listed
        first = html_text(", ".join(" to ".join(ends) for ends in runs[: shows.most]))
        return Html(f'<details class="fold"><summary>{first}\u2009…</summary>{listed}</details>')
    shown = value[: shows.most] if shows.most else value
    more = len(value) - len(shown)
    rest = [text(f"and {more} more")] if more else []
    return join([*(_named(here, one, shows, row) for one in shown), *rest], ", ")


def _named(here: PageContext, item: Any, shows: Shows, row: Shown | None) -> object:
    if not isinstance(item, tuple):
        return here.linked(str(item), shows.link)
    name, *others = item
    head = here.linked(str(name), shows.link)
    rest = shows.quantities[1:]
    if rest == ("count",):
        return head if others == [1] else join((str(others[0]), head), " × ")
    return join((head, field_text((item[1:],), rest, here.values, row)), " ")


def schedule(
    caption: str,
    fields: Sequence[Field[Row]],
    rows: Sequence[Row],
    *,
    identity: Callable[[Row], str] | None = None,
    total: str = "",
    totals: Mapping[str, object] | None = None,
    row_heads: int = 1,
    mark: Callable[[Row], Html | None] | None = None,
) -> Html:
    """Return a table of rows without the columns that are empty throughout.

    caption: says what the table shows.
    fields: columns in order.
    What an edition withholds stands at its default, so its column vanishes by itself. Without any rows all
    columns stand.
    identity: by what other pages link to a row.
    total: what the last row is called, in which columns that add up have their sum; no such row where empty.
    totals: cells of that row beside those, by the name of their column.
    row_heads: how many first columns name their row; they must not be among the empty ones.
    mark: what stands behind the first cell of a row: the word that it is new or changed.
    """
    cells = [[field.value(row) for field in fields] for row in rows]
    shown = [
        number
        for number, field in enumerate(fields)
        if not rows or field.keep or any(_filled(row[number]) for row in cells)
    ]
    beside = totals or {}
    last = [[_last(fields[number], number, rows, total, beside) for number in shown]] if total else []
    views = _views([fields[number] for number in shown], row_heads)
    codes = [view.code for view in views]
    opens = next((field.opens for field in fields if field.opens in codes), "")
    return table(
        caption,
        [_in_views(fields[number], codes, always=place < row_heads) for place, number in enumerate(shown)],
        [[row[number] for number in shown] for row in cells],
        row_ids=None if identity is None else [identity(row) for row in rows],
        totals=last,
        row_heads=row_heads,
        marks=None if mark is None else [mark(row) for row in rows],
        views=views,
        opens=opens,
    )


def _views(shown: Sequence[Field[Row]], row_heads: int) -> list[View]:
    """Return the views that choose some of a schedule's columns, in the order of the work; none of a few."""
    if len(shown) <= _FEW_COLUMNS:
        return []
    found = {view for field in shown for view in field.views or ()}
    counts = {
        view: sum(
            place < row_heads or field.views is None or view in field.views
            for place, field in enumerate(shown)
        )
        for view in found
    }
    chosen = [view for view, count in counts.items() if row_heads + 1 < count < len(shown)]
    return sorted(chosen, key=lambda view: _ORDER[view.code])


def _in_views(field: Field[Row], codes: Sequence[str], *, always: bool) -> Column | str:
    """Return the head of a column with the views that show it."""
    if not codes or always or field.views is None:
        return field.column
    column = field.column if isinstance(field.column, Column) else Column(field.column)
    mine = tuple(view.code for view in field.views if view.code in codes)
    return replace(column, views=mine)


def _last(
    field: Field[Row], number: int, rows: Sequence[Row], total: str, beside: Mapping[str, object]
) -> object:
    """Return a cell of the last row: its own, else the sum, else in the first column the row's name."""
    if field.name in beside:
        return beside[field.name]
    if field.total is not None:
        return field.total(rows)
    return None if number else total


def _filled(value: object) -> bool:
    return value is not None and value != ""


def grouped(rows: Iterable[Row], key: Callable[[Row], str]) -> Mapping[str, tuple[Row, ...]]:
    """Return rows by what they have in common, groups in order of their first row."""
    groups: dict[str, list[Row]] = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    return {name: tuple(members) for name, members in groups.items()}
