"""Lines of the take-off for outlets and circuits of the mains, where the matrix gives them to us."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Literal

from proposal.design.design import Design
from proposal.design.equipment.our_duties import LINE_VOLTAGE, is_ours
from proposal.design.mains.circuits import Circuit
from proposal.design.mains.mains_outlets import MainsOutlet
from proposal.design.numbers.numbering import natural
from proposal.estimate.takeoff.lines import TakeoffLine, line, piece_cost
from proposal.model.equipment.materials import Consumable
from proposal.model.project import Project


def mains_outlet_lines(project: Project, design: Design) -> Iterator[TakeoffLine]:
    """Yield outlets and circuits of each place that are ours to furnish; nothing where they are by others.

    What only the owner's equipment is plugged into is the owner's.
    """
    if not is_ours(project, LINE_VOLTAGE, "furnish"):
        return
    outlet, circuit = (_entry(project, use) for use in ("mains outlet", "mains circuit"))
    for place in sorted({one.place for one in design.circuits}, key=natural):
        here = [one for one in circuits_for_us(design) if one.place == place]
        marks = [mark for one in here for mark in marks_for_us(one)]
        if outlet and marks:
            count = Decimal(len(marks))
            yield line(project, "consumables", outlet, indoors(project, place), count, Decimal(0), marks)
        if circuit and here:
            names = [one.identity for one in here]
            number = Decimal(len(here))
            yield line(project, "consumables", circuit, indoors(project, place), number, Decimal(0), names)


def indoors(project: Project, place: str) -> str:
    """Return the room or equipment room that pays for outlets of a place; empty, the building, outdoors.

    place: tag of a room or equipment room, or key of a place of portable sets.
    """
    return place if place in project.rooms or place in project.building.equipment_rooms else ""


def circuits_for_us(design: Design) -> tuple[Circuit, ...]:
    """Return the circuits that feed something of the system, in order of places."""
    return tuple(one for one in design.circuits if any(_for_us(outlet) for outlet in one.outlets))


def marks_for_us(circuit: Circuit) -> tuple[str, ...]:
    """Return the marks of the outlets of a circuit that something of the system is plugged into."""
    pairs = zip(circuit.outlets, circuit.marks, strict=True)
    return tuple(mark for outlet, mark in pairs if _for_us(outlet))


def _for_us(outlet: MainsOutlet) -> bool:
    return not outlet.owned


def _entry(project: Project, use: Literal["mains outlet", "mains circuit"]) -> Consumable | None:
    """Return what costs least of the library for a use; None where it has nothing."""
    fitting = [
        (piece_cost(project, one), code)
        for code, one in project.library.consumables.items()
        if one.use == use
    ]
    return project.library.consumables[min(fitting)[1]] if fitting else None
