"""Tables that show only the columns an edition has something for."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from proposal.pages.markdown import Column, Html, table

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Field(Generic[Row]):
    """A column and what it shows of a row.

    column: heading, or a bare text for a column of words.
    value: what the cell holds; None or an empty text is an empty cell.
    keep: whether the column stands even where every cell is empty, to be filled in on paper.
    """

    column: Column | str
    value: Callable[[Row], object]
    keep: bool = False

    @property
    def title(self) -> str:
        """The column's heading."""
        return self.column if isinstance(self.column, str) else self.column.title


def schedule(
    caption: str,
    fields: Sequence[Field[Row]],
    rows: Sequence[Row],
    *,
    identity: Callable[[Row], str] | None = None,
    totals: Mapping[str, object] | None = None,
    row_heads: int = 1,
    mark: Callable[[Row], Html | None] | None = None,
) -> Html:
    """Return a table of rows without the columns that are empty throughout.

    What an edition withholds stands at its default, so its column vanishes by itself. Without any rows all
    columns stand.
    identity: by what other pages link to a row.
    totals: cells of a last row by the heading of their column; no row where empty or None.
    row_heads: how many first columns name their row; they must not be among the empty ones.
    mark: what stands behind the first cell of a row: the word that it is new or changed.
    """
    cells = [[field.value(row) for field in fields] for row in rows]
    shown = [
        number
        for number, field in enumerate(fields)
        if not rows or field.keep or any(_filled(row[number]) for row in cells)
    ]
    last = [] if not totals else [[totals.get(fields[number].title) for number in shown]]
    return table(
        caption,
        [fields[number].column for number in shown],
        [[row[number] for number in shown] for row in cells],
        row_ids=None if identity is None else [identity(row) for row in rows],
        totals=last,
        row_heads=row_heads,
        marks=None if mark is None else [mark(row) for row in rows],
    )


def _filled(value: object) -> bool:
    return value is not None and value != ""


def grouped(rows: Iterable[Row], key: Callable[[Row], str]) -> Mapping[str, tuple[Row, ...]]:
    """Return rows by what they have in common, groups in order of their first row."""
    groups: dict[str, list[Row]] = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    return {name: tuple(members) for name, members in groups.items()}
