"""Write a table as ready HTML, with its caption, headings, cells and totals."""

import re
from collections.abc import Iterable, Sequence

from proposal.field_classes import dataclass
from proposal.pages.markdown import Html, anchor, html_text

_LONG = 80
"""Letters of a cell from which on it holds sentences."""
_LONGEST_TAG = 40
_ROWS_IN_SIGHT = 12
"""Rows above which totals stand over the others, where they are seen at once."""


@dataclass(frozen=True, slots=True)
class View:
    """A choice among the columns of a table that readers can take.

    code: names it in addresses.  title: what it is called.
    """

    code: str
    title: str


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    title: its heading.  numeric: whether its figures stand right-aligned and sort by size.
    unit: shown small behind the heading.
    views: codes of the views that show it; None where every view does.
    """

    title: str
    numeric: bool = False
    unit: str = ""
    views: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell whose order differs from its text, such as a length shown in feet and inches.

    content: what is shown, escaped unless it is `Html`.  order: what sorting compares, in one unit for
    the whole column.
    """

    content: object
    order: float | str


def table(
    caption: str,
    columns: Sequence[Column | str],
    rows: Iterable[Sequence[object]],
    *,
    row_ids: Sequence[str] | None = None,
    totals: Iterable[Sequence[object]] = (),
    row_heads: int = 1,
    marks: Sequence[Html | None] | None = None,
    views: Sequence[View] = (),
    opens: str = "",
) -> Html:
    """Return a table as ready HTML in a region that scrolls by itself, a row a line.

    caption: says what the table shows.  columns: headings, a bare text being a column of words.
    rows: as many cells each as there are columns; a cell is any value, a `Cell` or `Html`; None is empty.
    row_ids: identities by which other pages link to a row (see `anchor`), one a row, "" for none.
    totals: rows that never take part in sorting; below the others, or above them where those are many.
    row_heads: how many first cells name their row.
    marks: what stands behind the first cell of each row, such as a word that it changed; None for nothing.
    views: choices among the columns.  opens: code of the one that is shown first; all columns where empty.
    Raises ValueError where the number of cells, ids or marks is wrong.
    """
    heads = [Column(column) if isinstance(column, str) else column for column in columns]
    lines = [
        f'<div class="table-scroll" tabindex="0" role="region" aria-label="{html_text(caption)}">',
        f'<table class="data"{_choices(views, opens)}>',
        f"<caption>{html_text(caption)}</caption>",
        "<thead><tr>" + "\n".join(map(_head, heads)) + "</tr></thead>",
    ]
    given = list(rows)
    last = ["<tr>" + _cells(caption, heads, row, row_heads) + "</tr>" for row in totals]
    if last and len(given) > _ROWS_IN_SIGHT:
        lines += ['<tbody class="totals">', *last, "</tbody>"]
        last = []
    lines.append("<tbody>")
    ids = None if row_ids is None else iter(row_ids)
    marked = None if marks is None else iter(marks)
    for row in given:
        identity = "" if ids is None else next(ids, None)
        if identity is None:
            raise ValueError(f"table {caption!r} has more rows than row ids")
        named = f' id="{html_text(anchor(identity))}"' if identity else ""
        mark = None if marked is None else next(marked)
        lines.append(f"<tr{named}>" + _cells(caption, heads, row, row_heads, mark) + "</tr>")
    if ids is not None and next(ids, None) is not None:
        raise ValueError(f"table {caption!r} has more row ids than rows")
    lines.append("</tbody>")
    if last:
        lines += ["<tfoot>", *last, "</tfoot>"]
    return Html("\n".join([*lines, "</table>", "</div>"]))


def _choices(views: Sequence[View], opens: str) -> str:
    if not views:
        return ""
    named = html_text("|".join(f"{view.code} {view.title}" for view in views))
    first = f' data-opens="{html_text(opens)}"' if opens else ""
    return f' data-views="{named}"{first}'


def _head(column: Column) -> str:
    unit = f' <span class="unit">{html_text(column.unit)}</span>' if column.unit else ""
    kind = ' class="num" data-sort-method="number"' if column.numeric else ""
    views = "" if column.views is None else f' data-views="{html_text(" ".join(column.views))}"'
    return f'<th scope="col"{kind}{views}>{html_text(column.title)}{unit}</th>'


def _cells(
    caption: str, columns: Sequence[Column], row: Sequence[object], row_heads: int, mark: Html | None = None
) -> str:
    if len(row) != len(columns):
        raise ValueError(f"table {caption!r} has {len(columns)} columns, a row has {len(row)} cells")
    # A space between cells keeps their words apart in the search index; a line's end would part a row in a
    # comparison of two builds.
    return " ".join(
        _cell(column, value, head=number < row_heads, mark=None if number else mark)
        for number, (column, value) in enumerate(zip(columns, row, strict=True))
    )


def _cell(column: Column, value: object, *, head: bool, mark: Html | None) -> str:
    order = ""
    if isinstance(value, Cell):
        order = f' data-sort="{html_text(value.order)}"'
        value = value.content
    shown = "" if value is None else html_text(value)
    kind = ' class="num"' if column.numeric else ' class="tag"' if _is_tag(value) else _wide(shown)
    name, scope = ("th", ' scope="row"') if head else ("td", "")
    behind = f" {mark}" if mark else ""
    return f"<{name}{scope}{kind}{order}>{shown}{behind}</{name}>"


def _wide(shown: str) -> str:
    """Return the class of a cell that holds sentences, which a narrow column would stretch down the page."""
    return ' class="words"' if len(shown) > _LONG and len(re.sub(r"<[^>]*>", "", shown)) > _LONG else ""


def _is_tag(value: object) -> bool:
    """Tell whether a cell holds a tag, an identity or a signed sum, which must not break at their signs."""
    return (
        isinstance(value, str)
        and not isinstance(value, Html)
        and bool(re.fullmatch(r"\S*[-/]\S*|[+−]\S+", value))
        and len(value) <= _LONGEST_TAG
    )
