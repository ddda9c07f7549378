"""What the owner furnishes: what it needs, and how it is joined."""

from typing import ClassVar

from proposal.document.rows.owner_equipment import OwnerEquipmentRow, OwnerJoinRow
from proposal.field_classes import dataclass
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import Field, fields_of, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerEquipmentPage:
    """Everything that the owner furnishes.

    joins: port by port; None where the reader sees none.
    """

    template: ClassVar[str] = "owner-equipment.md.jinja"
    equipment: Html
    joins: Html | None


def owner_equipment_page(here: PageContext) -> OwnerEquipmentPage:
    """Return the page of what the owner furnishes."""
    document = here.document
    return OwnerEquipmentPage(
        equipment=_equipment(here), joins=_joins(here) if document.owner_joins else None
    )


def _equipment(here: PageContext) -> Html:
    fields: list[Field[OwnerEquipmentRow]] = [
        *fields_of(
            here,
            OwnerEquipmentRow,
            "tag",
            "name",
            "furnished_by",
            "in_place_by",
            "kind",
            "room",
            "location",
            "serves",
            "rack_units",
            "power_w",
            "heat_w",
            "network_ports",
            "audio_ports",
            "spare_ports",
            "addresses",
        ),
    ]
    return schedule(
        "Furnished by the owner, and what it needs",
        fields,
        here.document.owner_equipment,
        mark=here.mark("owner_equipment"),
    )


def _joins(here: PageContext) -> Html:
    fields: list[Field[OwnerJoinRow]] = [
        *fields_of(
            here,
            OwnerJoinRow,
            "device",
            "port",
            "connector",
            "signal",
            "carries",
            "joined_to",
            "joined_port",
            "joined_connector",
            "cable",
        ),
    ]
    return schedule(
        "Ports of the owner's equipment, and what they are joined to",
        fields,
        here.document.owner_joins,
        mark=here.mark("owner_joins"),
    )
