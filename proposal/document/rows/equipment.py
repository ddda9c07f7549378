"""Rows of equipment: every device, and all devices of one model."""

from decimal import Decimal
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.bought_from import Article, NeededBy, OrderBy, Priced, Supplier
from proposal.document.rows.price_inputs import RestsOnInputs, layer_of_input
from proposal.document.rows.room_contents import Point
from proposal.document.schedule import ALL, HOUSE, NOT_CLIENT, Row, Schedule, Shows, gathered


class DeviceRow(Row):
    """One device."""

    schedule: ClassVar = Schedule(
        "device",
        subject="equipment",
        key=("tag",),
        views={
            "check": "tag room kind model rack_units typical_w maximum_w poe_class weight_kg at "
            "height_m mount wire depth_m",
            "pull": "tag room kind location model at height_m mount wire switch_port furnished_by",
            "terminate": "tag room location model poe_class switch_port address",
            "test": "tag room kind model switch_port address host",
            "price": "tag room model description maker furnished_by lead_time_days unit_cost",
        },
    )

    tag: Annotated[str, Shows("device", ALL, "tag", link="tag")] = Field(description="Tag.")
    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of equipment, in words.")
    room: Annotated[str, Shows("room", ALL, "tag", link="tag")] = Field(
        description="Tag of the room or equipment room it serves."
    )
    location: Annotated[str, Shows("location", ALL, link="tag")] = Field(
        description="Where it stands: ceiling, table, rack tag."
    )
    storey: Annotated[str, Shows("storey", ALL, "tag")] = Field(description="Tag of the storey it stands on.")
    at: Annotated[Point | None, Shows("position", ALL, "coordinates")] = Field(
        default=None, description="Position in the building, m."
    )
    height_m: Annotated[float | None, Shows("above_floor", ALL, "position")] = Field(
        default=None, description="Height above the floor, m."
    )
    mount: Annotated[str, Shows("mount", NOT_CLIENT, "tag", link="model")] = Field(
        default="", description="Model code of what holds it; empty where nothing of the library does."
    )
    wire: Annotated[str, Shows("safety_wire", NOT_CLIENT, "tag", link="model")] = Field(
        default="",
        description="Model code of the safety wire that holds it a second time; empty without one.",
    )
    depth_m: Annotated[float | None, Shows("depth", NOT_CLIENT, "small length")] = Field(
        default=None, description="How far it reaches behind its face, m."
    )
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    maker: Annotated[str, Shows("maker", ALL)] = Field(description="Maker.")
    description: Annotated[str, Shows("description", ALL)] = Field(description="What it is.")
    rack_units: Annotated[int, Shows("rack_units", ALL, "count", zero=False)] = Field(
        description="Rack units it takes; 0 where it stands elsewhere."
    )
    typical_w: Annotated[float, Shows("typical_power", NOT_CLIENT, "watts", zero=False, subject="power")] = (
        Field(default=0.0, description="Typical power, W.")
    )
    maximum_w: Annotated[float, Shows("highest_power", NOT_CLIENT, "watts", zero=False, subject="power")] = (
        Field(default=0.0, description="Highest power, W.")
    )
    poe_class: Annotated[int | None, Shows("poe_class", NOT_CLIENT, "number", subject="power")] = Field(
        default=None, description="Class of power over Ethernet."
    )
    weight_kg: Annotated[float, Shows("weight", NOT_CLIENT, "weight", sums=True, zero=False)] = Field(
        default=0.0, description="Weight, kg."
    )
    furnished_by: Annotated[str, Shows("furnished_by", ALL)] = Field(description="Who furnishes it.")
    lead_time_days: Annotated[int, Shows("lead_time", NOT_CLIENT, "days", zero=False)] = Field(
        default=0, description="Lead time, calendar days."
    )
    address: Annotated[str, Shows("address", NOT_CLIENT, subject="addresses")] = Field(
        default="", description="Network address."
    )
    host: Annotated[str, Shows("host_name", NOT_CLIENT, subject="addresses")] = Field(
        default="", description="Host name."
    )
    switch_port: Annotated[str, Shows("switch_port", NOT_CLIENT, link="tag", subject="ports")] = Field(
        default="", description="Switch and port it is patched to."
    )
    unit_cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", sums=True, subject="price")] = Field(
        default=None, description="What it costs us."
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )


class EquipmentLine(Row):
    """All devices of one model."""

    schedule: ClassVar = Schedule("equipment_line", subject="equipment", key=("model",))

    kind: Annotated[str, Shows("kind", ALL, "word")] = Field(description="Kind of equipment, in words.")
    model: Annotated[str, Shows("model", ALL, "tag", link="model")] = Field(description="Model code.")
    maker: Annotated[str, Shows("maker", ALL)] = Field(description="Maker.")
    description: Annotated[str, Shows("description", ALL)] = Field(description="What it is.")
    quantity: Annotated[int, Shows("quantity", ALL, "how many")] = Field(description="How many.")
    unit: Annotated[str, Shows("unit", ALL, "unit")] = Field(description="What is counted: each, m.")
    rooms: Annotated[tuple[tuple[str, int], ...], Shows("where", ALL, ("tag", "count"), link="tag")] = Field(
        description="Tag of room and how many there."
    )
    warranty_months: Annotated[int, Shows("warranty_in_months", ALL, "count")] = Field(
        default=0, description="Months of the maker's warranty, from acceptance."
    )
    lead_time_days: Annotated[int, Shows("lead_time", NOT_CLIENT, "days", zero=False)] = Field(
        default=0, description="Lead time, calendar days."
    )
    radio_approval: Annotated[str, Shows("radio_approval", ALL)] = Field(
        default="", description="Rule under which its radio may be used in the region; empty without radio."
    )
    source: Annotated[str, Shows("source", NOT_CLIENT)] = Field(
        default="", description="Where the figures of the catalogue come from."
    )
    unit_list: Annotated[Decimal | None, Shows("unit_list", HOUSE, "unit price", subject="price")] = Field(
        default=None, description="List price of one."
    )
    unit_cost: Annotated[Decimal | None, Shows("unit_cost", HOUSE, "unit price", subject="price")] = Field(
        default=None, description="What one costs us."
    )
    cost: Annotated[Decimal | None, Shows("cost", HOUSE, "money", sums=True, subject="price")] = Field(
        default=None, description="What all cost us."
    )
    supplier: Supplier = ""
    article: Article = ""
    priced: Priced = ""
    needed_by: NeededBy = None
    order_by: OrderBy = None
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )

    @gathered(Shows("cost_layer", HOUSE, "word", words="layer"))
    def cost_from(self, document: RestsOnInputs) -> str:
        """Layer that what one costs us comes from."""
        return layer_of_input(document, f"library.{self.model}.cost")
