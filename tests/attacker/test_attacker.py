"""A client who knows the catalogue against projects made by chance: with the rules, and as before them.

This is the short form. The long one, over 200 projects: `.venv/bin/python -m tests.attacker.run 200`.
"""

from pathlib import Path

import pytest

from tests.attacker.generated import made, made_as_before
from tests.attacker.judging import judged, recovered, untold

SHORT = range(1, 7)


@pytest.mark.parametrize("number", SHORT)
def test_what_the_attacker_finds_out_the_house_was_told_before(number: int, tmp_path: Path) -> None:
    one = made(number, tmp_path / "project")
    assert untold(one) == []


@pytest.mark.parametrize("number", SHORT)
def test_nothing_that_prices_share_is_found_out(number: int, tmp_path: Path) -> None:
    """Neither what is spread nor hours, nor a factor behind the prices of several things."""
    one = made(number, tmp_path / "project")
    secrets = {found.claim.secret for found in recovered(one)}
    assert secrets <= {"margin", "margin of a difference", "margin of goods"}


@pytest.mark.parametrize("number", SHORT)
def test_what_can_be_claimed_for_certain_holds_the_value(number: int, tmp_path: Path) -> None:
    """The attack that supposes nothing of how prices are made is never wrong: what it leaves open is open."""
    one = made(number, tmp_path / "project")
    certain = [found for found in judged(one) if found.claim.by == "consistent ranges"]
    assert {found.claim.secret for found in certain} == {"margin", "hours", "spread"}
    assert all(found.held for found in certain)


@pytest.mark.parametrize("number", SHORT)
def test_without_the_rules_the_attacker_finds_out_nearly_all(number: int, tmp_path: Path) -> None:
    """Cost by a shared margin, what is spread on every unit price and rate, work by room and phase."""
    one = made_as_before(number, tmp_path / "project")
    secrets = {found.claim.secret for found in recovered(one)}
    assert {"spread", "rule"} <= secrets
    assert {secret for secret in secrets if secret.startswith("hours of ")}
