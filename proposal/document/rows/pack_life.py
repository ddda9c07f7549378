"""Rows of the packs of microphones over the years."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.rooms import RoomSheet
from proposal.document.schedule import ALL, HOUSE, Row, Schedule, Shows, gathered


class WithKinds(Protocol):
    """What has kinds of room."""

    @property
    def room_sheets(self) -> Sequence[RoomSheet]:
        """Kinds of room."""


class PackLifeRow(Row):
    """The packs of the microphones of one form in all rooms of a kind."""

    schedule: ClassVar = Schedule("pack_life", subject="equipment", key=("kind", "form", "pack"))

    kind: Annotated[str, Shows("key", ALL, "tag", drawn=True)] = Field(description="Key of the kind of room.")
    form: Annotated[str, Shows("microphones", ALL, "word")] = Field(
        description="Handheld, bodypack, boundary or gooseneck."
    )
    pack: Annotated[str, Shows("pack", ALL)] = Field(description="What a new pack holds, in Wh.")
    run_time_h: Annotated[float, Shows("run_time_stated", ALL, "hours")] = Field(
        description="Run time of a new pack in use, as its maker states it, h."
    )
    packs: Annotated[int, Shows("packs_in_use", ALL, "count", sums=True)] = Field(
        description="Packs in use at once."
    )
    cycles_a_year: Annotated[float, Shows("charges_a_year", ALL, "ratio")] = Field(
        description="Full charges of each in a year."
    )
    cycles: Annotated[int, Shows("charges_until_worn", ALL, "count")] = Field(
        description="Full charges until a pack is worn."
    )
    lasts_years: Annotated[float | None, Shows("years_until_worn", ALL, "ratio", empty="not_used")] = Field(
        description="Years until a pack is worn; None where nobody meets."
    )
    years: Annotated[int, Shows("years_counted", ALL, "count")] = Field(
        description="Years over which replaced packs are counted."
    )
    replaced: Annotated[int, Shows("replaced_in_these_years", ALL, "count", sums=True)] = Field(
        description="Packs replaced in these years."
    )
    changed_by: Annotated[str, Shows("changed_by", ALL)] = Field(
        description="Who changes a pack: the user, or the maker with the microphone."
    )
    list_price: Annotated[
        Decimal | None, Shows("list_price_of_a_pack", ALL, "money", empty="ask_the_maker")
    ] = Field(description="List price of a pack before tax; None where the library has none.")
    amount: Annotated[Decimal | None, Shows("at_list_price", ALL, "money", sums=True)] = Field(
        description="The packs replaced, at list price; no part of the price of this proposal."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", sums=True)] = Field(
        default=None, description="What they would cost us at today's prices."
    )

    @gathered(Shows("kind_of_room", ALL))
    def room_kind(self, document: WithKinds) -> str:
        """What the kind of room is called."""
        return next((one.title for one in document.room_sheets if one.key == self.kind), self.kind)
