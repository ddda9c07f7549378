"""The equipment list, by model and by device."""

from typing import ClassVar

from proposal.document.rows.equipment import DeviceRow, EquipmentLine
from proposal.document.rows.pack_life import PackLifeRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import note_box
from proposal.pages.prose import prose_of
from proposal.pages.schedule_parts import SchedulePart, device_parts, links_to_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities.formatting import count_of


@dataclass(frozen=True, slots=True, kw_only=True)
class EquipmentPage:
    """All equipment, a line a model."""

    template: ClassVar[str] = "equipment.md.jinja"
    prose: Html | None
    lines: Html
    devices: Html
    packs: Html | None
    internal_notes: tuple[Html, ...]


def equipment_page(here: PageContext) -> EquipmentPage:
    """Return the equipment list by model."""
    document = here.document
    notes = (note_box(f"Internal note on {row.model}", row.internal_note) for row in document.equipment)
    return EquipmentPage(
        prose=prose_of(document, "equipment", here.path),
        lines=_lines(here),
        devices=here.to(paths.DEVICES, "Every device with its tag"),
        packs=_packs(here) if document.pack_lives else None,
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
            "cost_from",
            "supplier",
            "article",
            "priced",
            "warranty_months",
            "lead_time_days",
            "needed_by",
            "order_by",
            "rooms",
            "maker",
            "radio_approval",
            "source",
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


def _packs(here: PageContext) -> Html:
    fields: list[Field[PackLifeRow]] = [
        *fields_of(
            here, PackLifeRow, "room_kind", "form", "pack", "run_time_h", "packs", "cycles_a_year", "cycles"
        ),
        *fields_of(here, PackLifeRow, "lasts_years", "years", "replaced", "changed_by"),
        *fields_of(here, PackLifeRow, "list_price", "amount", "cost"),
    ]
    return schedule(
        "Packs that wear out, and what replacing them comes to at today's list prices",
        fields,
        here.document.pack_lives,
        row_heads=2,
        mark=here.mark("pack_lives"),
        total="All packs",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class DevicesPage:
    """Every device with its tag, a table a storey, or where to find each storey.

    storeys: name of the storey and its devices.
    parts: of a long schedule, the way to the page of each part and how many devices stand there.
    """

    template: ClassVar[str] = "devices.md.jinja"
    storeys: tuple[tuple[Html, Html], ...]
    parts: tuple[Html, ...]
    internal_notes: tuple[Html, ...]


def devices_page(here: PageContext) -> DevicesPage:
    """Return the equipment list by device.

    here: the page and what it shows.
    """
    parts = device_parts(here.document)
    links = links_to_parts(parts, paths.DEVICES, here.to, lambda rows: count_of(len(rows), "device"))
    return DevicesPage(
        storeys=() if links else tuple((text(part.title), _devices(here, part)) for part in parts),
        parts=links,
        internal_notes=() if links else _notes_on(here.document.devices),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class DevicesPartPage:
    """The devices of one storey, or a numbered part of them."""

    template: ClassVar[str] = "devices-part.md.jinja"
    title: Html
    overview: Html
    devices: Html
    internal_notes: tuple[Html, ...]


def devices_part_page(here: PageContext, part: SchedulePart[DeviceRow]) -> DevicesPartPage:
    """Return the page of a part of the equipment list by device.

    here: the page and what it shows.
    part: the devices that stand on it.
    """
    return DevicesPartPage(
        title=text(part.title),
        overview=here.to(paths.DEVICES, "All storeys"),
        devices=_devices(here, part),
        internal_notes=_notes_on(part.rows),
    )


def _notes_on(devices: tuple[DeviceRow, ...]) -> tuple[Html, ...]:
    notes = (note_box(f"Internal note on {row.tag}", row.internal_note) for row in devices)
    return tuple(note for note in notes if note)


def _devices(here: PageContext, part: SchedulePart[DeviceRow]) -> Html:
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
            "mount",
            "furnished_by",
            "lead_time_days",
            "description",
            "maker",
            "unit_cost",
        ),
    ]
    return schedule(
        f"Devices on {part.title}", fields, part.rows, identity=lambda row: row.tag, mark=here.mark("devices")
    )
