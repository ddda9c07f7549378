"""The take-off added up by room, phase, system, storey, drawing and supplier, each to the same total."""

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from typing import Annotated, ClassVar, Protocol, TypeVar

from pydantic import Field

from proposal.document.rows.labour import LabourRow
from proposal.document.rows.takeoff import Quantified, TakeoffRow
from proposal.document.schedule import CHECKERS, HOUSE, NOT_CLIENT, Row, Schedule, Shows

NOTHING = Decimal(0)
REELS = "reels"
"""Section of the take-off whose lines say what reels give."""


class QuantityRow(Row):
    """So much of one item, for one room, phase, system, storey, drawing or supplier."""

    schedule: ClassVar = Schedule(
        "quantity", subject="cabling", key=("key", "section", "item", "unit"), unnamed="the_building"
    )

    key: Annotated[str, Shows("key", NOT_CLIENT, "tag")] = Field(
        default="", description="Tag or name; empty for the building."
    )
    section: Annotated[str, Shows("section", NOT_CLIENT)] = Field(
        default="", description="Section of the take-off."
    )
    item: Annotated[str, Shows("item", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    description: Annotated[str, Shows("description", NOT_CLIENT)] = Field(
        default="", description="What it is."
    )
    pieces: Annotated[Decimal | None, Shows("pieces", NOT_CLIENT, "how many")] = Field(
        default=None, description="How many pieces, before waste; none of what is measured."
    )
    laid: Annotated[Decimal | None, Shows("length_laid", NOT_CLIENT, "how many")] = Field(
        default=None,
        description="Length that is laid or built, in `unit`, before waste: of cable, conduit, tray.",
    )
    from_reels: Annotated[Decimal | None, Shows("length_from_reels", NOT_CLIENT, "how many")] = Field(
        default=None,
        description="Length that reels give for the same cables, in `unit`: with tolerance, lead and tail.",
    )
    unit: Annotated[str, Shows("unit", NOT_CLIENT, "unit")] = Field(
        default="", description="Unit of the row: each, or what lengths are in."
    )
    lines: Annotated[int, Shows("takeoff_lines", NOT_CLIENT, "count", sums=True)] = Field(
        default=0, description="Lines of the take-off that it adds up."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", sums=True, subject="price")] = Field(
        default=None, description="What it costs us."
    )


class RoomQuantity(QuantityRow):
    """So much of one item in one room."""

    key: Annotated[str, Shows("room", NOT_CLIENT, "tag", link="tag", empty="building")] = Field(
        default="", description="Room or equipment room; empty for the building."
    )


class PhaseQuantity(QuantityRow):
    """So much of one item in one phase of the work."""

    key: Annotated[str, Shows("phase", NOT_CLIENT, "word")] = Field(default="", description="Phase.")


class SystemQuantity(QuantityRow):
    """So much of one item of one system."""

    key: Annotated[str, Shows("system", NOT_CLIENT, "word")] = Field(default="", description="System.")


class StoreyQuantity(QuantityRow):
    """So much of one item on one storey."""

    key: Annotated[str, Shows("storey", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the storey; empty for the building."
    )


class DrawingQuantity(QuantityRow):
    """So much of one item on the drawings of one place: its own plan, else those of its storey."""

    key: Annotated[str, Shows("drawings", NOT_CLIENT, "tag")] = Field(
        default="", description="Sheets that show it; empty for none."
    )


class SupplierQuantity(QuantityRow):
    """So much of one item from one supplier."""

    key: Annotated[str, Shows("supplier", HOUSE)] = Field(default="", description="Who is asked for a quote.")


class TakeoffSum(Row):
    """All of the take-off, and its work, for one room, phase, system, storey, drawing or supplier."""

    schedule: ClassVar = Schedule("takeoff_sum", subject="cabling", key=("by", "key"))

    by: Annotated[str, Shows("by", NOT_CLIENT, "word")] = Field(
        default="", description="room, phase, system, storey, drawings or supplier."
    )
    key: Annotated[str, Shows("key", NOT_CLIENT, "tag", empty="building")] = Field(
        default="",
        description="Tag or name; empty for the building, others for what others furnish, none for no sheet.",
    )
    lines: Annotated[int, Shows("takeoff_lines", NOT_CLIENT, "count")] = Field(
        default=0, description="Lines of the take-off."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", subject="price")] = Field(
        default=None, description="What they cost us; all of one kind come to the cost of the take-off."
    )
    hours: Annotated[Decimal | None, Shows("hours", CHECKERS, "hours")] = Field(
        default=None, description="Hours charged there, without travel; none by drawing and supplier."
    )


class Countable(Quantified, Protocol):
    """What of the document is added up."""

    @property
    def takeoff(self) -> tuple[TakeoffRow, ...]:
        """The lines of the take-off."""

    @property
    def labour(self) -> tuple[LabourRow, ...]:
        """The lines of labour; none where their reader sees none."""


Q = TypeVar("Q", bound=QuantityRow)
Key = Callable[[TakeoffRow], str]
KINDS = ("room", "phase", "system", "storey", "drawings", "supplier")
UNNAMED = {"supplier": "others", "drawings": "none"}
"""What lines that name nothing belong to: what others furnish has no supplier of ours."""
OF_LABOUR = ("room", "phase", "system", "storey")
"""By what lines of labour say where they belong."""


def keys_by(document: Countable, by: str) -> Key:
    """Return what a line of the take-off belongs to.

    by: room, phase, system, storey, drawings or supplier.
    """
    if by == "drawings":
        return _each_place(lambda row: ", ".join(row.drawings(document)))
    if by == "supplier":
        return _each_item(lambda row: row.supplier(document))
    return lambda row: str(getattr(row, by))


def _each_place(key: Key) -> Key:
    """Return the same, found once for each room and storey."""
    known: dict[tuple[str, str], str] = {}

    def found(row: TakeoffRow) -> str:
        place = row.room, row.storey
        if place not in known:
            known[place] = key(row)
        return known[place]

    return found


def _each_item(key: Key) -> Key:
    """Return the same, found once for each item."""
    known: dict[str, str] = {}

    def found(row: TakeoffRow) -> str:
        if row.item not in known:
            known[row.item] = key(row)
        return known[row.item]

    return found


def quantities_by(document: Countable, by: str, part: type[Q]) -> tuple[Q, ...]:
    """Return how much there is of each item, in the order of the take-off within each key.

    by: as `keys_by` takes it.  part: of the rows.
    """
    key = keys_by(document, by)
    found: dict[str, dict[tuple[str, str, str], list[TakeoffRow]]] = {}
    for row in document.takeoff:
        found.setdefault(key(row), {}).setdefault((row.section, row.item, row.unit), []).append(row)
    return tuple(
        part(
            key=name,
            section=rows[0].section,
            item=rows[0].item,
            description=rows[0].description,
            **{measure_of(rows[0]): sum((row.quantity for row in rows), NOTHING)},
            unit=rows[0].unit,
            lines=len(rows),
            cost=_cost(rows),
        )
        for name, items in found.items()
        for rows in items.values()
    )


def measure_of(row: TakeoffRow) -> str:
    """Return the field of a row of quantities that a line of the take-off is added up in.

    Pieces, what is laid and what reels give for it are never added to one another.
    """
    if row.section == REELS:
        return "from_reels"
    return "laid" if row.is_length else "pieces"


def _cost(rows: list[TakeoffRow]) -> Decimal | None:
    """Return what lines cost; none where their reader sees no cost."""
    costs = [row.cost for row in rows if row.cost is not None]
    return sum(costs, NOTHING) if costs else None


def takeoff_sums(document: Countable) -> tuple[TakeoffSum, ...]:
    """Return the sums of the take-off by room, phase, system, storey, drawings and supplier.

    What their reader sees of no line, such as suppliers, is left out.
    """
    return tuple(one for by in KINDS for one in _sums_by(document, by))


def _sums_by(document: Countable, by: str) -> Iterator[TakeoffSum]:
    key, found = keys_by(document, by), dict[str, list[TakeoffRow]]()
    for row in document.takeoff:
        found.setdefault(key(row), []).append(row)
    hours = _hours(document, by)
    if not any(found):
        return
    for name in dict.fromkeys([*found, *hours]):
        rows = found.get(name, [])
        worked = hours.get(name, NOTHING) if hours else None
        yield TakeoffSum(
            by=by, key=name or UNNAMED.get(by, ""), lines=len(rows), cost=_cost(rows), hours=worked
        )


def _hours(document: Countable, by: str) -> Mapping[str, Decimal]:
    hours: dict[str, Decimal] = {}
    for row in document.labour if by in OF_LABOUR else ():
        name = str(getattr(row, by))
        hours[name] = hours.get(name, NOTHING) + row.charged_hours
    return hours
