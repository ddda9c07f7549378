"""Labour data: trades with their rates, tasks with their hours, and the conditions that make work slower.

Hours are decimal numbers, so that a line can be recomputed by hand to its last printed digit. All of it are
editable defaults; a company's own files name only what differs.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal, get_args

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from proposal.model.base import Written
from proposal.model.equipment.entry import Layer
from proposal.model.pathways.pathways import PathwayKind
from proposal.quantities.messages import refusal, wanted_one_of
from proposal.quantities.money import Money
from proposal.quantities.parsing import Fraction, Length

Phase = Literal[
    "project management",
    "design",
    "drafting",
    "workshop",
    "first fix",
    "second fix",
    "network",
    "programming",
    "commissioning",
    "training",
    "documents",
    "travel",
]
PHASES: tuple[Phase, ...] = get_args(Phase)
SITE_PHASES: tuple[Phase, ...] = ("first fix", "second fix", "network", "commissioning", "training")
"""Phases whose work is done in the building, so that people travel to it."""

Bound = Literal[
    "device",
    "cable",
    "cable end",
    "lead in a rack",
    "penetration",
    "hook",
    "pathway",
    "rack part",
    "box",
    "mains outlet",
    "mains circuit",
    "place of a portable set",
    "room",
    "room with radio",
    "kind of room",
    "equipment room",
    "storey",
    "storey with radio",
    "sheet",
    "project",
]
LabourName = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9 ._-]{0,59}$")]


def _decimal(value: object) -> object:
    # A float would bring its binary tail into hours that people recompute with a pencil.
    return repr(value) if isinstance(value, float) else value


Hours = Annotated[Decimal, BeforeValidator(_decimal), Field(ge=0, le=10_000, max_digits=12, decimal_places=6)]
Count = Annotated[int, Field(ge=1, le=1000)]


class Data(Written):
    """Something a labour file holds under a name."""

    source: str = Field(
        default="editable default",
        description="Where the figures come from; left out, what the file says at its top.",
    )
    layer: Layer = Field(default="shared", description="Library it comes from, filled in on reading.")


class Trade(Data):
    """Who does the work, what an hour costs and sells for, and the crew size."""

    name: str = Field(min_length=1, description="What the trade is called in the proposal.")
    cost: Money = Field(description="What an hour costs the integrator, before tax.")
    selling: Money | None = Field(
        default=None, description="What an hour sells for; left out, the price rule for labour."
    )
    crew: Count = Field(default=2, description="Most people of the trade at work at once.")
    minimum_call_hours: Hours = Field(
        default=Decimal(0),
        description="Fewest hours charged for each phase that the trade comes to site for.",
    )
    tax_kind: Literal["goods", "services", "exempt"] = Field(
        default="services", description="How its hours are taxed."
    )


class Task(Data):
    """One task: what it is done to, by whom, in which phase, and how long it takes."""

    name: str = Field(min_length=1, description="What the task is called in the proposal.")
    trade: str = Field(description="Key of the trade that does it.")
    phase: Phase = Field(description="Phase of the work it belongs to.")
    to: Bound = Field(description="What it is done to; each of them is one unit.")
    kinds: tuple[str, ...] = Field(
        default=(),
        description="Kinds of equipment it is done to, such as access_point.",
    )
    roles: tuple[str, ...] = Field(
        default=(),
        description="What the equipment of those kinds is for, such as receiver; all of it where left out.",
    )
    pathways: tuple[PathwayKind, ...] = Field(
        default=(), description="Kinds of pathway it is done to, such as tray."
    )
    signals: tuple[Literal["network", "fibre", "analogue", "loudspeaker line"], ...] = Field(
        default=(), description="Signals of the cables it is done to; all of them where left out."
    )
    hours: Hours | None = Field(default=None, description="Hours for one unit.")
    times: Count = Field(default=1, description="How often it is done, of a task done to the project.")
    length: Annotated[Length, Field(gt=0)] | None = Field(
        default=None,
        description="Length of cable or pathway that `hours` are for, where they grow with length.",
    )
    further_hours: Hours | None = Field(
        default=None, description="Hours for each further room of the same kind; left out, repetition counts."
    )
    share: Annotated[Fraction, Field(gt=0, le=1)] | None = Field(
        default=None, description="Share of the hours of other phases, instead of hours for a unit."
    )
    share_of: tuple[Phase, ...] = Field(default=(), description="Phases whose hours the share is taken of.")
    furniture: bool = Field(
        default=False,
        description="Whether it is done to what stands in a room's furniture for want of a rack, instead of "
        "what stands in one.",
    )
    installs: bool = Field(
        default=False, description="Whether an entry of the library may name another task in its place."
    )
    at_height: bool = Field(default=False, description="Whether the height of the work makes it slower.")

    @model_validator(mode="after")
    def _counts_one_way(self) -> "Task":
        """Refuse a task that cannot be counted, or could be counted in two ways."""
        if (self.hours is None) == (self.share is None):
            raise refusal(
                "either hours or a share, such as `hours: 0.5`",
                "both" if self.hours is not None else "neither",
            )
        if self.share is not None and (not self.share_of or self.to != "project"):
            raise refusal(
                "a share of the phases in share_of, for the project, such as "
                "`to: project, share: 8 %, share_of: [first fix]`",
                f"to: {self.to}",
            )
        if self.to == "device" and not self.kinds:
            raise refusal("kinds of equipment for a task done to devices, such as `kinds: [charger]`", "none")
        if (self.to == "pathway") != bool(self.pathways):
            raise refusal(
                "kinds of pathway for a task done to pathways alone, such as "
                "`to: pathway, pathways: [conduit]`",
                f"to: {self.to}",
            )
        if self.times > 1 and (self.to != "project" or self.hours is None):
            raise refusal(
                "times only for a task with hours done to the project, such as "
                "`to: project, hours: 2, times: 2`",
                f"to: {self.to}",
            )
        if self.length is not None and self.to not in ("cable", "pathway"):
            raise refusal(
                "a length only for a task done to cables or pathways, such as `to: cable, length: 100 m`",
                f"to: {self.to}",
            )
        if self.further_hours is not None and self.to not in ("room", "device"):
            raise refusal(
                "further_hours only for a task done to rooms or devices, such as "
                "`to: room, further_hours: 0.5`",
                f"to: {self.to}",
            )
        return self

    def done_to_device(self, key: str, kind: str, named: str, *, in_furniture: bool, role: str = "") -> bool:
        """Return whether it is done to a device.

        key: of the task.  kind: of the device.  named: the task that its entry of the library names, if any.
        role: what the entry says that the device is for, empty where it says nothing.
        in_furniture: whether the device stands in furniture for want of a rack.
        """
        if self.to != "device":
            return False
        if named and (self.installs or key == named):
            return key == named
        if in_furniture and self.phase == "workshop":
            return False
        if self.roles and role not in self.roles:
            return False
        return kind in self.kinds and (in_furniture or not self.furniture)


class Condition(Data):
    """What makes work slower: added to the line, or multiplied once over the project."""

    name: str = Field(min_length=1, description="What it is called in the proposal.")
    addition: Annotated[Fraction, Field(ge=0, le=5)] = Field(
        description="Share of the hours added; 300 % makes a task take four times as long."
    )
    phases: tuple[Phase, ...] = Field(
        default=("first fix", "second fix"), description="Phases whose work it makes slower."
    )


class HeightStep(Data):
    """What working from a height on adds."""

    above: Annotated[Length, Field(gt=0)] = Field(description="Height above the floor from which it counts.")
    addition: Annotated[Fraction, Field(ge=0, le=5)] = Field(description="Share of the hours added.")


class UpperStoreys(Data):
    """What each storey far up adds to work on it."""

    above: Annotated[int, Field(ge=0, le=200)] = Field(
        description="Number of the highest storey without it, the lowest at or above ground counted as 1."
    )
    addition: Annotated[Fraction, Field(ge=0, le=1)] = Field(
        description="Share of the hours added for each storey above that one."
    )
    phases: tuple[Phase, ...] = Field(
        default=("first fix", "second fix"), description="Phases whose work it makes slower."
    )


class Repetition(Data):
    """What doing the same room again saves."""

    reduction: Annotated[Fraction, Field(ge=0, lt=1)] = Field(
        description="Share of the hours saved in each further room of a kind."
    )
    phases: tuple[Phase, ...] = Field(
        default=("first fix", "second fix"), description="Phases whose work it makes quicker."
    )


class PullGroup(Data):
    """What a cable costs when several are pulled together."""

    cables: Annotated[int, Field(ge=2, le=1000)] = Field(description="Number of cables from which it counts.")
    factor: Annotated[Decimal, BeforeValidator(_decimal), Field(gt=0, le=1, decimal_places=4)] = Field(
        description="Factor on the hours a metre of each of them."
    )


class Travel(Data):
    """Coming to site, for one person and day."""

    hours_a_day: Hours = Field(description="Hours under way for one person and day, both ways.")
    expenses_a_day: Money | None = Field(
        default=None, description="Vehicle, fares and meals for one person and day."
    )


class Labour(Written):
    """Everything the labour files hold."""

    trades: Mapping[LabourName, Trade] = Field(default={}, description="Trades by key.")
    tasks: Mapping[LabourName, Task] = Field(default={}, description="Tasks by key.")
    conditions: Mapping[LabourName, Condition] = Field(default={}, description="Conditions by key.")
    heights: Mapping[LabourName, HeightStep] = Field(
        default={}, description="Steps of the height of work by key; the highest that is reached counts."
    )
    pull_groups: Mapping[LabourName, PullGroup] = Field(
        default={}, description="Cables pulled together by key; the largest group that is reached counts."
    )
    upper_storeys: UpperStoreys | None = Field(default=None, description="Work on storeys far up.")
    repetition: Repetition | None = Field(default=None, description="Further rooms of a kind.")
    travel: Travel | None = Field(default=None, description="Coming to site.")
    overtime_premium: Annotated[Fraction, Field(ge=0, le=3)] = Field(
        default=0.5, description="Share added to the rate of hours outside normal working time."
    )

    @model_validator(mode="after")
    def _trades_are_known(self) -> "Labour":
        """Refuse a task of a trade that nobody describes."""
        for key, task in self.tasks.items():
            if task.trade not in self.trades:
                message = wanted_one_of(task.trade, tuple(self.trades), f"a trade for the task {key}")
                raise PydanticCustomError("wanted", "{message}", {"message": message})
        return self
