"""What one space holds by the formula of the frame, idle access points, listening, plans of some links."""

import math
from dataclasses import replace

import pytest

from proposal.design.number_register import design_numbers
from proposal.design.radio.air_arithmetic import neighbourhoods
from proposal.design.radio.air_plan import AirPlan, air_plan, only
from proposal.design.radio.propagation import Surroundings
from proposal.design.radio.radio_links import radio_links
from proposal.design.radio.radio_neighbours import Link, interference
from proposal.design.whole_design import design
from proposal.model.project import FixedRoom, Project
from proposal.standards.dect import listening_threshold_dbm
from tests.catalogue import LARGE_AP, SMALL_AP, with_round_catalogue
from tests.design.radio.test_radio_plan import changed, minimal

OPEN = Surroundings(
    storeys=("L0",), floors_m=(0.0,), slab_db=(15.0,), further_db=4.0, walls=(), frequency_hz=1.925e9,
    environment="office",
)  # fmt: skip


def link(number: int, x: float, **more: object) -> Link:
    """Return a link of a room of its own, 1 m wide, received at −40 dBm both ways."""
    values: dict[str, object] = {
        "identity": f"R{number}-M1",
        "room": f"R{number}",
        "access_point": f"R{number}-AP1",
        "group": "building",
        "microphone_at": (x, 1.0, 0.8),
        "access_point_at": (x, 2.0, 2.7),
        "microphone_dbm": 20.0,
        "access_point_dbm": 20.0,
        "up_dbm": -40.0,
        "down_dbm": -40.0,
        "ratio_db": 20.0,
        "slot_pairs": 3,
    }
    return Link(**(values | more))  # type: ignore[arg-type]  # a shorthand of the tests


def planned(links: list[Link], carriers: int, transceivers: int = 12) -> AirPlan:
    return air_plan(
        interference(links, OPEN), carriers, {one.access_point: transceivers for one in links}, {}
    )


def one_space(count: int, slot_pairs: int, *, one_carrier: bool) -> list[Link]:
    """Return links that all hear each other alike: none is near or far."""
    return [
        link(n, 0.0, slot_pairs=slot_pairs, one_carrier=one_carrier, up_dbm=-18.0, down_dbm=-18.0)
        for n in range(count)
    ]


@pytest.mark.published
@pytest.mark.parametrize("carriers", [5, 10])
@pytest.mark.parametrize("slot_pairs", [1, 2, 3, 4, 5, 6])
@pytest.mark.parametrize("one_carrier", [True, False])
def test_one_space_holds_what_the_frame_holds_and_not_one_link_more(
    carriers: int, slot_pairs: int, one_carrier: bool
) -> None:
    # ETSI EN 300 175-2: twelve duplex pairs a carrier; links that may spread fill the rest of each one too
    held = carriers * (12 // slot_pairs) if one_carrier else carriers * 12 // slot_pairs
    full = planned(one_space(held, slot_pairs, one_carrier=one_carrier), carriers)
    assert full.plan.outcome == "planned"
    assert len(full.cells) == held
    beyond = planned(one_space(held + 1, slot_pairs, one_carrier=one_carrier), carriers)
    assert beyond.plan.outcome == "impossible"
    (too_full,) = [one for one in neighbourhoods(beyond) if one.over]
    assert too_full.over_links == 1
    assert too_full.wanted == (held + 1) * slot_pairs


@pytest.mark.published
@pytest.mark.parametrize(("margin_db", "threshold_dbm"), [(30, -82.5), (50, -62.5)])
def test_the_thresholds_of_listening_at_full_power(margin_db: float, threshold_dbm: float) -> None:
    # 47 CFR 15.323(c): at an emission bandwidth of 1.4 MHz and 20.7 dBm, as a certification report gives them
    found = listening_threshold_dbm(1.4e6, 20.7, margin_db)
    assert found == pytest.approx(threshold_dbm, rel=0, abs=0.05)


def test_a_microphone_refused_by_what_it_hears_does_not_share_a_place() -> None:
    # 30 m apart free space loses 67.7 dB: 20 − 67.7 = −47.7 dBm at a microphone that tolerates −40 − 20 + 30.
    loud = {"up_dbm": -10.0, "down_dbm": -10.0}
    apart = [link(0, 0.0, **loud), link(1, 30.0, **loud)]
    assert planned(apart, 1).disturbance.conflicts() == set()
    listening = [replace(one, refused_dbm=-62.5) for one in apart]
    there = planned(listening, 1)
    assert there.disturbance.conflicts() == {(0, 1)}
    cells = there.cells
    assert cells["R0-M1"][0].slot != cells["R1-M1"][0].slot
    # A quarter of a mile apart it hears −70.4 dBm, under the threshold.
    far = [replace(one, refused_dbm=-62.5) for one in (link(0, 0.0, **loud), link(1, 400.0, **loud))]
    assert planned(far, 1).disturbance.conflicts() == set()


@pytest.mark.parametrize(("initiated_by", "pairs"), [("microphone", set()), ("access_point", {(0, 1)})])
def test_the_end_that_asks_for_a_place_is_the_one_that_listens(
    initiated_by: str, pairs: set[tuple[int, int]]
) -> None:
    # The access points hang 30 m apart and hear each other at −47.7 dBm, above −62.5; their microphones are
    # 400 m and more from all others, and hear them at −70.2 dBm or less.
    places = [((0.0, 0, 1), (400.0, 0, 1)), ((1000.0, 0, 1), (430.0, 0, 1))]
    links = [
        link(n, 0.0, microphone_at=one, access_point_at=box, up_dbm=-10.0, down_dbm=-10.0, refused_dbm=-62.5,
             initiated_by=initiated_by)
        for n, (one, box) in enumerate(places)
    ]  # fmt: skip
    assert planned(links, 1).disturbance.conflicts() == pairs


def test_a_microphone_moves_to_a_quieter_place_that_is_free() -> None:
    # 400 m apart both may lie anywhere; as each hears the other at −70.4 dBm, above −82.5, they part.
    listening = [link(n, 400.0 * n, refused_dbm=-62.5, up_dbm=-10.0, down_dbm=-10.0) for n in range(2)]
    one, other = (planned(listening, 1).cells[f"R{n}-M1"][0] for n in range(2))
    assert (one.carrier, one.slot) != (other.carrier, other.slot)


def test_a_plan_is_made_of_some_links_alone() -> None:
    links = one_space(21, 3, one_carrier=True)
    disturbance = interference(links, OPEN)
    tuned = {one.access_point: 12 for one in links}
    assert air_plan(disturbance, 5, tuned, {}).plan.outcome == "impossible"
    some = air_plan(only(disturbance, range(1, 21)), 5, tuned, {})
    assert some.plan.outcome == "planned"
    assert set(some.cells) == {f"R{n}-M1" for n in range(1, 21)}


def sized(project: Project, **access_points: int) -> Project:
    """Return the small project with a system of round numbers, and these access points by hand."""
    round_one = with_round_catalogue(project)
    models = {"small": SMALL_AP, "large": LARGE_AP}
    by_hand = {models[name]: count for name, count in access_points.items()}
    fixed = round_one.fixed.model_copy(update={"rooms": {"B001": FixedRoom(access_points=by_hand)}})
    return round_one.model_copy(update={"fixed": fixed})


def test_an_access_point_keeps_a_bearer_only_while_it_carries_no_traffic() -> None:
    project = sized(changed(minimal(), access_points_at={"AP1": (1.0, 2.5), "AP2": (5.0, 2.5)}), small=2)
    made = design(project)
    busy = radio_links(project, made.devices, made.entries, {"B001-M1": "B001-AP1", "B001-M2": "B001-AP2"})
    assert [one.kind for one in busy.links] == ["link", "link"]
    idle = radio_links(project, made.devices, made.entries, {"B001-M1": "B001-AP1", "B001-M2": "B001-AP1"})
    (bearer,) = [one for one in idle.links if one.kind == "bearer"]
    assert (bearer.access_point, bearer.slot_pairs) == ("B001-AP2", 1)
    assert math.isinf(bearer.refused_dbm)


def test_an_access_point_added_by_hand_moves_no_issued_one_and_swaps_no_microphones() -> None:
    first = sized(minimal(), small=1)
    issued = design_numbers(design(first))
    (hung,) = [one for one in design(first).devices if one.kind == "access_point"]
    # A second one in the far corner, beside the issued one, which no position is written for.
    added = sized(changed(minimal(), access_points_at={"AP2": (5.5, 0.5)}), small=2)
    now = design(added.model_copy(update={"issued": issued}))
    boxes = {one.code: one for one in now.devices if one.kind == "access_point"}
    assert boxes["AP1"].at == hung.at
    assert boxes["AP1"].serves == hung.serves
    assert boxes["AP2"].serves == ()
