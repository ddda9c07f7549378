"""Fire-stopping by opening: each crossing of a rated wall or floor once, priced only where it is ours."""

from decimal import Decimal

import pytest

from proposal.document.document import Document
from proposal.document.labels import labels_of
from proposal.document.making.document import document_of
from proposal.drawings import riser_overall
from proposal.editions import edition_of
from proposal.model.project import Project
from proposal.model.wording.wording import DutyChange
from proposal.pipeline import Computed, compute
from tests.design.making import EXAMPLE, changed, project_of

pytestmark = pytest.mark.independent
D = Decimal


def furnished(by: str | None) -> Project:
    """Return the example with fire-stopping furnished by others, or by us."""
    project = project_of(EXAMPLE)
    if by is None:
        return project
    return changed(project, "brief.responsibilities.rows", {"Fire-stopping": DutyChange(furnish=by)})


def sealant_of(computed: Computed) -> list[Decimal]:
    entries = computed.project.library.consumables
    return [
        line.quantity
        for line in computed.estimate.lines
        if line.model in entries and entries[line.model].use == "fire-stopping"
    ]


def test_each_floor_that_a_pathway_with_cables_crosses_is_one_opening() -> None:
    """Of the example's pathways two change storeys: R01 from L0 to L1, R12 from L1 to L2."""
    found = compute(furnished(None)).design.penetrations
    assert [(one.tag, one.crosses, one.storey) for one in found] == [
        ("R01-F1", "floor", "L1"),
        ("R12-F1", "floor", "L2"),
    ]
    by_tag = {cable.identity: cable for cable in compute(furnished(None)).design.cables}
    for one in found:
        passing = {key for key, cable in by_tag.items() if one.pathway in cable.route.pathways}
        assert set(one.cables) == passing


def test_rated_walls_are_counted_and_floors_that_are_not_rated_are_left_out() -> None:
    project = changed(furnished(None), "building.pathways.T11.rated_walls", 2)
    project = changed(project, "building.pathways.R01.rated_floors", False)
    tags = [one.tag for one in compute(project).design.penetrations]
    assert tags == ["R12-F1", "T11-W1", "T11-W2"]
    without = changed(project, "brief.rules.pathways.rated_floors", False)
    assert [one.tag for one in compute(without).design.penetrations] == ["T11-W1", "T11-W2"]


@pytest.mark.parametrize(("by", "ours"), [(None, False), ("GC", False), ("AV", True), ("GC, AV", True)])
def test_openings_are_priced_labelled_and_named_as_the_matrix_of_duties_says(
    by: str | None, ours: bool
) -> None:
    """Half a cartridge for an opening and a twentieth for each cable in it; a label and half an hour each."""
    computed = compute(furnished(by))
    openings = computed.design.penetrations
    cables = sum(len(one.cables) for one in openings)
    assert sealant_of(computed) == ([D("0.5") * 2 + D("0.05") * cables] if ours else [])
    tags = [one.tag for one in openings]
    labels = [
        line for line in computed.estimate.lines if line.section == "labels" and set(line.causes) & set(tags)
    ]
    assert [(line.quantity, list(line.causes)) for line in labels] == ([(D(2), tags)] if ours else [])
    work = [line for line in computed.labour.lines if line.task == "close an opening"]
    assert sum(line.units * line.hours_a_unit for line in work) == (D(1) if ours else 0)
    document: Document = document_of(computed)
    assert {row.closed_by for row in document.penetrations} == {"us" if ours else "others"}
    stuck = [label.code for label in labels_of(document) if label.of == "opening"]
    assert stuck == (tags if ours else [])
    scope, excluded = " ".join(document.scope).casefold(), " ".join(document.exclusions).casefold()
    assert ("fire-stopping" in scope) is ours
    assert ("fire-stopping" in excluded) is not ours


def test_the_riser_names_the_openings_of_each_storey() -> None:
    document = document_of(compute(furnished(None)))
    edition = edition_of(document, "client")
    (sheet,) = [one for one in edition.document.sheets if one.kind == "riser overall"]
    shown = {storey.tag: storey.height for storey in riser_overall.spec_of(edition, sheet).storeys}
    assert [tag for tag, words in shown.items() if "1 opening to close" in words] == ["L2", "L1"]
