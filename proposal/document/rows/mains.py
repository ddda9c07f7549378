"""Rows of the mains: circuits, the outlets on them, and what every device takes."""

from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.room_contents import Point
from proposal.document.schedule import ALL, BUYERS, NOT_CLIENT, Row, Schedule, Shows


class CircuitRow(Row):
    """One circuit: what is on it against what it may carry."""

    schedule: ClassVar = Schedule("circuit", subject="power", key=("identity",))

    identity: Annotated[str, Shows("circuit", ALL, "tag")] = Field(
        description="Tag of its place and its number there, such as ER1/C1."
    )
    place: Annotated[str, Shows("place", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room."
    )
    verdict: Annotated[str, Shows("verdict", ALL, "verdict")] = Field(
        description="holds; fails by current or leakage; in groups where inrush is high; may trip."
    )
    outlets: Annotated[int, Shows("mains_outlets", ALL, "count", sums=True, follows=True)] = Field(
        description="Outlets on it."
    )
    rest_w: Annotated[float, Shows("power_at_rest", ALL, "watts", sums=True, follows=True)] = Field(
        description="What it gives when nobody meets, W."
    )
    typical_w: Annotated[float, Shows("typical_power", ALL, "watts", sums=True, follows=True)] = Field(
        description="What it typically gives, amplifiers at an eighth of their rated power, W."
    )
    full_w: Annotated[float, Shows("highest_power", ALL, "watts", sums=True, follows=True)] = Field(
        description="The most it gives, W."
    )
    voltage_v: Annotated[float, Shows("mains_voltage", ALL, "volts")] = Field(
        description="Voltage of the mains, V."
    )
    full_va: Annotated[
        float, Shows("highest_apparent_power", ALL, "volt-amperes", sums=True, follows=True)
    ] = Field(description="The most it gives, VA.")
    full_a: Annotated[float, Shows("highest_current", ALL, "amperes", follows=True)] = Field(
        description="The same at the voltage of the mains, A."
    )
    allowed_a: Annotated[float, Shows("current_allowed", ALL, "amperes")] = Field(
        description="Current that it may carry for hours, A."
    )
    breaker: Annotated[str, Shows("breaker", ALL)] = Field(
        description="Curve and rating of its breaker, such as C16."
    )
    leakage_a: Annotated[float, Shows("leakage", ALL, "milliamperes", follows=True)] = Field(
        description="Protective-conductor current of all that it feeds, A."
    )
    leakage_allowed_a: Annotated[float | None, Shows("leakage_allowed", ALL, "milliamperes")] = Field(
        description="Leakage that it may have, A; none without a residual-current device."
    )
    residual_a: Annotated[float | None, Shows("residual_current_device", ALL, "milliamperes")] = Field(
        description="Rated residual current of its device, A; none where it has none."
    )
    inrush_a: Annotated[float, Shows("inrush", ALL, "amperes", follows=True)] = Field(
        description="Peak where all that it feeds is switched on at once, A."
    )
    inrush_allowed_a: Annotated[float | None, Shows("inrush_held", ALL, "amperes")] = Field(
        description="Peak that its breaker holds, A; none where it is marked with no curve."
    )
    steps: Annotated[int, Shows("switch_on_steps", ALL, "count", zero=False, follows=True)] = Field(
        description="Groups to switch on one after the other; 0 where that does not help or is not known."
    )


class MainsOutletRow(Row):
    """One outlet of the building, where it is wanted, and what is plugged in."""

    schedule: ClassVar = Schedule("mains_outlet", subject="power", key=("serves",))

    serves: Annotated[str, Shows("plugged_in", ALL, "tag")] = Field(
        description="Power strip with its rack before it, or a device, with the number of its inlet."
    )
    mark: Annotated[str, Shows("outlet_mark", ALL, "tag")] = Field(
        description="Its mark: its circuit and its number there, such as ER1/C1/2."
    )
    circuit: Annotated[str, Shows("circuit", ALL, "tag", link="tag")] = Field(
        description="Identity of its circuit."
    )
    place: Annotated[str, Shows("place", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room."
    )
    location: Annotated[str, Shows("location", ALL, link="tag")] = Field(
        description="The rack, the table, the wall or the ceiling where it is wanted."
    )
    storey: Annotated[str, Shows("storey", ALL, "tag")] = Field(description="Tag of the storey.")
    at: Annotated[Point, Shows("position", ALL, "coordinates")] = Field(
        description="Where in the building, m."
    )
    height_m: Annotated[float, Shows("above_floor", ALL, "position")] = Field(
        description="Height of what is plugged in above the floor, m."
    )
    plug: Annotated[str, Shows("inlet_or_plug", ALL, empty="not_stated")] = Field(
        description="Inlet or plug of what is plugged in; empty where nobody says."
    )
    cord: Annotated[str, Shows("mains_cord", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code of the mains cord to it; empty where none is ours."
    )
    scope: Annotated[str, Shows("outlet_by", ALL, "word")] = Field(
        description="Who provides the outlet, as the matrix of duties says: the electrical contractor, or "
        "the audio-visual contractor and, for equipment of the owner, the owner."
    )
    typical_w: Annotated[float, Shows("typical_power", ALL, "watts", sums=True, follows=True)] = Field(
        description="What it typically gives, W."
    )
    full_va: Annotated[
        float, Shows("highest_apparent_power", ALL, "volt-amperes", sums=True, follows=True)
    ] = Field(description="The most it gives, VA.")
    feeds: Annotated[tuple[str, ...], Shows("feeds", ALL, "tag", link="tag")] = Field(
        description="Tags of the devices, codes of the parts that it feeds."
    )


class MainsLoadRow(Row):
    """What one device takes from the mains."""

    schedule: ClassVar = Schedule("mains_load", subject="power", key=("name",))

    name: Annotated[str, Shows("device", ALL, "tag", link="tag")] = Field(
        description="Tag of a device, or code of a part with its rack before it."
    )
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of device or part.")
    place: Annotated[str, Shows("place", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room where it stands."
    )
    circuits: Annotated[tuple[str, ...], Shows("circuits", ALL, "tag", link="tag")] = Field(
        description="Identities of the circuits that feed it."
    )
    furnished_by: Annotated[str, Shows("furnished_by", ALL, "word")] = Field(
        description="contractor or owner."
    )
    supplies: Annotated[int, Shows("mains_inlets", ALL, "count")] = Field(description="Its mains inlets.")
    rest_w: Annotated[float, Shows("power_at_rest", ALL, "watts", sums=True)] = Field(
        description="When nobody meets, W."
    )
    typical_w: Annotated[float, Shows("typical_power", ALL, "watts", sums=True)] = Field(
        description="While people speak, W."
    )
    full_w: Annotated[float, Shows("highest_power", ALL, "watts", sums=True)] = Field(
        description="The most it takes, W."
    )
    power_factor: Annotated[float | None, Shows("power_factor", ALL, "ratio")] = Field(
        description="Watts for each volt-ampere; none where nobody states it, then counted as 1."
    )
    full_va: Annotated[
        float, Shows("highest_apparent_power", ALL, "volt-amperes", sums=True, follows=True)
    ] = Field(description="The most it takes, VA.")
    full_a: Annotated[float, Shows("highest_current", ALL, "amperes", follows=True)] = Field(
        description="The same at the voltage of the mains, A."
    )
    leakage_a: Annotated[float | None, Shows("leakage", ALL, "milliamperes")] = Field(
        description="Protective-conductor current, A; none where nobody states it."
    )
    inrush_a: Annotated[float | None, Shows("inrush", ALL, "amperes")] = Field(
        description="Peak at switch-on, A; none where nobody states it."
    )
    loss_w: Annotated[float | None, Shows("loss_of_supply", ALL, "watts", sums=True)] = Field(
        description="What its own supply turns into heat, typically, W; none where nobody states it."
    )


class EnergyRow(Row):
    """What the equipment of one room or equipment room takes in a year, and the heat it gives off there."""

    schedule: ClassVar = Schedule("energy", subject="power", key=("place",))

    place: Annotated[str, Shows("place", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room."
    )
    in_use_h: Annotated[float, Shows("hours_in_use", ALL, "hours")] = Field(
        description="Hours of a year in which people meet."
    )
    idle_h: Annotated[float, Shows("hours_between", ALL, "hours")] = Field(
        description="Hours of a year between the meetings of a day."
    )
    rest_w: Annotated[float, Shows("power_at_rest", ALL, "watts", sums=True, follows=True)] = Field(
        description="When nobody meets, W."
    )
    idle_w: Annotated[float, Shows("power_between_meetings", ALL, "watts", sums=True, follows=True)] = Field(
        description="Between the meetings of a day, W."
    )
    typical_w: Annotated[float, Shows("typical_power", ALL, "watts", sums=True, follows=True)] = Field(
        description="While people speak, W."
    )
    yearly_wh: Annotated[float, Shows("yearly_energy", ALL, "kilowatt-hours", sums=True, follows=True)] = (
        Field(description="Energy in a year, Wh.")
    )
    yearly_cost: Annotated[
        Decimal | None, Shows("yearly_energy_cost", BUYERS, "money", sums=True, follows=True)
    ] = Field(default=None, description="Its cost; none where the project states no price.")
    price_per_kwh: Annotated[Decimal | None, Shows("price_of_a_kilowatt_hour", BUYERS, "unit price")] = Field(
        default=None, description="What a kilowatt-hour costs; none where the project states no price."
    )
    heat_w: Annotated[float, Shows("heat_given_off", ALL, "watts", sums=True, follows=True)] = Field(
        description="Heat that typically stays there, with what comes to it over network cables, W."
    )
    hourly_heat_btu: Annotated[float, Shows("heat_btu", ALL, "BTU an hour", sums=True, follows=True)] = Field(
        description="The same heat, BTU/h."
    )
    hourly_air_m3: Annotated[float, Shows("air_wanted", ALL, "airflow", follows=True)] = Field(
        description="Air that carries it away, m³/h."
    )
