"""How high microphones are: as their positions say, else by form; radio, pages and lists go by it."""

import math

import pytest
from pydantic import ValidationError

from proposal.design.radio.radio_settings import power_limit_dbm
from proposal.design.radio.received_margins import Margin
from proposal.document.making.document import document_of
from proposal.model.project import Project
from proposal.model.radio.radio import RadioRules
from proposal.pipeline import compute
from tests.design.making import PROJECTS, changed, designed, minimal, project_of, with_layout

# The access point hangs straight above microphone M1, at the ceiling of 2.7 m.
ABOVE_M1 = {"access_points_at": {"AP1": (2.2, 2.5)}}


def first_at(height_m: float | None) -> Project:
    """Return the room of two boundary microphones, with the first at a height."""
    project = with_layout(minimal(), "meeting", **ABOVE_M1)
    microphones = changed(project.room_types["meeting"].microphones, "M1.height", height_m)
    return with_layout(project, "meeting", microphones=microphones)


def margin_of(project: Project, tag: str) -> Margin:
    return next(one for one in designed(project).radio.margins if one.microphone == tag)


@pytest.mark.pinned
def test_the_path_of_a_microphone_begins_at_its_height() -> None:
    on_table, raised = margin_of(first_at(None), "B001-M1"), margin_of(first_at(1.6), "B001-M1")
    assert on_table.distance_m == pytest.approx(2.7 - 0.75)
    assert raised.distance_m == pytest.approx(2.7 - 1.6)
    # ITU-R P.1238 in an office at 1.95 m: 30·lg 1.95 − 28 = −19.299 dB beside the part of the frequency.
    # Free space at 1.10 m, which is more than P.1238 there: 20·lg 1.10 − 27.55 = −26.722 dB.
    assert on_table.loss_db - raised.loss_db == pytest.approx(7.423, abs=0.001)
    assert raised.received_dbm - on_table.received_dbm == pytest.approx(7.423, abs=0.001)


@pytest.mark.pinned
def test_the_path_goes_by_the_rule_for_the_form_where_the_position_says_nothing() -> None:
    ruled = changed(first_at(None), "brief.rules.microphones.boundary_height", 1.0)
    assert margin_of(ruled, "B001-M1").distance_m == pytest.approx(1.7)
    # M2 stands 1.6 m beside M1: the longer side of a triangle of 1.7 m and 1.6 m.
    assert margin_of(ruled, "B001-M2").distance_m == pytest.approx(math.sqrt(1.7**2 + 1.6**2))
    other = changed(first_at(None), "brief.rules.microphones.handheld_height", 1.0)
    assert margin_of(other, "B001-M1").distance_m == pytest.approx(1.95)


def test_a_written_height_goes_before_the_rule() -> None:
    both = changed(first_at(1.6), "brief.rules.microphones.boundary_height", 1.0)
    assert margin_of(both, "B001-M1").distance_m == pytest.approx(1.1)


def test_pages_and_lists_have_the_height() -> None:
    document = document_of(compute(first_at(1.6)))
    (sheet,) = document.room_sheets
    assert [(one.code, one.height_m) for one in sheet.microphones] == [("M1", 1.6), ("M2", 0.75)]
    assert {one.tag: one.height_m for one in document.devices if one.tag in ("B001-M1", "B001-M2")} == {
        "B001-M1": 1.6,
        "B001-M2": 0.75,
    }


@pytest.mark.independent
def test_placement_goes_by_the_height() -> None:
    layout = with_layout(minimal(), "meeting", access_points_at={})
    low, high = designed(layout), designed(changed(layout, "brief.rules.microphones.boundary_height", 2.0))
    for design, height_m in ((low, 0.75), (high, 2.0)):
        by_tag = {one.tag: one for one in design.devices}
        for margin in design.radio.margins:
            one, box = by_tag[margin.microphone], by_tag[margin.access_point]
            assert one.height_m == height_m
            assert margin.distance_m == pytest.approx(
                math.dist((*one.at, one.height_m), (*box.at, box.height_m))
            )


@pytest.mark.pinned
@pytest.mark.parametrize(("bandwidth_hz", "limit_dbm"), [(1.0e6, 20.0), (1.4e6, 20.7307), (1.0e5, 15.0)])
def test_the_power_limit_of_the_united_states_follows_the_bandwidth(
    bandwidth_hz: float, limit_dbm: float
) -> None:
    # 100 µW times the root of the bandwidth in Hz: 100 mW at 1 MHz.
    annex = project_of(PROJECTS / "us_customary")
    ruled = changed(annex, "brief.rules.radio.emission_bandwidth", bandwidth_hz)
    assert power_limit_dbm(ruled, 0.0) == pytest.approx(limit_dbm, abs=0.0001)


def test_a_bandwidth_may_be_written_as_far_as_the_rule_speaks_of_it() -> None:
    # 47 CFR 15.323 is for emissions of 50 kHz to 2.5 MHz.
    annex = project_of(PROJECTS / "us_customary")
    for written in ("50 kHz", "2.5 MHz"):
        rules = RadioRules.model_validate({"emission_bandwidth": written})
        ruled = changed(annex, "brief.rules.radio.emission_bandwidth", rules.emission_bandwidth)
        assert math.isfinite(power_limit_dbm(ruled, 0.0))
    for written in ("49 kHz", "2.6 MHz"):
        with pytest.raises(ValidationError):
            RadioRules.model_validate({"emission_bandwidth": written})
