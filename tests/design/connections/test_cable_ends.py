"""What the ends of cables are made off with: each end by the port it goes into, counted twice a link.

The building of one room, drawn with its ends:

    AP1 N1 ──plug───────plug── N2 BO1 N1 ──outlet──────panel── ER1-RK1
    CH1 N1 ──outlet─────plug── N3 BO1
"""

from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.design.connections.cable_ends import CableEnd, CableEnds, label_of
from proposal.design.design import Design
from proposal.model.project import Project
from proposal.pipeline import compute
from proposal.review.cabling import ends, labels
from tests.design.making import EXAMPLE, PROJECTS, changed, designed, minimal, project_of


def ends_of(project: Project, design: Design) -> dict[str, tuple[CableEnd, ...]]:
    made_off = CableEnds(project, design.devices, design.entries)
    return {cable.identity: made_off.of(cable) for cable in design.cables}


@pytest.mark.independent
def test_every_end_of_one_room_by_hand() -> None:
    project = minimal()
    found = ends_of(project, designed(project))
    wanted = {identity: tuple(end.wanted for end in both) for identity, both in found.items()}
    assert wanted == {
        "B001-AP1/N1/B001-BO1": ("8P8C plug", "8P8C plug"),
        "B001-BO1/N1/ER1-RK1": ("outlet (table)", "panel"),
        "B001-CH1/N1/B001-BO1": ("outlet (table)", "8P8C plug"),
        "B001-BO1/A3/far-end": ("3-pin terminal block, 3.81 mm", "connector for analogue audio"),
    }
    models = Counter(model for both in found.values() for end in both for model in end.models)
    # The access point's cable is screened; a plug of a pack of ten costs less than a single one.
    assert models == {"CC-P6AS": 2, "CC-O1-5": 2, "CC-P5": 1, "CC-T3": 2}


@pytest.mark.independent
def test_audio_lines_take_the_connector_of_each_port_and_terminals_take_none() -> None:
    """A loudspeaker has its terminals; an analogue line has 3-pin blocks at both ends."""
    folder = PROJECTS / "us_customary"
    project = project_of(folder)
    design = designed(project)
    found = ends_of(project, design)
    of_signal = {cable.identity: cable.signal for cable in design.cables}
    rack = {device.tag for device in design.devices if device.kind in ("rack", "amplifier")}
    seen = set()
    for identity, both in found.items():
        if of_signal[identity] == "analogue":
            assert [end.models for end in both] == [("CC-T3",), ("CC-T3",)]
            seen.add("analogue")
        if of_signal[identity] == "loudspeaker line":
            assert [end.bought for end in both] == [False, both[1].tag in rack]
            assert both[1].models == (("CC-T2",) if both[1].tag in rack else ())
            seen.add("loudspeaker line")
    assert seen == {"analogue", "loudspeaker line"}


@pytest.mark.parametrize("folder", [EXAMPLE, PROJECTS / "minimal", PROJECTS / "us_customary"])
def test_the_take_off_counts_every_end_and_its_extra(folder: Path) -> None:
    computed = compute(project_of(folder))
    found = ends_of(computed.project, computed.design)
    counted = Counter(model for both in found.values() for end in both for model in end.models)
    lines: Counter[str] = Counter()
    for line in computed.estimate.lines:
        if line.section == "termination" and line.model not in computed.project.library.patch_panels:
            lines[line.model] += int(line.quantity)
            assert line.waste == Decimal("0.05")
    assert lines == counted


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("library.connectors.CC-P6AS.screened", False, "8P8C plug that takes CC-5F-L at B001-AP1"),
        ("library.connectors.CC-P6AS.thinnest_gauge", 20, "8P8C plug that takes CC-5F-L at B001-AP1"),
        ("library.connectors.CC-P6AS.widest_cable", 0.002, "8P8C plug that takes CC-5F-L at B001-AP1"),
        ("library.outlets", {}, "outlet (table) that takes CC-5U-L at B001-BO1"),
    ],
)
def test_an_end_for_which_the_library_has_nothing_is_a_finding(path: str, value: object, said: str) -> None:
    project = changed(minimal(), path, value)
    found = list(ends(project, designed(minimal())))
    assert {one.rule for one in found} == {"no-connector"}
    assert any(said in one.message for one in found)
    # What the library has for the signal is named, so that one of it can be written.
    assert all(one.remedy.endswith("as the connector: 8P8C jack; 8P8C plug.") for one in found)
    assert not list(ends(minimal(), designed(minimal())))


@pytest.mark.independent
@pytest.mark.parametrize(
    ("diameter_mm", "label"),
    [(1.9, ""), (2.0, "CC-LB-CS"), (3.7, "CC-LB-CS"), (4.0, "CC-LB-C"), (8.1, "CC-LB-CW"), (14.1, "")],
)
def test_a_label_goes_round_its_cable_or_is_a_finding(diameter_mm: float, label: str) -> None:
    project = changed(minimal(), "library.cables.CC-5U-L.outside_diameter", diameter_mm / 1000)
    assert label_of(project, project.library.cables["CC-5U-L"]) == label
    found = [one.where for one in labels(project, designed(minimal()))]
    assert found == ([] if label else ["CC-5U-L"])
