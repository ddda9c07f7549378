"""The take-off: how many of each model, where, and what they cost."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_ends import CableEnds
from proposal.design.design import Design
from proposal.design.equipment.unit_costs import unit_list_price
from proposal.design.numbers.numbering import natural
from proposal.estimate.takeoff.box_lines import box_lines
from proposal.estimate.takeoff.fire_stopping_lines import fire_stopping_lines
from proposal.estimate.takeoff.lines import (
    TakeoffLine,
    accessory_lines,
    cable_lines,
    equipment_lines,
    mount_lines,
    our_cost,
)
from proposal.estimate.takeoff.mains_outlet_lines import mains_outlet_lines
from proposal.estimate.takeoff.material_lines import cord_lines, material_lines, shared_lines
from proposal.estimate.takeoff.pathway_lines import pathway_lines
from proposal.estimate.takeoff.purchases import Purchase, purchases, with_shares
from proposal.estimate.takeoff.rack_lines import mains_cord_lines, rack_lines
from proposal.estimate.takeoff.reel_orders import ReelOrder, reel_lines, reel_orders
from proposal.estimate.takeoff.supports import support_lines
from proposal.estimate.takeoff.switch_link_lines import switch_link_lines
from proposal.estimate.takeoff.systems import EQUIPMENT_SECTIONS
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import shared_out


@dataclass(frozen=True, slots=True, kw_only=True)
class EquipmentCount:
    """All devices of one model.

    rooms: tag of room or equipment room, and how many serve it.
    unit_list, unit_cost, cost: in the project's currency; cost is the sum of its lines of the take-off.
    """

    kind: str
    model: str
    quantity: int
    rooms: tuple[tuple[str, int], ...]
    unit_list: Decimal
    unit_cost: Decimal
    cost: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class CableLength:
    """All cables of one type: how many, and their lengths with slack together, m."""

    model: str
    count: int
    length_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """What the design takes and costs.

    equipment: by kind and model; equipment_cost: the sum of its costs.
    cables: by model.
    lines: the take-off, in order of sections, rooms and models; materials_cost: the sum of its costs,
        equipment included.
    purchases: what is bought for them besides devices, in whole pieces, packs and reels.
    reels: the reels of each type of cable.
    """

    equipment: tuple[EquipmentCount, ...]
    equipment_cost: Decimal
    cables: tuple[CableLength, ...]
    lines: tuple[TakeoffLine, ...]
    materials_cost: Decimal
    purchases: tuple[Purchase, ...]
    reels: tuple[ReelOrder, ...]


def estimate(project: Project, design: Design) -> Estimate:
    """Return what a design takes and what its equipment costs."""
    return estimate_with_reels(project, design, reel_orders(project, design))


def estimate_with_reels(project: Project, design: Design, reels: tuple[ReelOrder, ...]) -> Estimate:
    """Return what a design takes where its cables are cut from given reels.

    reels: of each type of cable, with what they cost.
    """
    needs = takeoff_lines(project, design, reels)
    bought = purchases(project, needs, reels)
    lines = with_shares(project, needs, bought)
    equipment = _equipment(project, design, lines)
    return Estimate(
        equipment=equipment,
        equipment_cost=sum((line.cost for line in equipment), Decimal(0)),
        cables=_cable_lengths(design),
        lines=lines,
        materials_cost=sum((line.cost for line in lines), Decimal(0)),
        purchases=bought,
        reels=reels,
    )


def _equipment(project: Project, design: Design, lines: Sequence[TakeoffLine]) -> tuple[EquipmentCount, ...]:
    """Return devices and accessories by kind and model, with the cost of their lines of the take-off."""
    by_model: dict[tuple[str, str], dict[str, int]] = {}
    for device in design.devices:
        if device.tag in design.entries:
            rooms = by_model.setdefault((device.kind, device.model), {})
            rooms[device.room] = rooms.get(device.room, 0) + 1
    costs: dict[str, Decimal] = {}
    for line in lines:
        if line.section == "accessories":
            rooms = by_model.setdefault((project.library.entry(line.model).kind, line.model), {})
            rooms[line.room] = rooms.get(line.room, 0) + int(line.quantity)
        if line.section in EQUIPMENT_SECTIONS:
            costs[line.model] = costs.get(line.model, Decimal(0)) + line.cost
    return tuple(
        EquipmentCount(
            kind=kind,
            model=model,
            quantity=sum(rooms.values()),
            rooms=tuple(sorted(rooms.items(), key=lambda item: natural(item[0]))),
            unit_list=unit_list_price(project, project.library.entry(model)),
            unit_cost=our_cost(project, project.library.entry(model)),
            cost=costs[model],
        )
        for (kind, model), rooms in sorted(by_model.items())
    )


def device_costs(project: Project, lines: Sequence[TakeoffLine]) -> Mapping[str, Decimal]:
    """Return what each device costs by its tag: its part of its line of the take-off, to which they add up.

    lines: of the take-off.
    """
    step = smallest_unit(project.brief.currency)
    found: dict[str, Decimal] = {}
    for line in lines:
        if line.section == "equipment":
            parts = shared_out(line.cost, [Decimal(1)] * len(line.causes), step)
            found |= dict(zip(line.causes, parts, strict=True))
    return found


SECTIONS = (
    "equipment",
    "accessories",
    "mounts",
    "cable",
    "reels",
    "termination",
    "patching",
    "labels",
    "supports",
    "pathways",
    "consumables",
)


def takeoff_lines(project: Project, design: Design, reels: Sequence[ReelOrder]) -> tuple[TakeoffLine, ...]:
    """Return every line of the take-off with the need of its room, in order of sections, rooms and models.

    reels: the reels of each type of cable.
    """
    by_room: dict[str, list[Cable]] = {}
    for cable in design.cables:
        by_room.setdefault(cable.room, []).append(cable)
    ends = CableEnds(project, design.devices, design.every_entry)
    lines = [
        *equipment_lines(project, design),
        *accessory_lines(project, design),
        *mount_lines(project, design),
        *rack_lines(project, design),
        *mains_cord_lines(project, design),
    ]
    for room, cables in by_room.items():
        lines += cable_lines(project, room, cables)
        lines += material_lines(project, ends, room, cables)
    lines += support_lines(project, design)
    lines += cord_lines(project, design.graph)
    lines += shared_lines(project, design)
    lines += switch_link_lines(project, design)
    lines += pathway_lines(project, design.pathways)
    lines += fire_stopping_lines(project, design)
    lines += mains_outlet_lines(project, design)
    lines += box_lines(project, design)
    lines += reel_lines(project, reels, design.cables)
    order = {name: n for n, name in enumerate(SECTIONS)}
    return tuple(
        sorted(
            lines, key=lambda one: (order[one.section], natural(one.room), one.model, one.unit, one.causes)
        )
    )


def _cable_lengths(design: Design) -> tuple[CableLength, ...]:
    by_model: dict[str, list[float]] = {}
    for cable in design.cables:
        if cable.model:
            by_model.setdefault(cable.model, []).append(cable.length_m)
    return tuple(
        CableLength(model=model, count=len(lengths), length_m=round(sum(lengths), 6))
        for model, lengths in sorted(by_model.items())
    )
