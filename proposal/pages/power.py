"""Switch ports and the power they give."""

from dataclasses import dataclass
from typing import ClassVar

from proposal.document.rows.patch_table import PatchRow
from proposal.document.rows.power import PortRow, SwitchRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.paths import port_name
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerPage:
    """Every switch with its budget, the links between switches, and every port.

    links: None where there is one switch or none.
    patches: every join of the network from end to end; None where nothing is on the network.
    ports: tag of the switch, the id of its part of the page, what drops first, and its ports.
    """

    template: ClassVar[str] = "power.md.jinja"
    switches: Html
    links: Html | None
    patches: Html | None
    ports: tuple[tuple[Html, Html, Html | None, Html], ...]


def power_page(here: PageContext) -> PowerPage:
    """Return the page of switch ports and power budgets."""
    document = here.document
    by_switch = grouped(document.ports, lambda row: row.switch)
    return PowerPage(
        switches=_switches(here),
        links=_links(here) if document.switch_links else None,
        patches=_patches(here) if document.patches else None,
        ports=tuple(
            (
                text(switch.tag),
                Html(paths.switch_anchor(switch.tag)),
                here.tags(switch.drops_first) if switch.drops_first else None,
                _ports(here, switch.tag, by_switch.get(switch.tag, ())),
            )
            for switch in document.switches
        ),
    )


def _switches(here: PageContext) -> Html:

    fields: list[Field[SwitchRow]] = [
        *fields_of(
            here,
            SwitchRow,
            "port_by_port",
            "model",
            "verdict",
            "ports",
            "used",
            "spare",
            "spare_wanted",
            "budget_w",
            "usable_w",
            "allocated_w",
            "drawn_w",
        ),
    ]
    return schedule("Budgets of the switches", fields, here.document.switches, mark=here.mark("switches"))


def _links(here: PageContext) -> Html:
    fields: list[Field[SwitchLinkRow]] = [
        *fields_of(here, SwitchLinkRow, "identity", "verdict", "from_switch", "from_port", "to_switch"),
        *fields_of(here, SwitchLinkRow, "to_port", "medium", "module", "length_m", "reach_m", "speed_bit_s"),
        *fields_of(here, SwitchLinkRow, "inwards_bit_s", "outwards_bit_s", "streams_in", "streams_out"),
    ]
    return schedule(
        "Links between switches", fields, here.document.switch_links, mark=here.mark("switch_links")
    )


def _patches(here: PageContext) -> Html:
    racked = bool(here.document.racks)
    fields: list[Field[PatchRow]] = [
        *fields_of(here, PatchRow, "identity", "device", "device_port", "first_cord"),
        *fields_of(here, PatchRow, *(("first_panel", "cable", "panel") if racked else ("cable",))),
        *fields_of(here, PatchRow, "last_cord", "switch", "switch_port"),
    ]
    return schedule("Patch table", fields, here.document.patches, mark=here.mark("patches"))


def _ports(here: PageContext, switch: str, ports: tuple[PortRow, ...]) -> Html:
    fields: list[Field[PortRow]] = [
        *fields_of(here, PortRow, "port", "device", "verdict", "cable", "vlan", "poe_class", "allocated_w"),
        *fields_of(here, PortRow, "drawn_w", "loop_ohm", "device_v", "least_v", "priority"),
    ]
    return schedule(
        f"Ports of {switch}",
        fields,
        ports,
        identity=lambda row: port_name(row.switch, row.port),
        mark=here.mark("ports"),
        total="All" if any(row.poe_class is not None for row in ports) else "",
    )
