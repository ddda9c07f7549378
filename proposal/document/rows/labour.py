"""Rows of labour: hours line by line, their sums, and what makes work slower. Rates are the house's alone."""

from decimal import Decimal
from math import prod
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.price_inputs import RestsOnInputs, layer_by_what
from proposal.document.schedule import CHECKERS, HOUSE, Row, Schedule, Shows, composed, gathered
from proposal.quantities.formatting import rounded

NOTHING = Decimal(0)
_HOURS_ARE = ("hours", "share of hours")


class LabourRow(Row):
    """One line of labour."""

    schedule: ClassVar = Schedule(
        "labour",
        subject="labour",
        key=("phase", "trade", "task", "room", "storey", "model", "unit"),
        shares_key=True,
        views={
            "check": "number room task model units unit hours_a_unit pulled_together additions hours causes",
            "price": "number room task trade system units unit hours charged_hours",
        },
    )

    number: Annotated[str, Shows("line", CHECKERS, "tag", serial=True)] = Field(
        default="", description="Number, such as A101-H12."
    )
    task: Annotated[str, Shows("task", CHECKERS)] = Field(default="", description="What is done.")
    trade: Annotated[str, Shows("trade", CHECKERS)] = Field(default="", description="Who does it.")
    phase: Annotated[str, Shows("phase", CHECKERS, "word")] = Field(
        default="", description="Phase of the work."
    )
    room: Annotated[str, Shows("room", CHECKERS, "tag", link="tag", empty="building")] = Field(
        default="", description="Room or equipment room; empty for the building."
    )
    storey: Annotated[str, Shows("storey", CHECKERS, "tag", link="tag")] = Field(
        default="", description="Storey it is done on; empty for none."
    )
    system: Annotated[str, Shows("system", CHECKERS, "word")] = Field(
        default="", description="System it belongs to."
    )
    model: Annotated[str, Shows("model", CHECKERS, "tag", link="model")] = Field(
        default="", description="Model code of the devices it is done to."
    )
    units: Annotated[Decimal, Shows("units", CHECKERS, "how many")] = Field(
        default=NOTHING, description="How many, in `unit`; lengths in m."
    )
    unit: Annotated[str, Shows("unit", CHECKERS, "unit")] = Field(
        default="", description="each, m, or h for a share of hours."
    )
    hours_a_unit: Annotated[Decimal, Shows("a_unit_takes_h", CHECKERS, "unit hours")] = Field(
        default=NOTHING, description="Hours for one unit, or the share."
    )
    group_factor: Annotated[Decimal, Shows("group_factor", CHECKERS, "ratio")] = Field(
        default=NOTHING, description="Factor of cables that are pulled together; 1 for all else."
    )
    additions: Annotated[
        tuple[tuple[str, Decimal], ...],
        Shows("additions", CHECKERS, ("text", "added share"), order="addition"),
    ] = Field(default=(), description="Conditions and the share that each adds; below 0 where it takes away.")
    hours: Annotated[
        Decimal,
        Shows(
            "hours",
            CHECKERS,
            "hours",
            sums=True,
            formula="{units}*{hours_a_unit}*{group_factor}*(1+{addition})",
        ),
    ] = Field(default=NOTHING, description="Units × hours a unit × group factor × (1 + additions), h.")
    charged_hours: Annotated[Decimal, Shows("charged", CHECKERS, "hours", sums=True, follows=True)] = Field(
        default=NOTHING, description="Its part of what the summary charges, h."
    )
    causes: Annotated[tuple[str, ...], Shows("for", CHECKERS, "tag", link="subject", most=3)] = Field(
        default=(), description="Devices, cables, rooms, sheets or tasks that it counts."
    )

    @composed(Shows("additions_together", CHECKERS, "ratio"))
    def addition(self) -> Decimal:
        """What its conditions add together."""
        return sum((share for _, share in self.additions), Decimal(0))

    @gathered(Shows("hours_from", HOUSE, "word", words="layer"))
    def hours_from(self, document: RestsOnInputs) -> str:
        """Layer that its hours a unit, or its share, come from."""
        return layer_by_what(document, self.task, *_HOURS_ARE)

    @composed(Shows("pulled_together", CHECKERS, "ratio", together=True))
    def pulled_together(self) -> Decimal | None:
        """Factor of cables that are pulled together; nothing for all else."""
        return None if self.group_factor == 1 else self.group_factor


class TradeHoursRow(Row):
    """Hours of one trade in one phase."""

    schedule: ClassVar = Schedule("trade_hours", subject="labour", key=("phase", "trade"))

    phase: Annotated[str, Shows("phase", CHECKERS, "word")] = Field(
        default="", description="Phase of the work."
    )
    trade: Annotated[str, Shows("trade", CHECKERS)] = Field(default="", description="Who does it.")
    line_hours: Annotated[Decimal, Shows("lines", CHECKERS, "hours", sums=True, follows=True)] = Field(
        default=NOTHING, description="Sum of its lines, h."
    )
    factors: Annotated[
        tuple[tuple[str, Decimal], ...], Shows("factors", CHECKERS, ("text", "ratio"), order="factor")
    ] = Field(default=(), description="Conditions of the whole project and what each multiplies by.")
    call_hours: Annotated[Decimal, Shows("minimum_call_adds", CHECKERS, "hours", zero=False)] = Field(
        default=NOTHING, description="Added by the minimum call, h."
    )
    hours: Annotated[
        Decimal, Shows("charged", CHECKERS, "hours", sums=True, formula="{line_hours}*{factor}+{call_hours}")
    ] = Field(default=NOTHING, description="Charged, h.")
    overtime_hours: Annotated[
        Decimal, Shows("of_these_overtime", CHECKERS, "hours", sums=True, zero=False)
    ] = Field(default=NOTHING, description="Of these, outside normal working time, h.")
    person_days: Annotated[int, Shows("on_site", CHECKERS, "days", sums=True, zero=False)] = Field(
        default=0, description="Days of one person on site."
    )
    hours_a_day: Annotated[
        Decimal | None, Shows("hours_of_one_person_and_day", CHECKERS, "hours", follows=True)
    ] = Field(
        default=None, description="Hours of one person and day, where hours of work shorten the day, h."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", sums=True)] = Field(
        default=None, description="What the hours cost us, overtime included."
    )
    price: Annotated[Decimal | None, Shows("price", HOUSE, "money", sums=True, follows=True)] = Field(
        default=None, description="What they sell for, before tax."
    )

    @composed(Shows("factors_together", CHECKERS, "ratio"))
    def factor(self) -> Decimal:
        """What the conditions of the project come to together."""
        return prod((factor for _, factor in self.factors), start=Decimal(1))


class OvertimeRow(Row):
    """Hours of one trade in one phase that are worked outside normal working time."""

    schedule: ClassVar = Schedule(
        "overtime", subject="labour", key=("work", "phase", "trade"), shares_key=True
    )

    work: Annotated[str, Shows("what", CHECKERS)] = Field(
        default="", description="What that work is called; hours on site where it is a share of all of them."
    )
    phase: Annotated[str, Shows("phase", CHECKERS, "word")] = Field(
        default="", description="Phase of the work."
    )
    trade: Annotated[str, Shows("trade", CHECKERS)] = Field(default="", description="Who does it.")
    rooms: Annotated[tuple[str, ...], Shows("rooms", CHECKERS, "tag", link="room")] = Field(
        default=(), description="Tags of the rooms whose work it is; empty for all places."
    )
    share: Annotated[Decimal, Shows("share", CHECKERS, "share")] = Field(
        default=NOTHING, description="Share of the hours charged there, 0 to 1."
    )
    hours: Annotated[Decimal, Shows("of_these_overtime", CHECKERS, "hours", sums=True)] = Field(
        default=NOTHING, description="Outside normal working time, h."
    )


class TravelRow(Row):
    """The travel of a trade to site."""

    schedule: ClassVar = Schedule("travel", subject="labour", key=("trade",))

    trade: Annotated[str, Shows("trade", CHECKERS)] = Field(default="", description="Who travels.")
    days: Annotated[int, Shows("on_site", CHECKERS, "days", sums=True)] = Field(
        default=0, description="Days of one person."
    )
    hours: Annotated[Decimal, Shows("under_way", CHECKERS, "hours", sums=True)] = Field(
        default=NOTHING, description="Under way, h."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", sums=True)] = Field(
        default=None, description="What hours and expenses cost us."
    )
    price: Annotated[Decimal | None, Shows("price", HOUSE, "money", sums=True, follows=True)] = Field(
        default=None, description="What they sell for, before tax."
    )


class TradeRow(Row):
    """A trade: its crew size, its hours, and what an hour costs and sells for."""

    schedule: ClassVar = Schedule("trade", subject="labour", key=("trade",))

    trade: Annotated[str, Shows("trade", CHECKERS)] = Field(default="", description="Name.")
    crew: Annotated[int, Shows("most_at_once", CHECKERS, "count")] = Field(
        default=0, description="Most people at once."
    )
    minimum_call_hours: Annotated[Decimal, Shows("minimum_call", CHECKERS, "hours", zero=False)] = Field(
        default=NOTHING, description="Fewest hours charged for each phase on site, h."
    )
    hours: Annotated[
        Decimal, Shows("charged_travel_included", CHECKERS, "hours", sums=True, follows=True)
    ] = Field(default=NOTHING, description="Charged, travel included, h.")
    source: Annotated[str, Shows("source", CHECKERS)] = Field(
        default="", description="Where its figures come from."
    )
    cost: Annotated[Decimal | None, Shows("cost_of_an_hour", HOUSE, "unit price")] = Field(
        default=None, description="What an hour costs us."
    )
    selling: Annotated[Decimal | None, Shows("price_of_an_hour", HOUSE, "unit price")] = Field(
        default=None, description="What an hour sells for, before tax."
    )
    rule: Annotated[str, Shows("by", HOUSE, "rule")] = Field(
        default="", description="How its cost becomes its price."
    )
    rule_value: Annotated[Decimal | None, Shows("share_or_rate", HOUSE, "by rule")] = Field(
        default=None, description="Share or rate of that rule, as its name says."
    )

    @gathered(Shows("cost_layer", HOUSE, "word", words="layer"))
    def cost_from(self, document: RestsOnInputs) -> str:
        """Layer that what an hour costs comes from."""
        return layer_by_what(document, self.trade, "cost of an hour")


class Charged(Protocol):
    """What has hours as a whole."""

    @property
    def labour_hours(self) -> Decimal | None:
        """All hours charged, h; None where its reader sees none."""


_SHARE_PLACES = 3


class HoursSum(Row):
    """Hours of one room, system or phase, travel included."""

    schedule: ClassVar = Schedule("hours_sum", subject="labour", key=("key",), unnamed="the_building")

    key: Annotated[str, Shows("key", CHECKERS, "tag")] = Field(
        default="", description="Tag or name; empty for the building."
    )
    hours: Annotated[Decimal, Shows("hours_with_travel", CHECKERS, "hours", sums=True)] = Field(
        default=NOTHING, description="Charged, h."
    )

    @gathered(Shows("share", CHECKERS, "share"))
    def share(self, document: Charged) -> Decimal | None:
        """Share of all hours, 0 to 1."""
        whole = document.labour_hours
        return rounded(self.hours / whole, _SHARE_PLACES) if whole else None


class RoomHours(HoursSum):
    """Hours of one room, travel included."""

    key: Annotated[str, Shows("room", CHECKERS, "tag", link="room", empty="building")] = Field(
        default="", description="Tag of the room; empty for the building."
    )


class SystemHours(HoursSum):
    """Hours of one system, travel included."""

    key: Annotated[str, Shows("system", CHECKERS, "word")] = Field(default="", description="System.")


class PhaseHours(HoursSum):
    """Hours of one phase of the work, travel included."""

    key: Annotated[str, Shows("phase", CHECKERS, "word")] = Field(default="", description="Phase.")


class ConditionRow(Row):
    """Something that makes work slower, or quicker, and what it holds for."""

    schedule: ClassVar = Schedule("condition", subject="labour", key=("name", "scope"))

    name: Annotated[str, Shows("condition", CHECKERS, "word")] = Field(default="", description="What it is.")
    scope: Annotated[str, Shows("holds_for", CHECKERS)] = Field(
        default="", description="What it holds for: every line, a room, a kind of room, the whole project."
    )
    effect: Annotated[str, Shows("how", CHECKERS, words="condition")] = Field(
        default="", description="added to lines, or multiplies the summary."
    )
    addition: Annotated[Decimal, Shows("addition", CHECKERS, "share")] = Field(
        default=NOTHING, description="Share of the hours added."
    )
    phases: Annotated[tuple[str, ...], Shows("phases", CHECKERS)] = Field(
        default=(), description="Phases whose work it changes."
    )
    source: Annotated[str, Shows("source", CHECKERS)] = Field(
        default="", description="Where the figure comes from."
    )

    @gathered(Shows("comes_from", HOUSE, "word", words="layer"))
    def addition_from(self, document: RestsOnInputs) -> str:
        """Layer that its addition comes from."""
        return layer_by_what(document, self.name, "condition", "reduction")
