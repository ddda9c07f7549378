"""The patch table: each join of the network once, each port once, each cord of it in the take-off.

access point N1 ── cable ── panel PP1/1 ── cord ── switch 3          a device cabled to a rack
charger N1 ── cord, outlet ── cable ── breakout N3                   a device at a breakout's own switch
amplifier N1 ── cord ── switch 2                                     a device in the rack
switch U1 ── cord ── panel FP1/1 ── fibre ── panel FP1/1 ── cord ── switch U2
"""

from collections import Counter
from pathlib import Path

import pytest

from proposal.design.patch_table import patches
from proposal.pipeline import Computed, compute
from tests.design.making import EXAMPLE, PROJECTS, project_of

FOLDERS = (EXAMPLE, PROJECTS / "us_customary", PROJECTS / "minimal")
every_project = pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)


def computed_of(folder: Path) -> Computed:
    return compute(project_of(folder))


@every_project
def test_every_cable_of_the_network_stands_in_one_line_with_its_own_ports(folder: Path) -> None:
    design = computed_of(folder).design
    cables = {one.identity: one for one in design.cables if one.signal in ("network", "fibre")}
    lines = {one.identity: one for one in patches(design)}
    assert len(lines) == len(patches(design))
    assert cables.keys() <= lines.keys()
    for identity, cable in cables.items():
        line = lines[identity]
        assert (line.device, line.device_port, line.cable) == (cable.start, cable.start_port, cable.model)
        if cable.end == line.switch:
            assert (line.panel, line.switch_port) == ("", cable.end_port)
        else:
            assert line.panel == f"{cable.end}/{cable.end_port}"
    assert {one.cable == "" for identity, one in lines.items() if identity not in cables} <= {True}


@every_project
def test_no_port_holds_more_than_one_join(folder: Path) -> None:
    lines = patches(computed_of(folder).design)
    ports = Counter((one.device, one.device_port) for one in lines)
    ports += Counter((one.switch, one.switch_port) for one in lines)
    ports += Counter(("panel", port) for one in lines for port in (one.first_panel, one.panel) if port)
    assert {port for port, count in ports.items() if count > 1} == set()
    assert all(port != "" for one in lines for port in (one.device_port, one.switch_port))


@every_project
def test_every_device_that_has_an_address_is_joined(folder: Path) -> None:
    design = computed_of(folder).design
    joined = {tag for one in patches(design) for tag in (one.device, one.switch)}
    assert design.addresses.by_tag.keys() <= joined


@every_project
def test_the_cords_of_the_table_are_those_of_the_take_off(folder: Path) -> None:
    computed = computed_of(folder)
    shown: Counter[str] = Counter()
    for one in patches(computed.design):
        shown.update(model for model in (one.first_cord, one.last_cord) if model)
    counted: Counter[str] = Counter()
    for line in computed.estimate.lines:
        if line.section == "patching":
            counted[line.model] += int(line.quantity)
    assert shown == counted


def test_the_links_of_the_example_are_followed_by_hand() -> None:
    """What an installer reads of the drawings, line by line, of four kinds of join."""
    lines = {one.device: one for one in patches(computed_of(EXAMPLE).design)}
    access_point = lines["A001-AP1"]
    # Fixed by hand in fixed.yaml; the access point's cable ends in a plug.
    assert (access_point.switch, access_point.switch_port) == ("ER1-SW1", "3")
    assert access_point.first_cord == ""
    assert access_point.panel.startswith("ER1-RK1/PP1/")
    charger = lines["A201-CH1"]
    assert (charger.switch, charger.panel, charger.last_cord) == ("A201-BO1", "", "")
    assert charger.first_cord != ""
    amplifier = lines["A001-AM1"]
    assert (amplifier.cable, amplifier.panel) == ("", "")
    assert amplifier.last_cord != ""
    fibre = lines["ER2-SW1"]
    assert (fibre.first_panel, fibre.panel, fibre.switch) == ("ER2-RK1/FP1/1", "ER1-RK1/FP1/1", "ER1-SW1")
