"""What a price should not rest on is a finding for the house, each saying what to do."""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from proposal.model.equipment.devices import Mount
from proposal.model.equipment.library import layered
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.quantities.money import Money
from proposal.review.finding import HOUSE_RULES, Finding
from proposal.review.supplier_prices import supplier_price_findings
from tests.design.making import changed, designed, minimal
from tests.review.editing import edited

MODEL = next(device.model for device in designed(minimal()).devices if device.kind == "access_point")


def found(**values: Any) -> list[Finding]:
    """Return the findings of the minimal project with the access point's entry changed."""
    project = minimal()
    entry = project.library.entry(MODEL).model_copy(update=values)
    project = changed(project, ("library", "access_points", MODEL), entry)
    computed = compute(project)
    return list(supplier_price_findings(project, computed.price))


def euros(amount: str) -> Money:
    return Money(Decimal(amount), "EUR")


DAY = minimal().brief.revision.date


@pytest.mark.independent
@pytest.mark.parametrize(
    ("values", "rules"),
    [
        ({}, []),
        ({"cost": euros("0.00")}, ["price-zero"]),
        ({"list_price": euros("0.00")}, ["price-zero"]),
        ({"cost": euros("100.00"), "list_price": euros("99.99")}, ["cost-above-list"]),
        ({"cost": euros("99.99"), "list_price": euros("99.99")}, []),
        ({"prices_hold_until": DAY - datetime.timedelta(days=1)}, ["price-expired"]),
        # The proposal holds for 90 days.
        ({"prices_hold_until": DAY}, ["price-expires"]),
        ({"prices_hold_until": DAY + datetime.timedelta(days=89)}, ["price-expires"]),
        ({"prices_hold_until": DAY + datetime.timedelta(days=90)}, []),
        ({"awaited": ("cost",)}, ["price-awaited"]),
    ],
)
def test_a_figure_that_is_wrong_is_one_finding_with_what_to_do(
    values: Mapping[str, Any], rules: list[str]
) -> None:
    told = found(**values)
    assert [one.rule for one in told] == rules
    assert all(one.where == MODEL and one.remedy for one in told)
    assert {one.rule for one in told} <= set(HOUSE_RULES)


@pytest.mark.independent
@pytest.mark.parametrize(
    ("stated", "rules"),
    [("0 EUR", ["price-zero"]), ("100000 EUR", ["selling-above-list"]), ("1000 EUR", [])],
)
def test_a_stated_price_is_neither_zero_nor_above_the_list(stated: str, rules: list[str]) -> None:
    project = changed(minimal(), "brief.price.selling", {MODEL: Money.read(stated)})
    assert [one.rule for one in supplier_price_findings(project, compute(project).price)] == rules


def test_an_unknown_cost_keeps_that_of_the_library_below_and_says_so(tmp_path: Path) -> None:
    """A price on request chooses no other equipment; the shared library's cost of this mount is its last."""
    text = "source: editable default (invented)\nmounts:\n  Q43976: {cost: unknown}\n"
    folder = edited(tmp_path / "project", "minimal", {})
    before = load_project(folder).library.entry("Q43976")
    (folder / "library").mkdir(exist_ok=True)
    (folder / "library" / "quotes.yaml").write_text(text, encoding="utf-8")
    project = load_project(folder)
    entry = project.library.entry("Q43976")
    assert (entry.cost, entry.list_price) == (before.cost, before.list_price)
    assert before.cost != before.list_price
    assert entry.awaited == ("cost",)
    (told,) = supplier_price_findings(project, compute(project).price)
    assert told.rule == "price-awaited"
    assert f"the last one known, {before.cost}" in told.message


@pytest.mark.parametrize(
    ("files", "cost", "awaited"),
    [
        ([{"cost": "unknown", "list_price": "9 EUR"}], "9 EUR", ("cost",)),
        ([{"cost": "7 EUR", "list_price": "9 EUR"}, {"cost": "unknown"}], "7 EUR", ("cost",)),
        ([{"cost": "7 EUR", "list_price": "9 EUR"}, {"cost": "unknown"}, {"cost": "8 EUR"}], "8 EUR", ()),
        ([{"cost": "unknown", "list_price": "9 EUR"}, {"list_price": "10 EUR"}], "10 EUR", ("cost",)),
        (
            [{"cost": "7 EUR", "list_price": "9 EUR"}, {"cost": "unknown"}, {"list_price": "unknown"}],
            "7 EUR",
            ("cost", "list_price"),
        ),
    ],
)
def test_what_stands_in_for_an_awaited_price_is_the_last_one_known(
    files: list[dict[str, str]], cost: str, awaited: tuple[str, ...]
) -> None:
    whole = minimal().library.entry("Q43976").model_dump(exclude={"cost", "list_price", "layer", "awaited"})
    first = {**whole, **files[0]}
    laid = layered([("company", {"mounts": {"Q43976": one}}) for one in (first, *files[1:])])
    entry = Mount.model_validate(laid["mounts"]["Q43976"])
    assert (str(entry.cost), entry.awaited) == (cost, awaited)


def test_each_figure_that_an_entry_says_is_awaited_is_a_finding_of_its_own() -> None:
    awaited = [one for one in found(awaited=("cost", "list_price")) if one.rule == "price-awaited"]
    assert [one.message.split(" of ")[0] for one in awaited] == ["The cost", "The list price"]


def test_a_price_that_two_files_of_the_project_give_is_told_with_both_places(tmp_path: Path) -> None:
    folder = edited(tmp_path / "project", "minimal", {})
    (folder / "library").mkdir(exist_ok=True)
    for name, cost in (("a", "23.00"), ("b", "22.00")):
        text = f"mounts:\n  Q43976: {{cost: {cost} EUR}}\n"
        (folder / "library" / f"{name}.yaml").write_text(text, encoding="utf-8")
    project = load_project(folder)
    (told,) = supplier_price_findings(project, compute(project).price)
    assert (told.rule, told.where) == ("price-given-twice", "Q43976")
    assert "in library/a.yaml:2:18 and in library/b.yaml:2:18; the last counts" in told.message
    assert str(told.place) == "library/b.yaml:2:18"
    assert project.library.entry("Q43976").cost == euros("22.00")
    (folder / "library" / "b.yaml").unlink()
    project = load_project(folder)
    assert list(supplier_price_findings(project, compute(project).price)) == []


def test_what_a_suppliers_list_leaves_out_is_missing(tmp_path: Path) -> None:
    folder = edited(tmp_path / "project", "minimal", {})
    (folder / "library").mkdir(exist_ok=True)
    ours = folder / "library" / "list.yaml"
    kind, other = "access_points", "Q43976"
    text = (
        f"{kind}:\n  {MODEL}: {{supplier: Anytown Wholesale, priced_on: 2031-04-01}}\n"
        f"mounts:\n  {other}: {{supplier: Anytown Wholesale}}\n"
    )
    ours.write_text(text, encoding="utf-8")
    project = load_project(folder)
    (told,) = supplier_price_findings(project, compute(project).price)
    assert (told.rule, told.where) == ("price-missing", other)
    assert "is from no price list or quote of Anytown Wholesale, while other prices are." in told.message
    ours.write_text(text.replace("Wholesale}", "Wholesale, priced_on: 2031-04-01}"), encoding="utf-8")
    project = load_project(folder)
    assert list(supplier_price_findings(project, compute(project).price)) == []
