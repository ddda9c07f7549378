"""What a revision has to hold that is issued for more than comment: real models, and a warranty."""

from pathlib import Path

import pytest

from proposal.model.loading import load_project
from proposal.pipeline import compute
from tests.review.editing import Edit, edited, line_of

RULES = {"invented-models", "no-warranty", "no-latency-limit"}
PURPOSE = "purpose: for comment"


def found(folder: Path) -> dict[str, tuple[str, str, int]]:
    """Return severity, file and line of what these rules find, by rule."""
    told = [one for one in compute(load_project(folder)).findings if one.rule in RULES]
    return {one.rule: (one.severity, one.place.file, one.place.line) for one in told}


@pytest.mark.parametrize("purpose", ["for comment", "For Comment", "second issue for comments"])
def test_a_revision_for_comment_may_lack_both(purpose: str, tmp_path: Path) -> None:
    folder = edited(tmp_path / "p", "minimal", {"project.yaml": [(PURPOSE, f"purpose: {purpose}")]})
    assert found(folder) == {}


def test_a_revision_for_more_than_comment_may_not(tmp_path: Path) -> None:
    folder = edited(tmp_path / "p", "minimal", {"project.yaml": [(PURPOSE, "purpose: for approval")]})
    told = found(folder)
    assert told["invented-models"] == (
        "warning",
        "project.yaml",
        line_of(folder, "project.yaml", "for approval"),
    )
    assert told["no-warranty"][0] == "warning"


@pytest.mark.parametrize(
    "edits",
    [
        {"project.yaml": [(PURPOSE, "purpose: for bid"), ("*end*", "terms: {warranty_months: 24}\n")]},
        {"project.yaml": [(PURPOSE, "purpose: for bid")], "wording/warranty.md": "Two years.\n"},
    ],
)
def test_months_or_words_of_a_warranty_are_enough(edits: dict[str, str], tmp_path: Path) -> None:
    assert set(found(edited(tmp_path / "p", "minimal", edits))) == {"invented-models"}


@pytest.mark.parametrize(("months", "purpose", "told"), [(60, "for bid", True), (60, "for comment", False)])
def test_a_warranty_longer_than_the_makers_is_told(
    months: int, purpose: str, told: bool, tmp_path: Path
) -> None:
    terms = ("*end*", f"terms: {{warranty_months: {months}}}\n")
    edits: dict[str, Edit] = {"project.yaml": [(PURPOSE, f"purpose: {purpose}"), terms]}
    project = load_project(edited(tmp_path / "p", "minimal", edits))
    computed = compute(project)
    notes = [one for one in computed.findings if one.rule == "warranty-beyond-makers"]
    assert bool(notes) is told
    bought = {one.model: project.library.entry(one.model) for one in computed.design.devices if one.model}
    shortest = min(one.warranty_months for one in bought.values())
    assert [(one.value, one.limit) for one in notes] == [(shortest, months)] * told
    assert all(f"the {months - shortest} months between" in one.remedy for one in notes)
    agreed = ("*end*", f"terms: {{warranty_months: {shortest}}}\n")
    edits["project.yaml"] = [(PURPOSE, "purpose: for bid"), agreed]
    again = compute(load_project(edited(tmp_path / "agreed", "minimal", edits)))
    assert not [one for one in again.findings if one.rule == "warranty-beyond-makers"]


LOUDSPEAKER = ("*end*", "loudspeakers: {LS1: {at: [3 m, 2.5 m]}}\n")


@pytest.mark.parametrize(
    ("purpose", "rules", "loudspeaker", "told"),
    [
        ("for bid", "", True, True),
        ("for bid", "rules: {latency: {in_room: 20 ms}}\n", True, False),
        ("for bid", "rules: {latency: {elsewhere: 80 ms}}\n", True, True),
        ("for bid", "", False, False),
        ("for comment", "", True, False),
    ],
)
def test_a_limit_of_delay_is_agreed_on_where_people_hear_loudspeakers(
    purpose: str, rules: str, loudspeaker: bool, told: bool, tmp_path: Path
) -> None:
    edits: dict[str, Edit] = {"project.yaml": [(PURPOSE, f"purpose: {purpose}"), ("*end*", rules)]}
    if loudspeaker:
        edits["room_types/meeting.yaml"] = [LOUDSPEAKER]
    assert ("no-latency-limit" in found(edited(tmp_path / "p", "minimal", edits))) is told


def test_an_acceptance_is_kept_beside_the_finding(tmp_path: Path) -> None:
    accepted = (
        "accepted_findings:\n  ours: {rule: invented-models, where: project, reason: A trial of ours., "
        "accepted_by: A. Author, date: 2031-03-02}\n"
    )
    edits = {"project.yaml": [(PURPOSE, "purpose: for bid"), ("*end*", accepted)]}
    told = compute(load_project(edited(tmp_path / "p", "minimal", edits))).findings
    (one,) = [each for each in told if each.rule == "invented-models"]
    assert one.accepted is not None
    assert one.accepted.reason == "A trial of ours."
    assert not [each for each in told if each.rule == "nothing-to-accept"]
