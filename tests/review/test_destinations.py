"""Where sound goes: assistive listening where it is required, and something that feeds every destination."""

from dataclasses import replace
from pathlib import Path

import pytest

from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.review.destinations import assistive_listening_missing, destinations_not_fed, leads_not_counted
from tests.review.editing import PROJECTS, edited, line_of

TYPE = "room_types/meeting.yaml"
REQUIRED = ("*end*", "assistive_listening: yes\n")


@pytest.mark.parametrize(
    ("name", "missing"),
    [
        ("conferencing codec", True),
        ("Hearing loop driver", False),
        ("assistive listening transmitter", False),
    ],
)
def test_assistive_listening_that_is_required_is_designed(name: str, missing: bool, tmp_path: Path) -> None:
    project = load_project(PROJECTS / "minimal")
    (code, destination) = next(iter(project.room_types["meeting"].destinations.items()))
    folder = edited(tmp_path / "p", "minimal", {TYPE: [REQUIRED]})
    made = compute(load_project(folder))
    going = {code: destination.model_copy(update={"name": name})}
    kinds = tuple(
        replace(kind, layout=kind.layout.model_copy(update={"destinations": going, "returns": {}}))
        for kind in made.design.kinds
    )
    # Nothing of the design's own sends to receivers.
    ends = tuple(end for end in made.design.ends if "listeners" not in end.name)
    found = list(assistive_listening_missing(made.project, replace(made.design, kinds=kinds, ends=ends)))
    assert [(one.severity, one.where) for one in found] == ([("error", "meeting")] if missing else [])
    assert [one.place.line for one in found] == ([line_of(folder, TYPE, "assistive")] if missing else [])


def test_nothing_is_missing_where_it_is_not_required() -> None:
    made = compute(load_project(PROJECTS / "minimal"))
    assert not list(assistive_listening_missing(made.project, made.design))


def test_a_destination_without_a_feed_is_an_error() -> None:
    """Without any input or output of a mixer or breakout nothing reaches the one destination of the room."""
    made = compute(load_project(PROJECTS / "minimal"))
    assert not list(destinations_not_fed(made.project, made.design))
    (found,) = destinations_not_fed(made.project, replace(made.design, ends=()))
    (kind,) = made.design.kinds
    (code, destination) = next(iter(kind.layout.destinations.items()))
    assert (found.severity, found.where, found.place.file) == ("error", kind.key, TYPE)
    assert destination.name in found.message
    assert f"({code})" in found.message


def test_what_stands_nowhere_has_a_lead_of_the_length_of_the_rule_and_a_cable_when_placed(
    tmp_path: Path,
) -> None:
    """The codec stands nowhere: a lead from the output of the room, with both ends; placed, a cable."""
    made = compute(load_project(PROJECTS / "minimal"))
    assert not list(leads_not_counted(made.project, made.design))
    (code,) = made.project.room_types["meeting"].destinations
    (lead,) = (one for one in made.design.cables if one.to_others)
    assert (lead.end, lead.length_m, lead.signal) == (code, 5.0, "analogue")
    (join,) = (one for one in made.design.graph.joins if one.cable == lead)
    assert (join.start.device, join.end.device) == (lead.start, code)
    bought = {one.section for one in made.estimate.lines if lead.identity in one.causes}
    assert {"cable", "termination", "labels"} <= bought
    done = {one.task for one in made.labour.lines if lead.identity in one.causes}
    assert done == {"pull audio cable", "terminate audio cable", "label a cable end"}
    placed = (
        "owner_equipment:\n  B001:\n    OE1:\n      kind: codec\n      name: Codec\n"
        f"      serves: [{code}]\n"
        "      ports: {I: {signal: analogue input, count: 1, connector: '3-pin terminal block, 3.81 mm'}}\n"
    )
    folder = edited(tmp_path / "p", "minimal", {"building.yaml": [("*end*", placed)]})
    again = design(load_project(folder))
    assert len(again.cables) == len(made.design.cables)
    assert not any(one.to_others for one in again.cables)


def test_a_cord_for_usb_comes_with_the_equipment_of_others() -> None:
    made = load_project(PROJECTS / "us_customary")
    found = {one.where: one for one in leads_not_counted(made, design(made))}
    assert found["boardroom"].message.endswith("nor priced: from MX1/U1 to conferencing codec.")
    assert "1 USB cord in each of 2 rooms" in found["classroom"].remedy
    assert "C101" not in found
