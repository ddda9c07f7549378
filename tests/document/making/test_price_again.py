"""What reads no difference is not computed again, and the price is that of everything computed again."""

import gc
import statistics
from collections import Counter
from pathlib import Path
from time import process_time
from typing import Any

import pytest

from proposal.document.making.price_again import PriceAgain
from proposal.document.making.sensitivity import SIDES, Case, cases_of, price_of
from proposal.model.loading import load_source
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed, compute
from tests.long_form import LONG

ROOT = Path(__file__).resolve().parents[3]
PROJECTS = {
    "minimal": ROOT / "tests" / "projects" / "minimal",
    "example": ROOT / "example_project",
}
EVERY = {"minimal": 1, "example": 1 if LONG else 27}
"""Of how many cases one is tried."""
MOST_OF_A_CASE_OF_MONEY = 0.4


@pytest.fixture(scope="module", params=PROJECTS)
def varied(request: pytest.FixtureRequest) -> tuple[ProjectSource, list[Case]]:
    source = load_source(PROJECTS[request.param])
    return source, list(cases_of(source.base)[:: EVERY[request.param]])


def test_every_case_has_the_price_of_everything_computed_again(
    varied: tuple[ProjectSource, list[Case]],
) -> None:
    source, cases = varied
    base, again = compute(source.base), PriceAgain(source.base)
    wrong = [
        (case.path, side)
        for case in cases
        for side in SIDES
        if price_of(source, base, case, side, again) != price_of(source, base, case, side)
    ]
    assert wrong == []


def test_a_case_of_money_computes_money_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    source = load_source(PROJECTS["minimal"])
    base, again = compute(source.base), PriceAgain(source.base)
    done: Counter[str] = Counter()

    def counted(name: str, function: Any) -> Any:
        def counting(*arguments: Any, **named: Any) -> Any:
            done[name] += 1
            return function(*arguments, **named)

        return counting

    for place, name in (
        ("proposal.document.making.price_again", "compute"),
        ("proposal.estimate.takeoff_and_reels", "estimate"),
        ("proposal.estimate.labour.labour", "labour_estimate"),
        ("proposal.estimate.price.price", "whole_price"),
    ):
        module = __import__(place, fromlist=[name])
        monkeypatch.setattr(module, name, counted(name, getattr(module, name)))
    by_path = {case.path: case for case in cases_of(source.base)}

    def computed_for(*path: str) -> dict[str, int]:
        done.clear()
        price_of(source, base, by_path[path], "upper", again)
        return dict(done)

    assert computed_for("labour", "rates", next(iter(source.base.labour.trades))) == {"whole_price": 1}
    assert computed_for("labour", "hours", "commissioning") == {
        "labour_estimate": 1,
        "whole_price": 1,
    }
    assert computed_for("project", "rules", "takeoff", "spoilage") == {
        "estimate": 1,
        "labour_estimate": 1,
        "whole_price": 1,
    }
    # No price waits for what microphones hear, and no length of a cable follows from it.
    assert computed_for("project", "rules", "radio", "spread") == {}
    assert computed_for("project", "rules", "cabling", "rack_slack") == {
        "compute": 1,
        "estimate": 1,
        "labour_estimate": 1,
        "whole_price": 1,
    }


def test_no_design_holds_on_to_what_only_money_is_made_of() -> None:
    """Were it so, a design that is used again would read the values of another project."""
    source = load_source(PROJECTS["example"])
    computed: Computed = compute(source.base)
    design = computed.design
    _ = design.days, design.radio, design.flows, design.mutes, design.runs_outside
    brief = source.base.brief
    kept_apart = [brief.price, brief.programme, brief.rules.takeoff, brief.labour, source.base.labour]
    wanted = {id(one) for one in kept_apart}
    projects = {id(source.base), id(design.project)}
    seen: set[int] = set()
    left: list[Any] = [value for name, value in vars(design).items() if name != "project"]
    while left:
        one = left.pop()
        if id(one) in seen or id(one) in projects or isinstance(one, type):
            continue
        seen.add(id(one))
        assert id(one) not in wanted, type(one).__name__
        if type(one).__module__.startswith("proposal") or isinstance(
            one, dict | list | tuple | set | frozenset
        ):
            left += gc.get_referents(one)


def test_a_case_of_money_takes_less_than_half_of_take_off_labour_and_price() -> None:
    """Measured in turn, in processor time: 0.32 on an example of ten trades; a quarter more fails.

    A third of the trades is varied: what a case takes is the same for each.
    """
    source = load_source(PROJECTS["example"])
    base, again = compute(source.base), PriceAgain(source.base)
    cases = [case for case in cases_of(source.base) if case.path[:2] == ("labour", "rates")][::3]

    def seconds(how: PriceAgain | None) -> float:
        begun = process_time()
        for case in cases:
            price_of(source, base, case, "lower", how)
        return process_time() - begun

    seconds(None), seconds(again)
    ratio = statistics.median(seconds(again) / seconds(None) for _ in range(7))
    assert ratio <= MOST_OF_A_CASE_OF_MONEY, f"{ratio:.2f} of everything after the design"
