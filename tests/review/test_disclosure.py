"""How far margin, spread and hours stay open to a client: small cases on paper, and the example."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from proposal.document.making.proposal import combinations_of, combined
from proposal.estimate.labour.labour import hours_by
from proposal.model.labour.labour import Labour
from proposal.model.loading import load_source
from proposal.pipeline import Computed, compute
from proposal.quantities.money import Money
from proposal.review.client_knowledge import Known
from proposal.review.disclosure import Disclosed
from proposal.review.received import Part, Received
from tests.estimate.labour.test_labour import EXAMPLE, MINIMAL, ROOT, computed

D = Decimal


def part(sort: Any, name: str, cost: str, price: str, hours: str = "0", kind: str = "goods") -> Part:
    return Part(sort=sort, name=name, tax_kind=kind, cost=D(cost), price=D(price), hours=D(hours))


def state(
    key: str,
    *parts: Part,
    by_kind: bool = False,
    listed: tuple[str, ...] = (),
    library_hours: dict[str, Decimal] | None = None,
) -> Received:
    return Received(
        key=key,
        label=key or "base",
        state="alternate" if key else "base",
        price=sum((one.price for one in parts), D(0)),
        step=D("0.01"),
        by_kind=by_kind,
        listed=listed,
        parts=parts,
        library_hours=library_hours,
    )


def known_rates(folder: str = MINIMAL) -> Computed:
    """Return a project whose hours, rates and crews are those of the shared library.

    A quarter below and above has to stay open, which is what the cases are worked out for on paper.
    """
    one = computed(folder)
    knowledge = one.project.client_knowledge
    assert knowledge is not None
    quarter = knowledge.least_range.model_copy(update={"share": 0.25})
    known = knowledge.model_copy(update={"least_range": quarter})
    return Computed(project=one.project.model_copy(update={"client_knowledge": known}), design=one.design)


def own_rates() -> Computed:
    """Return the minimal project with rates, hours and crews of its own."""
    one = known_rates()
    trades = {
        key: trade.model_copy(update={"layer": "project"}) for key, trade in one.project.labour.trades.items()
    }
    tasks = {
        key: task.model_copy(update={"layer": "project"}) for key, task in one.project.labour.tasks.items()
    }
    labour = one.project.labour.model_copy(update={"trades": trades, "tasks": tasks})
    project = one.project.model_copy(update={"labour": labour})
    return Computed(project=project, design=one.design)


def own_rates_at(cost: str) -> Computed:
    """Return the same project where an installer's hour costs the same sum by the library and by the house.

    cost: of an hour, in the project's currency.
    """
    one = own_rates()

    def at_that_cost(labour: Labour) -> Labour:
        installer = labour.trades["installer"]
        money = Money(D(cost), installer.cost.currency)
        trades = {**labour.trades, "installer": installer.model_copy(update={"cost": money})}
        return labour.model_copy(update={"trades": trades})

    changed = {name: at_that_cost(getattr(one.project, name)) for name in ("labour", "usual_labour")}
    return Computed(project=one.project.model_copy(update=changed), design=one.design)


def disclosed(one: Computed, base: Received, *others: Received) -> dict[tuple[str, str], Disclosed]:
    # The project is shared by tests, and keeps what it found with prices of another one.
    vars(one)["received"] = base
    vars(one).pop("_disclosures", None)
    try:
        return {(each.kind, each.about): each for each in one.disclosed(others)}
    finally:
        vars(one).pop("received")
        vars(one).pop("_disclosures", None)


GOODS = part("rule", "margin 0.28", "720", "1000")
WORK = part("work", "installer", "300", "500", "10", "services")


@pytest.mark.independent
def test_with_public_hours_and_rates_the_margin_is_known() -> None:
    """1,500.00 less 720.00 and 300.00 are 480.00, 32 %; at a known rate 1,000.00 are left for 720.00."""
    found = disclosed(known_rates(), state("", GOODS, WORK))
    whole = found["margin", "the whole price"]
    assert (whole.value, whole.low, whole.high) == pytest.approx((0.32, 0.32, 0.32))
    rule = found["rule", "margin by rule"]
    assert (rule.low, rule.high) == pytest.approx((0.28, 0.28), abs=1e-4)
    assert found["hours", "all hours"].low == pytest.approx(10)
    assert not any(one.enough for one in found.values())


@pytest.mark.independent
def test_with_hours_and_rates_of_the_house_they_stay_open() -> None:
    """Work costs 300.00 / 2.56 to 300.00 · 2.56, by factors of 1.6 on hours and on rates."""
    found = disclosed(own_rates(), state("", GOODS, WORK))
    whole = found["margin", "the whole price"]
    assert whole.high == pytest.approx((1500 - 720 - 300 / 2.56) / 1500)
    assert whole.low == pytest.approx((1500 - 720 - 300 * 2.56) / 1500)
    hours = found["hours", "all hours"]
    assert (hours.low, hours.high) == pytest.approx((10 / 1.6, 16))
    # The price of work lies between 500.00 / 2.56 and 1,280.00, and goods are not sold below 720.00.
    rule = found["rule", "margin by rule"]
    assert rule.low == pytest.approx(0, abs=1e-6)
    assert rule.high == pytest.approx(1 - 720 / (1500 - 500 / 2.56), abs=1e-4)
    assert rule.enough
    assert hours.enough


@pytest.mark.independent
def test_hours_and_rates_lie_around_what_the_library_says() -> None:
    """8 h by the library are 5 to 12.8 h, for a house that takes 10 h: 0.5 to 1.28 times as many."""
    one = own_rates()
    lines = tuple(replace(line, charged_hours=line.charged_hours * D("0.8")) for line in one.labour.lines)
    travel = tuple(replace(row, hours=row.hours * D("0.8")) for row in one.labour.travel)
    usual = replace(one.labour, lines=lines, travel=travel)
    trades = {
        key: trade.model_copy(update={"cost": Money(trade.cost.amount * D("0.8"), trade.cost.currency)})
        for key, trade in one.project.usual_labour.trades.items()
    }
    project = one.project.model_copy(
        update={"usual_labour": one.project.usual_labour.model_copy(update={"trades": trades})}
    )
    known = Known.of(project, one.labour, dict(hours_by(usual, "trade")))
    assert known is not None
    spans = [*known.hours.values(), *known.rates.values()]
    assert len(spans) > len(trades)
    assert spans == [pytest.approx((0.5, 1.28))] * len(spans)


def test_figures_far_from_the_library_are_among_what_is_possible() -> None:
    one = own_rates()
    lines = tuple(replace(line, charged_hours=line.charged_hours * 2) for line in one.labour.lines)
    travel = tuple(replace(row, hours=row.hours * 2) for row in one.labour.travel)
    ours = replace(one.labour, lines=lines, travel=travel)
    known = Known.of(one.project, ours, dict(hours_by(one.labour, "trade")))
    assert known is not None
    spans = list(known.hours.values())
    assert spans == [pytest.approx((0.3125, 1.0))] * len(spans)


@pytest.mark.independent
def test_an_alternate_without_work_gives_the_rule_away() -> None:
    """360.00 more of cost make 500.00 more of price: 28 % to the cent, however dear work is."""
    more = part("rule", "margin 0.28", "1080", "1500")
    found = disclosed(own_rates(), state("", GOODS, WORK), state("more", more, WORK))
    rule = found["rule", "margin by rule"]
    assert (rule.low, rule.high) == pytest.approx((0.28, 0.28), abs=1e-3)
    assert not rule.enough
    gained = found["margin", "more"]
    assert (gained.value, gained.low, gained.high) == pytest.approx((0.28, 0.28, 0.28))


def of_two_alternates(library: tuple[str, str, str], handling: str = "0") -> tuple[Received, ...]:
    """Return a base and two alternates; the second has 6 h and something of 360.00 for 500.00 more.

    library: hours of the shared library for each of the three.
    handling: cost and price of a sum of the house's own in the second.
    """
    goods, extra = part("stated", "X 1000", "720", "1000"), part("stated", "Y 500", "360", "500")
    sums = (part("surcharge", "handling", handling, handling, kind="services"),) if handling != "0" else ()
    parts = (
        (goods, part("work", "installer", "300", "500", "10", "services")),
        (goods, part("work", "installer", "600", "1000", "20", "services")),
        (goods, extra, part("work", "installer", "780", "1300", "26", "services"), *sums),
    )
    return tuple(
        state(key, *each, library_hours={"installer": D(hours)})
        for key, each, hours in zip(("", "one", "two"), parts, library, strict=True)
    )


@pytest.mark.independent
def test_what_two_alternates_differ_by_lies_around_the_hours_of_the_library() -> None:
    """They differ by 800.00, of which 360.00 and 6 h at 30.00 are cost: 260.00 are 32.5 %.

    By the library it is 3 h, so that the client takes their cost to be from 90.00 / 2.56 to 90.00 · 2.56,
    and the margin from (440.00 - 230.40) / 800.00. A quarter below 32.5 % would be 24.4 %. Each alternate by
    itself leaves enough open: its own hours are those of the library, or nearly so. Taken as the house's 6 h
    they may cost from 70.31 to 460.80, which would leave enough open.
    """
    found = disclosed(own_rates_at("30"), *of_two_alternates(("10", "20", "23")))
    between = found["margin", "two less one"]
    assert between.value == pytest.approx(0.325)
    assert between.low == pytest.approx((440 - 230.4) / 800)
    assert between.high == pytest.approx((440 - 180 / 2.56) / 800)
    assert not between.enough
    assert [about for (_, about), one in found.items() if not one.enough] == ["two less one"]
    assert ("margin", "two less one") not in disclosed(
        own_rates_at("30"), *of_two_alternates(("10", "20", "26"))
    )


@pytest.mark.independent
def test_a_client_allows_for_no_premium_on_the_hours_of_the_library() -> None:
    """10 h at 30.00 cost at most 300.00 · 2.56; the house paid 30.00 more of overtime for them."""
    goods, work = part("stated", "X 1000", "720", "1000"), part("work", "installer", "330", "500", "10")
    base = state("", goods, work, library_hours={"installer": D(10)})
    whole = disclosed(own_rates_at("30"), base)["margin", "the whole price"]
    assert whole.value == pytest.approx(0.3)
    assert whole.low == pytest.approx((1500 - 720 - 300 * 2.56) / 1500)
    assert whole.high == pytest.approx((1500 - 720 - 330 / 2.56) / 1500)


@pytest.mark.independent
def test_a_client_who_is_misled_by_the_library_has_no_more_than_the_value() -> None:
    """20 h more by the library cost from 234.38, where the house's 6 h cost 180.00."""
    between = disclosed(own_rates_at("30"), *of_two_alternates(("10", "20", "40")))["margin", "two less one"]
    assert between.high == pytest.approx(0.325)
    assert not between.enough


def test_a_record_without_the_librarys_hours_bounds_by_the_hours_of_the_house() -> None:
    base, one, two = of_two_alternates(("10", "20", "23"))
    old = one.model_copy(update={"library_hours": None})
    assert ("margin", "two less one") not in disclosed(own_rates_at("30"), base, old, two)


def test_prices_of_their_own_give_no_rule_away() -> None:
    """The same alternate of a model with its own price tells the margin on itself alone."""
    goods = part("rule", "margin 0.28", "720", "1000")
    extra = part("stated", "X 500", "360", "500")
    found = disclosed(own_rates(), state("", goods, WORK), state("more", goods, extra, WORK))
    assert found["rule", "margin by rule"].enough
    assert not found["margin", "more"].enough


@pytest.mark.independent
def test_taxes_of_two_rates_tell_the_margin_on_goods() -> None:
    found = disclosed(own_rates(), state("", GOODS, WORK, by_kind=True))
    goods = found["margin", "what is taxed as goods"]
    assert (goods.value, goods.low, goods.high) == pytest.approx((0.28, 0.28, 0.28))
    assert found["margin", "what is taxed as services"].enough


def test_what_is_spread_stays_open_up_to_what_a_client_takes_for_the_most() -> None:
    spread = Part(sort="spread", name="", tax_kind="goods", cost=D(30), price=D(45))
    found = disclosed(own_rates(), state("", GOODS, WORK, spread))["spread", "what is spread"]
    assert found.value == pytest.approx(0.03)
    assert (found.low, found.high) == pytest.approx((0, 0.15))
    assert found.enough


def test_days_of_a_crew_that_is_known_bound_the_hours() -> None:
    """One drafter of the shared library works two days of eight hours: more than 8 h and at most 16 h.

    Five sheets at 2.5 h are 12.5 h, so that 60 % more than that would be 20 h.
    """
    one = own_rates()
    trades = dict(one.project.labour.trades)
    trades["drafter"] = trades["drafter"].model_copy(update={"layer": "shared"})
    tasks = dict(one.project.labour.tasks)
    tasks["draw a sheet"] = tasks["draw a sheet"].model_copy(update={"hours": D("2.5")})
    labour = one.project.labour.model_copy(update={"trades": trades, "tasks": tasks})
    project = one.project.model_copy(update={"labour": labour})
    with_days = Computed(project=project, design=one.design)
    (task,) = (each for each in with_days.programme.tasks if each.kind == "drafting")
    ((trade, people, hours),) = task.crew
    assert (trade, people, task.days, hours) == ("drafter", 1, 2, D("12.5"))
    drawn = state("", GOODS, part("work", "drafter", "600", "1000", str(hours)))
    whole = disclosed(with_days, drawn)["hours", "all hours"]
    # What the price tells besides may bound them further from above.
    assert whole.low == pytest.approx(8, rel=1e-6)
    assert 12.5 - 1e-6 <= whole.high <= 16 + 1e-6
    labour = labour.model_copy(update={"trades": one.project.labour.trades})
    unknown = Computed(project=project.model_copy(update={"labour": labour}), design=one.design)
    without = disclosed(unknown, drawn)["hours", "all hours"]
    assert without.low < 8 or without.high > 16


def test_the_example_leaves_open_what_it_does_not_accept() -> None:
    source = load_source(ROOT / EXAMPLE)
    base = compute(source.base)
    together = [combined(source, chosen).received for chosen in combinations_of(source.open)[1:]]
    rows = base.disclosed([one for one in together if one is not None])
    accepted = source.base.brief.accepted_findings.values()
    told = {one.where for one in accepted if one.rule == "client-can-compute"} & {row.key for row in rows}
    assert {row.key for row in rows if not row.enough} == told != set()
    kinds = {(row.kind, row.about) for row in rows if row.enough}
    assert {("margin", "the whole price"), ("spread", "what is spread"), ("hours", "all hours")} <= kinds
    findings = base.house_findings(rows)
    assert {one.where for one in findings} == told
    assert all(one.rule == "client-can-compute" and one.accepted is not None for one in findings)
