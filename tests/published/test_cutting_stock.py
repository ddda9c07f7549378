"""Published cutting-stock instances, cut by the plan for reels."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.estimate.reels.cut_plan import Run, Stock, cut_plan

pytestmark = pytest.mark.published

with (Path(__file__).parent / "cutting_stock.csv").open(encoding="utf-8", newline="") as file:
    CASES = list(csv.DictReader(file))


@pytest.mark.parametrize("case", CASES, ids=[case["case"] for case in CASES])
def test_a_published_instance_takes_its_published_number_of_rolls(case: dict[str, str]) -> None:
    pairs = zip(case["widths"].split(), case["demands"].split(), strict=True)
    runs = [Run(f"{width}/{n}", float(width), "") for width, count in pairs for n in range(int(count))]
    plan = cut_plan(runs, [Stock("roll", float(case["stock"]), Decimal(1))])
    assert len(plan.reels) == int(case["rolls"])
    assert plan.proven


def test_every_case_names_its_source_and_says_what_is_memory() -> None:
    for case in CASES:
        assert case["source"]
        assert case["memory"] in {"yes", "no"}
