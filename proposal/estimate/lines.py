"""Lines of the take-off: what is bought for the cabling and equipment of each room, traced to its causes.

A room's share is never lost: lines stand by room; what serves several rooms (reels, panels) stands under the
equipment room or the building. Connectors are counted where an outlet or panel does not bring its own.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from proposal.design.cabling import Cable
from proposal.design.design import Design
from proposal.design.prices import CENT, in_currency, unit_cost
from proposal.model.entry import Entry
from proposal.model.project import Project

PIECE = Decimal("0.0001")


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeoffLine:
    """One line of the take-off.

    section: equipment, cable, termination, patching, labels, supports or consumables.
    model: model code.
    room: tag of the room or equipment room; empty for the building.
    quantity: in `unit`, exact.
    waste: share added for spoilage.
    unit_cost: of one unit, in the project's currency.
    priced: quantity that the cost is for, waste included; cable lines price their spoilage alone, since reels
        hold the rest.
    cost: priced × unit cost, half up to the cent.
    plan_m, vertical_m, slack_m: parts of a cable line's length, m; None for other lines.
    causes: identities of cables, or tags of devices, that the line is for.
    """

    section: str
    model: str
    room: str
    quantity: Decimal
    unit: str
    waste: Decimal
    unit_cost: Decimal
    priced: Decimal
    cost: Decimal
    plan_m: Decimal | None = None
    vertical_m: Decimal | None = None
    slack_m: Decimal | None = None
    causes: tuple[str, ...] = ()


def exact(length_m: float) -> Decimal:
    """Return a length of the design as the decimal number it is printed from, to the micrometre."""
    return Decimal(repr(round(length_m, 6)))


def money(amount: Decimal) -> Decimal:
    """Return an amount rounded half up to the cent."""
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def line(
    project: Project,
    section: str,
    entry: Entry,
    room: str,
    quantity: Decimal,
    waste: Decimal,
    causes: Iterable[str],
) -> TakeoffLine:
    """Return a line that prices its whole quantity with waste."""
    each = piece_cost(project, entry)
    priced = quantity * (1 + waste)
    return TakeoffLine(
        section=section,
        model=entry.model,
        room=room,
        quantity=quantity,
        unit="m" if entry.unit == "metre" else "each",
        waste=waste,
        unit_cost=each,
        priced=priced,
        cost=money(priced * each),
        causes=tuple(causes),
    )


def piece_cost(project: Project, entry: Entry) -> Decimal:
    """Return what one piece costs: of a pack, its share to a hundredth of a cent."""
    if entry.unit == "pack":
        return (in_currency(project, entry.cost) / entry.pack_quantity).quantize(
            PIECE, rounding=ROUND_HALF_UP
        )
    return unit_cost(project, entry)


def equipment_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return one line for the devices of each room and model."""
    grouped: dict[tuple[str, str], list[str]] = {}
    for device in design.devices:
        if device.tag in design.entries:
            grouped.setdefault((device.room, device.model), []).append(device.tag)
    return [
        line(project, "equipment", project.library.entry(model), room, Decimal(len(tags)), Decimal(0), tags)
        for (room, model), tags in grouped.items()
    ]


def cable_lines(project: Project, room: str, cables: Sequence[Cable]) -> list[TakeoffLine]:
    """Return one line for each type of cable: its length, and the spoilage that is priced."""
    waste = Decimal(repr(project.brief.rules.takeoff.spoilage))
    grouped: dict[str, list[Cable]] = {}
    for cable in cables:
        if cable.model:
            grouped.setdefault(cable.model, []).append(cable)
    lines = []
    for model, members in grouped.items():
        entry = project.library.entry(model)
        total = sum((exact(cable.length_m) for cable in members), Decimal(0))
        vertical = sum((_vertical(cable) for cable in members), Decimal(0))
        slack = sum((exact(cable.slack_m) for cable in members if not cable.measured), Decimal(0))
        each = unit_cost(project, entry)
        priced = total * waste
        lines.append(
            TakeoffLine(
                section="cable",
                model=model,
                room=room,
                quantity=total,
                unit="m",
                waste=waste,
                unit_cost=each,
                priced=priced,
                cost=money(priced * each),
                plan_m=total - vertical - slack,
                vertical_m=vertical,
                slack_m=slack,
                causes=tuple(cable.identity for cable in members),
            )
        )
    return lines


def _vertical(cable: Cable) -> Decimal:
    """Return how much of a cable rises or falls, m: the stretches that do not run along x and y."""
    if cable.way is None:
        return Decimal(0)
    return sum((exact(part.length_m) for part in cable.way.stretches if part.vertical), Decimal(0))
