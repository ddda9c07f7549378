"""The equipment list, by model and by device."""

from dataclasses import dataclass
from typing import ClassVar

from proposal.document.rows import DeviceRow, EquipmentLine
from proposal.pages import here as paths
from proposal.pages.here import Here, note_box
from proposal.pages.markdown import Column, Html, join, text
from proposal.pages.phrases import capital
from proposal.pages.prose import prose_of
from proposal.pages.schedule import Field, grouped, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class EquipmentPage:
    """All equipment, a line a model."""

    template: ClassVar[str] = "equipment.md.jinja"
    prose: Html | None
    lines: Html
    devices: Html
    internal_notes: tuple[Html, ...]


def equipment_page(here: Here) -> EquipmentPage:
    """Return the equipment list by model."""
    document = here.document
    notes = (note_box(f"Internal note on {row.model}", row.internal_note) for row in document.equipment)
    return EquipmentPage(
        prose=prose_of(document, "equipment", here.path),
        lines=_lines(here),
        devices=here.to(paths.DEVICES, "Every device with its tag"),
        internal_notes=tuple(note for note in notes if note),
    )


def _lines(here: Here) -> Html:
    fields: list[Field[EquipmentLine]] = [
        Field("Model", lambda row: row.model),
        Field("Kind", lambda row: capital(row.kind)),
        Field("Description", lambda row: row.description),
        Field(Column("Quantity", numeric=True), lambda row: here.count(row.quantity)),
        Field("Unit", lambda row: row.unit),
        Field(Column("Unit list", numeric=True), lambda row: here.unit_money(row.unit_list)),
        Field(Column("Unit cost", numeric=True), lambda row: here.unit_money(row.unit_cost)),
        Field(Column("Cost", numeric=True), lambda row: here.money(row.cost)),
        Field(
            Column("Lead time", numeric=True, unit="days"), lambda row: here.count(row.lead_time_days or None)
        ),
        Field("Where", lambda row: join((_share(here, *share) for share in row.rooms), ", ")),
        Field("Maker", lambda row: row.maker),
    ]
    cost = here.document.equipment_cost
    return schedule(
        "Quantities by model, and the rooms they are for",
        fields,
        here.document.equipment,
        identity=lambda row: row.model,
        mark=here.mark("equipment"),
        totals=None if cost is None else {"Model": "All equipment", "Cost": here.money(cost)},
    )


def _share(here: Here, room: str, quantity: int) -> Html:
    return here.tag(room) if quantity == 1 else join([here.tag(room), f"× {quantity}"], " ")


@dataclass(frozen=True, slots=True, kw_only=True)
class DevicesPage:
    """Every device with its tag, a table a storey.

    storeys: name of the storey and its devices.
    """

    template: ClassVar[str] = "devices.md.jinja"
    storeys: tuple[tuple[Html, Html], ...]
    internal_notes: tuple[Html, ...]


def devices_page(here: Here) -> DevicesPage:
    """Return the equipment list by device."""
    document = here.document
    by_storey = grouped(document.devices, lambda row: row.storey)
    names = {row.tag: f"{row.tag} {row.name}" for row in document.storeys}
    known = [row.tag for row in document.storeys if row.tag in by_storey]
    others = [tag for tag in by_storey if tag not in names]
    notes = (note_box(f"Internal note on {row.tag}", row.internal_note) for row in document.devices)
    return DevicesPage(
        storeys=tuple(
            (text(names.get(tag, tag)), _devices(here, names.get(tag, tag), by_storey[tag]))
            for tag in (*known, *others)
        ),
        internal_notes=tuple(note for note in notes if note),
    )


def _devices(here: Here, storey: str, devices: tuple[DeviceRow, ...]) -> Html:
    length = here.unit("length")
    fields: list[Field[DeviceRow]] = [
        Field("Device", lambda row: row.tag),
        Field("Room", lambda row: here.tag(row.room)),
        Field("Kind", lambda row: capital(row.kind)),
        Field("Location", lambda row: here.tag(row.location)),
        Field("Model", lambda row: here.model(row.model)),
        Field(Column("Rack units", numeric=True), lambda row: here.count(row.rack_units or None)),
        Field(
            Column("Typical power", numeric=True, unit=here.unit("power")),
            lambda row: here.cell(row.typical_w or None, "power"),
        ),
        Field(
            Column("Highest power", numeric=True, unit=here.unit("power")),
            lambda row: here.cell(row.maximum_w or None, "power"),
        ),
        Field(Column("PoE class", numeric=True), lambda row: here.count(row.poe_class)),
        Field(
            Column("Weight", numeric=True, unit=here.unit("mass")),
            lambda row: here.cell(row.weight_kg or None, "mass"),
        ),
        Field("Switch port", lambda row: here.tag(row.switch_port)),
        Field("Address", lambda row: row.address),
        Field("Host name", lambda row: row.host),
        Field(
            Column("East", numeric=True, unit=length),
            lambda row: here.cell(None if row.at is None else row.at[0], "length"),
        ),
        Field(
            Column("North", numeric=True, unit=length),
            lambda row: here.cell(None if row.at is None else row.at[1], "length"),
        ),
        Field(
            Column("Above floor", numeric=True, unit=length), lambda row: here.cell(row.height_m, "length")
        ),
        Field("Furnished by", lambda row: row.furnished_by),
        Field(
            Column("Lead time", numeric=True, unit="days"), lambda row: here.count(row.lead_time_days or None)
        ),
        Field("Description", lambda row: row.description),
        Field("Maker", lambda row: row.maker),
        Field(Column("Cost", numeric=True), lambda row: here.money(row.unit_cost)),
    ]
    return schedule(
        f"Devices on {storey}", fields, devices, identity=lambda row: row.tag, mark=here.mark("devices")
    )
