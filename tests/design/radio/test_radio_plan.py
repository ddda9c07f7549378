"""Radio over a whole building: the example's plan, checked path by path and slot by slot."""

import math
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from proposal.design.calculations import calculations
from proposal.design.design import Design
from proposal.design.equipment.placed_devices import in_building, to_own
from proposal.design.radio.propagation import WallLine
from proposal.design.radio.radio_links import building_surroundings, radio_links
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.model.radio.radio import BandUser, BuildingRadio
from proposal.standards.dect import ADJACENT_CARRIER_TOLERANCE_DB
from tests.catalogue import with_round_catalogue
from tests.design import radio_checker
from tests.design.radio_oracle import over_db, path_loss_db

ROOT = Path(__file__).resolve().parents[3]


@cache
def example() -> tuple[Project, Design]:
    project = load_project(ROOT / "example_project")
    return project, design(project)


def changed(project: Project, **layout: object) -> Project:
    """Return a project whose first room type and its rooms have another layout."""
    name = next(iter(project.room_types))
    kind = project.room_types[name].model_copy(update=layout)
    rooms = {
        tag: room.model_copy(update={"layout": kind}) if room.type == name else room
        for tag, room in project.rooms.items()
    }
    return project.model_copy(update={"room_types": {**project.room_types, name: kind}, "rooms": rooms})


@cache
def minimal() -> Project:
    return load_project(ROOT / "tests" / "projects" / "minimal")


@pytest.mark.independent
def test_the_plan_of_the_example_passes_the_checker_with_levels_computed_path_by_path() -> None:
    project, made = example()
    around = building_surroundings(project)
    links = [planned.link for planned in made.radio.planned]
    assert made.radio.outcome == "planned"
    assert len([link for link in links if link.kind == "link"]) == 69

    @cache
    def loss(start: tuple[float, float, float], end: tuple[float, float, float]) -> float:
        if end < start:
            return loss(end, start)
        return path_loss_db(
            around.frequency_hz, start, end, around.walls, around.storeys, around.floors_m, around.slab_db,
            around.further_db,
        )  # fmt: skip

    over = {}
    for i, j in combinations(range(len(links)), 2):
        for a, b in ((i, j), (j, i)):
            if links[a].kind != "other":
                over[a, b] = over_db(links[a], links[b], loss)
    conflicts: set[tuple[int, int]] = set()
    near_far: dict[int, set[tuple[int, int]]] = {away: set() for away in ADJACENT_CARRIER_TOLERANCE_DB}
    for (disturbed, disturber), levels in over.items():
        pair = (min(disturbed, disturber), max(disturbed, disturber))
        if max(levels) >= 0:
            conflicts.add(pair)
        for away, tolerance in ADJACENT_CARRIER_TOLERANCE_DB.items():
            if max(levels) - links[disturbed].ratio_db > tolerance:
                near_far[away].add(pair)
    assert near_far[1]
    for i, j in combinations(range(len(links)), 2):
        if links[i].access_point == links[j].access_point:
            conflicts.add((i, j))
    tags = sorted({link.access_point for link in links if link.kind != "other"})
    usual = {"link": 3, "bearer": 1, "other": 1}
    assert (
        radio_checker.wrong(
            carriers=10,
            lengths=[len(planned.slots) for planned in made.radio.planned],
            cells=[
                None if planned.carrier is None else (planned.carrier, planned.slots[0])
                for planned in made.radio.planned
            ],
            conflicts=conflicts,
            near_far=near_far,
            apart=set(),
            access_point=[tags.index(link.access_point) if link.kind != "other" else -1 for link in links],
            transceivers=[made.entries[tag].radio.transceivers for tag in tags],  # type: ignore[attr-defined]
            over_db=over,
            # What it blocks for a system out of step takes no transceiver of its access point.
            uses=[usual[planned.link.kind] for planned in made.radio.planned],
        )
        == []
    )
    # A link in conflict with one that is not in step keeps the slot pairs it blocks for it: three and one.
    for n, planned in enumerate(made.radio.planned):
        sliding = any(n in pair and links[pair[0]].group != links[pair[1]].group for pair in conflicts)
        assert len(planned.slots) == usual[planned.link.kind] + sliding


def test_a_microphone_is_received_as_worked_by_hand() -> None:
    # Minimal room: placed over the middle, 0.8 m beside each microphone, 2.7 − 0.75 m above: 2.108 m.
    # P.1238 at 1889.568 MHz: 65.53 + 30·log10(2.108) − 28 = 47.24 dB; free space loses less, 44.46 dB.
    # 23 dBm + 0 dB + 2 dB − 47.24 dB − 8 dB = −30.24 dBm against −83 dBm + 10 dB.
    made = design(with_round_catalogue(minimal()))
    (first, _) = made.radio.margins
    assert first.distance_m == pytest.approx(2.108, rel=0, abs=0.0005)
    assert first.loss_db == pytest.approx(47.24, rel=0, abs=0.01)
    assert first.received_dbm == pytest.approx(-30.24, rel=0, abs=0.01)
    assert first.margin_db == pytest.approx(42.76, rel=0, abs=0.01)
    assert (first.second, first.second_db) == ("", None)


def test_the_power_setting_of_a_room_is_the_highest_of_the_equipment_that_is_not_above_it() -> None:
    project = with_round_catalogue(minimal())
    layout = next(iter(project.room_types.values()))
    full = design(project).radio.margins[0].received_dbm
    lower = changed(project, radio=layout.radio.model_copy(update={"power": 18.0}))
    assert design(lower).radio.margins[0].received_dbm == pytest.approx(full - 6, rel=0, abs=1e-9)


def test_what_could_be_added_and_the_spare_of_a_neighbourhood_are_told() -> None:
    _, made = example()
    radio = made.radio
    chamber = next(one for one in radio.neighbourhoods if one.rooms == ("A001",))
    # 31 links of three pairs, and no bearer besides, for all access points carry traffic: 93 of 120; nine
    # more links of three fit into 27.
    assert (chamber.links, chamber.bearers, chamber.wanted, chamber.held) == (31, 0, 93, 120)
    assert chamber.spare_links == 9
    further = {room.room: room.further for room in radio.rooms}
    assert all(0 <= count <= 40 for count in further.values())
    assert further["A001"] <= chamber.spare_links


def test_pairs_that_cannot_use_neighbouring_carriers_are_named() -> None:
    _, made = example()
    links = made.radio.air.links
    near = made.radio.air.graph.near[1]
    owner = made.radio.air.owner
    for room in made.radio.rooms:
        own = [n for n, number in enumerate(owner) if links[number].room == room.room]
        pairs = {
            frozenset({links[owner[a]].identity, links[owner[b]].identity})
            for a in own
            for b in own
            if b in near[a].tolist()
        }
        assert room.near_far == len(pairs)
        assert len(room.near_far_named) == min(6, len(pairs))
        assert {frozenset(named.split(" and ")) for named in room.near_far_named} <= pairs


def test_the_sensitivity_names_every_assumption_that_the_outcome_rests_on() -> None:
    _, made = example()
    cases = {case.name: case for case in made.radio.cases.all}
    assert set(cases) == {
        "as designed", "interference stronger", "interference weaker", "one power setting lower",
        "no body loss",
    }  # fmt: skip
    designed = cases["as designed"].worst_margin_db
    assert designed is not None
    # the equipment's settings are 3 dB apart, and bodies take 8 dB
    assert cases["one power setting lower"].worst_margin_db == pytest.approx(designed - 3, rel=0, abs=1e-9)
    assert cases["no body loss"].worst_margin_db == pytest.approx(designed + 8, rel=0, abs=1e-9)


def test_another_user_of_the_band_takes_part_and_is_not_judged() -> None:
    project, made = example()
    others = [planned for planned in made.radio.planned if planned.link.kind == "other"]
    assert len(others) == project.building.radio.other_users["U1"].links == 6
    assert all(planned.carrier is not None and planned.clear_db is None for planned in others)


def test_spares_that_keep_a_link_take_free_channels() -> None:
    project = minimal()
    linked = changed(project, spares_paired=True)
    made = design(linked)
    names = [margin.microphone for margin in made.radio.margins]
    assert names == ["B001-M1", "B001-M2", "B001-MS1"]


def test_a_point_of_the_building_is_found_again_in_the_room() -> None:
    project, _ = example()
    for room in project.rooms.values():
        mirrored = room.model_copy(update={"mirrored": True, "rotation": 37.0})
        for one in (room, mirrored):
            assert to_own(one, in_building(one, (3.2, 1.7))) == pytest.approx((3.2, 1.7), rel=0, abs=2e-5)


def test_an_access_point_outside_its_room_is_reached_through_the_wall() -> None:
    project = changed(minimal(), access_points_at={"AP1": (7.0, 2.5)})
    made = design(project)
    around = building_surroundings(project)
    assert any(isinstance(wall, WallLine) for wall in around.walls)
    links = radio_links(project, made.devices, made.entries, made.channels.linked)
    near = next(margin for margin in links.margins if margin.microphone == "B001-M2")
    free_db = 38.0 + 20 * math.log10(near.distance_m)
    assert near.loss_db >= free_db + 3 - 0.1


def test_what_a_space_holds_beside_a_system_out_of_step_is_worked_out_where_there_is_one() -> None:
    def titles(project: Project) -> set[str]:
        return {noted.working.title for noted in calculations(design(project)) if noted.chapter == "Radio"}

    beside = "Links in one space beside an unsynchronised system"
    alone = minimal()
    assert beside not in titles(alone)
    user = BandUser(name="Telephones", storey="L0", at=(2.0, 2.0), links=1)
    radio = BuildingRadio(other_users={"U1": user})
    building = alone.building.model_copy(update={"radio": radio})
    assert beside in titles(alone.model_copy(update={"building": building}))
