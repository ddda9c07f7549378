"""What would help where not all links find a place, each found by planning anew, the most helpful first."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from proposal.design.equipment.placed_devices import in_building
from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_arithmetic import neighbourhoods
from proposal.design.radio.air_plan import AirPlan, only
from proposal.design.radio.radio_links import Asked
from proposal.design.radio.radio_neighbours import Link
from proposal.design.radio.radio_states import on_air
from proposal.design.radio.room_placement import access_points_by_placement
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Microphone

LeverName = Literal[
    "lower power", "access points moved", "fewer slot pairs", "wired microphones", "more loss",
    "fewer microphones",
]  # fmt: skip
NEVER_MOVES = ("gooseneck", "boundary")
"""Forms that stand on a seat's table and can be wired."""
MOST_SETTINGS = 4
MOST_LOSS_DB = 40
MOST_ROUNDS = 4
MOST_LINKS = 600
"""Links and bearers of a building over which levers are planned; beyond, its fullest neighbourhood alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One thing that would help.

    name: what is changed.
    rooms: where; amounts: by room in that order, settings, microphones or nothing.
    amount: decibels or slot pairs a link, None where the rooms have amounts.
    places: access points with where they would hang in the building, m.
    missing: links that find no place then; none where there is a plan.
    """

    name: LeverName
    rooms: tuple[str, ...]
    amounts: tuple[int, ...] = ()
    amount: int | None = None
    places: tuple[tuple[str, tuple[float, float]], ...] = ()
    missing: int


def levers(asked: Asked, air: AirPlan, alone: Sequence[str] = ()) -> tuple[Lever, ...]:
    """Return what helps, the most helpful first; what helps nothing is left out.

    asked: what the links were made from.
    air: the links, and what came of planning them: no plan for all.
    alone: rooms that are planned without the others; none for the whole building.
    Of equally helpful ones those come first that cost least. Where too many links are left, none is planned.
    """
    if alone:
        asked, air = _alone(asked, air, alone)
    if len(air.links) > MOST_LINKS:
        return ()
    rooms = troubled(air)
    tried = (_lower_power, _moved, _fewer_slot_pairs, _wired, _more_loss, _fewer)
    found = [lever for one in tried for lever in one(asked, air, rooms)]
    now = len(air.missing)
    return tuple(sorted((one for one in found if one.missing < now), key=lambda one: one.missing))


def _alone(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> tuple[Asked, AirPlan]:
    """Return what was asked of some rooms, and their plan without the others."""
    here = {device.tag for device in asked.devices if device.room in rooms}
    kept = [n for n, link in enumerate(air.links) if link.room in rooms]
    own = replace(
        asked,
        devices=[device for device in asked.devices if device.tag in here],
        linked={microphone: point for microphone, point in asked.linked.items() if microphone in here},
    )
    return own, air.tried(only(air.disturbance, kept))


def troubled(air: AirPlan) -> tuple[str, ...]:
    """Return our rooms that are too full together, else those where links without a place are disturbed.

    air: the links, and what came of planning them.
    """
    rooms = {room for one in neighbourhoods(air) if one.over for room in one.rooms}
    if not rooms:
        without = {link.identity for link in air.missing}
        numbers = {n for n, link in enumerate(air.links) if link.identity in without}
        pairs = [pair for pair in air.disturbance.conflicts() if numbers & set(pair)]
        rooms = {air.links[number].room for pair in pairs for number in pair}
    ours = {link.room for link in air.links if link.kind == "link"}
    return tuple(sorted(rooms & ours, key=natural))


def _lower_power(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Iterator[Lever]:
    """Yield the least lowering of these rooms that makes a plan, else the last that all of them tolerate."""
    lower_by: Mapping[str, int] = {}
    for lower_by in lowerings(asked, rooms):
        there = air.tried(on_air(asked, lower_by).disturbance)
        if there.plan.outcome == "planned":
            break
    if lower_by:
        lowered = [room for room in rooms if lower_by.get(room)]
        yield Lever(
            name="lower power",
            rooms=tuple(lowered),
            amounts=tuple(lower_by[room] for room in lowered),
            missing=len(there.missing),
        )


def lowerings(asked: Asked, rooms: Sequence[str]) -> Iterator[Mapping[str, int]]:
    """Yield settings below the ones chosen by room: the same for all, then for each as many as it can."""
    lowered = dict.fromkeys(rooms, 0)
    for settings in range(1, MOST_SETTINGS + 1):
        margins = [
            margin
            for state in asked.states
            for margin in asked.links(dict.fromkeys(rooms, settings), state).margins
        ]
        weak = {margin.room for margin in margins if margin.margin_db < 0}
        for room in rooms:
            if room not in weak and lowered[room] == settings - 1:
                lowered[room] = settings
        if not weak & set(rooms):
            yield dict.fromkeys(rooms, settings)
    if len(set(lowered.values())) > 1:
        yield lowered


def _moved(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Iterator[Lever]:
    """Yield the access points whose positions are by hand, hung where placement finds best."""
    devices = list(asked.devices)
    linked = dict(asked.linked)
    places = []
    for room in rooms:
        here = [n for n, device in enumerate(devices) if device.room == room]
        boxes = {
            devices[n].code: n for n in here if isinstance(asked.entries.get(devices[n].tag), AccessPoint)
        }
        layout = asked.project.rooms[room].layout
        by_hand = set(boxes) & set(layout.access_points_at)
        by_hand |= {code for code, n in boxes.items() if devices[n].tag in asked.project.fixed.devices}
        microphones = {
            devices[n].code: devices[n].model
            for n in here
            if isinstance(asked.entries.get(devices[n].tag), Microphone) and devices[n].tag in linked
        }
        models = {code: devices[n].model for code, n in boxes.items()}
        hung = by_hand and access_points_by_placement(asked.project, layout, microphones, models)
        if not hung:
            continue
        tags = {devices[n].code: devices[n].tag for n in here}
        for code, one in hung.items():
            at = in_building(asked.project.rooms[room], one.at)
            devices[boxes[code]] = replace(devices[boxes[code]], at=at, height_m=one.height_m)
            linked |= {tags[microphone]: tags[code] for microphone in one.serves if microphone in tags}
            places.append((tags[code], at))
    if places:
        there = air.tried(on_air(replace(asked, devices=devices, linked=linked)).disturbance)
        where = tuple(dict.fromkeys(device.room for device in devices if device.tag in dict(places)))
        yield Lever(name="access points moved", rooms=where, places=tuple(places), missing=len(there.missing))


def _fewer_slot_pairs(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Iterator[Lever]:
    """Yield the most slot pairs a link with which all find a place, else one."""
    usual = max((link.slot_pairs for link in air.links if link.kind == "link"), default=1)
    for pairs in range(usual - 1, 0, -1):
        links = [
            replace(link, slot_pairs=min(link.slot_pairs, pairs)) if link.kind == "link" else link
            for link in air.links
        ]
        there = air.tried(replace(air.disturbance, links=tuple(links)))
        if there.plan.outcome == "planned" or pairs == 1:
            missing = len(there.missing)
            yield Lever(name="fewer slot pairs", rooms=tuple(rooms), amount=pairs, missing=missing)
            return


def _more_loss(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Iterator[Lever]:
    """Yield the least loss more between these rooms that makes a plan; none for one room.

    Rooms that a state joins have no wall between them that could lose more.
    """
    here = np.array([link.room in rooms for link in air.links], dtype=np.bool_)
    disturbance = air.disturbance
    pairs = disturbance.between_rooms() & here[disturbance.disturbed] & here[disturbance.disturber]
    one_room = _joined(asked)
    number = {room: n for n, room in enumerate(dict.fromkeys(one_room.get(tag, tag) for tag in rooms))}
    whole = np.array([number.get(one_room.get(link.room, link.room), -1) for link in air.links])
    pairs &= whole[disturbance.disturbed] != whole[disturbance.disturber]
    if len(number) < 2 or not pairs.any():
        return

    def with_more(more_db: int) -> AirPlan:
        return air.tried(disturbance.shifted(paths_db=np.where(pairs, -float(more_db), 0.0)))

    low, high, there = 0, MOST_LOSS_DB, with_more(MOST_LOSS_DB)
    while there.plan.outcome == "planned" and high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if with_more(middle).plan.outcome == "planned" else (middle, high)
    yield Lever(name="more loss", rooms=tuple(rooms), amount=high, missing=len(there.missing))


def _joined(asked: Asked) -> Mapping[str, str]:
    """Return the first room of those it is joined with of every room that a state asked for joins."""
    states = [asked.project.building.states[name] for name in asked.states if name]
    return {tag: tags[0] for state in states for tags in state.join for tag in tags}


def _wired(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Iterator[Lever]:
    """Yield how many microphones of seats that never move would have to be wired."""
    forms = {tag: entry.form for tag, entry in asked.entries.items() if isinstance(entry, Microphone)}
    yield from _without(air, "wired microphones", lambda link: forms.get(link.identity) in NEVER_MOVES)


def _fewer(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Iterator[Lever]:
    """Yield how many microphones too many there are."""
    yield from _without(air, "fewer microphones", lambda link: link.kind == "link")


def _without(air: AirPlan, name: LeverName, may_go: Callable[[Link], bool]) -> Iterator[Lever]:
    """Yield how many links of a kind are taken out, and where, until the rest has a plan.

    A link without a place goes, or one of its room that may; each time the rest is planned anew.
    """
    going = [n for n, link in enumerate(air.links) if may_go(link)]
    gone: set[int] = set()
    there = air
    for _ in range(MOST_ROUNDS):
        number_of = {link.identity: n for n, link in enumerate(air.links)}
        waiting = [number_of[link.identity] for link in there.missing]
        for number in waiting:
            same_room = [n for n in going if n not in gone and air.links[n].room == air.links[number].room]
            chosen = number if number in same_room else max(same_room, default=None)
            if chosen is None:
                break
            gone.add(chosen)
        there = air.tried(only(air.disturbance, [n for n in range(len(air.links)) if n not in gone]))
        if not there.missing:
            break
    if gone:
        rooms = sorted({air.links[n].room for n in gone}, key=natural)
        yield Lever(
            name=name,
            rooms=tuple(rooms),
            amounts=tuple(sum(air.links[n].room == room for n in gone) for room in rooms),
            missing=len(there.missing),
        )
