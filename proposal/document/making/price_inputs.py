"""The figures that a price rests on as rows, each under the keys by which people write it."""

from collections.abc import Iterator, Mapping, Set
from decimal import Decimal

from proposal.document.making.composed_texts import words_of
from proposal.document.rows.price_inputs import FEET, PriceInputRow, one_more
from proposal.estimate.labour.labour import ALL_ON_SITE
from proposal.estimate.price.markup_and_margin import PriceLine
from proposal.estimate.price.unit_prices import CHANGES
from proposal.estimate.takeoff.pathway_lines import is_for_others
from proposal.estimate.takeoff.purchases import SPARE
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.materials import Cable
from proposal.model.labour.labour import Labour, Task
from proposal.model.price.commercial import Group, Price, PriceRule, PriceRules, Surcharge
from proposal.model.project import Project
from proposal.pipeline import Computed
from proposal.quantities import formatting
from proposal.quantities.money import Money

SHARE, HOURS, DAYS = "share", "h", "h a day"
ONE, PIECE = Decimal(1), "piece"
_UNITS = {"each": PIECE, "metre": "m", "pack": "pieces of a pack"}
_REST = {"rest": "all that no other rule is for"}

_FT_PER_M, _FEET_PLACES = 1 / Decimal("0.3048"), 4
Keys = tuple[str, ...]
Input = tuple[Keys, PriceInputRow]


def price_inputs(computed: Computed) -> tuple[PriceInputRow, ...]:
    """Return every figure that the price of a computed project rests on, each once, in order of subjects."""
    project = computed.project
    in_feet = project.brief.units == "us_customary"
    found = {}
    for path, row in _inputs(computed):
        about: dict[str, object] = {"layer": project.layer(*path)}
        if in_feet and row.holds_for == "m":
            about |= _in_feet(row.per)
        found[path] = row.model_copy(update=about)
    return tuple({row.key: row for row in found.values()}.values())


def _in_feet(length_m: Decimal) -> Mapping[str, object]:
    return {"per": formatting.rounded(length_m * _FT_PER_M, _FEET_PLACES).normalize(), "holds_for": FEET}


def input_paths(computed: Computed) -> Mapping[str, Keys]:
    """Return the keys of every such figure one by one, as a name may hold a point, by the key of its row."""
    return {row.key: path for path, row in _inputs(computed)}


def _inputs(computed: Computed) -> Iterator[Input]:
    yield from _costs(computed)
    yield from _takeoff_rules(computed.project)
    yield from _labour(computed)
    yield from _rules(computed)
    yield from _commercial(computed)


def rule_key(project: Project, line: PriceLine) -> str:
    """Return the keys of the figure that makes a price of the cost of a line; empty where none does.

    line: of the price of the project.
    """
    return ".".join(_rule_path(project, line))


def _rule_path(project: Project, line: PriceLine) -> Keys:
    price = project.brief.price
    if line.group in ("equipment", "materials"):
        if line.item in price.selling:
            return ("price", "selling", line.item)
        kind = project.library.entry(line.item).kind
        group: Group = "equipment" if line.group == "equipment" else "materials"
        return _named(price.rules, line.item, kind, group)[0]
    if line.kind == "expenses":
        path, rule = _named(price.rules, "", "expenses", "travel")
        return () if rule.discount is not None else path
    if line.group in ("labour", "travel"):
        return _rule_of_trade(project, line.item)
    if line.group == "surcharge":
        own = price.surcharges[line.item].rule
        return () if own is None else ("price", "surcharges", line.item, "rule", _sort(own))
    return ()


def _rule_of_trade(project: Project, trade: str) -> Keys:
    rules = project.brief.price.rules
    if project.labour.trades[trade].selling is not None:
        return ("labour", "rates", trade, "selling")
    path, rule = _named(rules, "", trade, "labour")
    if rule.discount is None:
        return path
    return () if rules.rest.discount is not None else ("price", "rules", "rest", _sort(rules.rest))


def _named(rules: PriceRules, model: str, kind: str, group: Group) -> tuple[Keys, PriceRule]:
    """Return the rule for something and its keys, looked for as `PriceRules.rule` does."""
    rule = rules.rule(model, kind, group)
    where: Keys = (
        ("models", model)
        if rules.models.get(model)
        else ("kinds", kind)
        if rules.kinds.get(kind)
        else ("groups", group)
        if rules.groups.get(group)
        else ("rest",)
    )
    return ("price", "rules", *where, _sort(rule)), rule


def _sort(rule: PriceRule) -> str:
    return next(name for name in ("margin", "markup", "discount") if getattr(rule, name) is not None)


def _row(
    path: Keys,
    what: str,
    subject: str,
    value: Decimal | float,
    unit: str,
    per: Decimal = ONE,
    holds_for: str = "",
) -> Input:
    exact = value if isinstance(value, Decimal) else Decimal(repr(value))
    about = {"what": what, "subject": subject, "unit": unit, "per": per, "holds_for": holds_for}
    return path, PriceInputRow(key=".".join(path), value=exact, **about)


def _money(
    path: Keys, what: str, subject: str, money: Money, holds_for: str = "", per: Decimal = ONE
) -> Input:
    return _row(path, what, subject, money.amount, money.currency, per, holds_for)


def _costs(computed: Computed) -> Iterator[Input]:
    """Yield what everything bought costs, and its list price where something is computed of that.

    A discount is taken off it; lumps of the offer are shares by what devices list for, whoever buys them.
    """
    project, design = computed.project, computed.design
    devices = {one.model for one in design.devices if one.tag in design.entries}
    listed = {line.item for line in computed.price.lines if line.rule == "discount"} | devices
    for model in sorted(_bought(computed) | devices):
        entry = project.library.entry(model)
        if entry.furnished_by == "owner":
            yield _money(("library", model, "list_price"), "list price", model, entry.list_price, PIECE)
            continue
        per = Decimal(entry.pack_quantity) if entry.unit == "pack" else ONE
        one = _UNITS[entry.unit], per
        yield _money(("library", model, "cost"), "cost", model, entry.cost, *one)
        if model in listed:
            yield _money(("library", model, "list_price"), "list price", model, entry.list_price, *one)
        yield from _reels(computed, entry, model in listed)


def _bought(computed: Computed) -> set[str]:
    """Return what is bought; pathways that others furnish are counted alone, and no cost of theirs counts."""
    lines = computed.estimate.lines
    return {line.model for line in lines if not is_for_others(computed.project, line.section)}


def _reels(computed: Computed, entry: Entry, listed: bool) -> Iterator[Input]:
    if not isinstance(entry, Cable):
        return
    bought = {
        one.sold_as.removesuffix(SPARE)
        for one in computed.estimate.purchases
        if one.section == "reels" and one.model == entry.model
    }
    for name in sorted(bought):
        reel, key = entry.reels[name], ("library", entry.model, "reels", name)
        what = f"{entry.model}, {name}"
        yield _money((*key, "cost"), "cost of a reel", what, reel.cost, reel.container)
        if listed:
            yield _money((*key, "list_price"), "list price of a reel", what, reel.list_price, reel.container)


def _takeoff_rules(project: Project) -> Iterator[Input]:
    rules = project.brief.rules.takeoff
    yield _row(("rules", "takeoff", "spoilage"), "spoilage", "cable", rules.spoilage, SHARE)
    spare = ("rules", "takeoff", "connector_extra")
    yield _row(spare, "spare connectors", "termination", rules.connector_extra, SHARE)


def _labour(computed: Computed) -> Iterator[Input]:
    """Yield rates, hours of tasks that are done, what makes work slower, and travel."""
    project, data, choices = computed.project, computed.project.labour, computed.project.brief.labour
    for key in dict.fromkeys(row.trade for row in computed.labour.summary):
        trade = data.trades[key]
        yield _money(("labour", "rates", key, "cost"), "cost of an hour", trade.name, trade.cost, "hour")
        if trade.selling is not None:
            selling = ("labour", "rates", key, "selling")
            yield _money(selling, "price of an hour", trade.name, trade.selling, "hour")
        yield _row(
            ("labour", "trades", key, "minimum_call_hours"),
            "minimum call",
            trade.name,
            trade.minimum_call_hours,
            HOURS,
            holds_for="call",
        )
    for key in dict.fromkeys(line.task for line in computed.labour.lines):
        yield from _task(key, data.tasks[key])
    yield from _conditions(computed, data)
    for key, work in choices.overtime_work.items():
        yield _row(("labour", "overtime_work", key, "share"), "overtime", work.name, work.share, SHARE)
    if choices.overtime_work:
        yield _row(("labour", "overtime_premium"), "overtime premium", "rates", data.overtime_premium, SHARE)
    if choices.overtime:
        yield _row(("labour", "overtime"), "overtime", ALL_ON_SITE, choices.overtime, SHARE)
        yield _row(("labour", "overtime_premium"), "overtime premium", "rates", data.overtime_premium, SHARE)
    yield _row(("programme", "hours_a_day"), "working day", "site", project.brief.programme.hours_a_day, DAYS)
    if data.travel:
        yield _row(("labour", "travel", "hours_a_day"), "under way", "travel", data.travel.hours_a_day, DAYS)
        if data.travel.expenses_a_day is not None:
            money = data.travel.expenses_a_day
            yield _money(("labour", "travel", "expenses_a_day"), "expenses of a day", "travel", money, "day")


def _task(key: str, task: Task) -> Iterator[Input]:
    per = ONE if task.length is None else Decimal(repr(round(task.length, 6)))
    if task.hours is not None:
        one = task.to if task.length is None else "m"
        yield _row(("labour", "tasks", key, "hours"), "hours", task.name, task.hours, HOURS, per, one)
    if task.further_hours is not None:
        name = ("labour", "tasks", key, "further_hours")
        yield _row(name, "hours of a further one", task.name, task.further_hours, HOURS, holds_for=task.to)
    if task.share is not None:
        yield _row(("labour", "tasks", key, "share"), "share of hours", task.name, task.share, SHARE)


def _conditions(computed: Computed, data: Labour) -> Iterator[Input]:
    words = words_of(computed.project)
    met = {name for line in computed.labour.lines for name, _ in line.additions}
    met |= {name for row in computed.labour.summary for name, _ in row.factors}
    for key, one in data.conditions.items():
        if one.name in met:
            yield _row(("labour", "conditions", key, "addition"), "condition", one.name, one.addition, SHARE)
    if "height of the work" in met:
        for key, step in data.heights.items():
            name = ("labour", "heights", key, "addition")
            where = words.text("condition.height", height=_length(computed.project, step.above))
            yield _row(name, "condition", "height of the work", step.addition, SHARE, holds_for=where)
    if data.upper_storeys and "upper storey" in met:
        addition, upper = data.upper_storeys.addition, ("labour", "upper_storeys", "addition")
        where = words.text("condition.storeys_above", number=str(data.upper_storeys.above))
        yield _row(upper, "condition", "upper storey", addition, SHARE, holds_for=where)
    if data.repetition and "repeated room" in met:
        reduction, again = data.repetition.reduction, ("labour", "repetition", "reduction")
        where = words.text("condition.further_rooms")
        yield _row(again, "reduction", "repeated room", reduction, SHARE, holds_for=where)
    for key, group in data.pull_groups.items():
        name = ("labour", "pull_groups", key, "factor")
        yield _row(name, "group factor", f"{group.cables} cables", group.factor, "factor")


def _length(project: Project, length_m: float) -> str:
    return formatting.short_quantity(length_m, "length", project.brief.units, project.brief.locale)


def _rules(computed: Computed) -> Iterator[Input]:
    """Yield what makes prices of costs: margins, markups, discounts, and prices of devices as stated."""
    project = computed.project
    for line in computed.price.lines:
        path = _rule_path(project, line)
        if path[:2] == ("price", "selling"):
            yield _money(path, "price", line.item, project.brief.price.selling[line.item], PIECE)
        elif path and line.rule in ("margin", "markup", "discount"):
            is_surcharge = line.group == "surcharge"
            of = project.brief.price.surcharges[line.item].name if is_surcharge else path[-2]
            yield _row(path, line.rule, _REST.get(of, of), line.rule_value, SHARE)


def _commercial(computed: Computed) -> Iterator[Input]:
    project, price = computed.project, computed.project.brief.price
    for key, one in price.surcharges.items():
        yield from _surcharge(("price", "surcharges", key), one)
    for key, allowance in price.allowances.items():
        yield _money(("price", "allowances", key, "price"), "allowance", allowance.name, allowance.price)
    yield from _taxes(price, {line.tax_place for line in computed.price.lines if line.tax_place})
    for key, payment in price.payments.items():
        yield _row(("price", "payments", key, "share"), "payment", payment.name, payment.share, SHARE)
    if price.retention:
        yield _row(("price", "retention"), "retention", "payments", price.retention, SHARE)
    yield from _changes(computed)
    for model, money in price.yearly.items():
        if any(one.model == model for one in computed.price.yearly):
            yield _money(("price", "yearly", model), "price of a year", model, money, "year")
    for code, rate in project.brief.terms.exchange.items():
        yield _row(
            ("terms", "exchange", code, "rate"), "exchange rate", code, rate.rate, project.brief.currency
        )


def _changes(computed: Computed) -> Iterator[Input]:
    """Yield what one more of something is charged for, and what recurs each year costs."""
    project, price = computed.project, computed.project.brief.price
    for one in computed.price.unit_prices:
        field = CHANGES[one.to]
        stated: Mapping[str, Money] = getattr(price.changes, field)
        if one.item in stated:
            name = project.labour.trades[one.item].name if one.to == "hour" else one.item
            path = ("price", "changes", field, one.item)
            yield _money(path, one_more(one.to), name, stated[one.item])
    for each in computed.price.yearly:
        cost = project.library.entry(each.model).yearly_cost
        assert cost is not None
        yield _money(("library", each.model, "yearly_cost"), "cost of a year", each.model, cost, "year")


def _surcharge(key: Keys, one: Surcharge) -> Iterator[Input]:
    if one.amount is not None:
        yield _money((*key, "amount"), "amount", one.name, one.amount)
    if one.each is not None:
        yield _money((*key, "each"), "amount of each", one.name, one.each, one.by or "")
    if one.share is not None:
        yield _row((*key, "share"), "share of the cost", one.name, one.share, SHARE)
    if one.share_of_sum is not None:
        yield _row((*key, "share_of_sum"), "share of the sum", one.name, one.share_of_sum, SHARE)
    for name, step in sorted(one.steps.items(), key=lambda pair: pair[1].above.amount):
        yield _money((*key, "steps", name, "above"), "step from", one.name, step.above)
        yield _row((*key, "steps", name, "share"), "share from there", one.name, step.share, SHARE)


def _taxes(price: Price, used: Set[str]) -> Iterator[Input]:
    for place in sorted(used):
        tax = price.taxes[place]
        if tax.one_supply is None and tax.goods == tax.services:
            yield _row(
                ("price", "taxes", place, "goods"), "tax on goods and services", tax.name, tax.goods, SHARE
            )
            continue
        if tax.one_supply != "services":
            yield _row(("price", "taxes", place, "goods"), "tax on goods", tax.name, tax.goods, SHARE)
        if tax.one_supply != "goods":
            yield _row(
                ("price", "taxes", place, "services"), "tax on services", tax.name, tax.services, SHARE
            )
