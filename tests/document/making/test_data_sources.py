"""What no calculation names is told with its source: radio losses, standing wording, what a client knows."""

from pathlib import Path

import pytest

from proposal.document.making.data_sources import client_knowledge_rows, data_source_rows
from proposal.model.loading import load_project
from proposal.model.price.disclosure import Share
from tests.whole_projects import whole_computed

MINIMAL = Path(__file__).resolve().parents[2] / "projects" / "minimal"


def sources(folder: Path) -> dict[str, tuple[float | None, float | None, str]]:
    computed = whole_computed(folder)
    rows = data_source_rows(computed.project, computed.design)
    return {row.what: (row.least, row.most, row.source) for row in rows}


@pytest.mark.pinned
def test_losses_that_radio_rests_on_are_told_with_their_source() -> None:
    """Of shared/radio/walls.yaml: rooms have light partitions where nobody says otherwise."""
    found = sources(MINIMAL)
    assert found["radio loss of a wall, light partition"] == (3.0, 4.0, "common practice (memory)")
    assert found["radio loss of the first floor of a building"] == (15.0, 15.0, "ITU-R P.1238")
    assert found["radio loss of each further floor"] == (4.0, 4.0, "ITU-R P.1238")
    # No wall of it is of concrete.
    assert [what for what in found if "concrete" in what] == []


def test_the_source_of_every_file_of_standing_wording_is_told() -> None:
    project = whole_computed(MINIMAL).project
    other = project.standing.cautions.model_copy(update={"source": "our insurer"})
    standing = project.standing.model_copy(update={"cautions": other})
    changed = project.model_copy(update={"standing": standing})
    rows = data_source_rows(changed, whole_computed(MINIMAL).design)
    assert {row.what: row.source for row in rows if row.least is None} == {
        "cautions": "our insurer",
        "lines of scope, exclusions and assumptions": "common practice",
        "who does what": "common practice",
        "open questions": "common practice",
        "headings and words of pages and files": "our own wording",
    }


def test_what_a_client_is_taken_to_know_is_told_in_percent_and_as_factors() -> None:
    project = load_project(MINIMAL)
    knowledge = project.client_knowledge
    assert knowledge is not None
    ours = knowledge.model_copy(update={"most_spread": Share(share=0.12, source="three tenders of 2030")})
    rows = client_knowledge_rows(project.model_copy(update={"client_knowledge": ours}))
    told = {row.what: (row.least, row.most, row.unit, row.source) for row in rows}
    assert told["most that a client takes to be spread over the lines"] == (
        12.0,
        12.0,
        "%",
        "three tenders of 2030",
    )
    # A factor of 1.6 up and down: 1/1.6 = 0.625.
    assert told["own hours against those of the shared library"] == (0.625, 1.6, "", "editable default")
    assert client_knowledge_rows(project.model_copy(update={"client_knowledge": None})) == ()
