"""A port has one name, wherever it stands: on switches its number, on breakouts the name that is on them."""

import pytest

from proposal.design.calculations import calculations
from proposal.document.making.building import building_parts
from proposal.document.making.network import network_parts
from proposal.document.making.supply_days import SupplyDays
from proposal.pipeline import compute
from tests.design.making import PROJECTS, project_of


@pytest.mark.parametrize(("name", "way"), [("one_room", "R1-BO1/N"), ("minimal", "ER1-SW1/")])
def test_lists_and_tables_call_a_port_by_one_name(name: str, way: str) -> None:
    computed = compute(project_of(PROJECTS / name))
    building = building_parts(computed, SupplyDays(computed, ()))
    patched = {row.device: f"{row.switch}/{row.switch_port}" for row in building["patches"]}
    listed = {row.tag: row.switch_port for row in building["devices"] if row.switch_port}
    assert any(port.startswith(way) for port in listed.values())
    assert {tag: patched[tag] for tag in listed} == listed
    network = network_parts(computed.project, computed.design)
    hosts = {row.device: row.switch_port for row in network["network_hosts"]}
    assert {tag: hosts[tag] for tag in listed} == listed
    ports = {f"{row.switch}/{row.port}": row.device for row in building["ports"]}
    assert {port: ports[port] for port in listed.values()} == {port: tag for tag, port in listed.items()}
    worst = {row.worst_port for row in building["switches"] if row.worst_port}
    assert worst <= set(listed.values())
    subjects = {one.subject for one in calculations(computed.design) if one.subject in ports}
    assert subjects
    assert subjects <= set(listed.values())
