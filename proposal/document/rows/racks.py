"""Rows of the racks, and of what stands in them."""

from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.schedule import NOT_CLIENT, Row, Schedule, Shows


class RackRow(Row):
    """A rack: what it holds against what it can hold."""

    schedule: ClassVar = Schedule("rack", subject="equipment", key=("tag",))

    tag: Annotated[str, Shows("rack", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the rack."
    )
    equipment_room: Annotated[str, Shows("equipment_room", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of its equipment room."
    )
    model: Annotated[str, Shows("model", NOT_CLIENT, "tag", link="model", empty="none")] = Field(
        default="", description="Model code; empty where the library has no rack."
    )
    style: Annotated[str, Shows("sort_of_rack", NOT_CLIENT, "word")] = Field(
        default="", description="Floor, wall or furniture; empty where the library has no rack."
    )
    faces: Annotated[str, Shows("front_looks", NOT_CLIENT, "word", empty="to_be_agreed")] = Field(
        default="", description="Side of the building that its front looks at; empty where not given."
    )
    width_m: Annotated[float | None, Shows("width", NOT_CLIENT, "small length")] = Field(
        default=None, description="Width, m; None where no rack of the library suits."
    )
    depth_m: Annotated[float | None, Shows("depth", NOT_CLIENT, "small length")] = Field(
        default=None, description="Depth, m; None where no rack of the library suits."
    )
    verdict: Annotated[str, Shows("verdict", NOT_CLIENT, "verdict")] = Field(
        default="", description="holds or fails."
    )
    units: Annotated[int, Shows("rack_units_offered", NOT_CLIENT, "count")] = Field(
        default=0, description="Units that it has."
    )
    used: Annotated[int, Shows("rack_units_used", NOT_CLIENT, "count", follows=True)] = Field(
        default=0, description="Units that are taken, gaps for air included."
    )
    spare_wanted: Annotated[int, Shows("rack_units_spare_wanted", NOT_CLIENT, "count", follows=True)] = Field(
        default=0, description="Units that are to stay free."
    )
    weight_kg: Annotated[float, Shows("weight_in_rack", NOT_CLIENT, "weight", follows=True)] = Field(
        default=0.0, description="Weight of all that stands in it, kg."
    )
    load_kg: Annotated[float, Shows("weight_it_carries", NOT_CLIENT, "weight", follows=True)] = Field(
        default=0.0, description="Weight that it can carry, kg."
    )
    typical_w: Annotated[
        float, Shows("heat_given_off", NOT_CLIENT, "watts", subject="power", follows=True)
    ] = Field(default=0.0, description="Heat of all that stands in it, typically, W.")
    hourly_heat_btu: Annotated[
        float, Shows("heat_btu", NOT_CLIENT, "BTU an hour", subject="power", follows=True)
    ] = Field(default=0.0, description="The same heat, BTU/h.")
    apparent_va: Annotated[
        float, Shows("highest_apparent_power", NOT_CLIENT, "volt-amperes", subject="power", follows=True)
    ] = Field(default=0.0, description="The most that all of it takes from the mains together, VA.")
    current_a: Annotated[
        float, Shows("highest_current", NOT_CLIENT, "amperes", subject="power", follows=True)
    ] = Field(default=0.0, description="The same at the voltage of the mains, A.")
    outlets_used: Annotated[int, Shows("outlets_used", NOT_CLIENT, "count", follows=True)] = Field(
        default=0, description="Outlets of its power strips and its standby supply that feed something."
    )
    outlets: Annotated[int, Shows("outlets_offered", NOT_CLIENT, "count", follows=True)] = Field(
        default=0, description="Outlets of its power strips and its standby supply."
    )
    hourly_air_wanted_m3: Annotated[
        float, Shows("air_wanted", NOT_CLIENT, "airflow", zero=False, follows=True)
    ] = Field(default=0.0, description="Air that carries its heat away, m³/h; none where still air does.")
    hourly_air_m3: Annotated[float, Shows("air_moved", NOT_CLIENT, "airflow", zero=False, follows=True)] = (
        Field(default=0.0, description="Air that its fans move, m³/h.")
    )


class RackPlaceRow(Row):
    """One thing where it stands in a rack."""

    schedule: ClassVar = Schedule("rack_place", subject="equipment", key=("name",))

    rack: Annotated[str, Shows("rack", NOT_CLIENT, "tag", link="tag")] = Field(
        default="", description="Tag of the rack."
    )
    unit: Annotated[int, Shows("lowest_rack_unit", NOT_CLIENT, "count")] = Field(
        default=0, description="Lowest unit that it takes, counted from below."
    )
    units: Annotated[int, Shows("rack_units", NOT_CLIENT, "count")] = Field(
        default=0, description="Units it takes."
    )
    face: Annotated[str, Shows("rack_face", NOT_CLIENT, "word")] = Field(
        default="", description="front, or rear for what hangs on the rails behind."
    )
    side: Annotated[str, Shows("rack_side", NOT_CLIENT, "word", empty="whole_width")] = Field(
        default="", description="left or right of two side by side; empty for the whole width."
    )
    name: Annotated[str, Shows("what", NOT_CLIENT, "tag", link="tag")] = Field(
        default="",
        description="Tag of a device, code of a panel or part in the rack, or the units that are closed.",
    )
    kind: Annotated[str, Shows("kind", NOT_CLIENT, "word")] = Field(
        default="", description="Kind of device or part."
    )
    shelf: Annotated[str, Shows("on_shelf", NOT_CLIENT, "tag")] = Field(
        default="", description="The shelf that it stands on; empty where it has units of its own."
    )
    model: Annotated[str, Shows("model", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code."
    )
    gap: Annotated[int, Shows("rack_gap", NOT_CLIENT, "count", zero=False)] = Field(
        default=0, description="Units left free above it for air."
    )
    airflow: Annotated[str, Shows("air_through_it", NOT_CLIENT, "word", follows=True)] = Field(
        default="", description="Which way its cooling air goes; empty for what is no device."
    )
    front_ports: Annotated[tuple[str, ...], Shows("ports_in_front", NOT_CLIENT, "tag", follows=True)] = Field(
        default=(), description="Its ports that are on the front, first and last of each sort."
    )
    side_ports: Annotated[tuple[str, ...], Shows("ports_at_the_side", NOT_CLIENT, "tag", follows=True)] = (
        Field(default=(), description="Its ports that are at a side.")
    )
    depth_m: Annotated[float | None, Shows("depth", NOT_CLIENT, "small length")] = Field(
        default=None, description="How deep it is, m; None where no maker says."
    )
    weight_kg: Annotated[float, Shows("weight", NOT_CLIENT, "weight", sums=True, zero=False)] = Field(
        default=0.0, description="Weight, kg."
    )
    typical_w: Annotated[
        float,
        Shows("heat_given_off", NOT_CLIENT, "watts", sums=True, zero=False, subject="power", follows=True),
    ] = Field(default=0.0, description="Heat that it gives off in the rack, typically, W.")
    apparent_va: Annotated[
        float,
        Shows(
            "highest_apparent_power", NOT_CLIENT, "volt-amperes", sums=True, zero=False, subject="power",
            follows=True,
        ),
    ] = Field(default=0.0, description="The most it takes from the mains, VA.")  # fmt: skip
    outlets: Annotated[tuple[str, ...], Shows("fed_from", NOT_CLIENT, "tag")] = Field(
        default=(), description="Strip or standby supply, and outlet, that feed each of its inlets."
    )
    cord: Annotated[str, Shows("mains_cord", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code of its mains cord."
    )
    cord_joins: Annotated[str, Shows("mains_cord_joins", NOT_CLIENT, "word")] = Field(
        default="", description="Sort of outlet and sort of inlet that its mains cord joins."
    )
    cord_m: Annotated[float | None, Shows("mains_cord_length", NOT_CLIENT, "length")] = Field(
        default=None, description="Length of its mains cord, m; None without one."
    )
    cord_wanted_m: Annotated[float | None, Shows("mains_cord_wanted", NOT_CLIENT, "length")] = Field(
        default=None, description="How long the way of its mains cord is with what its bends take, m."
    )
