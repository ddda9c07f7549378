"""What the house is told to do so that a client cannot work out so much: small cases on paper."""

from decimal import Decimal

import pytest

from proposal.pipeline import Computed
from proposal.review.disclosure import Disclosed, Remedy
from proposal.review.finding import Finding
from proposal.review.received import Part, Received
from tests.review.test_disclosure import (
    GOODS,
    WORK,
    known_rates,
    of_two_alternates,
    own_rates,
    own_rates_at,
    part,
    state,
)

D = Decimal
EXTRA = part("stated", "X 500", "360", "500")
OPEN_BELOW = 1 - 1 / 2.56
"""How much less than it is a sum may cost for all that a client knows: hours and rates by 1.6 each."""
STEPS = 1.25
"""By how much the least that is named may lie above the least there is: it is looked for in steps."""


def asked(one: Computed, base: Received, *others: Received) -> tuple[Disclosed, ...]:
    """Return what is found out of a price put in the place of a project's own; nothing of it is kept."""
    vars(one)["received"] = base
    vars(one).pop("_disclosures", None)
    try:
        return one.disclosed(others)
    finally:
        vars(one).pop("received")
        vars(one).pop("_disclosures", None)


def told(one: Computed, base: Received, *others: Received) -> list[Finding]:
    found = one.house_findings(asked(one, base, *others))
    return [each for each in found if each.rule == "client-can-compute"]


def remedies(found: tuple[Disclosed, ...], about: str) -> dict[str, Remedy]:
    """Return what is proposed against the one secret that is about something, by its way."""
    (secret,) = [one for one in found if one.about == about]
    return {one.way: one for one in secret.remedies}


def handling(amount: Decimal | str) -> Part:
    return part("surcharge", "handling", str(amount), str(amount), kind="services")


@pytest.mark.independent
def test_a_sum_for_a_change_is_named_that_is_enough_and_not_much_more() -> None:
    """500.00 for goods of 360.00 earn 140.00, a quarter of which is 35.00: 35.00 / 0.609 are 57.43."""
    base = state("", GOODS, WORK)
    found = remedies(asked(own_rates(), base, state("more", GOODS, EXTRA, WORK)), "more")
    amount = found["own cost"].amount
    assert amount is not None
    assert 35 / OPEN_BELOW <= float(amount) <= 35 / OPEN_BELOW * STEPS
    assert found["own cost"].alternate == "more"
    assert not told(own_rates(), base, state("more", GOODS, EXTRA, WORK, handling(amount)))
    assert told(own_rates(), base, state("more", GOODS, EXTRA, WORK, handling("56.00")))


@pytest.mark.independent
def test_a_sum_is_named_that_opens_the_difference_of_two_alternates() -> None:
    """The margin of 32.5 % on 800.00 may be 26.2 %, and is to be 24.4 %.

    A sum x widens the price to 800 + x and the cost by up to 2.56 · x. 260 / (800 + x) · 0.75 is at least
    (440 + x - 230.40 - 2.56 · x) / (800 + x) where 195 ≥ 209.60 - 1.56 · x: from 9.36 on. Above,
    1.25 · 260 is at most 440 + x - 70.31 - x / 2.56 for any x.
    """
    named = remedies(asked(own_rates_at("30"), *of_two_alternates(("10", "20", "23"))), "two less one")
    amount = named["own cost"].amount
    assert amount is not None
    assert named["own cost"].alternate == "two"
    assert 9.36 <= float(amount) <= 9.36 * STEPS
    assert not told(own_rates_at("30"), *of_two_alternates(("10", "20", "23"), str(amount)))
    assert told(own_rates_at("30"), *of_two_alternates(("10", "20", "23"), "9.30"))


def test_without_its_price_an_alternate_tells_nothing() -> None:
    base = state("", GOODS, WORK)
    found = remedies(asked(own_rates(), base, state("more", GOODS, EXTRA, WORK)), "more")
    assert found["on request"].alternate == "more"
    assert not told(own_rates(), base)


def test_what_was_sent_before_is_not_proposed_to_be_changed() -> None:
    """Revision A had one thing more: nothing can be done but let revision B hold costs of its own."""
    base = state("", GOODS, EXTRA, WORK)
    sent = state("A", GOODS, WORK).model_copy(update={"state": "revision", "label": "revision A"})
    found = remedies(asked(own_rates(), base, sent), "the change since revision A")
    assert set(found) == {"own cost", "own cost of goods"}
    own = found["own cost"]
    assert own.alternate == ""
    assert own.amount is not None
    assert not told(own_rates(), state("", GOODS, EXTRA, WORK, handling(own.amount)), sent)


@pytest.mark.independent
def test_goods_taxed_apart_are_to_be_taxed_as_one_or_to_hold_a_sum_taxed_like_them() -> None:
    """1,000.00 of goods earn 280.00, a quarter of which is 70.00: 70.00 / 0.609 are 114.87."""
    base = state("", GOODS, WORK, by_kind=True)
    found = remedies(asked(own_rates(), base), "what is taxed as goods")
    assert "one tax" in found
    own = found["own cost"]
    assert own.tax_kind == "goods"
    assert own.amount is not None
    assert 70 / OPEN_BELOW <= float(own.amount) <= 70 / OPEN_BELOW * STEPS
    sum_of_goods = part("surcharge", "own", str(own.amount), str(own.amount), kind="goods")
    # The rule of the goods needs more of it still, which the finding names.
    with_it = asked(own_rates(), state("", GOODS, WORK, sum_of_goods, by_kind=True))
    assert [one.about for one in with_it if not one.enough] == ["margin by rule"]
    assert not told(own_rates(), state("", GOODS, WORK))


def test_one_tax_is_not_proposed_where_goods_and_work_are_taxed_alike_already() -> None:
    exempt = part("stated", "Y 500", "360", "500", kind="exempt")
    work = WORK.model_copy(update={"tax_kind": "goods"})
    found = asked(own_rates(), state("", GOODS, work, exempt, by_kind=True))
    assert "one tax" not in remedies(found, "what is taxed as exempt")


@pytest.mark.independent
def test_rates_or_hours_of_the_house_alone_are_not_proposed_where_they_do_not_help() -> None:
    """Of 480.00 a quarter are 120.00. Work costs 300.00: off by 1.6 it is 112.50 less, off by 2.56 182.80."""
    found = remedies(asked(known_rates(), state("", GOODS, WORK)), "the whole price")
    assert "own rates" not in found
    assert "own hours" not in found
    assert "own rates and hours" in found
    dearer = part("work", "installer", "330", "530", "10", "services")
    found = remedies(asked(known_rates(), state("", GOODS, dearer)), "the whole price")
    assert "own rates" in found  # of 480.00 again, and work of 330.00 is 123.75 less
    assert "own rates and hours" not in found


def test_costs_of_goods_of_the_house_are_proposed_only_where_they_are_enough() -> None:
    """Goods of 720.00 may cost 144.00 less, were their cost not public: enough for 480.00, not for 640.00."""
    found = remedies(asked(known_rates(), state("", GOODS, WORK)), "the whole price")
    assert found["own cost of goods"].amount == 720
    dear = part("rule", "margin 0.4", "720", "1200")
    found = remedies(asked(known_rates(), state("", dear, WORK)), "the whole price")
    assert "own cost of goods" not in found


def test_listed_prices_that_give_what_is_spread_away_are_to_be_told_less_finely() -> None:
    """An alternate of one more listed thing tells its spread, for nothing else is in what it adds."""
    spread = Part(sort="spread", name="", tax_kind="services", cost=D(50), price=D(75))
    more = Part(sort="spread", name="", tax_kind="services", cost=D(70), price=D(100))
    goods = part("stated", "X 500", "720", "1000")
    twice = part("stated", "X 500", "1080", "1500")
    base = state("", goods, WORK, spread, listed=("X 500",))
    alternate = state("more", twice, WORK, more, listed=("X 500",))
    found = remedies(asked(own_rates(), base, alternate), "what is spread")
    assert {"less detail", "own cost", "on request"} <= set(found)
    plain = state("", goods, WORK, spread), state("more", twice, WORK, more)
    assert all(one.enough for one in asked(own_rates(), *plain) if one.kind == "spread")


def test_too_much_that_is_spread_is_to_be_a_sum_of_the_house_in_part() -> None:
    """A client takes 15 % for the most: of more than 12 % less than a quarter is left open above."""
    much = Part(sort="spread", name="", tax_kind="services", cost=D(150), price=D(210))
    found = remedies(asked(own_rates(), state("", GOODS, WORK, much)), "what is spread")
    amount = found["less spread"].amount
    assert amount is not None
    # 180.00 of 1,500.00 are 12 %; what is taken off is part of what the rest comes to.
    assert 26 <= amount <= 40


def test_a_finding_says_what_to_write_where_and_how_much() -> None:
    base = state("", GOODS, WORK)
    (finding,) = told(own_rates(), base, state("more", GOODS, EXTRA, WORK))
    assert finding.where == "more"
    assert "`price: on request` in alternates/more.yaml" in finding.remedy
    assert "EUR under `changes.project.price.surcharges.more` in alternates/more.yaml" in finding.remedy
    assert finding.remedy.endswith("Or accept that this much is known (`accepted_findings`).")


def test_a_finding_that_nothing_helps_against_says_so() -> None:
    secret = Disclosed(kind="spread", about="what is spread", value=0.1, low=0.1, high=0.1, enough=False)
    (finding,) = own_rates().house_findings((secret,))
    assert "Nothing that is still to be sent keeps what is spread open." in finding.remedy
