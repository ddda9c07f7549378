"""Reels to order: the cut plan of every type of cable, its spare, and what a percentage would order."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from proposal.design.connections.cable import Cable
from proposal.design.design import Design
from proposal.design.equipment.unit_costs import in_currency
from proposal.design.numbers.numbering import issued_of, natural
from proposal.estimate.reels.cut_plan import (
    Cut,
    CutPlan,
    KeptReel,
    Run,
    Stock,
    count_by_percentage,
    cut_plan,
    spare_stock,
)
from proposal.estimate.takeoff.lines import TakeoffLine, amount_of, cut_length_m, exact, line
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import Cable as CableEntry
from proposal.model.labour.labour import PHASES, Phase
from proposal.model.project import Numbered, Project

REEL, CUT = "reel", "cut"
FIRST_FIX: Phase = "first fix"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReelOrder:
    """The reels of one type of cable.

    model: model code of the cable.
    stocks: the lengths it is sold in.
    plan: which run is cut from which reel.
    spare: the spare beside the plan, None where no run fits a reel.
    cost: amount of the plan's reels, without the spare.  bound: no plan costs less.
    tolerance: share by which estimated lengths are cut longer.  lead_and_tail_m: added to every cut, m.
    percentage_stock, percentage_count: what a percentage for waste would order of the longest reel.
    """

    model: str
    stocks: tuple[Stock, ...]
    plan: CutPlan
    spare: Stock | None
    cost: Decimal
    bound: Decimal
    tolerance: Decimal
    lead_and_tail_m: Decimal
    percentage_stock: str
    percentage_count: int


def reel_orders(project: Project, design: Design) -> tuple[ReelOrder, ...]:
    """Return the reels of every type of cable, in order of model codes.

    Cables are pulled phase by phase and storey by storey, from the lowest up: phase and storey of the device
    are the pull group.
    """
    by_model: dict[str, list[Cable]] = {}
    for cable in design.cables:
        # Devices side by side may be joined without any cable that would be cut.
        if cable.model and cable.length_m > 0:
            by_model.setdefault(cable.model, []).append(cable)
    storeys = project.building.storeys
    upwards = sorted(storeys, key=lambda tag: (storeys[tag].height, tag))
    pull_order = [group_name(tag, phase) for phase in (FIRST_FIX, *PHASES) for tag in upwards]
    earlier = _earlier(project)
    return tuple(
        _order(project, model, cables, pull_order, earlier.get(model, ()))
        for model, cables in sorted(by_model.items())
    )


def at_present_cost(project: Project, orders: Iterable[ReelOrder]) -> tuple[ReelOrder, ...]:
    """Return reels planned before with what they cost in a project as it is now; their cuts stay."""
    return tuple(
        replace(order, stocks=tuple(_at_present_cost(project, order.model, stock) for stock in order.stocks))
        for order in orders
    )


def _at_present_cost(project: Project, model: str, stock: Stock) -> Stock:
    entry = project.library.entry(model)
    assert isinstance(entry, CableEntry)
    return replace(stock, cost=in_currency(project, entry.reels[stock.name].cost))


def group_name(storey: str, phase: Phase) -> str:
    """Return the name of the cables of a storey that are pulled in a phase: the storey alone in first fix.

    storey: its tag.
    """
    return storey if phase == FIRST_FIX else f"{storey}, {phase}"


def pull_groups(project: Project, cables: Iterable[Cable]) -> Mapping[str, str]:
    """Return the pull group of each cable by its identity: its storey, and the phase whose task lays it."""
    tasks = project.labour.tasks.values()
    pulling = [task for task in tasks if task.to == "cable" and task.length]
    wiring = [task for task in tasks if task.to == "lead in a rack"]
    found = {}
    for cable in cables:
        doing = wiring if cable.in_workshop else pulling
        phases = [task.phase for task in doing if not task.signals or cable.signal in task.signals]
        found[cable.identity] = group_name(cable.start_storey, phases[0] if phases else FIRST_FIX)
    return found


def reel_numbers(orders: Sequence[ReelOrder]) -> Iterator[tuple[str, Numbered]]:
    """Yield every reel and every cut as the register keeps them, each with its identity."""
    for order in orders:
        for reel in order.plan.reels:
            yield f"{REEL}/{order.model}/{reel.number}", Numbered(number=str(reel.number), model=reel.stock)
            for cut in reel.cuts:
                yield f"{CUT}/{cut.identity}", Numbered(number=f"{order.model}/{reel.number}")


def _earlier(project: Project) -> dict[str, list[KeptReel]]:
    """Return the reels of issued revisions by type of cable, those that are there no more without cuts."""
    cuts: dict[str, list[str]] = {}
    for identity, one in issued_of(project.issued, CUT).items():
        if not one.retired:
            cuts.setdefault(one.number, []).append(identity.partition("/")[2])
    found: dict[str, list[KeptReel]] = {}
    for identity, one in issued_of(project.issued, REEL).items():
        named = identity.partition("/")[2]
        if one.number.isascii() and one.number.isdecimal() and len(one.number) < 9:
            identities = () if one.retired else tuple(sorted(cuts.get(named, ()), key=natural))
            kept = KeptReel(one.model, identities, int(one.number))
            found.setdefault(named.rpartition("/")[0], []).append(kept)
    return {model: sorted(reels, key=lambda reel: reel.number) for model, reels in found.items()}


def _order(
    project: Project,
    model: str,
    cables: Sequence[Cable],
    pull_order: Sequence[str],
    earlier: Sequence[KeptReel],
) -> ReelOrder:
    entry = project.library.entry(model)
    assert isinstance(entry, CableEntry)
    stocks = tuple(
        Stock(name, reel.length, in_currency(project, reel.cost))
        for name, reel in sorted(entry.reels.items())
    )
    together = pull_groups(project, cables)
    runs = [
        Run(cable.identity, float(cut_length_m(project, cable)), together[cable.identity]) for cable in cables
    ]
    longest = max(stocks, key=lambda stock: (stock.length_m, stock.name))
    plan = cut_plan(runs, stocks, pull_order, earlier)
    costs = {stock.name: stock.cost for stock in stocks}
    cost = sum((amount_of(project, Decimal(count), costs[name]) for name, count in plan.counts), Decimal(0))
    return ReelOrder(
        model=model,
        stocks=stocks,
        plan=plan,
        spare=spare_stock(runs, stocks),
        cost=cost,
        # Rounded line by line, a cost may fall below what is rounded as a whole.
        bound=min(amount_of(project, Decimal(1), plan.bound), cost),
        tolerance=Decimal(repr(project.brief.rules.takeoff.length_tolerance)),
        lead_and_tail_m=exact(project.brief.rules.takeoff.lead_and_tail),
        percentage_stock=longest.name,
        percentage_count=count_by_percentage(
            sum(cable.length_m for cable in cables), project.brief.rules.takeoff.spoilage, longest.length_m
        ),
    )


def reel_lines(project: Project, orders: Sequence[ReelOrder], cables: Sequence[Cable]) -> list[TakeoffLine]:
    """Return a line for each room and type of cable: the metres that are cut for the room.

    cables: of the design.
    """
    room_of = {cable.identity: cable.room for cable in cables}
    lines = []
    for order in orders:
        cut: dict[str, list[Cut]] = {}
        for reel in order.plan.reels:
            for piece in reel.cuts:
                cut.setdefault(room_of[piece.identity], []).append(piece)
        entry = project.library.entry(order.model)
        for room, pieces in cut.items():
            metres = sum((piece.length_m for piece in pieces), Decimal(0))
            causes = sorted((piece.identity for piece in pieces), key=natural)
            lines.append(line(project, "reels", entry, room, metres, Decimal(0), causes))
    return lines
