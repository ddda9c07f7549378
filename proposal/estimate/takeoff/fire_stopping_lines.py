"""Lines of the take-off for fire-stopping: by opening, where it is ours to furnish."""

from collections.abc import Iterator
from decimal import Decimal

from proposal.design.design import Design
from proposal.design.pathways.penetrations import furnishes_fire_stopping
from proposal.estimate.takeoff.lines import TakeoffLine, line, piece_cost
from proposal.model.equipment.materials import Consumable, Label
from proposal.model.project import Project


def fire_stopping_lines(project: Project, design: Design) -> Iterator[TakeoffLine]:
    """Yield what closes the openings through rated walls and floors, and a label for each; nothing by others.

    An opening takes its own pieces, and those of each cable that passes.
    """
    openings = design.penetrations
    if not openings or not furnishes_fire_stopping(project):
        return
    tags = [one.tag for one in openings]
    entry = fire_stopping_entry(project)
    if entry is not None:
        each, a_cable = (Decimal(repr(n)) for n in (entry.pieces_an_opening, entry.pieces_a_cable))
        quantity = sum((each + a_cable * len(one.cables) for one in openings), Decimal(0))
        yield line(project, "consumables", entry, "", quantity, Decimal(0), tags)
    label = _label(project)
    if label is not None:
        yield line(project, "labels", label, "", Decimal(len(tags)), Decimal(0), tags)


def fire_stopping_entry(project: Project) -> Consumable | None:
    """Return the fire-stopping of the library whose piece costs least; None where it has none."""
    fitting = [
        (piece_cost(project, one), code)
        for code, one in project.library.consumables.items()
        if one.use == "fire-stopping"
    ]
    return project.library.consumables[min(fitting)[1]] if fitting else None


def _label(project: Project) -> Label | None:
    """Return the least-cost label for what is no cable; None where the library has none."""
    fitting = [
        (piece_cost(project, one), code)
        for code, one in project.library.labels.items()
        if one.marks == "device"
    ]
    return project.library.labels[min(fitting)[1]] if fitting else None
