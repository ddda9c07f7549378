"""Write a table as ready HTML, with its caption, headings, cells and totals."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from proposal.pages.markdown import Html, anchor, html_text

_LONGEST_TAG = 40


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    title: its heading.  numeric: whether its figures stand right-aligned and sort by size.
    unit: shown small behind the heading.
    """

    title: str
    numeric: bool = False
    unit: str = ""


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
) -> Html:
    """Return a table as ready HTML in a region that scrolls by itself, a row a line.

    caption: says what the table shows.  columns: headings, a bare text being a column of words.
    rows: as many cells each as there are columns; a cell is any value, a `Cell` or `Html`; None is empty.
    row_ids: identities by which other pages link to a row (see `anchor`), one a row, "" for none.
    totals: rows below the others that never take part in sorting.
    row_heads: how many first cells name their row.
    marks: what stands behind the first cell of each row, such as a word that it changed; None for nothing.
    Raises ValueError where the number of cells, ids or marks is wrong.
    """
    heads = [Column(column) if isinstance(column, str) else column for column in columns]
    lines = [
        f'<div class="table-scroll" tabindex="0" role="region" aria-label="{html_text(caption)}">',
        '<table class="data">',
        f"<caption>{html_text(caption)}</caption>",
        "<thead><tr>" + "\n".join(map(_head, heads)) + "</tr></thead>",
        "<tbody>",
    ]
    ids = None if row_ids is None else iter(row_ids)
    marked = None if marks is None else iter(marks)
    for row in rows:
        identity = "" if ids is None else next(ids, None)
        if identity is None:
            raise ValueError(f"table {caption!r} has more rows than row ids")
        named = f' id="{html_text(anchor(identity))}"' if identity else ""
        mark = None if marked is None else next(marked)
        lines.append(f"<tr{named}>" + _cells(caption, heads, row, row_heads, mark) + "</tr>")
    if ids is not None and next(ids, None) is not None:
        raise ValueError(f"table {caption!r} has more row ids than rows")
    lines.append("</tbody>")
    foot = ["<tr>" + _cells(caption, heads, row, row_heads) + "</tr>" for row in totals]
    if foot:
        lines += ["<tfoot>", *foot, "</tfoot>"]
    return Html("\n".join([*lines, "</table>", "</div>"]))


def _head(column: Column) -> str:
    unit = f' <span class="unit">{html_text(column.unit)}</span>' if column.unit else ""
    kind = ' class="num" data-sort-method="number"' if column.numeric else ""
    return f'<th scope="col"{kind}>{html_text(column.title)}{unit}</th>'


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
    kind = ' class="num"' if column.numeric else ' class="tag"' if _is_tag(value) else ""
    name, scope = ("th", ' scope="row"') if head else ("td", "")
    behind = f" {mark}" if mark else ""
    return f"<{name}{scope}{kind}{order}>{shown}{behind}</{name}>"


def _is_tag(value: object) -> bool:
    """Tell whether a cell holds a tag or an identity, which must not break at its hyphens."""
    return (
        isinstance(value, str)
        and not isinstance(value, Html)
        and bool(re.fullmatch(r"\S*[-/]\S*", value))
        and len(value) <= _LONGEST_TAG
    )
