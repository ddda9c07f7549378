"""What would help where not all links find a place, each found by planning anew, the most helpful first."""

import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from proposal.design.equipment.placed_devices import in_building
from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_arithmetic import neighbourhoods
from proposal.design.radio.air_plan import AirPlan, only
from proposal.design.radio.portable_radio import name_of_place, places_in
from proposal.design.radio.radio_links import Asked
from proposal.design.radio.radio_neighbours import Link
from proposal.design.radio.radio_settings import radio_end
from proposal.design.radio.radio_states import on_air
from proposal.design.radio.room_placement import access_points_by_placement
from proposal.design.solving.halving import least
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Microphone

LeverName = Literal[
    "lower power", "access points moved", "portable set elsewhere", "fewer slot pairs",
    "wired microphones", "more loss", "fewer microphones",
]  # fmt: skip
Marks = NDArray[np.bool_]

NEVER_MOVES = ("gooseneck", "boundary")
"""Forms that stand on a seat's table and can be wired."""
MOST_SETTINGS = 4
MOST_LOSS_DB = 40
MOST_ROUNDS = 4
LEAST_HELP = 0.25
"""Share of the links without a place that a change has to find one for; less is not worth naming."""
MOST_LINKS = 600
"""Links and bearers of a building over which levers are planned; beyond, its fullest neighbourhood alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One thing that would help.

    name: what is changed.
    rooms: where; amounts: by room in that order, settings, microphones or nothing.
    powers_dbm: by room, the setting to write.
    amount: decibels or slot pairs a link, None where the rooms have amounts.
    places: access points with where they would hang in the building, m.
    stands: portable sets with the names of the place where each is used now, and of the other one.
    models: access points of the library that take as few slot pairs a link.
    microphones: which ones would be wired or left out, by their tags.
    without_wall: pairs of the rooms with no wall between them in a state, so that none can lose more there.
    missing: links that find no place then; none where there is a plan.
    """

    name: LeverName
    rooms: tuple[str, ...]
    amounts: tuple[int, ...] = ()
    powers_dbm: tuple[float, ...] = ()
    amount: int | None = None
    places: tuple[tuple[str, tuple[float, float]], ...] = ()
    stands: tuple[tuple[str, str, str], ...] = ()
    models: tuple[str, ...] = ()
    microphones: tuple[str, ...] = ()
    without_wall: tuple[tuple[str, str], ...] = ()
    missing: int = 0


Changes: TypeAlias = Iterator[tuple[Lever, AirPlan]]
"""Changes of one kind, each with the plan that comes of it; how many then lack a place is filled in."""


def levers(
    asked: Asked, air: AirPlan, alone: Sequence[str] = (), each: Sequence[AirPlan] = ()
) -> tuple[Lever, ...]:
    """Return what helps, the most helpful first; what helps next to nothing is left out.

    asked: what the links were made from.
    air: the links, and what came of planning them: no plan for all.
    each: the same in each state, in all of which wired or fewer microphones have to be enough.
    alone: rooms that are planned without the others; none for the whole building.
    Of equally helpful ones those come first that cost least. Where too many links are left, none is planned.
    """
    if alone:
        (asked, air), each = _alone(asked, air, alone), ()
    if len(air.links) > MOST_LINKS:
        return ()
    rooms = troubled(air)
    forms = {tag: entry.form for tag, entry in asked.entries.items() if isinstance(entry, Microphone)}
    airs = each or [air]
    wired = _best(_without(airs, "wired microphones", lambda link: forms.get(link.identity) in NEVER_MOVES))
    # Those that are wired may as well be left out: others only where fewer of them are enough.
    fewer = [replace(one, name="fewer microphones") for one in wired]
    fewer += _best(_without(airs, "fewer microphones", lambda link: link.kind == "link"))
    fewer.sort(key=lambda one: (one.missing, len(one.microphones)))
    tried = (
        _lower_power(asked, air, rooms),
        _moved(asked, air, rooms),
        _elsewhere(asked, air, rooms),
        _fewer_slot_pairs(asked, air, rooms),
    )
    found = [lever for changes in tried for lever in _best(changes)]
    found += [*wired, *_best(_more_loss(asked, air, rooms)), *fewer[:1]]
    now = len(air.missing)
    helps = [one for one in found if now - one.missing >= LEAST_HELP * now]
    return tuple(sorted(helps, key=lambda one: one.missing))


def _best(changes: Changes) -> list[Lever]:
    """Return the first of some changes with which all find a place, else the one with which most do."""
    found: list[Lever] = []
    for lever, there in changes:
        found.append(replace(lever, missing=len(there.missing)))
        if there.plan.outcome == "planned":
            return found[-1:]
    return sorted(found, key=lambda lever: lever.missing)[:1]


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


def _lower_power(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Changes:
    """Yield lowerings of these rooms that all of them tolerate, the least first."""
    for lower_by in lowerings(asked, rooms):
        yield lowered(asked, lower_by), air.tried(on_air(asked, lower_by).disturbance)


def lowered(asked: Asked, lower_by: Mapping[str, int]) -> Lever:
    """Return the lever of so many power settings below the ones chosen, by room."""
    rooms = tuple(room for room, settings in lower_by.items() if settings)
    powers: dict[str, float] = {}
    for device in asked.devices:
        entry, room = asked.entries.get(device.tag), device.room
        if room in rooms and isinstance(entry, AccessPoint | Microphone):
            layout = asked.project.rooms[room].layout
            end = radio_end(asked.project, layout, entry, lower_by=lower_by[room])
            powers[room] = max(end.power_dbm if end else -math.inf, powers.get(room, -math.inf))
    return Lever(
        name="lower power",
        rooms=rooms,
        amounts=tuple(lower_by[room] for room in rooms),
        powers_dbm=tuple(powers[room] for room in rooms),
    )


def lowerings(asked: Asked, rooms: Sequence[str]) -> Iterator[Mapping[str, int]]:
    """Yield settings below the ones chosen by room: the same for all, then for each as many as it can."""
    each = dict.fromkeys(rooms, 0)
    for settings in range(1, MOST_SETTINGS + 1):
        margins = [
            margin
            for state in asked.states
            for margin in asked.links(dict.fromkeys(rooms, settings), state).margins
        ]
        weak = {margin.room for margin in margins if margin.margin_db < 0}
        for room in rooms:
            if room not in weak and each[room] == settings - 1:
                each[room] = settings
        if not weak & set(rooms):
            yield dict.fromkeys(rooms, settings)
    if len(set(each.values())) > 1:
        yield each


def _moved(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Changes:
    """Yield the access points whose positions are by hand, hung where placement finds best."""
    devices = {device.tag: device for device in asked.devices}
    linked = dict(asked.linked)
    places: dict[str, tuple[float, float]] = {}
    # What a room type says holds for all of its rooms.
    kinds = {asked.project.rooms[room].type for room in rooms}
    fixed = {tag for tag, one in asked.project.fixed.devices.items() if one.at is not None}
    for room in [tag for tag, one in asked.project.rooms.items() if one.type in kinds]:
        here = {device.code: device for device in asked.devices if device.room == room}
        layout = asked.project.rooms[room].layout
        models: dict[type, dict[str, str]] = {AccessPoint: {}, Microphone: {}}
        for code, device in here.items():
            kind = type(asked.entries.get(device.tag))
            if kind is AccessPoint or device.tag in linked:
                models[kind][code] = device.model
        boxes, microphones = models[AccessPoint], models[Microphone]
        by_hand = any(code in layout.access_points_at or here[code].tag in fixed for code in boxes)
        hung = by_hand and access_points_by_placement(asked.project, layout, microphones, boxes)
        for code, one in hung.items() if hung else ():
            device = here[code]
            places[device.tag] = at = in_building(asked.project.rooms[room], one.at)
            devices[device.tag] = replace(device, at=at, height_m=one.height_m)
            linked |= {here[microphone].tag: device.tag for microphone in one.serves if microphone in here}
    if places:
        there = on_air(replace(asked, devices=tuple(devices.values()), linked=linked)).disturbance
        where = tuple(dict.fromkeys(devices[tag].room for tag in places))
        lever = Lever(name="access points moved", rooms=where, places=tuple(places.items()))
        yield lever, air.tried(there)


def elsewhere(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> list[Lever]:
    """Return the portable sets to be used in another place that is written, none where that does not help.

    asked: what the links were made from.  air: the links, and what came of planning them: no plan for all.
    rooms: tags among which the sets are.
    """
    return _best(_elsewhere(asked, air, rooms))


def _elsewhere(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Changes:
    """Yield the portable sets to be used in another place that is written, each where it helps most."""
    stands: list[tuple[str, str, str]] = []
    for tag, place in _in_use(asked):
        if tag not in rooms or not air.missing:
            continue
        others = _other_places(asked, tag, place)
        tried = [(other, *_with_set_in(asked, air, tag, place, other)) for other in others]
        other, there, then = min(tried, key=lambda one: len(one[2].missing), default=(place, asked, air))
        if len(then.missing) < len(air.missing):
            asked, air = there, then
            stands.append((tag, name_of_place(asked.project, place), name_of_place(asked.project, other)))
    if stands:
        sets = tuple(dict.fromkeys(tag for tag, _, _ in stands))
        yield Lever(name="portable set elsewhere", rooms=sets, stands=tuple(stands)), air


def _in_use(asked: Asked) -> tuple[tuple[str, str], ...]:
    """Return each portable set with each place in which one of the states asked for uses it, once."""
    used = {pair for state in asked.states for pair in places_in(asked.project, state).items()}
    return tuple(sorted(used, key=lambda pair: (natural(pair[0]), natural(pair[1]))))


def _other_places(asked: Asked, tag: str, place: str) -> list[str]:
    """Return the places for a set instead of one: free in those states, with an outlet if that has one."""
    places = asked.project.building.portable_places
    states = [places_in(asked.project, state) for state in asked.states]
    taken = {used for state in states if state.get(tag) == place for used in state.values()}
    return [one for one in places if one not in taken and places[one].outlet >= places[place].outlet]


def _with_set_in(asked: Asked, air: AirPlan, tag: str, place: str, other: str) -> tuple[Asked, AirPlan]:
    """Return what is asked, and what comes of it, where a set is used in another place than one."""
    building = asked.project.building
    states = {
        name: state.model_copy(update={"portable": {**state.portable, tag: other}})
        if name in asked.states and state.portable.get(tag) == place
        else state
        for name, state in building.states.items()
    }
    building = building.model_copy(update={"states": states})
    there = replace(asked, project=asked.project.model_copy(update={"building": building}))
    return there, air.tried(on_air(there).disturbance)


def _fewer_slot_pairs(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Changes:
    """Yield fewer slot pairs a link, the most first.

    They are those of access points of the library; where none takes fewer, any number.
    """
    usual = max((link.slot_pairs for link in air.links if link.kind == "link"), default=1)
    models: dict[tuple[int, bool, bool], list[str]] = {}
    for code, entry in sorted(asked.project.library.access_points.items()):
        radio = entry.radio
        if radio.slot_pairs < usual and entry.works_in(asked.project.brief.region):
            kind = (radio.slot_pairs, radio.one_carrier, radio.in_a_row)
            models.setdefault(kind, []).append(f"{code} of {entry.works_with or entry.maker}")
    for kind in sorted(models or [(pairs, True, True) for pairs in range(1, usual)], reverse=True):
        taking = replace(air.disturbance, links=tuple(_taking(link, *kind) for link in air.links))
        there = air.tried(taking)
        if there.plan.outcome == "not settled":
            there = air.under(taking)
        named = tuple(models.get(kind, ()))
        yield Lever(name="fewer slot pairs", rooms=tuple(rooms), amount=kind[0], models=named), there


def _taking(link: Link, slot_pairs: int, one_carrier: bool, in_a_row: bool) -> Link:
    """Return a link as equipment with so few slot pairs makes it; bearers and others' links as they are."""
    if link.kind != "link" or link.slot_pairs <= slot_pairs:
        return link
    return replace(link, slot_pairs=slot_pairs, one_carrier=one_carrier, in_a_row=in_a_row)


def _more_loss(asked: Asked, air: AirPlan, rooms: Sequence[str]) -> Changes:
    """Yield the least loss more between these rooms that makes a plan; none for one room.

    Rooms that a state joins have no wall between them that could lose more, and a set none to its room.
    """
    disturbance, number = air.disturbance, {tag: n for n, tag in enumerate(rooms)}
    walled = ~np.eye(len(rooms) + 1, dtype=np.bool_)
    walled[-1] = walled[:, -1] = False
    together = [pair for pair in _in_one_room(asked) if set(pair) <= set(rooms)]
    for one, other in together:
        walled[number[one], number[other]] = walled[number[other], number[one]] = False
    room = np.array([number.get(link.room, -1) for link in air.links], dtype=np.int64)
    pairs = walled[room[disturbance.disturbed], room[disturbance.disturber]]
    if not pairs.any():
        return

    more_db, there = _least_more(air, pairs)
    between = tuple(tag for tag in rooms if walled[number[tag]].any())
    without = tuple(pair for pair in together if set(pair) <= set(between))
    yield Lever(name="more loss", rooms=between, amount=more_db, without_wall=without), there


def _least_more(air: AirPlan, pairs: Marks) -> tuple[int, AirPlan]:
    """Return the least loss more on some paths that makes a plan, else the most tried, with its plan."""

    def with_more(more_db: int) -> AirPlan:
        return air.tried(air.disturbance.shifted(paths_db=np.where(pairs, -float(more_db), 0.0)))

    there = with_more(MOST_LOSS_DB)
    if there.plan.outcome != "planned":
        return MOST_LOSS_DB, there
    return least(0, MOST_LOSS_DB, lambda more_db: with_more(more_db).plan.outcome == "planned"), there


def farther_db(air: AirPlan, tag: str) -> int | None:
    """Return the least loss more between a portable set and all others that makes a plan, None for none.

    air: the links, and what came of planning them: no plan for all.  tag: of the set.
    """
    own = np.array([link.room == tag for link in air.links], dtype=np.bool_)
    pairs: Marks = own[air.disturbance.disturbed] != own[air.disturbance.disturber]
    more_db, there = _least_more(air, pairs)
    return more_db if there.plan.outcome == "planned" else None


def _in_one_room(asked: Asked) -> list[tuple[str, str]]:
    """Return the pairs of rooms, and of a set and its room, that no wall parts in a state asked for."""
    found: set[tuple[str, str]] = set()
    for name in asked.states:
        state = asked.project.building.states.get(name)
        joined = [set(tags) for tags in state.join] if state else []
        for tag, place in places_in(asked.project, name).items():
            joined.append({tag, place}.union(*(tags for tags in joined if place in tags)))
        found |= {pair for tags in joined for pair in combinations(sorted(tags, key=natural), 2)}
    return sorted(found, key=lambda pair: (natural(pair[0]), natural(pair[1])))


def _without(airs: Sequence[AirPlan], name: LeverName, may_go: Callable[[Link], bool]) -> Changes:
    """Yield how many links of a kind are taken out, and where, more each time until the rest has a plan.

    airs: of each state; what is taken out is enough in all of them.
    First as many as find no place go, the last ones of their rooms. Where that is not enough, those without a
    place go themselves, or the last one of their room that may; each time the rest is planned anew.
    """
    room_of = {link.identity: link.room for air in airs for link in air.links if may_go(link)}
    gone: set[str] = set()

    def rest(air: AirPlan) -> AirPlan:
        kept = [n for n, link in enumerate(air.links) if link.identity not in gone]
        return air.tried(only(air.disturbance, kept)) if gone else air

    for attempt in range(1 + MOST_ROUNDS):
        if attempt == 1:
            gone.clear()
        for air in airs:
            for link in rest(air).missing:
                left = [tag for tag, room in room_of.items() if room == link.room and tag not in gone]
                gone.update([link.identity] if attempt and link.identity in left else left[-1:])
        if not gone:
            return
        by_room = Counter(room_of[tag] for tag in gone)
        rooms = tuple(sorted(by_room, key=natural))
        amounts = tuple(by_room[room] for room in rooms)
        named = tuple(sorted(gone, key=natural))
        there = max((rest(air) for air in airs), key=lambda one: len(one.missing))
        yield Lever(name=name, rooms=rooms, amounts=amounts, microphones=named), there
