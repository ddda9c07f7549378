"""The take-off: a small project counted by hand, and sums that must hold for any."""

import math
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from proposal.estimate.takeoff_and_reels import SECTIONS
from proposal.pipeline import Computed, compute
from tests.design.making import changed, minimal
from tests.whole_projects import whole_computed

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = {
    "minimal": ROOT / "tests" / "projects" / "minimal",
    "us": ROOT / "tests" / "projects" / "us_customary",
    "example": ROOT / "example_project",
}


@pytest.fixture(scope="module")
def projects() -> dict[str, Computed]:
    return {name: whole_computed(folder) for name, folder in FOLDERS.items()}


@pytest.mark.independent
def test_one_meeting_room_counted_by_hand(projects: dict[str, Computed]) -> None:
    """One room, two microphones and a spare, an access point, a charger and a breakout with its own switch.

    The charger stands at (4.0, 1.5) m, 0.5 m from the wall, and the breakout beside it along that wall, by
    the 0.62 m of the widest thing of the library and 0.1 m: at (3.28, 1.5) m.
    Cables by hand: access point at (4.0, 3.5) m to breakout 0.72 + 2.5 m along to the wall, 1.95 m down and
    0.5 m from the wall, slack 1 + 1.5 + 0.3 m: 8.47 m; breakout to rack at (12.0, 2.0) m 0.5 m to the wall,
    2.35 m up, 8.72 + 1.0 m along, 2.1 m down, slack 1.5 + 3 + 0.3 m: 19.47 m; charger to the breakout beside
    it 0.72 m, slack 1.5 + 1.5 + 0.3 m: 4.02 m; lead from the breakout to the codec of others 5 m.
    """
    lines = projects["minimal"].estimate.lines
    (microphone,) = {one.model for one in projects["minimal"].design.devices if one.kind == "microphone"}
    counted = {(line.section, line.model, line.room, line.unit): line.quantity for line in lines}
    assert counted["cable", "CC-5F-L", "B001", "m"] == Decimal("8.47")
    assert counted["cable", "CC-5U-L", "B001", "m"] == Decimal("19.47") + Decimal("4.02")
    assert counted["cable", "CC-A1-R", "B001", "m"] == 5
    assert counted["equipment", microphone, "B001", "each"] == 3
    # Breakout and charger end in outlets, the access point in a plug; one cable ends in the rack, and two in
    # plugs at the breakout, that of the access point screened.
    assert counted["termination", "CC-O1-5", "B001", "each"] == 2
    assert counted["termination", "CC-P6AS", "B001", "each"] == 2
    assert counted["termination", "CC-P5", "B001", "each"] == 1
    assert counted["termination", "CC-PP12-6", "ER1", "each"] == 1
    # The lead has a terminal block at the breakout; what it has at the codec nobody says, and the one of
    # least cost is counted.
    assert counted["termination", "CC-T3", "B001", "each"] == 2
    # A cord at the rack for the breakout, and one at each of two outlets.
    assert counted["patching", "CC-PC5-24-2", "B001", "each"] == 3
    (cords,) = [line for line in lines if line.section == "patching"]
    assert [cause.partition("/")[0] for cause in cords.causes] == ["B001-BO1", "B001-BO1", "B001-CH1"]
    # Three cables with two labels each, and the lead, 3.9 mm thick, with two for thin cables; six devices in
    # the room, two in the equipment room.
    assert counted["labels", "CC-LB-C", "B001", "each"] == 6
    assert counted["labels", "CC-LB-CS", "B001", "each"] == 2
    assert counted["labels", "CC-LB-D", "B001", "each"] == 6
    assert counted["labels", "CC-LB-D", "ER1", "each"] == 2
    # Level runs outside pathways: 8.72 m has floor(8.72/1.5) + 1 = 6 hooks, round the corner 1.0 m has 1, and
    # on the access point's way to the breakout, at another height, 0.72 m has 1 and 2.5 m has 2.
    assert counted["supports", "DR-HK32", "B001", "each"] == 10
    assert counted["consumables", "DR-TIE", "B001", "each"] == 16  # 4 for each of three cables and the lead
    parts = next(line.parts for line in lines if line.model == "CC-5U-L" and line.section == "cable")
    assert parts is not None
    # At the devices twice 1.5 m, at the rack 3 m and beside the breakout 1.5 m, twice 0.3 m for the ends;
    # 19.47 m is cut as 19.47 · 1.03 + 1 = 21.0541, so 21.1 m, and 4.02 m as 5.1406, so 5.2 m.
    assert (parts.slack_start_m, parts.slack_end_m, parts.ends_m) == (
        Decimal(3),
        Decimal("4.5"),
        Decimal("0.6"),
    )
    assert parts.cut_m == Decimal("26.3")
    costs = {(line.section, line.model): line.cost for line in lines}
    # 2 · 1.05 is 2.1, so three are bought: 3 · 6.60.
    assert costs["termination", "CC-O1-5"] == Decimal("19.80")
    assert costs["cable", "CC-5U-L"] == Decimal("0.71")  # 23.49 m · 7 % · 0.43


@pytest.mark.independent
@pytest.mark.parametrize("name", FOLDERS)
def test_every_line_costs_what_its_quantity_waste_and_price_say(
    name: str, projects: dict[str, Computed]
) -> None:
    estimate = projects[name].estimate
    for line in estimate.lines:
        share = line.waste if line.section == "cable" else 1 + line.waste
        exact = line.quantity * share * line.unit_cost
        assert line.cost - line.wholes == exact.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
        # Devices are whole, and spoilage is priced by the metre: nothing is rounded up for them.
        assert not line.wholes or line.section not in ("equipment", "cable")
    assert estimate.materials_cost == sum(line.cost for line in estimate.lines)


@pytest.mark.parametrize("name", FOLDERS)
def test_every_cable_is_in_one_cable_line_and_every_device_in_one_equipment_line(
    name: str, projects: dict[str, Computed]
) -> None:
    computed = projects[name]
    lines = computed.estimate.lines
    cables = [cause for line in lines if line.section == "cable" for cause in line.causes]
    assert sorted(cables) == sorted(cable.identity for cable in computed.design.cables if cable.model)
    devices = [cause for line in lines if line.section == "equipment" for cause in line.causes]
    assert sorted(devices) == sorted(computed.design.entries)


@pytest.mark.parametrize("name", FOLDERS)
def test_parts_of_a_cable_line_add_up_to_its_length(name: str, projects: dict[str, Computed]) -> None:
    for line in projects[name].estimate.lines:
        if line.section == "cable":
            parts = line.parts
            assert parts is not None
            slack = parts.slack_start_m + parts.slack_end_m + parts.ends_m
            assert parts.plan_m + parts.vertical_m + slack == line.quantity
            assert min(parts.plan_m, parts.vertical_m, parts.slack_start_m, parts.slack_end_m) >= 0
            # Each with 1 m of lead and tail, at most 3 % of tolerance, and rounded up by less than 0.1 m.
            assert line.quantity + parts.count <= parts.cut_m
            assert parts.cut_m < line.quantity * Decimal("1.03") + Decimal("1.1") * parts.count
            assert parts.terminations == 2 * parts.count == 2 * len(line.causes)


@pytest.mark.parametrize("name", FOLDERS)
def test_every_line_names_a_room_or_belongs_to_the_building_and_names_its_causes(
    name: str, projects: dict[str, Computed]
) -> None:
    computed = projects[name]
    places = set(computed.project.rooms) | set(computed.project.building.equipment_rooms)
    known = {cable.identity for cable in computed.design.cables}
    known |= {device.tag for device in computed.design.devices}
    known |= {pathway.tag for pathway in computed.design.pathways}
    known |= {join.identity for join in computed.design.graph.joins}
    for line in computed.estimate.lines:
        assert line.section in SECTIONS
        assert line.room in places or line.section in ("reels", "pathways")
        assert set(line.causes) <= known
        assert line.causes or "spare" in line.unit


@pytest.mark.parametrize("name", FOLDERS)
def test_reels_hold_every_cable_once_and_panels_every_end(name: str, projects: dict[str, Computed]) -> None:
    computed = projects[name]
    cut = [
        piece.identity
        for order in computed.estimate.reels
        for reel in order.plan.reels
        for piece in reel.cuts
    ]
    assert sorted(cut) == sorted(cable.identity for cable in computed.design.cables if cable.model)
    library = computed.project.library
    for line in computed.estimate.lines:
        if line.model in library.patch_panels:
            assert library.patch_panels[line.model].ports * line.quantity >= len(line.causes)


@pytest.mark.independent
def test_pathways_of_the_example_are_counted_by_hand_and_not_priced(projects: dict[str, Computed]) -> None:
    """Pathways by others: metres from the nodes written in building.yaml, hooks every 1.5 m and one more."""
    computed = projects["example"]
    building = computed.project.building
    lengthwise = {*computed.project.library.trays, *computed.project.library.conduits}
    lines = {
        line.causes[0]: line
        for line in computed.estimate.lines
        if line.section == "pathways"
        and (line.model in lengthwise or building.pathways[line.causes[0]].kind == "hooks")
    }
    assert set(lines) == {
        tag for tag, pathway in building.pathways.items() if pathway.kind != "riser shaft" and tag in lines
    }
    assert {"tray", "hooks"} <= {building.pathways[tag].kind for tag in lines}
    for tag, line in lines.items():
        pathway = building.pathways[tag]
        (x1, y1), (x2, y2) = (building.nodes[name].at for name in pathway.between)
        straight = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
        same = len({building.nodes[name].height for name in pathway.between}) == 1
        if pathway.kind == "tray" and same and pathway.length is None:
            assert float(line.quantity) == pytest.approx(straight, abs=1e-6)
        if pathway.kind == "hooks" and same and pathway.length is None:
            assert int(line.quantity) == math.ceil(straight / 1.5) + 1
        assert line.cost == 0


def test_cables_that_no_model_suits_get_no_labels() -> None:
    found = compute(changed(changed(minimal(), "library.cables", {}), "library.audio_cables", {}))
    tags = {cable.identity for cable in found.design.cables}
    assert len(tags) == 4  # three of data, and the lead to the codec
    labels = [line for line in found.estimate.lines if line.section == "labels"]
    assert labels
    assert not [line for line in labels if tags & set(line.causes)]
