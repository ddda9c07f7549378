"""The labour of a computed project as rows."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import TypedDict, TypeVar

from proposal.design.numbers.numbering import natural
from proposal.document.making.by_name import ByName
from proposal.document.making.composed_texts import words_of
from proposal.document.making.serials import serials
from proposal.document.rows.labour import (
    NOTHING,
    ConditionRow,
    HoursSum,
    LabourRow,
    OvertimeRow,
    PhaseHours,
    RoomHours,
    SystemHours,
    TradeHoursRow,
    TradeRow,
    TravelRow,
)
from proposal.estimate.labour.labour import LabourEstimate, hours_by
from proposal.estimate.labour.labour_line import LabourLine
from proposal.estimate.price.markup_and_margin import PriceLine
from proposal.estimate.price.price import PriceEstimate
from proposal.estimate.price.price_lines import Pricing
from proposal.estimate.takeoff.systems import SYSTEMS
from proposal.model.labour.labour import PHASES, Phase
from proposal.model.project import Project
from proposal.pipeline import Computed
from proposal.quantities import formatting

ADDED, MULTIPLIES = "added to lines", "multiplies the summary"


_LINE = ByName(LabourRow, LabourLine, "task", "trade")


class LabourParts(TypedDict):
    """The rows of labour, and all hours, h."""

    labour: tuple[LabourRow, ...]
    labour_summary: tuple[TradeHoursRow, ...]
    overtime: tuple[OvertimeRow, ...]
    travel: tuple[TravelRow, ...]
    trades: tuple[TradeRow, ...]
    hours_by_room: tuple[RoomHours, ...]
    hours_by_system: tuple[SystemHours, ...]
    hours_by_phase: tuple[PhaseHours, ...]
    labour_conditions: tuple[ConditionRow, ...]
    labour_hours: Decimal | None


def labour_parts(computed: Computed) -> LabourParts:
    """Return the fields of the document that hold labour, by name."""
    project, labour, price = computed.project, computed.labour, computed.price
    names = {key: trade.name for key, trade in project.labour.trades.items()}
    return {
        "labour": tuple(
            _line(number, line, names)
            for number, line in zip(
                serials("H", (line.room for line in labour.lines)), labour.lines, strict=True
            )
        ),
        "labour_summary": _summary(labour, price, names, project.brief.programme.hours_a_day),
        "overtime": tuple(
            OvertimeRow(
                work=one.name,
                phase=one.phase,
                trade=names[one.trade],
                rooms=one.rooms,
                share=one.share,
                hours=one.hours,
            )
            for one in labour.overtime_hours
        ),
        "travel": _travel(labour, price, names),
        "trades": _trades(project, labour),
        "hours_by_room": _sums(
            labour, "room", sorted(computed.project.planned_rooms, key=natural), RoomHours
        ),
        "hours_by_system": _sums(labour, "system", SYSTEMS, SystemHours),
        "hours_by_phase": _sums(labour, "phase", PHASES, PhaseHours),
        "labour_conditions": tuple(_conditions(project, labour.lines)),
        "labour_hours": labour.hours,
    }


def _line(number: str, line: LabourLine, names: Mapping[str, str]) -> LabourRow:
    return _LINE.of(line, number=number, task=line.name, trade=names[line.trade])


def _summary(
    labour: LabourEstimate, price: PriceEstimate, names: Mapping[str, str], hours_a_day: Decimal
) -> tuple[TradeHoursRow, ...]:
    overtime: dict[tuple[str, Phase], Decimal] = {}
    for one in labour.overtime_hours:
        overtime[one.trade, one.phase] = overtime.get((one.trade, one.phase), NOTHING) + one.hours
    found = []
    for row in labour.summary:
        lines = [
            line
            for line in price.lines
            if line.group == "labour" and line.item == row.trade and line.phase == row.phase
        ]
        found.append(
            TradeHoursRow(
                phase=row.phase,
                trade=names[row.trade],
                line_hours=row.line_hours,
                factors=row.factors,
                call_hours=row.call_hours,
                hours=row.hours,
                overtime_hours=overtime.get((row.trade, row.phase), NOTHING),
                person_days=row.person_days,
                hours_a_day=row.hours_a_day if row.person_days and row.hours_a_day != hours_a_day else None,
                cost=_cost(lines),
                price=_price(lines),
            )
        )
    return tuple(found)


def _travel(labour: LabourEstimate, price: PriceEstimate, names: Mapping[str, str]) -> tuple[TravelRow, ...]:
    found = []
    for row in labour.travel:
        lines = [line for line in price.lines if line.group == "travel" and line.item == row.trade]
        found.append(
            TravelRow(
                trade=names[row.trade],
                days=row.days,
                hours=row.hours,
                cost=_cost(lines),
                price=_price(lines),
            )
        )
    return tuple(found)


def _cost(lines: Iterable[PriceLine]) -> Decimal:
    return sum((line.cost for line in lines), NOTHING)


def _price(lines: Iterable[PriceLine]) -> Decimal:
    return sum((line.price for line in lines), NOTHING)


def _trades(project: Project, labour: LabourEstimate) -> tuple[TradeRow, ...]:
    """Return the trades in the order of the labour data, with what an hour costs and sells for."""
    pricing = Pricing(project, project.brief.price, project.labour)
    worked = dict(hours_by(labour, "trade"))
    crews = project.brief.labour.crews
    found = []
    for key, trade in project.labour.trades.items():
        cost, selling, rule = pricing.rates(key)
        found.append(
            TradeRow(
                trade=trade.name,
                crew=crews.get(key, trade.crew),
                minimum_call_hours=trade.minimum_call_hours,
                hours=worked.get(key, NOTHING),
                source=trade.source,
                cost=cost,
                selling=selling,
                rule=rule[0],
                rule_value=rule[1],
            )
        )
    return tuple(found)


S = TypeVar("S", bound=HoursSum)


def _sums(labour: LabourEstimate, view: str, order: Sequence[str], row: type[S]) -> tuple[S, ...]:
    """Return the hours by room, system or phase, in a given order; what the order leaves out comes last.

    row: class of the rows.
    """
    found = dict(hours_by(labour, view))
    others = sorted((key for key in found if key not in order), key=lambda key: (not key, natural(key)))
    return tuple(row(key=key, hours=found[key]) for key in (*order, *others) if key in found)


def _conditions(project: Project, lines: Sequence[LabourLine]) -> Iterator[ConditionRow]:
    """Yield what the project chose, and what follows from height, storey and repetition where it is met."""
    data, choices = project.labour, project.brief.labour
    words = words_of(project)
    chosen = [(words.text("condition.every_line"), key) for key in choices.conditions]
    for scope, keys in choices.room_conditions.items():
        kind = project.room_types.get(scope)
        met_in = (
            words.text("condition.kind_of_room", kind=kind.name)
            if kind
            else words.text("condition.room", room=scope)
        )
        chosen += [(met_in, key) for key in keys]
    for scope, key in chosen:
        yield _condition(project, key, scope, ADDED)
    for key in choices.project_conditions:
        yield _condition(project, key, words.text("condition.whole_project"), MULTIPLIES)
    met = {one for line in lines for one in line.additions}
    for step in sorted(data.heights.values(), key=lambda one: one.above):
        addition = Decimal(repr(step.addition))
        if ("height of the work", addition) in met:
            above = formatting.short_quantity(step.above, "length", project.brief.units, project.brief.locale)
            scope = words.text("condition.height", height=above)
            yield _rule("height of the work", scope, addition, (), step.source)
    upper, again = data.upper_storeys, data.repetition
    names = {name for name, _ in met}
    if upper and "upper storey" in names:
        scope = words.text("condition.storeys_above", number=str(upper.above))
        yield _rule("upper storey", scope, Decimal(repr(upper.addition)), upper.phases, upper.source)
    if again and "repeated room" in names:
        scope = words.text("condition.further_rooms")
        yield _rule("repeated room", scope, -Decimal(repr(again.reduction)), again.phases, again.source)


def _condition(project: Project, key: str, scope: str, effect: str) -> ConditionRow:
    one = project.labour.conditions[key]
    return ConditionRow(
        name=one.name,
        scope=scope,
        effect=effect,
        addition=Decimal(repr(one.addition)),
        phases=one.phases,
        source=one.source,
    )


def _rule(name: str, scope: str, addition: Decimal, phases: tuple[str, ...], source: str) -> ConditionRow:
    return ConditionRow(name=name, scope=scope, effect=ADDED, addition=addition, phases=phases, source=source)
