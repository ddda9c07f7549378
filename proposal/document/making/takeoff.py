"""The take-off and the reels of a computed project as rows."""

from collections.abc import Mapping
from decimal import Decimal
from typing import TypedDict

from proposal.document.making.by_name import ByName, WholeByName
from proposal.document.making.serials import serials
from proposal.document.making.supply_days import SupplyDays
from proposal.document.rows.reels import ReelOrderRow, ReelRow
from proposal.document.rows.takeoff import PurchaseRow, TakeoffRow
from proposal.estimate.price.price_lines import Pricing
from proposal.estimate.price.takeoff_labour import LineLabour, labour_costs, takeoff_labour
from proposal.estimate.price.work_within import work_within
from proposal.estimate.reels.cut_plan import Reel
from proposal.estimate.takeoff.lines import CableParts, TakeoffLine, exact
from proposal.estimate.takeoff.pathway_lines import is_for_others
from proposal.estimate.takeoff.purchases import SPARE, Purchase
from proposal.estimate.takeoff.reel_orders import ReelOrder
from proposal.model.equipment.materials import Cable, Support
from proposal.model.equipment.price_origins import origin_of
from proposal.model.project import Project
from proposal.pipeline import Computed
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.rounding import rounded, step_of

_PARTS = WholeByName(TakeoffRow, CableParts)
_OF_LABOUR = ("trades", "base_hours", "condition_factor", "hours", "labour_cost")
_LINE = ByName(TakeoffRow, TakeoffLine)
_PURCHASE = ByName(PurchaseRow, Purchase, "bought")
_REEL = ByName(ReelRow, Reel, "cuts")
_ORDER = ByName(ReelOrderRow, ReelOrder, "spare")


def takeoff_rows(computed: Computed) -> tuple[TakeoffRow, ...]:
    """Return the lines of the take-off, numbered."""
    reel_of = {
        cut.identity: reel.number
        for order in computed.estimate.reels
        for reel in order.plan.reels
        for cut in reel.cuts
    }
    lines = computed.estimate.lines
    numbers = serials("T", (line.room for line in lines))
    lengths_m = {cable.identity: exact(cable.length_m) for cable in computed.design.cables}
    step = smallest_unit(computed.project.brief.currency)
    costs = labour_costs(computed.price.lines, computed.labour.lines, step)
    labour = takeoff_labour(lines, computed.labour.lines, costs, lengths_m, step)
    storeys = _Storeys(computed)
    within = work_within(computed.project, lines, computed.labour.lines)
    return tuple(
        _row(
            *(computed.project, number, line, reel_of),
            storeys.of(line),
            () if n in labour else within[n],
            _labour(computed.project, labour.get(n)),
        )
        for n, (number, line) in enumerate(zip(numbers, lines, strict=True))
    )


class _Storeys:
    """Where lines of the take-off stand."""

    def __init__(self, computed: Computed) -> None:
        building = computed.project.building
        self._of_device = {device.tag: device.storey for device in computed.design.devices}
        # Leads inside a rack are on its storey, whatever room they serve.
        self._of_device |= {
            cable.identity: cable.start_storey for cable in computed.design.cables if cable.in_rack
        }
        self._of_room = {tag: room.storey for tag, room in building.equipment_rooms.items()}
        self._of_room |= {tag: room.storey for tag, room in computed.project.rooms.items()}

    def of(self, line: TakeoffLine) -> str:
        """Return the storey of the devices or leads that a line is for, if one; else of its room."""
        own = {self._of_device.get(cause, "") for cause in line.causes}
        alone = own.pop() if len(own) == 1 else ""
        return alone or self._of_room.get(line.room, "")


_FACTOR = step_of(3)


class _Labour(TypedDict):
    """What labour adds to a line of the take-off."""

    trades: tuple[str, ...]
    base_hours: Decimal | None
    condition_factor: Decimal | None
    hours: Decimal | None
    labour_cost: Decimal | None


def _labour(project: Project, labour: LineLabour | None) -> _Labour:
    """Return the fields of a row that hold its labour; of none, those of a line without work."""
    if labour is None:
        return {
            "trades": (),
            "base_hours": None,
            "condition_factor": None,
            "hours": None,
            "labour_cost": None,
        }
    return {
        "trades": tuple(project.labour.trades[trade].name for trade in labour.trades),
        "base_hours": rounded(labour.base_hours, _FACTOR),
        "condition_factor": rounded(labour.hours / labour.base_hours, _FACTOR) if labour.base_hours else None,
        "hours": labour.hours,
        "labour_cost": labour.cost,
    }


def _row(
    project: Project,
    number: str,
    line: TakeoffLine,
    reel_of: Mapping[str, int],
    storey: str,
    within: tuple[str, ...],
    labour: _Labour,
) -> TakeoffRow:
    parts, entry = line.parts, project.library.entry(line.model)
    return _LINE.of(
        line,
        number=number,
        item=line.model,
        description=entry.description,
        storey=storey,
        spacing_m=entry.spacing if isinstance(entry, Support) else None,
        work_within=within,
        is_length=line.unit == "m",
        **_PARTS.of(parts),
        reels=tuple(sorted({reel_of[cause] for cause in line.causes if cause in reel_of})) if parts else (),
        recompute=line.section == "reels",
        spoilage_only=line.section == "cable",
        **labour,
    )


def purchase_rows(computed: Computed, days: SupplyDays) -> tuple[PurchaseRow, ...]:
    """Return what is bought besides devices, in wholes.

    days: by which things are needed and ordered.
    """
    project = computed.project
    pricing = Pricing(project, project.brief.price, project.labour)
    return tuple(_purchase(pricing, one, days) for one in computed.estimate.purchases)


def _purchase(pricing: Pricing, one: Purchase, days: SupplyDays) -> PurchaseRow:
    entry = pricing.project.library.entry(one.model)
    owned = entry.furnished_by == "owner"
    by_others = is_for_others(pricing.project, one.section)
    listed = pricing.bought_list_price(entry, one)
    each = None if owned or by_others else pricing.one(entry, "materials", one.unit_cost, listed)[0]
    origin = origin_of(entry, one.sold_as.removesuffix(SPARE))
    day = days.of(one.section, one.model, entry.lead_time_days, ours=not (owned or by_others))
    return _PURCHASE.of(
        one,
        lead_time_days=entry.lead_time_days,
        needed_by=day.needed_by,
        order_by=day.order_by,
        item=one.model,
        description=entry.description,
        bought=int(one.bought),
        furnished_by="owner" if owned else "others" if by_others else "contractor",
        list_price=None if owned or by_others else listed,
        unit_price=each,
        price=None if each is None else rounded(one.bought * each, pricing.step),
        supplier="" if by_others else origin.supplier,
        article="" if by_others else origin.article,
        priced="" if by_others else origin.told,
    )


def reel_order_rows(computed: Computed, days: SupplyDays) -> tuple[ReelOrderRow, ...]:
    """Return the reels of every type of cable.

    days: by which things are needed and ordered.
    """
    return tuple(_order(computed.project, order, days) for order in computed.estimate.reels)


def _order(project: Project, order: ReelOrder, days: SupplyDays) -> ReelOrderRow:
    plan = order.plan
    entry = project.library.entry(order.model)
    sold = entry.reels if isinstance(entry, Cable) else {}
    ours = entry.furnished_by != "owner"
    day = days.of("reels", order.model, entry.lead_time_days, ours=ours)
    return _ORDER.of(
        order,
        type=order.model,
        description=entry.description,
        reels=tuple(
            _REEL.of(
                reel,
                cuts=tuple((cut.identity, cut.length_m, cut.group) for cut in reel.cuts),
                container=sold[name].container if (name := reel.stock.removesuffix(SPARE)) in sold else "",
                weight_kg=(sold[name].weight or None) if name in sold else None,
            )
            for reel in plan.reels
        ),
        counts=plan.counts,
        spare=order.spare.name if order.spare else "",
        ordered=sum(count for _, count in plan.counts) + (1 if order.spare else 0),
        supplier=next((origin_of(entry, name).supplier for name, _ in plan.counts), ""),
        needed_by=day.needed_by,
        order_by=day.order_by,
        too_long=tuple(run.identity for run in plan.too_long),
        cut_m=plan.cut_m,
        remnant_m=plan.remnant_m,
        set_ups=plan.set_ups,
        proven=plan.proven,
    )
