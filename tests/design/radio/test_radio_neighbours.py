"""Which links disturb each other, against the formulas of the standards path by path."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from proposal.design.radio.propagation import Surroundings, WallLine
from proposal.design.radio.radio_neighbours import (
    REACH_DB,
    Interference,
    Link,
    interference,
)
from proposal.design.radio.slot_graph import slot_graph
from proposal.design.radio.slot_plan import slot_plan
from proposal.design.radio.synchronisation import InStep, networks, synchronisation_groups
from tests.design.radio_oracle import over_db, path_loss_db

HZ = 1.89e9
STOREYS, FLOORS_M, SLABS_DB = ("L0", "L1", "L2"), (0.0, 4.0, 8.0), (15.0, 15.0, 19.0)
WALLS = (
    WallLine("L0", (10.0, -50.0), (10.0, 50.0), 12.0),
    WallLine("L0", (30.0, -50.0), (30.0, 50.0), 9.0),
    WallLine("L1", (20.0, -50.0), (20.0, 50.0), 12.0),
)


def around(walls: tuple[WallLine, ...] = WALLS) -> Surroundings:
    return Surroundings(
        storeys=STOREYS, floors_m=FLOORS_M, slab_db=SLABS_DB, further_db=4.0, walls=walls,
        frequency_hz=HZ, environment="office",
    )  # fmt: skip


def link(
    name: str, x: float, y: float, storey: int = 0, *, group: str = "building", away_m: float = 3.0
) -> Link:
    z = FLOORS_M[storey]
    return Link(
        identity=f"{name}-M1",
        room=name,
        access_point=f"{name}-AP1",
        group=group,
        microphone_at=(x + away_m, y, z + 0.8),
        access_point_at=(x, y, z + 2.7),
        microphone_dbm=23.0,
        access_point_dbm=25.0,
        access_point_gain_db=2.0,
        up_dbm=-40.0,
        down_dbm=-40.0,
        body_db=8.0,
        ratio_db=20.0,
        slot_pairs=3,
    )


def loss(start: tuple[float, float, float], end: tuple[float, float, float]) -> float:
    return path_loss_db(HZ, start, end, WALLS, STOREYS, FLOORS_M, SLABS_DB, 4.0)


def listed(found: Interference) -> dict[tuple[int, int], tuple[float, float]]:
    return {
        (int(i), int(j)): (float(over[0]), float(over[1]))
        for i, j, over in zip(found.disturbed, found.disturber, found.over_db, strict=True)
    }


places = st.lists(
    st.tuples(
        st.floats(-200, 200), st.floats(-200, 200), st.integers(0, 2), st.sampled_from(["building", "other"])
    ).map(lambda p: (round(p[0], 2) + 0.003, round(p[1], 2) + 0.007, p[2], p[3])),
    min_size=2,
    max_size=7,
)


@pytest.mark.independent
@settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(places)
def test_every_pair_is_as_the_standards_have_it_and_none_is_missed(
    spots: list[tuple[float, float, int, str]],
) -> None:
    links = [link(f"R{n}", x, y, storey, group=group) for n, (x, y, storey, group) in enumerate(spots)]
    found = listed(interference(links, around()))
    for i, disturbed in enumerate(links):
        for j, disturber in enumerate(links):
            if i == j:
                continue
            up, down = over_db(disturbed, disturber, loss)
            if max(up, down) >= -REACH_DB + 1e-6:
                assert (i, j) in found
            if (i, j) in found:
                # what lies beyond reach in one direction is only known to lie there
                for value, expected in zip(found[i, j], (up, down), strict=True):
                    if expected >= -REACH_DB + 1e-6:
                        assert value == pytest.approx(expected, rel=0, abs=1e-6)
                    else:
                        assert value <= -REACH_DB + 1e-6


@pytest.mark.independent
def test_the_loudest_microphone_of_a_room_is_not_missed_beside_quiet_ones() -> None:
    quiet = replace(link("R1", 0.0, 0.0), microphone_dbm=-20.0, access_point_dbm=-20.0)
    loud = replace(quiet, identity="R1-M2", microphone_dbm=23.0)
    far = replace(link("R2", 150.0, 0.0), microphone_dbm=-20.0, access_point_dbm=-20.0)
    links = [quiet, loud, far]
    up, _ = over_db(far, loud, loss_in_the_open)
    assert up > 0
    assert listed(interference(links, around(())))[2, 1][0] == pytest.approx(up, rel=0, abs=1e-6)


def loss_in_the_open(start: tuple[float, float, float], end: tuple[float, float, float]) -> float:
    return path_loss_db(HZ, start, end, (), STOREYS, FLOORS_M, SLABS_DB, 4.0)


def test_links_of_one_access_point_always_exclude_each_other() -> None:
    near, far = link("R1", 0, 0, away_m=1.0), link("R1", 0, 0, away_m=60.0)
    found = interference([near, far], around(()))
    assert found.conflicts() == {(0, 1)}


def test_near_and_far_links_cannot_use_neighbouring_carriers() -> None:
    # The foreign access point is 2.15 m from the microphone: 25 − (38.0 + 6.6) dBm against −40 dBm wanted.
    links = [link("R1", 0, 0), link("R2", 2.0, 0.0)]
    found = interference(links, around(()))
    _, down = listed(found)[0, 1]
    assert down - 20 == pytest.approx(20.4, rel=0, abs=0.1)
    assert found.near_far(1) == {(0, 1)}
    assert found.near_far(2) == set()


def test_other_assumptions_shift_what_is_there() -> None:
    links = [link("R1", 0, 0), link("R2", 40.0, 0.0)]
    found = interference(links, around(()))
    before = listed(found)[0, 1]
    louder = listed(found.shifted(sent_db=np.array([0.0, 3.0])))[0, 1]
    stronger = listed(found.shifted(wanted_db=np.array([8.0, 0.0])))[0, 1]
    stricter = listed(found.shifted(paths_db=5.0))[0, 1]
    assert louder == pytest.approx((before[0] + 3, before[1] + 3))
    assert stronger == pytest.approx((before[0] - 8, before[1] - 8))
    assert stricter == pytest.approx((before[0] + 5, before[1] + 5))
    assert found.shifted(paths_db=5.0).reach_db == REACH_DB - 5


def test_access_points_share_a_frame_as_far_as_the_equipment_can() -> None:
    def box(tag: str, kept: str = "network", by_hand: str = "", size: int = 2) -> InStep:
        return InStep(tag=tag, by_hand=by_hand, kept=kept, size=size)

    boxes = [box(f"AP{n}") for n in range(1, 6)]
    groups = synchronisation_groups(boxes)
    assert list(groups.values()) == ["building 1", "building 1", "building 2", "building 2", "building 3"]
    assert set(synchronisation_groups(boxes[:2]).values()) == {"building"}
    assert synchronisation_groups([box("AP1", "none"), box("AP2", "none")]) == {
        "AP1": "AP1",
        "AP2": "AP2",
    }
    assert synchronisation_groups([box("AP1", by_hand="north", size=8)]) == {"AP1": "north"}


def test_access_points_of_a_room_stay_in_step_where_one_frame_holds_them() -> None:
    """Rooms of 2, 2, 2 and 5 access points, frames of 3: only the room that is too large is parted."""
    rooms = ["A", "A", "B", "B", "C", "C", "D", "D", "D", "D", "D"]
    boxes = [
        InStep(tag=f"{room}-AP{n}", by_hand="", kept="network", size=3, room=room)
        for n, room in enumerate(rooms)
    ]
    numbers = [name.removeprefix("building ") for name in synchronisation_groups(boxes).values()]
    assert numbers == ["1", "1", "2", "2", "3", "3", "3", "4", "4", "4", "5"]


def test_access_points_keep_in_step_with_those_on_their_own_network_alone() -> None:
    joined = networks(
        [
            ("A-AP1", "ER1-SW1"),
            ("B-AP1", "ER2-SW1"),
            ("ER2-SW1", "ER1-SW1"),
            ("C-AP1", "C-BO1"),
            ("C-AP2", "C-BO1"),
            ("D-AP1", "D-BO1"),
        ],
        "ER1-SW1",
    )
    tags = ("A-AP1", "B-AP1", "C-AP1", "C-AP2", "D-AP1")
    boxes = [InStep(tag=tag, by_hand="", kept="network", size=9) for tag in tags]
    groups = synchronisation_groups(boxes, joined)
    assert groups["A-AP1"] == groups["B-AP1"] == "building"
    assert groups["C-AP1"] == groups["C-AP2"]
    assert len({groups["A-AP1"], groups["C-AP1"], groups["D-AP1"]}) == 3
    by_radio = [InStep(tag=tag, by_hand="", kept="radio", size=9) for tag in tags]
    assert set(synchronisation_groups(by_radio, joined).values()) == {"building"}


@pytest.mark.published
def test_two_systems_side_by_side_hold_30_links_together_and_not_31() -> None:
    # common practice: ten carriers, three pairs in a row, systems that are not in step
    def links(count: int) -> list[Link]:
        made = []
        for n in range(count):
            one = link(f"R{n}", 0.5 * n, 0.0, group="ours" if n % 2 else "theirs")
            # far apart in level only so much that every second carrier is not lost too
            made.append(
                Link(**{f: getattr(one, f) for f in one.__slots__} | {"up_dbm": -30.0, "down_dbm": -30.0})
            )
        return made

    def outcome(count: int) -> str:
        found = interference(links(count), around(()))
        assert len(found.conflicts()) == count * (count - 1) // 2
        graph, _ = slot_graph(found, 10, {f"R{n}-AP1": 1 for n in range(count)})
        assert set(graph.lengths) == {4}
        # the rule of neighbouring carriers is another matter
        alone = type(graph)(
            carriers=10, lengths=graph.lengths, access_point=graph.access_point,
            transceivers=graph.transceivers, conflicts=graph.conflicts,
        )  # fmt: skip
        return slot_plan(alone).outcome

    assert outcome(30) == "planned"
    assert outcome(31) == "impossible"
