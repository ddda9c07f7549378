"""Boxes behind outlets, and jacks of panels that come without: counted by hand."""

from decimal import Decimal

import pytest

from proposal.design.equipment.our_duties import BOXES
from proposal.document.making.document import document_of
from proposal.estimate.takeoff.box_lines import boxes_at_a_spot
from proposal.estimate.takeoff.lines import piece_cost
from proposal.model.equipment.materials import Box
from proposal.model.project import FixedDevice, Project
from proposal.model.wording.wording import DutyChange
from proposal.pipeline import Computed, compute
from proposal.quantities.money import Money
from tests.design.making import changed, minimal


def ours(project: Project) -> Project:
    duty = DutyChange(furnish="AV", install="AV")
    return changed(project, "brief.responsibilities.rows", {BOXES[False]: duty, BOXES[True]: duty})


def bought(computed: Computed, *kinds: str) -> dict[tuple[str, str], Decimal]:
    library = computed.project.library
    return {
        (line.room, line.model): line.quantity
        for line in computed.estimate.lines
        if library.entry(line.model).kind in kinds
    }


def boxes(**fields: object) -> dict[str, Box]:
    """Return the table boxes of the library, the one box changed."""
    one = minimal().library.boxes["DR-BX-T2"]
    return {"DR-BX-T2": one.model_copy(update=fields)}


@pytest.mark.pinned
def test_outlets_at_one_spot_share_a_box_and_a_gang_left_over_has_a_blank_plate() -> None:
    # The breakout is placed where the charger is, at (4.0, 1.5) m, and both have an outlet each; the access
    # point has a plug.
    together = changed(ours(minimal()), "fixed.devices", {"B001-BO1": FixedDevice(at=(4.0, 1.5))})
    computed = compute(together)
    ended = [one for one in computed.design.cables if one.start_connector == "outlet"]
    assert sorted(one.start for one in ended) == ["B001-BO1", "B001-CH1"]
    assert bought(computed, "box", "plate") == {("B001", "DR-BX-T2"): 1}
    (line,) = (one for one in computed.labour.lines if one.task == "set a box")
    assert (line.room, line.units) == ("B001", 1)
    # With the charger 1 m away each has its own: two boxes of two gangs, each with one plate for the other.
    away = changed(together, "fixed.devices.B001-CH1", FixedDevice(at=(3.0, 1.5)))
    apart = compute(away)
    assert bought(apart, "box", "plate") == {("B001", "DR-BX-T2"): 2, ("B001", "CC-W0"): 2}
    (line,) = (one for one in apart.labour.lines if one.task == "set a box")
    assert (line.room, line.units) == ("B001", 2)
    exclusions = " ".join(document_of(computed).exclusions)
    assert "Conduit, trays and sleeves." in exclusions
    assert "boxes" not in exclusions.casefold()


def test_boxes_of_others_are_no_line() -> None:
    computed = compute(minimal())
    assert bought(computed, "box", "plate") == {}
    assert not any(one.task == "set a box" for one in computed.labour.lines)
    assert "boxes" in " ".join(document_of(computed).exclusions)


def test_a_box_is_where_the_outlet_is_deep_enough_and_covered_whole() -> None:
    def taken(project: Project) -> set[str]:
        return {model for _, model in bought(compute(ours(project)), "box", "plate")}

    # Four times the outside diameter of the cable: 5.4 mm or thicker, so that 20 mm are too little.
    assert taken(changed(minimal(), "library.boxes", boxes(depth=0.020))) == set()
    assert taken(changed(minimal(), "library.boxes", boxes(place="wall"))) == set()
    assert taken(changed(minimal(), "library.boxes", boxes(gangs=1))) == {"DR-BX-T2"}
    # No plate without openings covers the third gang.
    open_plates = {key: one for key, one in minimal().library.plates.items() if one.openings}
    only = changed(minimal(), "library.boxes", boxes(gangs=3))
    assert taken(changed(only, "library.plates", open_plates)) == set()


@pytest.mark.pinned
def test_a_panel_without_jacks_gets_one_for_every_port() -> None:
    usual = minimal().library.patch_panels["CC-PP24-5"]
    bare = usual.model_copy(
        update={
            "model": "BARE",
            "ports": 10,
            "loaded": False,
            "cost": Money(amount=Decimal(4), currency="EUR"),
        }
    )
    project = changed(minimal(), "library.patch_panels", {"CC-PP24-5": usual, "BARE": bare})
    computed = compute(project)
    # 4.00 and ten jacks of 2.50 are 29.00, less than 47.00 for the panel that has them.
    assert bought(computed, "patch_panel") == {("ER1", "BARE"): 1}
    jacks = {key: count for key, count in bought(computed, "connector").items() if key[0] == "ER1"}
    assert jacks == {("ER1", "CC-J5"): 10}
    dear = bare.model_copy(update={"cost": Money(amount=Decimal(30), currency="EUR")})
    # 30.00 and 25.00 are more.
    other = compute(changed(project, "library.patch_panels", {"CC-PP24-5": usual, "BARE": dear}))
    assert bought(other, "patch_panel") == {("ER1", "CC-PP24-5"): 1}
    none = compute(changed(project, "library.connectors", {}))
    assert bought(none, "patch_panel") == {("ER1", "CC-PP24-5"): 1}


@pytest.mark.independent
@pytest.mark.parametrize("gangs", [(1,), (2,), (3,), (1, 2), (2, 3), (1, 2, 3), (4,)])
@pytest.mark.parametrize("count", range(1, 7))
def test_boxes_of_a_spot_cost_least_of_all_ways_to_share_its_outlets(
    gangs: tuple[int, ...], count: int
) -> None:
    """Every way to part the outlets among boxes, priced by hand with one blank plate a gang left over."""
    prices = {1: 5, 2: 7, 3: 13, 4: 15}
    one = minimal().library.boxes["DR-BX-T2"]
    library = {
        f"BX{n}": one.model_copy(
            update={
                "model": f"BX{n}", "gangs": n, "cost": Money(amount=Decimal(prices[n]), currency="EUR"),
            }
        )
        for n in gangs
    }  # fmt: skip
    project = changed(minimal(), "library.boxes", library)
    blank = piece_cost(project, project.library.plates["CC-W0"])
    (cable, *_) = (c for c in compute(minimal()).design.cables if c.start_connector == "outlet")
    found = boxes_at_a_spot(project, (cable,) * count, "table")

    def cost(parts: tuple[int, ...]) -> Decimal:
        return sum(
            (
                min(prices[n] + (n - part) * blank for n in gangs if n >= part)
                for part in parts
            ),
            Decimal(0),
        )  # fmt: skip

    ways = [parts for parts in partitions(count) if max(parts) <= max(gangs)]
    spent = sum(
        (
            piece_cost(project, box.box)
            + sum(
                (n * piece_cost(project, project.library.plates[m]) for m, n in box.blanks.items()),
                Decimal(0),
            )
            for box in found
        ),
        Decimal(0),
    )
    assert spent == min(cost(parts) for parts in ways)
    assert sum(len(box.cables) for box in found) == count


def partitions(count: int, most: int = 6) -> list[tuple[int, ...]]:
    if not count:
        return [()]
    return [
        (first, *rest)
        for first in range(min(count, most), 0, -1)
        for rest in partitions(count - first, first)
    ]
