"""Which sheets there are."""

from types import SimpleNamespace

from proposal.design.whole_design import design
from proposal.estimate.drawing_list import KINDS, sheets_of
from tests.design.making import changed, minimal


def test_storeys_with_rooms_or_racks_have_a_plan_and_empty_ones_have_none() -> None:
    project = minimal()
    building = project.building
    (ground,) = building.storeys
    storeys = {
        tag: building.storeys[ground].model_copy(update={"name": tag, "height": 4.0 * n})
        for n, tag in enumerate((ground, "racks above", "nothing above"))
    }
    (place,) = building.equipment_rooms
    racks = building.equipment_rooms[place].model_copy(update={"storey": "racks above"})
    project = changed(project, "building.storeys", storeys)
    project = changed(project, "building.equipment_rooms", {place: racks})
    sources = SimpleNamespace(project=project, design=design(project))
    plans = sheets_of(sources, (kind for kind in KINDS if kind.name == "floor plan"))
    assert [sheet.subject for sheet in plans] == [ground, "racks above"]
