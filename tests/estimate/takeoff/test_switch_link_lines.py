"""What joins switches is counted: modules, cords, connectors, panels, fibre and its labels and work."""

from decimal import Decimal

from proposal.estimate.takeoff.material_lines import cord_lines
from proposal.estimate.takeoff.switch_link_lines import switch_link_lines
from proposal.pipeline import compute
from tests.design.making import EXAMPLE, project_of


def test_the_links_of_the_example_are_counted_as_by_hand() -> None:
    """Two links by fibre: one in a rack with one cord, one from rack to rack with two.

    Two modules each; two fibres with a connector at each of two ends, 5 % more; a fibre panel in each of two
    racks; the cable has two labels.
    """
    computed = compute(project_of(EXAMPLE))
    project, design = computed.project, computed.design
    links = {link.identity for link in design.switch_links}
    lines = [*switch_link_lines(project, design)]
    lines += [one for one in cord_lines(project, design.graph) if links & {*one.causes}]
    library = project.library
    counts: dict[str, Decimal] = {}
    for one in lines:
        kind = library.entry(one.model).kind
        counts[kind] = counts.get(kind, Decimal(0)) + one.quantity
    assert counts == {"network_part": 4, "patch_cord": 3}
    every = computed.estimate.lines
    panels = [
        one
        for one in every
        if one.model in library.patch_panels and "fibre" in library.patch_panels[one.model].medium
    ]
    assert {one.room: one.quantity for one in panels} == {"ER1": 1, "ER2": 1}
    (link,) = (link for link in design.switch_links if link.cable)
    ended = [one for one in every if one.section == "termination" and one.causes == (link.identity,)]
    connectors = [one for one in ended if one.model in library.connectors]
    assert [(one.quantity, one.waste) for one in connectors] == [(4, Decimal("0.05"))]
    labels = [one for one in every if one.section == "labels" and link.identity in one.causes]
    assert [one.quantity for one in labels] == [2]
    assert [one for one in every if one.section == "cable" and link.identity in one.causes] != []
    tasks = {line.task for line in computed.labour.lines if link.identity in line.causes}
    assert {"pull fibre cable", "terminate fibre cable", "label a cable end"} <= tasks
    equipment = {one.model: one.quantity for one in computed.estimate.equipment if one.kind == "network_part"}
    assert sum(equipment.values()) == 4
