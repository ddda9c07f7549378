"""Findings about the owner's equipment: what is joined over USB has to stand where a cord reaches."""

from proposal.review.owner_equipment import usb_too_far
from tests.design.making import EXAMPLE, changed, designed, project_of


def test_a_codec_on_usb_stands_in_the_rack_of_its_mixer() -> None:
    design = designed(project_of(EXAMPLE))
    assert any(join.end.signal == "USB" for join in design.owner_joins)
    assert list(usb_too_far(design.project, design)) == []


def test_a_codec_on_usb_in_another_equipment_room_is_an_error_that_says_where_it_may_stand() -> None:
    project = project_of(EXAMPLE)
    equipment = dict(project.building.owner_equipment)
    away = equipment.pop("ER2")["OE1"]
    equipment["ER1"] = {**equipment["ER1"], "OE3": away}
    design = designed(changed(project, "building.owner_equipment", equipment))
    (found,) = usb_too_far(design.project, design)
    assert (found.rule, found.severity, found.where) == ("owner-usb-too-far", "error", "ER1-OE3")
    assert "A110-MX1" in found.message
    assert "ER2" in found.remedy
