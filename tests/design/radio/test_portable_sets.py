"""A cart beside a room, far off in the open, and put away: what is on the air in each state.

By hand: free space loses 32.45 + 20·log10(f in MHz) + 20·log10(d in km) dB. The frame: ten carriers of
twelve slot pairs are 120. A link takes 3; beside a system that is out of step with it, one more (in a row),
so that three lie on a carrier: thirty in all. The cart has no cable to the building, so it is out of step.
"""

import math
import re
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from proposal.design.design import Design
from proposal.design.radio.portable_uses import portable_uses
from proposal.design.radio.radio_links import building_surroundings
from proposal.design.radio.radio_plan import planned_links
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.review.rules import findings
from tests.bad_input.projects import GOOD, write_project
from tests.catalogue import with_round_catalogue
from tests.independent import radio
from tests.independent.test_radio_buildings import on_paper_of

pytestmark = pytest.mark.independent

BUILDING = """\
storeys:
  L0: {name: Ground floor, height: 0 m, slab_to_slab: 3.6 m}
equipment_rooms:
  ER1: {name: Equipment cupboard, storey: L0, at: [30 m, 2 m], racks: {RK1: {}}}
portable_sets:
  P1: {}
portable_places:
  B002: {at: [8 m, 2 m], outlet: true}
  meadow: {storey: L0, at: [500 m, 0 m], rotation: 90°, outlet: true}
states:
  away: {}
  beside: {portable: {P1: B002}}
  outdoors: {portable: {P1: meadow}}
"""


def kind(microphones: int, form: str) -> str:
    places = "".join(
        f"  M{n + 1}: {{form: {form}, pattern: cardioid, at: [{1 + 0.4 * (n % 5):.1f} m, "
        f"{1 + 0.5 * (n // 5):.1f} m]}}\n"
        for n in range(microphones)
    )
    return (
        "name: Room\nuse: People talk.\noutline: [[0 m, 0 m], [6 m, 0 m], [6 m, 5 m], [0 m, 5 m]]\n"
        "ceiling: {height: 2.7 m, kind: mineral tile}\ncharging_at: [1.8 m, 0.5 m]\n"
        f"microphones:\n{places}output: breakout\n"
    )


@lru_cache(maxsize=4)
def scene(in_room: int = 20, of_the_set: int = 15, building: str = BUILDING) -> Design:
    files = {
        "project.yaml": GOOD["project.yaml"].replace(", logo: logo.svg", ""),
        "building.yaml": building,
        "rooms.csv": "tag,name,room type,storey,x (m),y (m)\n"
        "B001,One,meeting,L0,1,1\nB002,Two,small,L0,7,1\nP1,Cart,cart,L0,20,1\n",
        "room_types/meeting.yaml": kind(in_room, "boundary"),
        "room_types/small.yaml": kind(1, "boundary"),
        "room_types/cart.yaml": kind(of_the_set, "handheld"),
    }
    with TemporaryDirectory() as folder:
        return design(with_round_catalogue(load_project(write_project(Path(folder), files))))


def test_a_set_is_on_the_air_only_where_a_state_puts_it() -> None:
    found = scene()
    links = {
        one.alike.names: sum(link.kind == "link" for link in one.air.links) for one in found.radio.states
    }
    # 20 and 1 in the rooms, 15 more of the set.
    assert links == {("away",): 21, ("beside",): 36, ("outdoors",): 36}


def test_beside_a_room_its_links_find_no_place_and_far_off_they_do() -> None:
    # Beside: 36 links out of step at four slot pairs are 144 of 120. Far off each side has its own frame.
    found = scene()
    outcome = {one.place: one.outcome for one in portable_uses(found.project, found.radio)}
    assert outcome["meadow"] == "planned"
    assert outcome["B002"] != "planned"
    (said,) = [one for one in findings(found.project, found) if one.rule == "portable-set-not-planned"]
    assert (said.where, said.limit) == ("P1", 15)
    assert said.message.startswith("In the state beside, with P1 in B002 Two, ")
    # Three a carrier are thirty: 21 are taken, so that no more than 9 can ever be planned.
    assert said.value is not None
    assert said.value <= 9


def test_as_many_microphones_as_the_finding_says_do_find_a_place() -> None:
    found = scene(in_room=18)
    (said,) = [one for one in findings(found.project, found) if one.rule == "portable-set-not-planned"]
    assert said.value is not None
    assert 0 < said.value < 15
    assert f"Use {said.value:.0f} of the 15 microphones of P1 there at once" in said.remedy
    fewer = scene(in_room=18, of_the_set=int(said.value))
    assert {one.outcome for one in portable_uses(fewer.project, fewer.radio)} == {"planned"}


def test_outdoors_free_space_is_all_that_a_link_loses() -> None:
    found = scene(of_the_set=2)
    use = next(one for one in portable_uses(found.project, found.radio) if one.place == "meadow")
    # M1 at (1, 1) and 1.2 m high, its access point over the cart at (1.8, 0.5) on a mast of 2 m.
    by_tag = {one.microphone: one for one in use.margins}
    d_m = math.dist((1, 1, 1.2), (1.8, 0.5, 2.0))
    free = 32.45 + 20 * math.log10(building_surroundings(found.project).frequency_hz / 1e6)
    free += 20 * math.log10(d_m / 1000)
    assert by_tag["P1-M1"].distance_m == pytest.approx(d_m, abs=1e-5)
    assert by_tag["P1-M1"].loss_db == pytest.approx(free, abs=1e-3)


def test_in_a_room_a_link_loses_what_the_office_form_says() -> None:
    found = scene(of_the_set=2)
    use = next(one for one in portable_uses(found.project, found.radio) if one.place == "B002")
    d_m = math.dist((1, 1, 1.2), (1.8, 0.5, 2.0))
    office = 20 * math.log10(building_surroundings(found.project).frequency_hz / 1e6)
    office += 30 * math.log10(d_m) - 28
    free = office + 28 + 32.45 - 60 - 10 * math.log10(d_m)
    loss = next(one.loss_db for one in use.margins if one.microphone == "P1-M1")
    assert loss == pytest.approx(max(office, free), abs=1e-3)


def test_a_set_turns_with_its_place() -> None:
    # A quarter turn takes (1, 1) to (-1, 1); the place stands at (500, 0).
    found = scene(of_the_set=2)
    state = next(one for one in found.radio.states if "outdoors" in one.alike.names)
    link = next(one for one in state.air.links if one.identity == "P1-M1")
    assert link.microphone_at == pytest.approx((499, 1, 1.2), abs=1e-5)


def test_the_plan_of_each_state_holds_on_paper() -> None:
    found = scene(in_room=12, of_the_set=5)
    for one in found.radio.states:
        around = building_surroundings(found.project, one.alike.names[0])
        building, links, transceivers = on_paper_of(found, around, planned_links(one.air))
        assert one.air.plan.outcome == "planned"
        assert radio.wrong(building, links, found.radio.carriers, transceivers) == []


def test_the_checker_sees_that_the_plan_for_the_set_put_away_breaks_beside_the_room() -> None:
    found = scene(in_room=12, of_the_set=5)
    beside = next(one for one in found.radio.states if "beside" in one.alike.names)
    building, links, transceivers = on_paper_of(
        found, building_surroundings(found.project, "beside"), planned_links(beside.air)
    )
    first = next(one for one in links if one.name == "B001-M1")
    on_it = [
        radio.Radio(**{**vars(one), "carrier": first.carrier, "slots": first.slots})
        if one.name == "P1-M1"
        else one
        for one in links
    ]
    assert radio.wrong(building, on_it, found.radio.carriers, transceivers)


def test_what_a_set_leaves_behind_counts_as_moved_nowhere() -> None:
    found = scene(in_room=12, of_the_set=5)
    assert found.radio.outcome == "planned"
    from proposal.design.radio.radio_states import moved_from

    assert [len(moved_from(found.radio.air, one.air)) for one in found.radio.states] == [0, 0, 0]


def test_a_set_has_no_walls_of_its_own() -> None:
    with_set = {(wall.start, wall.end) for wall in building_surroundings(scene().project).walls}
    assert not [start for start, _ in with_set if start[0] >= 20]


def test_a_set_is_sent_to_a_place_that_is_written_and_there_it_has_a_plan() -> None:
    # The meadow is 500 m off; the yard lies beside the room, as B002 does, and the shed has no outlet.
    places = BUILDING.replace(
        "  meadow:",
        "  yard: {storey: L0, at: [8 m, 7 m], outlet: true}\n"
        "  shed: {storey: L0, at: [600 m, 0 m], outlet: false}\n  meadow:",
    ).replace("  outdoors: {portable: {P1: meadow}}\n", "")
    found = scene(building=places)
    (lever,) = [one for one in found.radio.levers if one.name == "portable set elsewhere"]
    assert lever.stands == (("P1", "B002 Two", "meadow"),)
    assert lever.missing == 0
    assert found.radio.levers[0] == lever
    (said,) = [one for one in findings(found.project, found) if one.rule == "portable-set-not-planned"]
    assert "; or use P1 in meadow instead of B002 Two." in said.remedy
    moved = scene(
        building=places.replace("beside: {portable: {P1: B002}}", "beside: {portable: {P1: meadow}}")
    )
    assert moved.radio.outcome == "planned"


def test_a_set_without_another_place_is_told_how_much_farther_off_and_there_it_has_a_plan() -> None:
    places = BUILDING.replace("  meadow: {storey: L0, at: [500 m, 0 m], rotation: 90°, outlet: true}\n", "")
    places = places.replace("  outdoors: {portable: {P1: meadow}}\n", "")
    outdoors = places.replace("  B002: {at: [8 m, 2 m]", "  yard: {storey: L0, at: [20 m, 2 m]")
    found = scene(building=outdoors.replace("P1: B002", "P1: yard"))
    assert not [one for one in found.radio.levers if one.name == "portable set elsewhere"]
    (said,) = [one for one in findings(found.project, found) if one.rule == "portable-set-not-planned"]
    told = re.search(r"a place for P1 with (\d+) dB more loss between it and B001 and B002", said.remedy)
    assert told
    (times,) = re.findall(r"\(in the open: (\d+) times as far\)", said.remedy)
    assert int(times) == math.ceil(10 ** (int(told[1]) / 20))
    # From the middle of the room, 4 m east, so many times as far; half as far is too near.
    for share, outcome in ((1.0, "planned"), (0.4, "impossible")):
        east = 4 + share * int(times) * (20 + 6 - 4)
        there = outdoors.replace("[20 m, 2 m]", f"[{east:.0f} m, 2 m]").replace("P1: B002", "P1: yard")
        assert scene(building=there).radio.outcome == outcome


def test_no_wall_is_asked_for_between_a_set_and_the_room_where_it_stands() -> None:
    found = scene()
    (walls,) = [one for one in found.radio.levers if one.name == "more loss"]
    assert walls.without_wall == (("B002", "P1"),)
