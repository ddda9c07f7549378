"""How warm a cable is along its route, and what that does to its resistance."""

import math
from pathlib import Path

import pytest

from proposal.design.connections.cable_temperature import TemperatureSegment, hottest_c, temperature_segments
from proposal.design.pathways.cable_routes import CableRoute, Stretch
from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.design.pathways.test_pathway_graph import building_of, project_with
from tests.review.editing import edited

WAY = CableRoute((Stretch("to T1", 4.0), Stretch("T1", 20.0, "T1", "hot"), Stretch("T2", 10.0, "T2", "cool")))


def warmth(length_m: float, **rises_k: float) -> tuple[TemperatureSegment, ...]:
    building = building_of({}, {})
    building["spaces"] = {
        "hot": {"name": "Hot", "temperature": 45.0},
        "cool": {"name": "Cool", "temperature": 18.0},
    }
    building["ceiling_temperature"] = 30.0
    return temperature_segments(project_with(building), WAY, length_m, rises_k)


def test_each_space_has_its_own_air_and_slack_lies_at_the_ceilings() -> None:
    assert warmth(38.0) == (
        TemperatureSegment(10.0, 18.0),
        TemperatureSegment(8.0, 30.0),
        TemperatureSegment(20.0, 45.0),
    )
    assert hottest_c(warmth(38.0)) == 45.0


def test_power_warms_the_stretch_in_which_the_bundle_lies_and_no_other() -> None:
    assert [part.temperature_c for part in warmth(38.0, T1=5.0)] == [18.0, 30.0, 50.0]
    # The slack and the run to the tray at 30 °C, 10 m at 18 + 12 °C beside them.
    assert warmth(38.0, T2=12.0) == (TemperatureSegment(18.0, 30.0), TemperatureSegment(20.0, 45.0))


def test_a_run_outside_pathways_is_warmed_part_by_part() -> None:
    level = CableRoute(
        (Stretch("up", 2.0, vertical=True), Stretch("along", 9.0, level=((0, 0, 3), (9, 0, 3))))
    )
    project = project_with({**building_of({}, {}), "ceiling_temperature": 30.0})
    segments = temperature_segments(project, level, 12.0, {}, [(6.0, 0.2), (3.0, 0.4)])
    assert [part.length_m for part in segments] == pytest.approx([3.0, 6.0, 3.0])
    assert [part.temperature_c for part in segments] == pytest.approx([30.0, 30.2, 30.4])


def test_a_measured_length_shorter_than_the_way_is_shared_out_as_the_way_is() -> None:
    measured = warmth(17.0)
    assert [part.length_m for part in measured] == pytest.approx([5.0, 2.0, 10.0])
    assert sum(part.length_m for part in measured) == pytest.approx(17.0)


@pytest.mark.independent
def test_the_loop_of_a_powered_channel_is_summed_stretch_by_stretch(tmp_path: Path) -> None:
    folder = edited(
        tmp_path / "project",
        "minimal",
        {
            "room_types/meeting.yaml": [("output: breakout\n", "output: breakout\nnetwork: rack\n")],
            "building.yaml": [
                (
                    "*end*",
                    "spaces:\n  hot: {name: Hot void, temperature: 50 °C}\n"
                    "nodes:\n  N1: {storey: L0, at: [2 m, 2 m]}\n  N2: {storey: L0, at: [12 m, 2 m]}\n"
                    "pathways:\n"
                    "  T1: {kind: tray, between: [N1, N2], width: 0.1 m, depth: 50 mm, space: hot}\n",
                )
            ],
        },
    )
    computed = compute(load_project(folder))
    cable = next(one for one in computed.design.cables if "-AP1/N1" in one.identity)
    port = next(one for one in computed.design.ports if one.attached.tag == "B001-AP1")
    # The ceiling, the tray, and between them the run outside on which the cable warms itself.
    assert len(cable.warmth) == 3

    def per_metre(gauge_awg: int, at_c: float) -> float:
        # ASTM B258 and 17.241 nΩ·m at 20 °C (IACS), 0.393 % for each kelvin
        diameter_m = 0.000127 * 92 ** ((36 - gauge_awg) / 39)
        return 17.241e-9 * (1 + 0.00393 * (at_c - 20)) / (math.pi * diameter_m**2 / 4)

    rules = computed.project.brief.rules
    gauge = computed.project.library.cables[cable.model].gauge
    # The cable has the limit of its category (TIA-568), 9.38 Ω for 100 m at 20 °C, which 24 AWG is below.
    assert per_metre(gauge, 20) < 0.0938
    wire = sum(0.0938 * (1 + 0.00393 * (part.temperature_c - 20)) * part.length_m for part in cable.warmth)
    wire += per_metre(rules.cabling.cord_gauge, 20) * cable.cords_m
    # two pairs: both conductors of a pair side by side, out and back
    assert port.loop_ohm == pytest.approx(wire + rules.power.connector_resistance, rel=1e-9)
