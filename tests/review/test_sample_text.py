"""Words of the starter project that were to be replaced."""

from pathlib import Path

from proposal.resources import resource
from proposal.review.terms_in_prose import SAMPLES, sample_text_left
from tests.whole_projects import whole_computed

MINIMAL = Path(__file__).parents[1] / "projects" / "minimal"


def test_the_starter_holds_what_is_looked_for() -> None:
    starter = resource("shared") / "starter"
    written = (starter / "project.yaml").read_text() + (starter / "wording" / "summary.md").read_text()
    assert [said for said in SAMPLES.values() if said not in written] == []


def test_samples_that_are_left_are_a_warning_by_name() -> None:
    made = whole_computed(MINIMAL)
    assert list(sample_text_left(made.project, made.design)) == []
    brief = made.project.brief.model_copy(update={"site": SAMPLES["site"]})
    wording = {"summary": f"{SAMPLES['summary']}, what your client wants."}
    project = made.project.model_copy(update={"brief": brief, "wording": wording})
    (found,) = sample_text_left(project, made.design)
    assert (found.rule, found.severity) == ("sample-text-left", "warning")
    assert found.message.endswith("still stand: site and summary.")
    project = made.project.model_copy(update={"wording": wording})
    (found,) = sample_text_left(project, made.design)
    assert found.place.file == "wording/summary.md"
