"""What columns declare holds together: words, links and order that are there, readers of what is composed."""

import ast
import inspect
import textwrap
from collections.abc import Callable, Iterator
from typing import Annotated, Any, ClassVar

import pytest

from proposal.document.document import Document
from proposal.document.readers import Shown
from proposal.document.schedule import (
    ALL,
    HOUSE,
    Column,
    Row,
    Schedule,
    Shows,
    columns_of,
    composed,
    gathered,
    part_in,
)
from tests.document.test_quantities import ALL as CLASSES
from tests.pages.test_declared_cells import ALLOWED as COUNTS_AND_MARKS
from tests.sample_document import sample_document, words

TABLE = words("en_GB")
every_class = pytest.mark.parametrize("part", CLASSES, ids=lambda part: part.__name__)


def method_of(part: type[Shown], column: Column) -> Callable[..., Any]:
    """Return the function that makes a composed column."""
    found: Any = inspect.getattr_static(part, column.name)
    return found.fget if isinstance(found, property) else found  # type: ignore[no-any-return] # of a property


def attributes(function: Callable[..., Any]) -> Iterator[tuple[str, str]]:
    """Yield what a function reads of what it is given: the name of the thing, and of its attribute.

    Functions of its module that it calls read for it.
    """
    tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name | ast.Attribute):
            yield ast.unparse(node.value), node.attr
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            called = function.__globals__.get(node.func.id)
            if inspect.isfunction(called) and called.__module__ == function.__module__:
                yield from attributes(called)


def read_by(part: type[Shown], column: Column) -> list[Column]:
    """Return the columns that a composed column is made of, of its row and of other rows."""
    found: list[Column] = []
    seen = list(attributes(method_of(part, column)))
    own = columns_of(part)
    for thing, name in seen:
        if thing == "self" and name in own:
            found.append(own[name])
        elif thing == "document":
            held = columns_of(Document)[name]
            inner = part_in(Document.model_fields[name].annotation)
            found.append(held)
            if inner is not None:
                names = {attribute for one, attribute in seen if one not in ("self", "document")}
                found += [other for other in columns_of(inner).values() if other.name in names]
    return found


@every_class
def test_what_is_composed_is_read_by_no_more_than_what_it_is_made_of(part: type[Shown]) -> None:
    for column in columns_of(part).values():
        if column.composed:
            for other in read_by(part, column):
                assert column.shows.readers <= other.shows.readers, (column.name, other.name)


@every_class
def test_what_no_file_holds_is_made_of_what_files_hold(part: type[Shown]) -> None:
    for column in columns_of(part).values():
        if column.shows.together:
            made_of = read_by(part, column)
            assert made_of, column.name
            assert not [one.name for one in made_of if one.shows.drawn or one.shows.together], column.name


@every_class
def test_what_a_column_names_beside_it_is_there(part: type[Shown]) -> None:
    own = columns_of(part)
    for column in own.values():
        shows = column.shows
        assert not shows.target or (shows.target in own and shows.link), column.name
        assert not shows.order or shows.order in own, column.name


@every_class
def test_every_word_of_a_column_is_in_the_table(part: type[Shown]) -> None:
    for column in columns_of(part).values():
        shows = column.shows
        assert f"headings.{shows.heading}" in TABLE, column.name
        assert not shows.empty or f"values.{shows.empty}" in TABLE or shows.empty in PLAIN, column.name
        assert not shows.words or any(key.startswith(f"values.{shows.words}.") for key in TABLE), column.name


@every_class
def test_views_take_columns_that_are_there_each_once_and_say_verdicts_first(part: type[Shown]) -> None:
    if not issubclass(part, Row):
        return
    for job, names in part.schedule.views.items():
        columns = names.split()
        assert f"values.job.{job}" in TABLE
        assert set(columns) <= set(columns_of(part)), job
        assert len(set(columns)) == len(columns) > 3, job
        assert "verdict" not in columns[3:], job


# Words that stand for themselves.
PLAIN = {"any", "none left", "no"}


def test_the_table_holds_no_heading_that_nothing_has() -> None:
    used = {f"headings.{column.shows.heading}" for part in CLASSES for column in columns_of(part).values()}
    used |= {f"headings.{heading}" for *_, heading in COUNTS_AND_MARKS}
    assert {key for key in TABLE if key.startswith("headings.")} - used == set()


class Other(Row):
    """A row with a field of the house."""

    schedule: ClassVar = Schedule("other", subject="price")

    kept: Annotated[str, Shows("name", HOUSE)] = ""

    @composed(Shows("name", ALL))
    def told(self) -> str:
        """Return what nobody else may read."""
        return self.kept.upper()


def helped(row: "Third") -> str:
    self = row
    return self.kept


class Third(Row):
    """A row that reads its field of the house through a function."""

    schedule: ClassVar = Schedule("third", subject="price")

    kept: Annotated[str, Shows("name", HOUSE)] = ""

    @gathered(Shows("name", ALL))
    def told(self, document: Document) -> str:
        """Return what nobody else may read, and a cost."""
        return helped(self) + str(sum(line.cost for line in document.price_lines))


def test_a_column_that_tells_more_than_its_fields_is_seen() -> None:
    assert [one.name for one in read_by(Other, columns_of(Other)["told"])] == ["kept"]
    assert [one.name for one in read_by(Third, columns_of(Third)["told"])] == ["kept", "price_lines", "cost"]


def test_a_column_that_is_gathered_tells_what_other_rows_hold() -> None:
    document = sample_document()
    room = next(row for row in document.rooms if row.tag == "B101")
    column = columns_of(type(room))["devices"]
    assert column.of(room, document) == tuple(row.tag for row in document.devices if row.room == "B101")
