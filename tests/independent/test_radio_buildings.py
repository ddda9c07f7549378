"""Generated buildings of both regions, empty to over-full, judged by a checker that shares no code with ours.

The suite takes a few of them; `PROPOSAL_LONG_TESTS=10` takes forty buildings of 25 rooms. With `-s` it tells
outcome, steps and time of each.
"""

import time
from collections.abc import Collection, Sequence
from itertools import combinations

import pytest

from proposal.design.design import Design
from proposal.design.radio.propagation import Surroundings
from proposal.design.radio.radio_links import building_surroundings
from proposal.design.radio.radio_plan import PlannedLink
from proposal.model.equipment.devices import AccessPoint
from proposal.review.rules import findings
from tests.independent import radio
from tests.long_form import LONG
from tests.radio_buildings import made

SHORT = (1, 3, 18, 37)
ALL = range(40)
ROOMS = 25
MOST_SECONDS = 5.0


def on_paper(design: Design) -> tuple[radio.Building, list[radio.Radio], dict[str, int]]:
    return on_paper_of(design, building_surroundings(design.project), design.radio.planned)


def on_paper_of(
    design: Design, around: Surroundings, planned: Sequence[PlannedLink], outdoors: Collection[str] = ()
) -> tuple[radio.Building, list[radio.Radio], dict[str, int]]:
    """Return a building in one of its states, with links where a plan puts them, for the checker.

    outdoors: tags of portable sets that stand outdoors in that state.
    """
    number = {tag: n for n, tag in enumerate(around.storeys)}
    building = radio.Building(
        hz=around.frequency_hz,
        floors_m=around.floors_m,
        slabs_db=around.slab_db,
        further_db=around.further_db,
        walls=tuple(
            radio.Wall(storey=number[wall.storey], start=wall.start, end=wall.end, loss_db=wall.loss_db)
            for wall in around.walls
        ),
    )
    links = [
        radio.Radio(
            name=one.link.identity,
            access_point=one.link.access_point,
            group=one.link.group,
            judged=one.link.kind != "other",
            microphone=one.link.microphone_at,
            box=one.link.access_point_at,
            microphone_dbm=one.link.microphone_dbm,
            box_dbm=one.link.access_point_dbm,
            microphone_gain_db=one.link.microphone_gain_db,
            box_gain_db=one.link.access_point_gain_db,
            body_db=one.link.body_db,
            ratio_db=one.link.ratio_db,
            refused_dbm=one.link.refused_dbm,
            asks=one.link.initiated_by,
            carrier=one.carrier,
            slots=one.slots,
            tuned=one.link.slot_pairs,
            one_carrier=one.link.one_carrier,
            further=one.further,
            outdoors=one.link.room in outdoors,
        )
        for one in planned
    ]
    transceivers = {
        tag: entry.radio.transceivers
        for tag, entry in design.entries.items()
        if isinstance(entry, AccessPoint)
    }
    return building, links, transceivers


@pytest.mark.independent
@pytest.mark.parametrize("seed", ALL if LONG else SHORT)
def test_every_plan_holds_on_paper_and_every_impossible_one_is_shown_by_its_sum(seed: int) -> None:
    began = time.process_time()
    design = made(seed, ROOMS)
    said = findings(design.project, design)
    seconds = time.process_time() - began
    outcome = design.radio.outcome
    print(
        f"building {seed}: {outcome}, {design.radio.air.plan.steps} steps, {seconds:.1f} s of processor time"
    )
    building, links, transceivers = on_paper(design)
    if outcome == "planned":
        assert radio.wrong(building, links, design.radio.carriers, transceivers) == []
    elif outcome == "impossible":
        _shown(design, building, {link.name: link for link in links})
        assert any(one.rule in ("radio-impossible", "transceivers-short") for one in said)
    else:
        assert any(one.rule == "radio-not-settled" for one in said)
    assert seconds < MOST_SECONDS


def _shown(design: Design, building: radio.Building, by_name: dict[str, radio.Radio]) -> None:
    """Assert that every neighbourhood called too full is so, by levels on paper and a sum by hand."""
    too_full = [one for one in design.radio.neighbourhoods if one.over]
    assert too_full
    for one in too_full:
        members = [by_name[name] for name in one.identities]
        if one.kind == "transceivers":
            assert {member.access_point for member in members} == {one.access_point}
        else:
            assert one.carriers <= design.radio.carriers
            for a, b in combinations(members, 2):
                assert radio.exclude(building, a, b), (a.name, b.name)
        # Runs of the shortest length counted: as many as whole ones fit into the twelve of a carrier.
        assert sum(count for count, _ in one.terms) == len(members)
        assert sum(count * pairs for count, pairs in one.terms) == one.wanted > one.held
        shortest = min(pairs for _, pairs in one.terms)
        assert one.held in {one.carriers * (12 // k) * k for k in range(1, shortest + 1)}


@pytest.mark.independent
def test_the_checker_sees_a_plan_that_is_spoilt() -> None:
    design = made(SHORT[0], ROOMS)
    building, links, transceivers = on_paper(design)
    spoilt = [
        radio.Radio(**{**vars(link), "carrier": 0, "slots": tuple(range(link.tuned))}) for link in links[:20]
    ]
    said = radio.wrong(building, spoilt, design.radio.carriers, transceivers)
    for words in ("share carrier", "too few transceivers", "hears too much at", "listening to"):
        assert any(words in one for one in said), words
