"""What a field and a schedule are: declared once, read by whatever shows, writes, compares or checks them."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from functools import cache
from types import FunctionType, MappingProxyType
from typing import Any, ClassVar, Literal, TypeVar, get_args

from proposal.document.quantities import WORDS, Quantity
from proposal.document.readers import Reader, Shown
from proposal.field_classes import dataclass

ALL: frozenset[Reader] = frozenset(get_args(Reader))
NOT_CLIENT: frozenset[Reader] = frozenset({"reviewer", "estimator", "installer"})
NOT_INSTALLER: frozenset[Reader] = frozenset({"client", "reviewer", "estimator"})
CHECKERS: frozenset[Reader] = frozenset({"reviewer", "estimator"})
BUYERS: frozenset[Reader] = frozenset({"client", "estimator"})
HOUSE: frozenset[Reader] = frozenset({"estimator"})

Link = Literal[
    "",
    "tag",
    "room",
    "sheet",
    "number",
    "drawing",
    "model",
    "activity",
    "port",
    "ports",
    "alternate",
    "subject",
]
"""What a text names, so that pages link to where that stands.

room: a tag that a page shows with the room's name. ports: a switch, by its own table of ports.
"""

Subject = Literal[
    "rooms",
    "equipment",
    "cabling",
    "lengths",
    "pathways",
    "ports",
    "addresses",
    "power",
    "sound",
    "radio",
    "checks",
    "labour",
    "price",
    "programme",
    "drawings",
    "terms",
]

Job = Literal["check", "pull", "terminate", "test", "price"]
"""What somebody does with a schedule, for which its rows may choose columns."""

JOBS: tuple[Job, ...] = get_args(Job)


@dataclass(frozen=True, slots=True)
class Shows:
    """How a field is shown, and to whom.

    heading: key of its heading in the table of words.
    readers: who may read it.
    quantity: what it holds; several where it holds groups, such as names with positions, one for each part.
    sums: whether its values add up to something.
    link: what its value names.
    target: field beside it that holds the name it links by, where its own text does not.
    words: set of the table of words that spells its codes, where they mean other things elsewhere.
    order: column beside it by which it sorts, where its own text does not tell the order.
    subject: under which a comparison lists it, where that is not the schedule's.
    drawn: whether drawings or the order of a column alone use it, and no cell shows it.
    together: whether it puts together for people what files hold in columns of their own; no file holds it.
    lines: whether a page shows its values in a line each.
    folds: whether a page folds a long text to its beginning, which opens to the whole.
    most: how many of its names a page shows before it counts the rest, or folds them where they are sorted;
        all where zero.
    sorted: whether its names stand in their own order, neighbours joined, `M1 to M4`.
    zero: whether zero is shown; else its cell stays empty.
    empty: key of the words for an empty text; the cell stays empty where there are none.
    formula: a spreadsheet formula in which {name} stands for the cell of another field; its value is what
        the field holds.
    serial: whether it tells where a row stands among others, and nothing about the thing itself.
    refers: collection of the document whose rows it names by their serial numbers.
    follows: whether it follows from what stands elsewhere in the document: a sum, a share of one, or the same
        in another order. Files that are compared line by line leave it out.
    """

    heading: str
    readers: frozenset[Reader]
    quantity: Quantity | tuple[Quantity, ...] = "text"
    sums: bool = field(default=False, kw_only=True)
    link: Link = field(default="", kw_only=True)
    target: str = field(default="", kw_only=True)
    words: str = field(default="", kw_only=True)
    order: str = field(default="", kw_only=True)
    subject: Subject | None = field(default=None, kw_only=True)
    drawn: bool = field(default=False, kw_only=True)
    together: bool = field(default=False, kw_only=True)
    sorted: bool = field(default=False, kw_only=True)
    lines: bool = field(default=False, kw_only=True)
    folds: bool = field(default=False, kw_only=True)
    most: int = field(default=0, kw_only=True)
    zero: bool = field(default=True, kw_only=True)
    empty: str = field(default="", kw_only=True)
    formula: str = field(default="", kw_only=True)
    serial: bool = field(default=False, kw_only=True)
    refers: str = field(default="", kw_only=True)
    follows: bool = field(default=False, kw_only=True)

    @property
    def quantities(self) -> tuple[Quantity, ...]:
        """What it holds, for each part of a group; none where it holds rows."""
        held = self.quantity if isinstance(self.quantity, tuple) else (self.quantity,)
        return () if held == ("rows",) else held

    @property
    def is_numeric(self) -> bool:
        """Whether its values stand right-aligned and sort by size."""
        return not isinstance(self.quantity, tuple) and self.quantity not in WORDS


@dataclass(frozen=True, slots=True)
class Schedule:
    """What all rows of a class are.

    name: of the schedule, and key of the word for one of its rows in the table of words.
    subject: under which comparisons list its rows.
    key: fields by which a row is known again in another document, in order; none where it is one of a kind.
    shares_key: whether several rows may have one key; those are told apart by their order.
    called: what a row is called by the fields of its key, parts that are empty left out; the key itself where
        there is none.
    unnamed: key of the words for a row whose key is empty.
    views: by jobs, the names of the columns that each takes, with spaces between.
    """

    name: str
    subject: Subject
    key: tuple[str, ...] = ()
    shares_key: bool = False
    called: tuple[str, ...] = ()
    unnamed: str = ""
    views: Mapping[Job, str] = field(default_factory=lambda: MappingProxyType({}), hash=False, kw_only=True)

    def jobs_of(self, column: str) -> tuple[Job, ...]:
        """Return the jobs for which a column is shown.

        column: its name.
        """
        return tuple(job for job, names in self.views.items() if column in names.split())


class Row(Shown):
    """A row of the document: every field says how it is shown, the class says which schedule it stands in."""

    schedule: ClassVar[Schedule]


T = TypeVar("T")


class _Composed(property):
    """A column made of other fields of its row."""

    shows: Shows


def composed(shows: Shows) -> Callable[[Callable[[Any], T]], T]:
    """Return a decorator that makes a method of a row a column of its schedule.

    shows: as a field declares it; its readers are no more than those of what the method reads.
    The method's docstring says what the column holds.
    """

    def column(method: Callable[[Any], T]) -> T:
        made: Any = _Composed(method)
        made.shows = shows
        return made  # type: ignore[no-any-return] # a property is, on a row, what its method returns

    return column


def gathered(shows: Shows) -> Callable[[Callable[[Any, Any], T]], Callable[[Any, Any], T]]:
    """Return a decorator that makes a method of a row a column that is gathered from the whole document.

    shows: as a field declares it; its readers are no more than those of what the method reads.
    The method takes the document as its reader may see it; its docstring says what the column holds.
    """

    def column(method: Callable[[Any, Any], T]) -> Callable[[Any, Any], T]:
        method.__dict__[_SHOWS] = shows
        return method

    return column


_SHOWS = "shows"


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a schedule: a field of its rows, or what is composed of several.

    name: of the field, the property or the method.  shows: its declaration.  description: what it holds.
    composed: whether it is made of other fields.
    gathered: whether it is made of other rows of the document too.
    """

    name: str
    shows: Shows
    description: str
    composed: bool
    gathered: bool = False

    def of(self, row: Shown, document: Shown) -> Any:
        """Return what a row holds in this column, in SI.

        document: that holds the row, as its reader may see it.
        """
        value = getattr(row, self.name)
        return value(document) if self.gathered else value


@cache
def columns_of(part: type[Shown]) -> Mapping[str, Column]:
    """Return all columns of a class of rows by name: its fields in order, then what is composed of them.

    part: a class of rows.
    Raises TypeError where a field declares nothing of how it is shown.
    """
    found: dict[str, Column] = {}
    for name, info in part.model_fields.items():
        shows = next((item for item in info.metadata if isinstance(item, Shows)), None)
        if shows is None:
            raise TypeError(f"{part.__name__}.{name} does not say how it is shown")
        found[name] = Column(name, shows, info.description or "", composed=False)
    for kind in reversed(part.__mro__):
        for name, value in vars(kind).items():
            if isinstance(value, _Composed):
                found[name] = Column(name, value.shows, value.__doc__ or "", composed=True)
            elif isinstance(value, FunctionType) and _SHOWS in value.__dict__:
                shows = value.__dict__[_SHOWS]
                found[name] = Column(name, shows, value.__doc__ or "", composed=True, gathered=True)
    return found


@cache
def quantities_of(part: type[Shown]) -> Mapping[str, tuple[Quantity, ...]]:
    """Return what every field of a class of rows holds; nothing of a field that holds rows.

    part: a class of rows.
    """
    return {name: column.shows.quantities for name, column in columns_of(part).items() if not column.composed}


@cache
def field_of(part: type[Shown], quantity: Quantity) -> str:
    """Return the name of the one field of a class of rows that holds a quantity; empty where none does."""
    return next((name for name, held in quantities_of(part).items() if held == (quantity,)), "")


def visible(part: type[Shown], reader: Reader) -> tuple[Column, ...]:
    """Return the columns of a class of rows that a reader may see, in order.

    part: a class of rows.
    """
    return tuple(column for column in columns_of(part).values() if reader in column.shows.readers)


def part_in(annotation: Any) -> type[Shown] | None:
    """Return the class of parts that a field holds, one or several; None where it holds none.

    annotation: of the field, such as `tuple[CableRow, ...]` or `Cover`.
    """
    return next((kind for kind in _classes(annotation) if issubclass(kind, Shown)), None)


def _classes(annotation: Any) -> Iterator[type[Any]]:
    """Yield the classes that an annotation is made of."""
    inner = get_args(annotation)
    if inner:
        for one in inner:
            yield from _classes(one)
    elif isinstance(annotation, type):
        yield annotation


def parts_of(part: type[Shown]) -> Iterator[type[Shown]]:
    """Yield a part of the document and every kind of part inside it, each once, outermost first.

    part: a class of parts.
    """
    seen: dict[type[Shown], None] = {}
    waiting: list[type[Shown]] = [part]
    while waiting:
        kind = waiting.pop(0)
        if kind in seen:
            continue
        seen[kind] = None
        yield kind
        for info in kind.model_fields.values():
            waiting += [one for one in _classes(info.annotation) if issubclass(one, Shown)]
