"""What is bought in wholes is rounded up once for the project, and its cost goes to the rooms by need."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.estimate.takeoff.lines import TakeoffLine, line
from proposal.estimate.takeoff.purchases import Purchase, order_key, purchases, with_shares
from proposal.model.project import Project
from proposal.pipeline import Computed, compute
from tests.design.making import EXAMPLE, PROJECTS, changed, minimal, project_of

D = Decimal
FOLDERS = (EXAMPLE, PROJECTS / "minimal", PROJECTS / "us_customary")


def packed(pack: int, cost: str) -> Project:
    """Return a project whose cable labels cost so much a pack of so many."""
    project = minimal()
    code, entry = next((code, one) for code, one in project.library.labels.items() if one.marks == "cable")
    price = replace(entry.cost, amount=D(cost))
    changes = {"pack_quantity": pack, "unit": "pack", "cost": price}
    return changed(project, ("library", "labels", code), entry.model_copy(update=changes))


def needs(project: Project, *pieces: str, waste: str = "0") -> list[TakeoffLine]:
    """Return a line of labels for each of several rooms."""
    code = next(code for code, one in project.library.labels.items() if one.marks == "cable")
    entry = project.library.entry(code)
    return [
        line(project, "labels", entry, f"R{n}", D(count), D(waste), (f"R{n}-AP1",))
        for n, count in enumerate(pieces, 1)
    ]


@pytest.mark.independent
def test_packs_are_rounded_up_once_and_their_cost_goes_to_the_rooms_by_need() -> None:
    """Rooms need 3, 3 and 1 of a pack of 10 for 10.00: one pack, of which 4.2857, 4.2857 and 1.4286.

    Cents: 4.28, 4.28, 1.42 leave 2; the remainders are 0.571, 0.571 and 0.857: the third and the first get
    one each.
    """
    project = packed(10, "10.00")
    lines = needs(project, "3", "3", "1")
    (bought,) = purchases(project, lines, ())
    assert (bought.need, bought.bought, bought.cost) == (7, 1, D("10.00"))
    shared = with_shares(project, lines, (bought,))
    assert [one.cost for one in shared] == [D("4.29"), D("4.28"), D("1.43")]
    assert [one.quantity for one in shared] == [3, 3, 1]
    # By need alone 3.00, 3.00 and 1.00.
    assert [one.wholes for one in shared] == [D("1.29"), D("1.28"), D("0.43")]


@pytest.mark.independent
def test_waste_is_part_of_the_need_before_it_is_rounded_up() -> None:
    """Ten rooms of one connector and 5 %: 10.5, so 11, and not the 20 of rounding up in each room."""
    project = packed(1, "2.00")
    lines = needs(project, *["1"] * 10, waste="0.05")
    (bought,) = purchases(project, lines, ())
    assert (bought.bought, bought.cost) == (11, D("22.00"))
    assert [one.cost for one in with_shares(project, lines, (bought,))] == [D("2.20")] * 10


@pytest.fixture(scope="module", params=FOLDERS, ids=lambda folder: folder.name)
def computed(request: pytest.FixtureRequest) -> Computed:
    folder: Path = request.param
    return compute(project_of(folder))


def test_the_lines_share_to_the_cent_what_is_bought_for_them(computed: Computed) -> None:
    estimate = computed.estimate
    shared = sum((one.cost for one in estimate.lines if order_key(one)), D(0))
    assert shared == sum((one.cost for one in estimate.purchases), D(0))
    for one in estimate.purchases:
        assert one.bought == one.bought.to_integral_value()
        if "spare" not in one.sold_as:
            assert one.bought * one.pieces >= one.need > 0
            # Not one more than is needed, unless reels are cut.
            assert one.section == "reels" or (one.bought - 1) * one.pieces < one.need


def test_reels_belong_to_the_rooms_whose_cables_are_cut_from_them(computed: Computed) -> None:
    """Each room's metres are what the plan cuts for its cables; what it bears is in proportion to them."""
    room_of = {cable.identity: cable.room for cable in computed.design.cables}
    cut: dict[tuple[str, str], Decimal] = {}
    for order in computed.estimate.reels:
        for reel in order.plan.reels:
            for one in reel.cuts:
                key = (order.model, room_of[one.identity])
                cut[key] = cut.get(key, D(0)) + one.length_m
    lines = {(one.model, one.room): one for one in computed.estimate.lines if one.section == "reels"}
    assert {key: one.quantity for key, one in lines.items()} == cut
    for (model, _), one in lines.items():
        reels: list[Purchase] = [
            bought
            for bought in computed.estimate.purchases
            if (bought.section, bought.model) == ("reels", model)
        ]
        whole = sum((bought.cost for bought in reels), D(0))
        metres = sum((other.quantity for (code, _), other in lines.items() if code == model), D(0))
        assert abs(one.cost - whole * one.quantity / metres) < D("0.01")


def test_what_a_room_is_charged_follows_from_cost_by_the_same_shares(computed: Computed) -> None:
    """The price's lines hold the take-off's costs, and sell what is bought as wholes."""
    lines = {
        (one.kind, one.item, one.room, one.causes): one
        for one in computed.price.lines
        if one.group == "materials"
    }
    for one in computed.estimate.lines:
        if one.section in ("equipment", "accessories"):
            continue
        if computed.project.library.entry(one.model).furnished_by == "owner":
            continue
        priced = lines[one.section, one.model, one.room, one.causes]
        assert priced.cost == one.cost
        assert priced.cost_of_wholes == one.wholes
    by_item: dict[tuple[str, str], Decimal] = {}
    for price in lines.values():
        key = (price.kind, price.item)
        by_item[key] = by_item.get(key, D(0)) + price.price - price.spread
    for (section, model), found in by_item.items():
        if section == "labels":
            (bought,) = [
                one for one in computed.estimate.purchases if (one.section, one.model) == (section, model)
            ]
            rule = next(one for one in lines.values() if (one.kind, one.item) == (section, model))
            if rule.rule == "margin":
                each = (bought.unit_cost / (1 - rule.rule_value)).quantize(D("0.01"), "ROUND_HALF_UP")
                assert found == bought.bought * each


def test_a_room_more_changes_needs_and_nothing_is_bought_for_nobody(computed: Computed) -> None:
    lines = computed.estimate.lines
    without = [one for one in lines if one.section != "labels"]
    left = purchases(computed.project, without, computed.estimate.reels)
    assert {one.section for one in left} == {
        one.section for one in computed.estimate.purchases if one.section != "labels"
    }
    assert [one for one in computed.estimate.purchases if one.section != "labels"] == list(left)
