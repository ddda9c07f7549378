"""A client who knows the catalogue against projects made by chance: with the rules, and as before them.

This is the short form. The long one, over 200 projects: `.venv/bin/python -m tests.attacker.run 200`.
"""

from pathlib import Path

import pytest

from tests.attacker.acting import RULE
from tests.attacker.generated import Made, made, made_and_acted, made_as_before
from tests.attacker.judging import Judged, judged, recovered, untold
from tests.attacker.knowledge import Claim
from tests.attacker.run import Tally
from tests.long_form import cases

SHORT = range(1, 1 + cases(3))
ACTED = {
    33: {"on request"},
    43: {"before tax"},
    45: {"one tax", "on request"},
    55: {"fewer hours", "on request"},
    56: {"own cost", "own cost of an alternate"},
}
"""Projects whose houses are told of much, and what they did when this was written: nearly every remedy."""


@pytest.fixture(scope="module", params=SHORT)
def one(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Made:
    """A project made by chance, priced with the rules."""
    return made(request.param, tmp_path_factory.mktemp("attacked") / "project")


@pytest.fixture(scope="module")
def claims(one: Made) -> list[Judged]:
    """What all attacks on it claim."""
    return judged(one)


def test_what_the_attacker_finds_out_the_house_was_told_before(one: Made) -> None:
    assert untold(one) == []


def test_nothing_that_prices_share_is_found_out(one: Made, claims: list[Judged]) -> None:
    """Neither what is spread nor a factor behind several prices; hours only where the house was told.

    A house whose conditions add much to the hours of the shared library is told so, and these houses have not
    acted on it. The third of them acts below, by fewer hours, and nothing of it is found out then.
    """
    secrets = {found.claim.secret for found in claims if found.found_out}
    told_of_hours = any(each.kind == "hours" and not each.enough for each in one.disclosed)
    hours = {"hours"} if told_of_hours else set()
    assert secrets <= {"margin", "margin of a difference", "margin of goods"} | hours


def test_what_can_be_claimed_for_certain_holds_the_value(claims: list[Judged]) -> None:
    """The attack that supposes nothing of how prices are made is never wrong: what it leaves open is open."""
    certain = [found for found in claims if found.claim.by == "consistent ranges"]
    assert {found.claim.secret for found in certain} == {"margin", "hours", "spread"}
    assert all(found.held for found in certain)


@pytest.mark.parametrize("number", ACTED)
def test_a_house_that_acts_on_its_findings_is_left_with_none_and_nothing_is_found_out(
    number: int, tmp_path: Path
) -> None:
    """It acts on nothing but what it is told."""
    one, house = made_and_acted(number, tmp_path / "acted")
    assert set(house.done) >= ACTED[number]
    assert [finding for finding in one.findings if finding.rule == RULE] == []
    assert recovered(one) == []


@pytest.mark.parametrize("number", SHORT)
def test_without_the_rules_the_attacker_finds_out_nearly_all(number: int, tmp_path: Path) -> None:
    """Cost by a shared margin, what is spread on every unit price and rate, work by room and phase."""
    one = made_as_before(number, tmp_path / "project")
    secrets = {found.claim.secret for found in recovered(one)}
    assert {"spread", "rule"} <= secrets
    assert {secret for secret in secrets if secret.startswith("hours of ")}


def claimed(low: float, high: float, *, derived: bool, by: str = "guessing") -> Judged:
    """Return a claim about a margin of 0.40, a quarter around which is from 0.30 to 0.50."""
    return Judged(Claim("margin", low, high, by), 0.4, low, high, derived)


def test_a_claim_finds_something_out_where_it_holds_it_closely_and_is_no_guess() -> None:
    assert not claimed(0.3, 0.5, derived=True).found_out
    assert claimed(0.31, 0.9, derived=True).found_out
    assert claimed(0.0, 0.49, derived=True).found_out
    assert not claimed(0.41, 0.42, derived=True).found_out
    assert not claimed(0.31, 0.49, derived=False).found_out
    assert claimed(0.31, 0.49, derived=False).by_accident


def test_guesses_tell_something_where_they_are_right_as_often_as_wrong() -> None:
    """Each of ten projects has a value of its own, which close claims about another's never hold."""
    values = [0.1 * 1.5**number for number in range(10)]
    right, wrong = Tally(), Tally()
    for number, value in enumerate(values):
        other = values[(number + 1) % len(values)]
        for tally, abouts in ((right, (value, other)), (wrong, (value, other, other))):
            claims = [
                Judged(
                    Claim("margin", about * 0.95, about * 1.05, "guessing"),
                    value,
                    about * 0.95,
                    about * 1.05,
                    False,
                )
                for about in abouts
            ]
            tally.add(number, claims)
    assert right.telling() == ["guessing"]
    assert wrong.telling() == right.found_out == []
    # A claim that leaves enough open for some of what it holds looks wide, however near one end is.
    assert claimed(0.31, 0.9, derived=False).by_accident
    assert not claimed(0.31, 0.9, derived=False).looks_narrow
    assert claimed(0.31, 0.51, derived=False).looks_narrow
    assert not claimed(0.3, 0.5, derived=False).looks_narrow
    # Claims about the next project's value hit that of one of the nine others.
    assert wrong.guesses() == {"guessing": (10, 0, 20, pytest.approx(20 / 9))}
