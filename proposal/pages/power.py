"""Switch ports and the power they give."""

from dataclasses import dataclass
from typing import ClassVar

from proposal.document.rows import PortRow, SwitchRow
from proposal.pages import here as paths
from proposal.pages.here import Here, port_name, verdict
from proposal.pages.markdown import Column, Html, text
from proposal.pages.schedule import Field, grouped, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerPage:
    """Every switch with its budget, and every port.

    ports: tag of the switch, the id of its part of the page, what drops first, and its ports.
    """

    template: ClassVar[str] = "power.md.jinja"
    switches: Html
    ports: tuple[tuple[Html, Html, Html | None, Html], ...]


def power_page(here: Here) -> PowerPage:
    """Return the page of switch ports and power budgets."""
    document = here.document
    by_switch = grouped(document.ports, lambda row: row.switch)
    return PowerPage(
        switches=_switches(here),
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


def _switches(here: Here) -> Html:
    def watts(title: str) -> Column:
        return Column(title, numeric=True, unit=here.unit("power"))

    fields: list[Field[SwitchRow]] = [
        Field("Switch", lambda row: here.to(f"{paths.POWER}#{paths.switch_anchor(row.tag)}", row.tag)),
        Field("Model", lambda row: here.model(row.model)),
        Field("Verdict", lambda row: verdict(row.verdict)),
        Field(Column("Ports", numeric=True), lambda row: here.count(row.ports)),
        Field(Column("Used", numeric=True), lambda row: here.count(row.used)),
        Field(Column("Spare", numeric=True), lambda row: here.count(row.spare)),
        Field(Column("Spare wanted", numeric=True), lambda row: here.count(row.spare_wanted)),
        Field(watts("Budget"), lambda row: here.cell(row.budget_w, "power")),
        Field(watts("Less headroom"), lambda row: here.cell(row.usable_w, "power")),
        Field(watts("Set aside by class"), lambda row: here.cell(row.allocated_w, "power")),
        Field(watts("Drawn"), lambda row: here.cell(row.drawn_w, "power")),
    ]
    return schedule("Budgets of the switches", fields, here.document.switches, mark=here.mark("switches"))


def _ports(here: Here, switch: str, ports: tuple[PortRow, ...]) -> Html:
    fields: list[Field[PortRow]] = [
        Field(Column("Port", numeric=True), lambda row: here.count(row.port)),
        Field("Device", lambda row: here.tag(row.device) if row.device else "spare"),
        Field("Verdict", lambda row: verdict(row.verdict)),
        Field("Cable", lambda row: here.tag(row.cable)),
        Field(Column("VLAN", numeric=True), lambda row: None if row.vlan is None else str(row.vlan)),
        Field(Column("PoE class", numeric=True), lambda row: here.count(row.poe_class)),
        Field(
            Column("Set aside", numeric=True, unit=here.unit("power")),
            lambda row: here.cell(row.allocated_w if row.poe_class is not None else None, "power"),
        ),
        Field(
            Column("Drawn", numeric=True, unit=here.unit("power")),
            lambda row: here.cell(row.drawn_w if row.poe_class is not None else None, "power"),
        ),
        Field(
            Column("Loop", numeric=True, unit=here.unit("resistance")),
            lambda row: here.cell(row.loop_ohm, "resistance"),
        ),
        Field(
            Column("At the device", numeric=True, unit=here.unit("voltage")),
            lambda row: here.cell(row.device_v, "voltage"),
        ),
        Field(
            Column("Least needed", numeric=True, unit=here.unit("voltage")),
            lambda row: here.cell(row.least_v, "voltage"),
        ),
        Field(Column("Power priority", numeric=True), lambda row: here.count(row.priority or None)),
    ]
    return schedule(
        f"Ports of {switch}",
        fields,
        ports,
        identity=lambda row: port_name(row.switch, row.port),
        mark=here.mark("ports"),
        totals=None
        if all(row.poe_class is None for row in ports)
        else {
            "Device": "All ports",
            "Set aside": here.cell(sum(row.allocated_w for row in ports), "power"),
            "Drawn": here.cell(sum(row.drawn_w for row in ports), "power"),
        },
    )
