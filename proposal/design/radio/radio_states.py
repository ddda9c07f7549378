"""Radio in the states of a building: which are alike for it, and what holds in all of them together."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

import numpy as np

from proposal.design.equipment.placed_devices import in_building
from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_plan import AirPlan, air_plan
from proposal.design.radio.portable_radio import places_in
from proposal.design.radio.radio_links import Asked, RadioLinks
from proposal.design.radio.radio_neighbours import Integers, Interference, Link, interference
from proposal.design.radio.received_margins import Margin
from proposal.design.radio.slot_board import Cell
from proposal.design.radio.slot_plan import Outcome
from proposal.field_classes import dataclass
from proposal.model.project import Project

_WORST: tuple[Outcome, ...] = ("impossible", "not settled", "planned")
_One = TypeVar("_One", Link, Margin)


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikeStates:
    """States in which the same walls are open and portable sets stand alike: radio is the same in them.

    names: of the states; walls: tags of the walls that are open; portable: each set in use and its place.
    """

    names: tuple[str, ...]
    walls: tuple[str, ...]
    portable: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RadioInState:
    """Radio in states that are alike for it.

    alike: the states; margins: of every linked microphone.
    air: the plan in these states; the one for all states where there is one.
    """

    alike: AlikeStates
    margins: tuple[Margin, ...]
    air: AirPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class RadioOnAir:
    """What is on the air, at worst in any of the states asked for.

    made: links and margins as they are worst received.
    disturbance: how far each link disturbs each other one in the state in which it does most.
    """

    made: RadioLinks
    disturbance: Interference


def alike_states(project: Project) -> tuple[AlikeStates, ...]:
    """Return the states of a building, those together that are alike for radio, in the order written.

    A building without states has one, without a name.
    """
    found: dict[tuple[tuple[str, ...], tuple[tuple[str, str], ...]], list[str]] = {}
    for name in project.building.states or ("",):
        walls = tuple(
            tag for tag, wall in sorted(project.building.radio.walls.items()) if name in wall.open_in
        )
        found.setdefault((walls, tuple(places_in(project, name).items())), []).append(name)
    return tuple(
        AlikeStates(names=tuple(names), walls=walls, portable=portable)
        for (walls, portable), names in found.items()
    )


def on_air(asked: Asked, lower_by: Mapping[str, int] | None = None) -> RadioOnAir:
    """Return links and disturbance as they are worst in any of the states asked for.

    lower_by: power settings below the ones chosen, by room.
    """
    return together([one_on_air(asked, state, lower_by) for state in asked.states])


def one_on_air(asked: Asked, state: str, lower_by: Mapping[str, int] | None = None) -> RadioOnAir:
    """Return links and disturbance in one state.

    state: its name.  lower_by: power settings below the ones chosen, by room.
    """
    made = asked.links(lower_by, state)
    return RadioOnAir(made=made, disturbance=interference(made.links, made.around))


def together(each: Sequence[RadioOnAir]) -> RadioOnAir:
    """Return what is worst of several states: of wanted levels the least, of unwanted ones the most.

    each: what is on the air in each state; links of portable sets may be missing in some of them.
    A plan that holds so holds in each of the states.
    """
    if len(each) == 1:
        return each[0]
    same: dict[str, list[Link]] = {}
    received: dict[str, list[Margin]] = {}
    for one in each:
        for link in one.made.links:
            same.setdefault(link.identity, []).append(link)
        for margin in one.made.margins:
            received.setdefault(margin.microphone, []).append(margin)
    if any(len(one.made.links) != len(same) for one in each):
        same = dict(sorted(same.items(), key=lambda item: _order(item[1][0])))
        received = dict(sorted(received.items(), key=lambda item: natural(item[0])))
    number = {identity: n for n, identity in enumerate(same)}
    links = tuple(_weakest(one) for one in same.values())
    count = len(links)
    pairs = []
    for one in each:
        to: Integers = np.array([number[link.identity] for link in one.made.links], dtype=np.int64)
        pairs.append(to[one.disturbance.disturbed] * count + to[one.disturbance.disturber])
    keys, where = np.unique(np.concatenate(pairs), return_inverse=True)
    over = np.full((len(keys), each[0].disturbance.over_db.shape[1]), -np.inf)
    np.maximum.at(over, where, np.concatenate([one.disturbance.over_db for one in each]))
    disturbance = Interference(
        links=links,
        disturbed=keys // count,
        disturber=keys % count,
        over_db=over,
        reach_db=min(one.disturbance.reach_db for one in each),
    )
    made = replace(
        each[0].made,
        links=links,
        margins=tuple(min(one, key=lambda margin: margin.margin_db) for one in received.values()),
        transceivers={tag: n for one in each for tag, n in one.made.transceivers.items()},
        groups={tag: group for one in each for tag, group in one.made.groups.items()},
    )
    return RadioOnAir(made=made, disturbance=disturbance)


def _order(link: Link) -> tuple[object, ...]:
    """Return where a link stands among those of several states: rooms, then tags, other users last."""
    return link.kind == "other", natural(link.room), link.kind != "link", natural(link.identity)


def _weakest(links: Sequence[Link]) -> Link:
    """Return a link as it is received where it is received worst, of the same link in several states."""
    return replace(
        links[0],
        up_dbm=min(link.up_dbm for link in links),
        down_dbm=min(link.down_dbm for link in links),
    )


def plans_by_state(
    each: Sequence[tuple[AlikeStates, RadioOnAir]],
    common: AirPlan,
    known: Mapping[str, Sequence[Cell]],
) -> tuple[RadioInState, ...]:
    """Return radio in each state: with the plan for all states where there is one, else planned for each.

    each: the states and what is on the air in them; common: the plan for all of them together.
    known: where an earlier plan put links, by their identities; later states start from the one before.
    """
    found = []
    for alike, there in each:
        if common.plan.outcome == "planned":
            air = common.tried(there.disturbance)  # which is the same plan: it holds
        else:
            air = air_plan(there.disturbance, common.graph.carriers, common.transceivers, known)
            known = air.cells or known
        found.append(RadioInState(alike=alike, margins=there.made.margins, air=air))
    return tuple(found)


def hardest(found: Sequence[RadioInState]) -> RadioInState:
    """Return the states with the worst outcome, the first of them.

    found: radio in each of the states.
    """
    return min(found, key=lambda one: _WORST.index(one.air.plan.outcome))


def moved_from(plan: AirPlan, other: AirPlan) -> frozenset[str]:
    """Return the links that two plans put elsewhere, or that only one of them puts anywhere, by identity.

    Those of portable sets that are off the air in one of the plans are not among them, nor those of other
    users, who are put anywhere.
    """
    here, there = plan.fitting_cells, other.fitting_cells
    ours, theirs = ({link.identity for link in air.links if link.kind != "other"} for air in (plan, other))
    return frozenset(name for name in ours & theirs if here.get(name) != there.get(name))


def opens_to_another(project: Project, state: str, tag: str, tags: Sequence[str]) -> bool:
    """Say whether a wall that is open in a state stands between a room and another one.

    state: its name.  tag: of the room.  tags: of the rooms among which another is looked for.
    """
    from shapely import LineString, Polygon

    radio = project.building.radio
    rooms = {one: project.rooms[one] for one in tags}
    outlines = {
        one: Polygon([in_building(room, corner) for corner in room.layout.outline])
        for one, room in rooms.items()
    }
    return any(
        wall.storey == rooms[tag].storey
        and outlines[tag].distance(line) <= radio.same_wall
        and any(outlines[one].distance(line) <= radio.same_wall for one in tags if one != tag)
        for wall in radio.walls.values()
        if state in wall.open_in
        for line in [LineString(wall.along)]
    )
