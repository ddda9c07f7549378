"""A plan of carriers and slots judged path by path, from positions and powers alone, by code of its own.

Free space and the walls crossed for unwanted paths, the office form of ITU-R P.1238 for wanted ones. Levels
are summed as powers. What is wrong is told in words, so that a test shows all of it.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

Position = tuple[float, float, float]
NEAR_FAR_DB = {1: 13.0, 2: 34.0, 3: 40.0}
SLOTS = 12
ROUNDING_DB = 1e-6


@dataclass(frozen=True, kw_only=True)
class Wall:
    """A wall of one storey in plan."""

    storey: int
    start: tuple[float, float]
    end: tuple[float, float]
    loss_db: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Building:
    """Storeys from the lowest up, with what the floor under each loses, and walls."""

    hz: float
    floors_m: tuple[float, ...]
    slabs_db: tuple[float, ...]
    further_db: float
    walls: tuple[Wall, ...]


@dataclass(frozen=True, kw_only=True)
class Radio:
    """A link as it stands on paper: who, where, how strong, and what the plan gives it."""

    name: str
    access_point: str
    group: str
    judged: bool
    microphone: Position
    box: Position
    microphone_dbm: float
    box_dbm: float
    microphone_gain_db: float
    box_gain_db: float
    body_db: float
    ratio_db: float
    refused_dbm: float
    carrier: int | None
    slots: tuple[int, ...]
    tuned: int
    one_carrier: bool = True
    outdoors: bool = False
    asks: str = "microphone"
    further: tuple[tuple[int, tuple[int, ...]], ...] = ()


def storey_of(z: float, floors_m: Sequence[float]) -> int:
    return max([n for n, floor in enumerate(floors_m) if z >= floor - 1e-9], default=0)


def turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def crosses(a: tuple[float, float], b: tuple[float, float], wall: Wall) -> bool:
    """Say whether the way from a to b crosses a wall; of a wall's two ends one belongs to one side only."""
    one, other = turn(a, b, wall.start), turn(a, b, wall.end)
    if (one < 0) == (other < 0):
        return False
    return turn(wall.start, wall.end, a) * turn(wall.start, wall.end, b) < 0


def loss_db(building: Building, start: Position, end: Position) -> float:
    """Return the loss of a path, the same both ways."""
    low, high = sorted((start, end), key=lambda point: (point[2], point))
    return _loss_db(building, low, high)


@lru_cache(maxsize=200_000)
def _loss_db(building: Building, low: Position, high: Position) -> float:
    """Return free space, floors, and the walls crossed on each storey that the path passes."""
    loss = 32.45 + 20 * math.log10(building.hz / 1e6) + 20 * math.log10(max(math.dist(low, high), 1.0) / 1000)
    bottom, top = storey_of(low[2], building.floors_m), storey_of(high[2], building.floors_m)
    if top > bottom:
        loss += min(building.slabs_db[bottom + 1 : top + 1]) + building.further_db * (top - bottom - 1)

    def at(z: float) -> tuple[float, float]:
        share = (z - low[2]) / (high[2] - low[2])
        return low[0] + share * (high[0] - low[0]), low[1] + share * (high[1] - low[1])

    for storey in range(bottom, top + 1):
        a = at(building.floors_m[storey]) if storey > bottom else low[:2]
        b = at(building.floors_m[storey + 1]) if storey < top else high[:2]
        loss += sum(wall.loss_db for wall in building.walls if wall.storey == storey and crosses(a, b, wall))
    return loss


def wanted_dbm(building: Building, link: Radio) -> tuple[float, float]:
    """Return the wanted level at the access point and at the microphone: outdoors in free space."""
    indoors = 20 * math.log10(building.hz / 1e6) - 28
    indoors += 30 * math.log10(max(math.dist(link.microphone, link.box), 1.0))
    free_db = loss_db(building, link.microphone, link.box)
    loss = (free_db if link.outdoors else max(indoors, free_db)) + link.body_db
    return (
        link.microphone_dbm + link.box_gain_db - loss,
        link.box_dbm + link.microphone_gain_db - loss,
    )


def unwanted_dbm(building: Building, here: Radio, there: Radio) -> dict[str, float]:
    """Return the levels of another link at the access point and at the microphone of this one."""
    up = there.microphone_dbm + here.box_gain_db - loss_db(building, there.microphone, here.box)
    down = there.box_dbm + here.microphone_gain_db - loss_db(building, there.box, here.microphone)
    talk = there.microphone_dbm + here.microphone_gain_db
    talk -= loss_db(building, there.microphone, here.microphone)
    boxes = there.box_dbm + here.box_gain_db - loss_db(building, there.box, here.box)
    sliding = here.group != there.group
    return {
        "at the access point": max(up, boxes) if sliding else up,
        "at the microphone": max(down, talk) if sliding else down,
        "listening to access points": boxes if here.asks == "access_point" else down,
        "listening to microphones": up if here.asks == "access_point" else talk,
    }


def borne_dbm(building: Building, link: Radio) -> dict[str, float]:
    up, down = wanted_dbm(building, link)
    return {
        "at the access point": up - link.ratio_db,
        "at the microphone": down - link.ratio_db,
        "listening to access points": link.refused_dbm,
        "listening to microphones": link.refused_dbm,
    }


def exclude(building: Building, one: Radio, other: Radio) -> bool:
    """Say whether two links cannot share a carrier and a slot."""
    if one.access_point == other.access_point:
        return True
    for here, there in ((one, other), (other, one)):
        levels, borne = unwanted_dbm(building, here, there), borne_dbm(building, here)
        if here.judged and any(levels[end] >= borne[end] - ROUNDING_DB for end in levels):
            return True
    return False


def cells(link: Radio) -> list[tuple[int, int]]:
    """Return carrier and slot of all that a link keeps from others."""
    assert link.carrier is not None
    return [(on, slot) for on, slots in ((link.carrier, link.slots), *link.further) for slot in slots]


def used(link: Radio) -> Sequence[int]:
    """Return the slots in which a link is on the air, of those that it keeps from others.

    On one carrier these are the first of those kept; slots that may spread are each kept with the next one.
    """
    if link.one_carrier:
        return sorted(link.slots)[: link.tuned]
    kept = len(cells(link)) // link.tuned
    runs = (link.slots, *(slots for _, slots in link.further))
    return [slot for slots in runs for slot in sorted(slots)[::kept]]


def wrong(
    building: Building, links: Sequence[Radio], carriers: int, transceivers: Mapping[str, int]
) -> list[str]:
    """Return what is wrong: places, transceivers, sums of interference, near and far, listening."""
    found = [f"{link.name} has no place" for link in links if link.carrier is None]
    laid = [link for link in links if link.carrier is not None]
    there: dict[tuple[int, int], list[Radio]] = {}
    tuned: dict[tuple[str, int], int] = {}
    for link in laid:
        if not all(0 <= on < carriers and 0 <= slot < SLOTS for on, slot in cells(link)):
            found.append(f"{link.name} lies outside carriers or frame")
        for place in cells(link):
            there.setdefault(place, []).append(link)
        for slot in used(link):
            tuned[link.access_point, slot] = tuned.get((link.access_point, slot), 0) + 1
    found += [
        f"{tag} has too few transceivers in slot {slot}"
        for (tag, slot), count in tuned.items()
        if count > transceivers.get(tag, count)
    ]
    for (carrier, slot), members in sorted(there.items()):
        for one, other in combinations(members, 2):
            if one.access_point == other.access_point:
                found.append(f"{one.name} and {other.name} share carrier {carrier} and slot {slot}")
        for here in members if len(members) > 1 else []:
            if not here.judged:
                continue
            borne = borne_dbm(building, here)
            sums = dict.fromkeys(borne, 0.0)
            for other in members:
                if other is not here:
                    for end, level in unwanted_dbm(building, here, other).items():
                        sums[end] += 10 ** (level / 10)
            found += [
                f"{here.name} hears too much {end} on carrier {carrier} in slot {slot}"
                for end, power in sums.items()
                if power and 10 * math.log10(power) > borne[end] + ROUNDING_DB
            ]
        for away, tolerance_db in NEAR_FAR_DB.items():
            for here in members:
                for other in there.get((carrier + away, slot), []):
                    found += _near_far(building, here, other, tolerance_db, slot)
                    found += _near_far(building, other, here, tolerance_db, slot)
    return found


def _near_far(building: Building, here: Radio, other: Radio, tolerance_db: float, slot: int) -> list[str]:
    if not here.judged:
        return []
    up, down = wanted_dbm(building, here)
    levels = unwanted_dbm(building, here, other)
    stronger = max(levels["at the access point"] - up, levels["at the microphone"] - down)
    if stronger <= tolerance_db + ROUNDING_DB:
        return []
    return [f"{here.name} is drowned by {other.name} on a carrier near its own in slot {slot}"]
