"""What every entry of the equipment library has in common."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from proposal.model.base import Written
from proposal.model.equipment.parts import (
    ControlPoint,
    Count,
    Delay,
    MainsInput,
    Many,
    NetworkNeeds,
    PoeInput,
    Ports,
    Signal,
    Size,
)
from proposal.quantities.dates import Date
from proposal.quantities.money import Money
from proposal.quantities.parsing import Mass, SoundLevel, Temperature

Layer = Literal["shared", "company", "project"]
ModelCode = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$")]


UNKNOWN, AWAITED = "unknown", "awaited"
"""What files say of a price that is still to come, and the field that keeps which of the two it is."""
PRICE_FIELDS = ("cost", "list_price")
_STAND_INS = (("cost", "list_price"), ("list_price", "cost"))


def awaited_of(entry: Mapping[str, Any]) -> tuple[str, ...]:
    """Return which prices of an entry are awaited, as reading has noted it so far.

    entry: as files have it, laid over one another.
    """
    noted = entry.get(AWAITED)
    return noted if isinstance(noted, tuple) else ()


class Entry(Written):
    """One thing that can be bought, by its model code."""

    kind: str = Field(description="Kind of entry.")
    model: str = Field(
        default="", description="Model code: the key of the entry in its file, filled in on reading."
    )
    layer: Layer = Field(default="shared", description="Library the entry comes from, filled in on reading.")
    source: str = Field(
        default="editable default",
        description="Where the figures come from; left out, what the file says at its top.",
    )
    maker: str = Field(description="Who makes it.")
    description: str = Field(description="What it is, as the equipment list prints it.")
    list_price: Money = Field(
        description="List price of one unit before tax, with its currency; `unknown` takes that of the "
        "libraries below, else the cost."
    )
    cost: Money = Field(
        description="What one unit costs the integrator before tax, with its currency; `unknown` takes that "
        "of the libraries below, else the list price."
    )
    awaited: tuple[Literal["cost", "list_price"], ...] = Field(
        default=(), description="Which of the two is `unknown` until a quote comes, filled in on reading."
    )
    prices_hold_until: Date | None = Field(
        default=None, description="Last day on which cost and list price hold; left out, they hold."
    )
    supplier: str = Field(
        default="", description="Who is asked for a quote, and sells it; left out, its maker."
    )
    article: str = Field(default="", description="The supplier's own number for it.")
    price_source: str = Field(
        default="", description="Price list or quote that cost and list price come from, if any."
    )
    priced_on: Date | None = Field(default=None, description="Day of that price list or quote.")
    unit: Literal["each", "metre", "pack"] = Field(
        default="each", description="What the price and the cost are for."
    )
    pack_quantity: Many = Field(default=1, description="Pieces in one unit.")
    tax_kind: Literal["goods", "services", "exempt"] = Field(
        default="goods", description="How the entry is taxed."
    )
    furnished_by: Literal["contractor", "owner"] = Field(
        default="contractor", description="Who furnishes it unless the project says otherwise."
    )
    lead_time_days: Annotated[int, Field(ge=0, le=3650)] = Field(
        description="Calendar days from order to delivery; the day of the order is not counted."
    )
    warranty_months: Annotated[int, Field(ge=0, le=1200)] = Field(
        description="Months of warranty from acceptance."
    )
    yearly_cost: Money | None = Field(
        default=None, description="Licence or support that recurs each year, if any."
    )
    labour_task: str = Field(
        default="", description="Labour task that installs it; left out, the one of its kind."
    )
    weight: Annotated[Mass, Field(ge=0, le=10_000)] = Field(
        default=0.0, description="Weight of one unit; 0 where it is too small to state."
    )
    internal_note: str = Field(default="", description="For the integrator's own estimators only.")

    @model_validator(mode="before")
    @classmethod
    def _awaits_a_quote(cls, value: Any) -> Any:
        """Take the list price for a cost that no library gives, or the cost for a list price."""
        if not isinstance(value, Mapping):
            return value
        awaited = [name for name, _ in _STAND_INS if value.get(name) == UNKNOWN]
        if len(awaited) != 1:
            return value
        other = dict(_STAND_INS)[awaited[0]]
        both = tuple(sorted({*awaited_of(value), *awaited}))
        return {**value, awaited[0]: value.get(other), AWAITED: both}

    @property
    def bought_from(self) -> str:
        """Return who is asked for a quote: its supplier, else its maker."""
        return self.supplier or self.maker

    @property
    def priced(self) -> str:
        """Return which price list or quote its prices come from, and of which day; empty for none."""
        return ", ".join(
            part for part in (self.price_source, self.priced_on.isoformat() if self.priced_on else "") if part
        )

    @property
    def currency(self) -> str:
        """Return the ISO code of the currency the list price stands in."""
        return self.list_price.currency


class Device(Entry):
    """An entry that stands somewhere, draws power and has ports."""

    width: Size = Field(description="Width.")
    height: Size = Field(description="Height.")
    depth: Size = Field(description="Depth behind the mounting face.")
    weight: Annotated[Mass, Field(gt=0, le=10_000)] = Field(description="Weight.")
    rack_units: Count = Field(default=0, description="Rack units it takes; 0 where it is not for a rack.")
    half_width: bool = Field(default=False, description="Whether two fit side by side in a rack.")
    mounting: tuple[
        Literal[
            "ceiling", "wall", "table", "rack", "hand", "body", "floor", "under table", "stand", "furniture"
        ],
        ...,
    ] = Field(description="Where it may be mounted, the usual place first.")
    fixings_included: bool = Field(
        default=False, description="Whether what holds it on a ceiling, a wall or a table comes with it."
    )
    rack_gap_above: Count = Field(default=0, description="Rack units left free above it for air.")
    airflow: Literal["passive", "front to rear", "side to side"] = Field(
        default="passive", description="Direction of the cooling air."
    )
    noise: SoundLevel | None = Field(default=None, description="Noise of its fans at 1 m; none if silent.")
    plenum_rated: bool = Field(
        default=False, description="Whether it may stand in a space used for environmental air."
    )
    coldest: Temperature = Field(description="Lowest temperature it works at.")
    hottest: Temperature = Field(description="Highest temperature it works at.")
    poe: PoeInput | None = Field(default=None, description="What it takes over PoE, if it can.")
    mains: MainsInput | None = Field(default=None, description="What it takes from the mains, if it can.")
    ports: Mapping[str, Ports] = Field(
        default={}, description="Its ports by the letters that name them, such as N for N1, N2."
    )
    termination: Literal["outlet", "plug"] = Field(
        default="outlet", description="Whether its data cable ends in an outlet with a cord, or in a plug."
    )
    needs_screened_cable: bool = Field(
        default=False, description="Whether its data cable has to be screened."
    )
    latency: Delay | None = Field(
        default=None,
        description="Time that audio takes through it; left out, a question to its maker where audio does.",
    )
    network: NetworkNeeds | None = Field(default=None, description="What it needs of the network, if any.")
    control_points: Mapping[str, ControlPoint] = Field(
        default={}, description="What a control system can read or set, by name."
    )

    def ports_carrying(self, signal: Signal) -> tuple[str, ...]:
        """Return the names of the ports for one signal, in the order of the library file."""
        return tuple(
            f"{letters}{ordinal}"
            for letters, ports in self.ports.items()
            if ports.signal == signal
            for ordinal in range(1, ports.count + 1)
        )

    def level_of(self, port: str) -> float | None:
        """Return the highest analogue level of a port, dB above 0.775 V; None where it has none.

        port: its name.
        """
        for letters, ports in self.ports.items():
            if port in {f"{letters}{ordinal}" for ordinal in range(1, ports.count + 1)}:
                return ports.level
        return None

    @property
    def joined_port(self) -> str:
        """Return the port by which it is joined to a switch: the one that takes power, else the first."""
        takes_power = self.powered_by == "PoE"
        fed = (
            f"{letters}1"
            for letters, ports in self.ports.items()
            if takes_power and ports.signal == "network" and ports.powered
        )
        return next(fed, "") or next(iter(self.ports_carrying("network")), "")

    @property
    def powered_by(self) -> Literal["PoE", "mains", "PoE or mains", "nothing"]:
        """Return what feeds it."""
        if self.poe:
            return "PoE or mains" if self.mains else "PoE"
        return "mains" if self.mains else "nothing"
