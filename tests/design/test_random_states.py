"""Buildings with states drawn at random: what is joined, on the air and charged holds in every state of each.

`PROPOSAL_LONG_TESTS=20` before this file tries hundreds.
"""

import random
import tempfile
from collections import Counter
from collections.abc import Iterator
from itertools import permutations
from pathlib import Path

import pytest
import yaml

from proposal.design.design import Design
from proposal.design.radio.radio_links import building_surroundings
from proposal.design.radio.radio_plan import planned_links
from proposal.design.radio.radio_states import RadioInState, alike_states
from proposal.design.whole_design import design
from proposal.document.making.radio import further_words
from proposal.model.loading import load_project
from proposal.review.rules import findings
from tests.design.test_added_and_removed import bought, errors, things
from tests.independent import radio
from tests.independent.test_generated_buildings import written
from tests.independent.test_radio_buildings import on_paper_of
from tests.long_form import cases
from tests.random_states import OUTDOORS, SET, write_states

pytestmark = [pytest.mark.independent, pytest.mark.usefixtures("little_patience")]
SEEDS = range(4000, 4000 + cases(24))


@pytest.fixture(scope="module", params=SEEDS)
def made(request: pytest.FixtureRequest) -> tuple[Design, Design]:
    """Return a building without states, and with them; all that is asked of one stands together."""
    seed: int = request.param
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        written(folder, seed)
        before = design(load_project(folder))
        write_states(folder, random.Random(f"states {seed}"))
        return before, design(load_project(folder))


def pairs_in(known: Design, state: str) -> set[tuple[str, str]]:
    """Return each room and each other one whose mixers a state joins, as they are written."""
    rooms = known.project.rooms
    return {
        pair
        for tags in known.project.building.states[state].join
        if all(rooms[tag].layout.output == "mixer" for tag in tags)
        for pair in permutations(tags, 2)
    }


def mixes_reach_the_rooms_that_a_state_joins(known: Design) -> None:
    states = known.project.building.states
    wanted = {name: pairs_in(known, name) for name in states}
    routes = {(one.state, one.room, one.other): one for one in known.joined_routes}
    assert set(routes) == {(name, *pair) for name, pairs in wanted.items() for pair in pairs}
    ends = known.graph.network
    for (_, room, other), one in routes.items():
        assert one.input, one
        assert one.sender.startswith(f"{room}-")
        assert one.receiver.startswith(f"{other}-")
        leaves = [port for join in ends for port in (join.start, join.end) if port.device == one.sender]
        assert known.graph.way(leaves, one.receiver) is not None, one
        assert set(one.closed_in) == {name for name in states if (room, other) not in wanted[name]}


def mixers_hold_what_any_state_sends_them(known: Design) -> None:
    """Every input has one thing, and there are as many as the mixer has at most."""
    used = [(one.mixing, str(one.input)) for one in known.channels.channels if one.mixing and one.input]
    used += [
        (end.device, end.port)
        for end in known.ends
        if end.direction == "input" and end.signal == "networked audio" and end.port
    ]
    assert not [one for one, n in Counter(used).items() if n > 1]
    for device in known.devices:
        if device.kind == "mixer":
            held = getattr(known.entries[device.tag], "inputs", 0)
            assert len([one for one, _ in used if one == device.tag]) <= held, device.tag


def settings_open_in_a_state_what_it_joins(known: Design) -> None:
    said = {(one.device, one.name): one.value for one in known.settings}
    for one in known.joined_routes:
        value = str(said[one.receiver, f"In the state {one.state}"])
        assert f"input {one.input} ({one.room}) open" in value or one.input in value, value
        assert one.room in value


def radio_holds_in_every_state(known: Design) -> None:
    """The links of each state, where its portable sets stand, judged on paper by code of its own."""
    project = known.project
    states = project.building.states
    found = known.radio.states
    if not found:
        # None differs from another in what stands where, and so in radio.
        (alike,) = alike_states(project)
        assert len({str(sorted(state.portable.items())) for state in states.values()}) == 1
        found = (RadioInState(alike=alike, margins=known.radio.margins, air=known.radio.air),)
    assert sorted(name for one in found for name in one.alike.names) == sorted(states)
    for one in found:
        for name in one.alike.names:
            assert set(one.alike.walls) == {
                tag for tag, wall in project.building.radio.walls.items() if name in wall.open_in
            }
            here = {
                tag
                for tag in known.channels.linked
                if not tag.startswith(f"{SET}-") or SET in states[name].portable
            }
            assert {margin.microphone for margin in one.margins} == here
            links = [link for link in one.air.links if link.kind == "link"]
            assert {link.identity for link in links} == here
            for link in links:
                if link.room == SET:
                    outdoors = states[name].portable[SET] == OUTDOORS
                    assert (link.microphone_at[1] < -20) == outdoors
        if one.air.plan.outcome == "planned":
            asked = Counter(one.air.owner)
            for number, link in enumerate(planned_links(one.air)):
                kept = len(link.slots) + sum(len(slots) for _, slots in link.further)
                assert kept >= asked[number]
                assert link.carrier not in {carrier for carrier, _ in link.further}
                assert len(further_words(link)) == len(link.further)
            outside = {tag for tag, place in one.alike.portable if place == OUTDOORS}
            around = building_surroundings(project, one.alike.names[0])
            building, links_there, transceivers = on_paper_of(known, around, planned_links(one.air), outside)
            assert radio.wrong(building, links_there, known.radio.carriers, transceivers) == []
        else:
            told = {said.rule for said in findings(project, known)}
            assert told & {"radio-impossible", "radio-not-settled"}


def days_are_held_as_written(known: Design) -> None:
    """In each state every room has the day of that kind as written, and what does not last is told."""
    told = Counter(
        (one.where, one.rule)
        for one in findings(known.project, known)
        if one.rule in ("battery-needs-swaps", "battery-below-reserve", "no-charge-slot")
    )
    wanted = Counter[tuple[str, str]]()
    for kind in known.kinds:
        for state in known.project.building.states.values():
            layout = kind.layout
            name = state.day if state.day in layout.days else ""
            sessions = layout.days[name] if name else layout.sessions
            (day,) = [one for one in known.days[kind.key] if one.name == name]
            # No two sessions drawn touch, so that none is joined to another.
            written_there = sorted((float(one.start), float(one.end)) for one in sessions.values())
            assert day.sessions == tuple(written_there)
            used = Counter(code for group in day.groups for code in group.in_use)
            assert used == Counter(list(layout.microphones))
        for day in known.days[kind.key]:
            for group in day.groups:
                judged = day.judged(group)
                if judged in ("with swaps", "too few spares"):
                    enough = judged == "with swaps"
                    wanted[kind.key, "battery-needs-swaps" if enough else "battery-below-reserve"] += 1
                if day is known.days[kind.key][0] and group.without_slot:
                    wanted[kind.key, "no-charge-slot"] += 1
    assert told == wanted


HOLDS = (
    mixes_reach_the_rooms_that_a_state_joins,
    mixers_hold_what_any_state_sends_them,
    settings_open_in_a_state_what_it_joins,
    radio_holds_in_every_state,
    days_are_held_as_written,
)


def test_every_state_is_held(made: tuple[Design, Design]) -> None:
    _, known = made
    for holds in HOLDS:
        holds(known)


def of_rooms(known: Design) -> Iterator[tuple[str, str, str]]:
    """Yield what a room has that no state may change: all but mixers, and but the portable set."""
    for one in known.devices:
        if one.room in known.project.rooms and one.room != SET and one.kind in ("microphone", "loudspeaker"):
            yield one.tag, one.kind, one.model


def test_a_state_takes_nothing_away_and_sizes_for_the_worst(made: tuple[Design, Design]) -> None:
    before, known = made
    assert set(of_rooms(before)) <= set(of_rooms(known))
    mixed = {tag for name in known.project.building.states for pair in pairs_in(known, name) for tag in pair}

    def inputs(one: Design, room: str) -> int:
        mixers = [device for device in one.devices if device.kind == "mixer" and device.room == room]
        return sum(getattr(one.entries[device.tag], "inputs", 0) for device in mixers)

    for room in mixed:
        pairs = {pair for name in known.project.building.states for pair in pairs_in(known, name)}
        partners = {other for one, other in pairs if one == room}
        microphones = len([one for one in known.channels.of_room(room) if one.mixing])
        assert inputs(known, room) >= microphones + len(partners)
    assert {rule for rule, _ in errors(known)} - {rule for rule, _ in errors(before)} <= {
        *("radio-impossible", "battery-below-reserve", "portable-set-not-planned")
    }


@pytest.mark.parametrize("seed", SEEDS)
def test_states_that_are_all_alike_change_nothing(seed: int) -> None:
    """A building that is always used in one way is the same, whether the way has a name or not."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        written(folder, seed)
        without = design(load_project(folder))
        building = yaml.safe_load((folder / "building.yaml").read_text(encoding="utf-8"))
        building["states"] = {"divided": {}, "also": {}}
        (folder / "building.yaml").write_text(yaml.safe_dump(building), encoding="utf-8")
        named = design(load_project(folder))
    assert bought(named) == bought(without)
    assert things(named) == things(without)
