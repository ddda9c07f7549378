"""Panels stand for all the ports that cables are labelled with, those of issued revisions included."""

import pytest

from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.issued import Numbered
from proposal.model.project import Project
from tests.design.making import EXAMPLE, minimal, project_of, with_layout

pytestmark = pytest.mark.independent


def ports_named(found: Design, rack: str) -> set[str]:
    return {cable.end_port for cable in found.cables if cable.end == rack and cable.signal == "network"}


def panels_standing(found: Design, rack: str) -> set[str]:
    (layout,) = (one.layout for one in found.racks if one.device.tag == rack)
    return {item.name for item in layout.items if item.kind == "patch_panel"}


def test_ports_are_numbered_by_the_panels_that_are_bought() -> None:
    """Fifteen links, some screened, take one panel of 24 ports, though panels of 12 cost less."""
    project = project_of(EXAMPLE).model_copy(update={"issued": {}})
    found = design(project)
    assert ports_named(found, "ER2-RK1") == {f"PP1/{port}" for port in range(1, 16)}
    assert panels_standing(found, "ER2-RK1") == {"PP1"}


def labelled(number: str) -> Project:
    rack = with_layout(minimal(), "meeting", network="rack")
    return rack.model_copy(update={"issued": {"panel/B001-AP1/N1/ER1-RK1": Numbered(number=number)}})


def test_a_panel_of_an_issued_label_stands_in_its_rack() -> None:
    found = design(labelled("ER1-RK1/PP9/5"))
    assert "PP9/5" in ports_named(found, "ER1-RK1")
    assert panels_standing(found, "ER1-RK1") == {"PP9"}


def test_what_is_new_takes_the_ports_that_are_left_of_a_kept_panel() -> None:
    found = design(labelled("ER1-RK1/PP2/1"))
    named = ports_named(found, "ER1-RK1")
    assert len(named) > 1
    assert {port.partition("/")[0] for port in named} == panels_standing(found, "ER1-RK1") == {"PP2"}
