"""The equipment list tells under which rule the radio of a device may be used in the project's region."""

from pathlib import Path

import pytest

from tests.whole_projects import whole_document

PROJECTS = Path(__file__).resolve().parents[2] / "projects"


@pytest.mark.published
@pytest.mark.parametrize(
    ("project", "rule"), [("minimal", "ETSI EN 301 406"), ("us_customary", "47 CFR 15 subpart D")]
)
def test_what_links_by_radio_has_the_rule_of_its_region_and_nothing_else_has(project: str, rule: str) -> None:
    """DECT in Europe (ETSI EN 301 406), and unlicensed personal communications in the US (47 CFR 15, D)."""
    lines = whole_document(PROJECTS / project).equipment
    told = {line.kind: line.radio_approval for line in lines}
    assert told["microphone"] == told["access point"] == rule
    assert {kind for kind, said in told.items() if said} == {"microphone", "access point"}
