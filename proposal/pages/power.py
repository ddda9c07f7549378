"""Switch ports and the power they give."""

from collections.abc import Sequence
from typing import ClassVar

from proposal.document.rows.patch_table import PatchRow
from proposal.document.rows.power import PortRow, SwitchRow
from proposal.document.rows.rooms import EquipmentRoomRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.paths import port_name
from proposal.pages.power_bars import budget_bars, fullest_first
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, switch_parts
from proposal.pages.schedule_table import Field, fields_of, grouped, schedule
from proposal.quantities.formatting import count_of

_Ports = tuple[Html, Html, Html | None, Html]


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerPage:
    """Every switch with its budget, the links between switches, and every port.

    bars: the fullest switches against their budgets; None where nothing is powered.
    left_out: how many others the drawing leaves out; None where it has all that power something.
    supplies: what remains with one mains supply lost; None where nothing is powered.
    spare_ports: used and spare ports by equipment room; None where no switch stands in one.
    links: None where there is one switch or none.
    patches: every join of the network from end to end, and where there are parts what ends at no switch of
        theirs; None without any.
    parts: of many switches, the way to the page of each part and how many stand there.
    ports: tag of the switch, the id of its part of the page, what drops first, and its ports.
    """

    template: ClassVar[str] = "power.md.jinja"
    bars: Html | None
    left_out: Html | None
    switches: Html
    supplies: Html | None
    spare_ports: Html | None
    links: Html | None
    patches: Html | None
    parts: tuple[Html, ...]
    ports: tuple[_Ports, ...]


def power_page(here: PageContext) -> PowerPage:
    """Return the page of switch ports and power budgets."""
    document = here.document
    links = links_to_parts(
        switch_parts(document),
        paths.POWER,
        here.to,
        lambda switches: count_of(len(switches), "switch", "switches"),
    )
    elsewhere = {switch.tag for switch in document.switches} if links else ()
    patches = [row for row in document.patches if row.switch not in elsewhere]
    fullest = fullest_first(document.switches)
    powering = [row for row in document.switches if row.allocated_w > 0]
    return PowerPage(
        bars=budget_bars(here, fullest) if fullest else None,
        left_out=text(count_of(len(powering) - len(fullest), "switch", "switches"))
        if len(powering) > len(fullest)
        else None,
        switches=_switches(here),
        supplies=_supplies(here, powering) if powering else None,
        spare_ports=_spare_ports(here),
        links=_links(here) if document.switch_links else None,
        patches=_patches(here, patches) if patches else None,
        parts=links,
        ports=() if links else _each(here, document.switches),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerPartPage:
    """The switches of one storey, or a numbered part of them, port by port.

    patches: every join of the network that ends at one of them; None where there is none.
    ports: as on the page of all.
    """

    template: ClassVar[str] = "power-part.md.jinja"
    title: Html
    overview: Html
    patches: Html | None
    ports: tuple[_Ports, ...]


def power_part_page(here: PageContext, part: SchedulePart[SwitchRow]) -> PowerPartPage:
    """Return the page of a part of the switches.

    part: the switches that stand on it.
    """
    tags = {switch.tag for switch in part.rows}
    patches = [row for row in here.document.patches if row.switch in tags]
    return PowerPartPage(
        title=text(part.title),
        overview=here.to(paths.POWER, "Budgets of all switches, and the links between them"),
        patches=_patches(here, patches) if patches else None,
        ports=_each(here, part.rows),
    )


def _each(here: PageContext, switches: Sequence[SwitchRow]) -> tuple[_Ports, ...]:
    by_switch = grouped(here.document.ports, lambda row: row.switch)
    return tuple(
        (
            text(switch.tag),
            Html(paths.switch_anchor(switch.tag)),
            here.tags(switch.drops_first) if switch.drops_first else None,
            _ports(here, switch.tag, by_switch.get(switch.tag, ())),
        )
        for switch in switches
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
            "worst_port",
            "worst_spare_v",
        ),
    ]
    return schedule("Budgets of the switches", fields, here.document.switches, mark=here.mark("switches"))


def _supplies(here: PageContext, powering: Sequence[SwitchRow]) -> Html:
    fields: list[Field[SwitchRow]] = [
        *fields_of(here, SwitchRow, "port_by_port", "supplies", "left_w", "drops_then"),
    ]
    return schedule("What remains with one mains supply lost", fields, powering)


def _spare_ports(here: PageContext) -> Html | None:
    rows = [row for row in here.document.equipment_rooms if row.switch_ports]
    fields: list[Field[EquipmentRoomRow]] = [
        *fields_of(here, EquipmentRoomRow, "tag", "ports_verdict", "switch_ports", "ports_used"),
        *fields_of(here, EquipmentRoomRow, "ports_spare", "ports_spare_wanted"),
    ]
    return schedule("Spare ports by equipment room", fields, rows) if rows else None


def _links(here: PageContext) -> Html:
    fields: list[Field[SwitchLinkRow]] = [
        *fields_of(here, SwitchLinkRow, "identity", "verdict", "from_switch", "from_port", "to_switch"),
        *fields_of(here, SwitchLinkRow, "to_port", "medium", "module", "length_m", "reach_m", "speed_bit_s"),
        *fields_of(here, SwitchLinkRow, "inwards_bit_s", "outwards_bit_s", "streams_in", "streams_out"),
        *fields_of(here, SwitchLinkRow, "audio_in_bit_s", "audio_out_bit_s", "control_bit_s"),
    ]
    return schedule(
        "Links between switches", fields, here.document.switch_links, mark=here.mark("switch_links")
    )


def _patches(here: PageContext, rows: Sequence[PatchRow]) -> Html:
    racked = bool(here.document.racks)
    sources = ("source", "source_cord") if any(row.source for row in rows) else ()
    fields: list[Field[PatchRow]] = [
        *fields_of(here, PatchRow, "identity", "device", "device_port", "first_cord"),
        *fields_of(here, PatchRow, *(("first_panel", "cable", "panel") if racked else ("cable",))),
        *fields_of(here, PatchRow, "last_cord", *sources, "switch", "switch_port"),
    ]
    return schedule("Patch table", fields, rows, mark=here.mark("patches"))


def _ports(here: PageContext, switch: str, ports: tuple[PortRow, ...]) -> Html:
    sources = ("poe_source",) if any(row.poe_source for row in ports) else ()
    fields: list[Field[PortRow]] = [
        *fields_of(
            here,
            PortRow,
            "port",
            "device",
            "device_port",
            "verdict",
            "cable",
            "vlan",
            "poe_class",
            *sources,
            "pairs",
        ),
        *fields_of(here, PortRow, "allocated_w", "drawn_w", "loss_w", "device_w", "allowed_w", "loop_ohm"),
        *fields_of(here, PortRow, "device_v", "least_v", "priority", "place_in_drop"),
    ]
    return schedule(
        f"Ports of {switch}",
        fields,
        ports,
        identity=lambda row: port_name(row.switch, row.port),
        mark=here.mark("ports"),
        total="All" if any(row.poe_class is not None for row in ports) else "",
    )
