"""The equipment list, by model and by device."""

from dataclasses import dataclass
from typing import ClassVar

from proposal.document.rows.equipment import DeviceRow, EquipmentLine
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext, note_box
from proposal.pages.prose import prose_of
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class EquipmentPage:
    """All equipment, a line a model."""

    template: ClassVar[str] = "equipment.md.jinja"
    prose: Html | None
    lines: Html
    devices: Html
    internal_notes: tuple[Html, ...]


def equipment_page(here: PageContext) -> EquipmentPage:
    """Return the equipment list by model."""
    document = here.document
    notes = (note_box(f"Internal note on {row.model}", row.internal_note) for row in document.equipment)
    return EquipmentPage(
        prose=prose_of(document, "equipment", here.path),
        lines=_lines(here),
        devices=here.to(paths.DEVICES, "Every device with its tag"),
        internal_notes=tuple(note for note in notes if note),
    )


def _lines(here: PageContext) -> Html:
    fields: list[Field[EquipmentLine]] = [
        *fields_of(
            here,
            EquipmentLine,
            "model",
            "kind",
            "description",
            "quantity",
            "unit",
            "unit_list",
            "unit_cost",
            "cost",
            "lead_time_days",
            "rooms",
            "maker",
        ),
    ]
    cost = here.document.equipment_cost
    return schedule(
        "Quantities by model, and the rooms they are for",
        fields,
        here.document.equipment,
        identity=lambda row: row.model,
        mark=here.mark("equipment"),
        total="All equipment" if cost is not None else "",
        totals={"cost": here.money(cost)},
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class DevicesPage:
    """Every device with its tag, a table a storey.

    storeys: name of the storey and its devices.
    """

    template: ClassVar[str] = "devices.md.jinja"
    storeys: tuple[tuple[Html, Html], ...]
    internal_notes: tuple[Html, ...]


def devices_page(here: PageContext) -> DevicesPage:
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


def _devices(here: PageContext, storey: str, devices: tuple[DeviceRow, ...]) -> Html:
    fields: list[Field[DeviceRow]] = [
        *fields_of(
            here,
            DeviceRow,
            "tag",
            "room",
            "kind",
            "location",
            "model",
            "rack_units",
            "typical_w",
            "maximum_w",
            "poe_class",
            "weight_kg",
            "switch_port",
            "address",
            "host",
            "at",
            "height_m",
            "furnished_by",
            "lead_time_days",
            "description",
            "maker",
            "unit_cost",
        ),
    ]
    return schedule(
        f"Devices on {storey}", fields, devices, identity=lambda row: row.tag, mark=here.mark("devices")
    )
