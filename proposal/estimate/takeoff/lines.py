"""Lines of the take-off: what is bought for the cabling and equipment of each room, traced to its causes.

A room's share is never lost: lines stand by room and tell its need; what serves several rooms (panels)
stands under the equipment room or the building. Connectors are counted where an outlet or panel does not
bring its own.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from proposal.design.connections.cable import Cable
from proposal.design.design import Design
from proposal.design.equipment.mounts import mounted, secured
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.rooms.device_positions import FURNITURE
from proposal.estimate.takeoff.systems import PHASE_OF_SECTION, supply_phase, system_of_entry
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Entry
from proposal.model.labour.labour import Phase
from proposal.model.project import Project
from proposal.quantities.currencies import piece_unit, smallest_unit
from proposal.quantities.rounding import rounded, rounded_up, step_of

CUT_STEP = step_of(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeoffLine:
    """One line of the take-off.

    section: equipment, accessories, mounts, cable, termination, patching, labels, supports or consumables.
    model: model code.
    room: tag of the room or equipment room; empty for the building.
    quantity: in `unit`, exact.
    waste: share added for spoilage.
    unit_cost: of one unit, in the project's currency; it may be finer than an amount.
    priced: quantity that the cost is for, waste included; cable lines price their spoilage alone, since reels
        hold the rest.
    cost: priced × unit cost, half up to the smallest unit of the currency; of what is bought in wholes, the
        line's share by need of what they cost for the whole project.
    wholes: what of that share is beyond priced × unit cost, since wholes are bought; it may be below 0, as a
        reel costs less than its metres.
    system, phase: that its price is summed by: of what goes with cables, those of the cables.
    parts: what a cable line's length is made of; None for other lines.
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
    system: str
    phase: Phase
    wholes: Decimal = Decimal(0)
    parts: "CableParts | None" = None
    causes: tuple[str, ...] = ()


def exact(length_m: float) -> Decimal:
    """Return a length of the design as the decimal number it is printed from, to the micrometre.

    length_m: length, m.
    """
    return Decimal(repr(round(length_m, 6)))


def cut_length_m(project: Project, cable: Cable) -> Decimal:
    """Return the length that a cable is cut to, m: up to 0.1 m, so that the plan can be cut on site.

    An estimated length has the tolerance of the project's rules added to it, a measured one has not; lead and
    tail go to every one. Where nothing lies between two devices side by side, nothing is cut.
    """
    rules = project.brief.rules.takeoff
    length = exact(cable.length_m)
    if not length:
        return length
    if not cable.measured:
        length *= 1 + Decimal(repr(rules.length_tolerance))
    return rounded_up(length + exact(rules.lead_and_tail), CUT_STEP)


def amount_of(project: Project, quantity: Decimal, each: Decimal) -> Decimal:
    """Return what so many units cost, half up to the smallest unit of the project's currency.

    quantity: how many units.
    each: what one costs, in that currency.
    """
    return rounded(quantity * each, smallest_unit(project.brief.currency))


def line(
    project: Project,
    section: str,
    entry: Entry,
    room: str,
    quantity: Decimal,
    waste: Decimal,
    causes: Iterable[str],
    system: str = "",
    phase: Phase | None = None,
) -> TakeoffLine:
    """Return a line that prices its whole quantity with waste.

    section: part of the take-off.
    room: tag, empty for the building.
    quantity: in the unit of the entry, without waste.
    waste: share added to it, 0 or more.
    causes: tags of the devices and cables that it is for.
    system, phase: of the cables that it goes with; those of the entry and section where left out.
    """
    each = our_cost(project, entry)
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
        cost=amount_of(project, priced, each),
        system=system or system_of_entry(entry),
        phase=phase or supply_phase(section, entry.kind),
        causes=tuple(causes),
    )


def piece_cost(project: Project, entry: Entry) -> Decimal:
    """Return what one piece costs: of a pack, its share to a hundredth of the currency's smallest unit."""
    whole = unit_cost(project, entry)
    if entry.unit == "pack":
        return rounded(Fraction(whole) / entry.pack_quantity, piece_unit(project.brief.currency))
    return whole


def our_cost(project: Project, entry: Entry) -> Decimal:
    """Return what one piece costs the integrator: nothing where the owner furnishes it."""
    return Decimal(0) if entry.furnished_by == "owner" else piece_cost(project, entry)


def equipment_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return one line for the devices of each room and model; what stands in furniture sees no workshop."""
    grouped: dict[tuple[str, str], list[Placed]] = {}
    for device in design.devices:
        if device.tag in design.entries:
            grouped.setdefault((device.room, device.model), []).append(device)
    return [
        line(
            project, "equipment", project.library.entry(model), room, Decimal(len(held)), Decimal(0),
            [one.tag for one in held],
            phase="second fix" if all(one.location == FURNITURE for one in held) else None,
        )
        for (room, model), held in grouped.items()
    ]  # fmt: skip


def accessory_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return one line for what goes with the microphones of each room, by model."""
    sizings = {tag: kind.sizing for kind in design.kinds for tag in kind.rooms}
    grouped: dict[tuple[str, str], list[str]] = {}
    for device in design.devices:
        if device.kind != "microphone" or device.tag not in design.entries:
            continue
        for model in sizings[device.room].accessories.get(device.code, ()):
            grouped.setdefault((device.room, model), []).append(device.tag)
    return [
        line(project, "accessories", project.library.entry(model), room, Decimal(len(tags)), Decimal(0), tags)
        for (room, model), tags in grouped.items()
    ]


def mount_lines(project: Project, design: Design) -> list[TakeoffLine]:
    """Return one line for the mounts of each room, by model, and one for the safety wires of what hangs."""
    grouped: dict[tuple[str, str], list[str]] = {}
    for device, _, model in mounted(project, design.devices, design.entries):
        if model:
            grouped.setdefault((device.room, model), []).append(device.tag)
    for device, model in secured(project, design.devices, design.entries):
        grouped.setdefault((device.room, model), []).append(device.tag)
    return [
        line(project, "mounts", project.library.entry(model), room, Decimal(len(tags)), Decimal(0), tags)
        for (room, model), tags in grouped.items()
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class CableParts:
    """What the length of a cable line is made of, m, and what goes with its cables.

    count: cables.  plan_m, vertical_m: along x and y, and up or down; a measured cable counts as along.
    slack_start_m, slack_end_m: left at the devices and at the far ends.  ends_m: used up by terminating.
    cut_m: every cable as it is cut, with tolerance, lead and tail.  terminations: two a cable.
    """

    count: int
    plan_m: Decimal
    vertical_m: Decimal
    slack_start_m: Decimal
    slack_end_m: Decimal
    ends_m: Decimal
    cut_m: Decimal
    terminations: int


def _parts(project: Project, cables: Sequence[Cable]) -> CableParts:
    """Return what the lengths of cables are made of."""
    total = sum((exact(cable.length_m) for cable in cables), Decimal(0))
    laid = [cable for cable in cables if not cable.measured]
    vertical = sum(
        (exact(part.length_m) for cable in laid for part in cable.route.stretches if part.vertical),
        Decimal(0),
    )
    start = sum((exact(cable.slack_ends_m[0]) for cable in laid), Decimal(0))
    end = sum((exact(cable.slack_ends_m[1]) for cable in laid), Decimal(0))
    ends = sum((exact(cable.slack_m) for cable in laid), Decimal(0)) - start - end
    return CableParts(
        count=len(cables),
        plan_m=total - vertical - start - end - ends,
        vertical_m=vertical,
        slack_start_m=start,
        slack_end_m=end,
        ends_m=ends,
        cut_m=sum((cut_length_m(project, cable) for cable in cables), Decimal(0)),
        terminations=2 * len(cables),
    )


def phase_of_cables(cables: Iterable[Cable], section: str) -> Phase:
    """Return when what goes with cables is used: in the workshop where all of them are leads in racks.

    section: of the take-off.
    """
    return "workshop" if all(one.in_workshop for one in cables) else PHASE_OF_SECTION[section]


def cable_lines(project: Project, room: str, cables: Sequence[Cable]) -> list[TakeoffLine]:
    """Return one line for each type of cable: its length, and the spoilage that is priced.

    room: tag of the room, empty for the building.
    """
    waste = Decimal(repr(project.brief.rules.takeoff.spoilage))
    grouped: dict[str, list[Cable]] = {}
    for cable in cables:
        if cable.model:
            grouped.setdefault(cable.model, []).append(cable)
    lines = []
    for model, members in grouped.items():
        entry = project.library.entry(model)
        total = sum((exact(cable.length_m) for cable in members), Decimal(0))
        each = our_cost(project, entry)
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
                cost=amount_of(project, priced, each),
                system=system_of_entry(entry),
                phase=phase_of_cables(members, "cable"),
                parts=_parts(project, members),
                causes=tuple(cable.identity for cable in members),
            )
        )
    return lines
