"""Portable sets where they are used: an outlet at each place, on a circuit there, and the work of trying it.

The set P1 is used in the east room (B002) and in the courtyard, and kept in P1. Its breakout takes the mains;
its charger stays where it is kept.
"""

from collections import Counter
from decimal import Decimal
from functools import cache

import pytest

from proposal.design.mains.portable_outlets import portable_outlets
from proposal.document.making.document import document_of
from proposal.model.project import Project
from proposal.model.wording.wording import DutyChange
from proposal.pipeline import Computed, compute
from tests.design.making import PROJECTS, changed, designed, project_of


@cache
def computed() -> Computed:
    """Return the project with outlets and circuits among our own work."""
    duty = DutyChange(furnish="AV", install="AV")
    rows = {"Line-voltage power and outlets": duty}
    return compute(changed(project_of(PROJECTS / "portable"), "brief.responsibilities.rows", rows))


def outlets_of(project: Project) -> list[tuple[str, str]]:
    made = designed(project)
    found = portable_outlets(project, made.mains_loads, made.devices)
    return [(one.serves, one.place) for one in found]


def test_a_set_has_an_outlet_at_each_place_where_it_is_used_on_a_circuit_there() -> None:
    circuits = {one.identity: one for one in computed().design.circuits}
    served = {key: [outlet.serves for outlet in one.outlets] for key, one in circuits.items()}
    assert served["B002/C1"] == ["B002-CH1", "P1-BO1/B002"]
    assert served["courtyard/C1"] == ["P1-BO1/courtyard"]
    assert served["P1/C1"] == ["P1-BO1"]
    # The breakout counts on the circuit of each place with all that it takes.
    (load,) = [one for one in computed().design.mains_loads if one.name == "P1-BO1"]
    assert circuits["courtyard/C1"].current_a == pytest.approx(load.full_va / 230)
    uses = document_of(computed()).portable_uses
    assert [(one.states, one.outlet_marks) for one in uses] == [
        (("overflow",), ("B002/C1/2",)),
        (("garden",), ("courtyard/C1/1",)),
    ]


@pytest.mark.pinned
def test_outlets_are_bought_and_set_cords_go_along_and_each_place_is_tried() -> None:
    entries = computed().project.library.consumables
    bought = {
        line.room: line.quantity
        for line in computed().estimate.lines
        if line.model in entries and entries[line.model].use == "mains outlet"
    }
    # Outdoors is no room: its outlet stands under the building.
    assert bought == {"B001": 1, "B002": 2, "ER1": 1, "P1": 1, "": 1}
    units: Counter[tuple[str, str]] = Counter()
    for line in computed().labour.lines:
        if line.task in ("set a mains outlet", "lay a mains circuit", "try a portable set"):
            units[line.task, line.room] += int(line.units)
    assert units["set a mains outlet", "B002"] == 2
    assert units["lay a mains circuit", ""] == 1
    assert units["try a portable set", "P1"] == 2
    cords = [
        row for row in document_of(computed()).mains_outlets if row.serves.startswith("P1-BO1") and row.cord
    ]
    assert [row.serves for row in cords] == ["P1-BO1"]
    # The price has the lines of every place, that of the courtyard among those of the whole building.
    assert sum((line.cost for line in computed().estimate.lines if line.room == ""), Decimal(0)) > 0


def test_a_charger_that_goes_along_has_its_own_outlet_and_a_place_without_outlet_none() -> None:
    project = project_of(PROJECTS / "portable")
    along = changed(project, "building.portable_sets.P1.charger", "with the set")
    made = designed(along)
    chargers = [one.name for one in made.mains_loads if one.name.startswith("P1-CH")]
    assert {serves.partition("/")[0] for serves, _ in outlets_of(along)} == {"P1-BO1", *chargers}
    without = changed(project, "building.portable_places.courtyard.outlet", False)
    assert outlets_of(without) == [("P1-BO1/B002", "B002")]
    nowhere = changed(project, "building.states", {})
    assert outlets_of(nowhere) == []
