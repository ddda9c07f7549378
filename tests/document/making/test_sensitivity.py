"""What moves the price: each case against the same project with the value written into its files."""

import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.document.making.sensitivity import (
    SIDES,
    Case,
    cases_of,
    in_a_file,
    price_of,
    scaled,
    sensitivity_of,
)
from proposal.errors import InputError
from proposal.model.loading import load_project, load_source
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed, compute

ROOT = Path(__file__).resolve().parents[3]
MINIMAL = ROOT / "tests" / "projects" / "minimal"
NOTHING = Decimal(0)


@pytest.fixture(scope="module")
def source() -> ProjectSource:
    return load_source(MINIMAL)


@pytest.fixture(scope="module")
def base(source: ProjectSource) -> Computed:
    return compute(source.base)


def tried(
    source: ProjectSource, base: Computed, cases: tuple[Case, ...]
) -> list[tuple[Case, Decimal | str, Decimal | str]]:
    return [
        (case, price_of(source, base, case, "lower"), price_of(source, base, case, "upper")) for case in cases
    ]


def written(folder: Path, case: Case, text: str) -> Path:
    """Return a copy of the project with a value written into the file that it belongs to."""
    shutil.copytree(MINIMAL, folder)
    keys = [str(key) for key in case.path]
    if keys[0] == "room_types":
        file, keys = folder / "room_types" / f"{keys[1]}.yaml", keys[2:]
    else:
        file, keys = folder / f"{keys[0]}.yaml", keys[1:]
    nested = f"{keys[-1]}: {text}"
    for key in reversed(keys[:-1]):
        nested = f"{key}: {{{nested}}}"
    file.write_text(file.read_text("utf-8") + nested + "\n", "utf-8")
    return folder


@pytest.mark.independent
def test_ranking_and_prices_are_those_of_edited_files(
    source: ProjectSource, base: Computed, tmp_path: Path
) -> None:
    # What can be appended to a file: assumptions whose first key does not stand in it yet.
    cases = tuple(
        case
        for case in cases_of(source.base)
        if case.path[0] == "room_types"
        or case.path[:3] in (("project", "rules", "cabling"), ("project", "rules", "takeoff"))
    )
    assert len(cases) >= 12
    price = base.price.whole.price
    found = sensitivity_of(price, tried(source, base, cases))
    brute: dict[tuple[str, str], Decimal] = {}
    for n, case in enumerate(cases):
        moved = [NOTHING]
        for side in SIDES:
            value = case.value(side)
            if value is None:
                continue
            folder = written(tmp_path / f"{n}-{side}", case, in_a_file(value, case.row.kind))
            try:
                moved.append(abs(compute(load_project(folder)).price.whole.price - price))
            except InputError:  # not possible: it moves nothing
                continue
        brute[case.row.number, case.row.title] = max(moved)
    ranked = sorted(brute.values(), reverse=True)
    rows = {(row.number, row.title): row for row in found.rows}
    assert len(rows) + len(found.fixed) == len(cases)
    for key, row in rows.items():
        prices = [one for one in (row.lower_price, row.upper_price) if one is not None]
        assert max(abs(one - price) for one in prices) == brute[key], key
    shown = [
        max(abs(one - price) for one in (row.lower_price, row.upper_price) if one is not None)
        for row in found.rows
    ]
    assert shown == ranked[: len(shown)]
    assert shown[0] > 0


def test_a_value_that_the_input_refuses_is_not_possible_and_says_why(
    source: ProjectSource, base: Computed
) -> None:
    gauge = next(case for case in cases_of(source.base) if case.path[-1] == "cord_gauge")
    routing = next(case for case in cases_of(source.base) if case.path[-1] == "routing_factor")
    found = sensitivity_of(base.price.whole.price, tried(source, base, (gauge, routing)))
    assert [row.title for row in found.fixed] == [gauge.row.title]
    assert found.fixed[0].lower_problem == "wanted one of 24, 26, 28; found 23"
    assert found.rows[0].lower_problem == "wanted at least 1.0; found 0.8"
    assert found.rows[0].upper_price is not None


def test_the_rule_by_kind_of_value(source: ProjectSource) -> None:
    by_name = {case.path[-1]: case.row for case in cases_of(source.base) if case.path[0] == "project"}
    assert (by_name["rack_height"].lower, by_name["rack_height"].upper) == (0.8, 1.2)  # a quantity, 1 m
    assert (by_name["cord_gauge"].lower, by_name["cord_gauge"].upper) == (23.0, 25.0)  # a whole number
    assert (by_name["spoilage"].lower, by_name["spoilage"].upper) == (0.056, 0.084)  # a share of 7 %
    assert (by_name["full_at_start"].lower, by_name["full_at_start"].upper) == (0.8, None)  # all already
    assert (by_name["price_pathways"].lower, by_name["price_pathways"].upper) == (None, True)


@pytest.mark.parametrize(
    ("value", "kind", "text"),
    [
        (2.4, "length", "2.4 m"),
        (0.056, "fraction", "5.6 %"),
        (True, "", "yes"),
        (25.0, "", "25"),
        (8.0, "level", "8 dB"),
        (0.4, "warming", "0.4"),  # written plainly, told in K·m/W
    ],
)
def test_a_value_is_written_as_files_have_it(value: float | bool, kind: str, text: str) -> None:
    assert in_a_file(value, kind) == text


def test_hours_and_rates_move_the_price_by_what_they_are_scaled(
    source: ProjectSource, base: Computed
) -> None:
    labour = source.base.labour
    dearer = scaled(labour, ("labour", "rates", "programmer"), Decimal("1.2"))
    assert dearer.trades["programmer"].cost.amount == labour.trades["programmer"].cost.amount * Decimal("1.2")
    assert dearer.trades["installer"] == labour.trades["installer"]
    longer = scaled(labour, ("labour", "hours", "first fix"), Decimal("0.8"))
    for key, task in labour.tasks.items():
        if task.phase == "first fix" and task.hours is not None:
            assert longer.tasks[key].hours == task.hours * Decimal("0.8")
        else:
            assert longer.tasks[key] == task
