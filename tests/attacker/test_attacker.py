"""A client who knows the catalogue against projects made by chance: with the rules, and as before them.

This is the short form. The long one, over 200 projects: `.venv/bin/python -m tests.attacker.run 200`.
"""

from pathlib import Path

import pytest

from tests.attacker.generated import Made, made, made_as_before
from tests.attacker.judging import Judged, judged, recovered, untold

SHORT = range(1, 7)


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


def test_nothing_that_prices_share_is_found_out(claims: list[Judged]) -> None:
    """Neither what is spread nor hours, nor a factor behind the prices of several things."""
    secrets = {found.claim.secret for found in claims if found.found_out}
    assert secrets <= {"margin", "margin of a difference", "margin of goods"}


def test_what_can_be_claimed_for_certain_holds_the_value(claims: list[Judged]) -> None:
    """The attack that supposes nothing of how prices are made is never wrong: what it leaves open is open."""
    certain = [found for found in claims if found.claim.by == "consistent ranges"]
    assert {found.claim.secret for found in certain} == {"margin", "hours", "spread"}
    assert all(found.held for found in certain)


@pytest.mark.parametrize("number", SHORT)
def test_without_the_rules_the_attacker_finds_out_nearly_all(number: int, tmp_path: Path) -> None:
    """Cost by a shared margin, what is spread on every unit price and rate, work by room and phase."""
    one = made_as_before(number, tmp_path / "project")
    secrets = {found.claim.secret for found in recovered(one)}
    assert {"spread", "rule"} <= secrets
    assert {secret for secret in secrets if secret.startswith("hours of ")}
