"""Rows of the figures that the price rests on, as people write them: for the house alone."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.schedule import HOUSE, Row, Schedule, Shows
from proposal.quantities.rounding import rounded, step_of

FEET = "ft"
"""What the value of a length holds for in US customary units."""


class PriceInputRow(Row):
    """One figure that the price rests on: a cost, a rate, hours, a share."""

    schedule: ClassVar = Schedule("price_input", subject="price", key=("key",))

    key: Annotated[str, Shows("key", HOUSE, "tag")] = Field(
        default="", description="Where it is written: its keys, joined by points."
    )
    what: Annotated[str, Shows("what", HOUSE)] = Field(default="", description="What it is.")
    subject: Annotated[str, Shows("input_is_of", HOUSE)] = Field(
        default="", description="What it is of: a model code, a trade, a task, a condition and so on."
    )
    value: Annotated[Decimal, Shows("value", HOUSE, "how many")] = Field(
        default=Decimal(0), description="As it is written, with all its digits; a share is 0 to 1."
    )
    unit: Annotated[str, Shows("unit", HOUSE, "unit")] = Field(
        default="", description="Currency, share, h, each; where it is for one of something, by what."
    )
    per: Annotated[Decimal, Shows("input_is_for", HOUSE, "how many")] = Field(
        default=Decimal(0),
        description="How many pieces, metres or feet the value is for, where that is not one.",
    )
    holds_for: Annotated[str, Shows("for", HOUSE)] = Field(
        default="",
        description="What it is for: a piece, a metre, an hour; of a condition, where it holds.",
    )
    layer: Annotated[str, Shows("comes_from", HOUSE, "word", words="layer")] = Field(
        default="",
        description="Layer that says it: project, company or shared; default where nothing does.",
    )

    @property
    def pieces(self) -> Decimal:
        """How many pieces or metres the value is for."""
        return rounded(self.per * _FOOT_M, step_of(4)).normalize() if self.holds_for == FEET else self.per


_FOOT_M = Decimal("0.3048")
_ONE_MORE: Mapping[str, str] = {"ends of a cable": "cable with both ends terminated"}
"""Of sorts of change whose name is no singular: what one of them is."""


def one_more(to: str) -> str:
    """Return what the price of one more of something is called among the inputs.

    to: sort of change.
    """
    return f"price of one more {_ONE_MORE.get(to, to)}"


class RestsOnInputs(Protocol):
    """What the document tells of the figures that the price rests on."""

    @property
    def price_inputs(self) -> tuple[PriceInputRow, ...]:
        """Every such figure; none where its reader sees none."""


def layer_of_input(document: RestsOnInputs, *keys: str) -> str:
    """Return the layer that the first of some inputs comes from; empty where there is none of them.

    keys: of inputs.
    """
    known = _LOOKED_UP.of(document.price_inputs)[0]
    return next((known[key] for key in keys if key in known), "")


def layer_by_what(document: RestsOnInputs, subject: str, *whats: str) -> str:
    """Return the layer of the first input that is of a subject; empty where there is none.

    whats: what it may be, the first that there is counts.
    """
    known = _LOOKED_UP.of(document.price_inputs)[1]
    return next((known[what, subject] for what in whats if (what, subject) in known), "")


class _LookedUp:
    """Layers by key, and by what inputs are: the same inputs are looked up for every row of a schedule."""

    def __init__(self) -> None:
        self._rows: tuple[PriceInputRow, ...] = ()
        self._known: tuple[dict[str, str], dict[tuple[str, str], str]] = ({}, {})

    def of(self, rows: tuple[PriceInputRow, ...]) -> tuple[Mapping[str, str], Mapping[tuple[str, str], str]]:
        if rows is not self._rows:
            by_key = {row.key: row.layer for row in rows}
            self._known = by_key, {(row.what, row.subject): row.layer for row in rows}
            self._rows = rows
        return self._known


_LOOKED_UP = _LookedUp()
