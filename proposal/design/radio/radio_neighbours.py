"""Which radio links of a building disturb each other, and by how much.

For each pair of links the foreign microphone is heard at the access point and the foreign access point at the
microphone; where two links do not share a frame, also access point by access point and microphone by
microphone. Wanted levels carry the losses of bodies, unwanted ones do not.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.propagation import NEAREST_M, Floats, Surroundings
from proposal.standards.dect import ADJACENT_CARRIER_TOLERANCE_DB
from proposal.standards.free_space import free_space_losses_db

Integers = NDArray[np.int64]
Position = tuple[float, float, float]
LinkKind = Literal["link", "bearer", "other"]

REACH_DB = 25.0
"""Pairs that miss a conflict by more than this are not listed; the check of sums counts them at this much."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One radio link, an access point's always-on bearer, or a link of another user of the band.

    identity: tag of the microphone, or of the access point or user with a number.
    room, access_point: tags; another user's own tag for both.
    group: synchronisation group; links of one group share a frame.
    microphone_at, access_point_at: x, y and z above the datum, m.
    microphone_dbm, access_point_dbm: radiated power with antenna gain, dBm.
    microphone_gain_db, access_point_gain_db: gains when receiving.
    up_dbm, down_dbm: wanted level at the access point and at the microphone, after body loss; infinite for
        another user, whose reception is not ours to judge.
    body_db: the body loss in them.
    ratio_db: carrier to interference that is wanted, margin included.
    slot_pairs: slot pairs it takes.
    one_carrier, in_a_row: whether these stay on one carrier, and follow each other.
    """

    identity: str
    kind: LinkKind = "link"
    room: str
    access_point: str
    group: str
    microphone_at: Position
    access_point_at: Position
    microphone_dbm: float
    access_point_dbm: float
    microphone_gain_db: float = 0.0
    access_point_gain_db: float = 0.0
    up_dbm: float
    down_dbm: float
    body_db: float = 0.0
    ratio_db: float
    slot_pairs: int
    one_carrier: bool = True
    in_a_row: bool = True


@dataclass(frozen=True)
class Interference:
    """How far each link is disturbed by each other one in the same slot and on the same carrier.

    links: all of them, in order.
    disturbed, disturber: numbers of links, shape (pairs,), in order of disturbed and disturber.
    up_db, down_db: how far the unwanted level at the access point, at the microphone, lies above what the
        disturbed link bears, dB: 0 or more is a conflict.
    reach_db: pairs not listed lie below minus this.
    """

    links: tuple[Link, ...]
    disturbed: Integers
    disturber: Integers
    up_db: Floats
    down_db: Floats
    reach_db: float = REACH_DB

    def shifted(self, wanted_db: Floats, sent_db: Floats, threshold_db: float) -> "Interference":
        """Return what becomes of it with other levels, shape (links,) each, and another threshold.

        wanted_db: what is added to each link's wanted levels.
        sent_db: what is added to each link's power.
        threshold_db: what is added to the ratio wanted.
        """
        change = sent_db[self.disturber] - wanted_db[self.disturbed] + threshold_db
        return replace(
            self,
            up_db=self.up_db + change,
            down_db=self.down_db + change,
            reach_db=self.reach_db - float(np.max(sent_db, initial=0.0)) - threshold_db
            + float(np.min(wanted_db, initial=0.0)),
        )  # fmt: skip

    def worst_db(self) -> Floats:
        """Return the worse of both directions of each pair, shape (pairs,)."""
        return np.maximum(self.up_db, self.down_db)

    def conflicts(self) -> set[tuple[int, int]]:
        """Return the pairs of links, lower number first, that cannot share carrier and slot."""
        bad = self.worst_db() >= 0
        pairs = _ordered(self.disturbed[bad], self.disturber[bad])
        own: dict[str, list[int]] = {}
        for number, link in enumerate(self.links):
            own.setdefault(link.access_point, []).append(number)
        return pairs | {(i, j) for numbers in own.values() for i in numbers for j in numbers if i < j}

    def near_far(self, carriers_away: int) -> set[tuple[int, int]]:
        """Return the pairs that cannot use carriers so many steps apart in one slot, lower number first.

        carriers_away: number of carriers between the two channels' centres.
        Source: `proposal.standards.dect.ADJACENT_CARRIER_TOLERANCE_DB` (memory).
        """
        ratio = np.array([link.ratio_db for link in self.links])
        stronger = self.worst_db() - ratio[self.disturbed]
        bad = stronger > ADJACENT_CARRIER_TOLERANCE_DB[carriers_away]
        return _ordered(self.disturbed[bad], self.disturber[bad])


def _ordered(one: Integers, other: Integers) -> set[tuple[int, int]]:
    low, high = np.minimum(one, other), np.maximum(one, other)
    return set(zip(low.tolist(), high.tolist(), strict=True))


def interference(links: Sequence[Link], around: Surroundings) -> Interference:
    """Return how far each link disturbs each other one.

    links: in order; those of one room stand in one building block of the computation.
    around: walls and floors.
    """
    places = _Places(links)
    pairs = _near(places, links, around)
    parts = [_between(places, links, around, pairs)] if pairs else []
    disturbed, disturber, up, down = (
        (np.concatenate(one) for one in zip(*parts, strict=True))
        if parts
        else (np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64), np.zeros(0), np.zeros(0))
    )
    order = np.lexsort((disturber, disturbed))
    return Interference(
        links=tuple(links),
        disturbed=disturbed[order],
        disturber=disturber[order],
        up_db=up[order],
        down_db=down[order],
    )


class _Places:
    """Arrays of the links, and the links and access points of each room."""

    def __init__(self, links: Sequence[Link]) -> None:
        self.microphones = np.array([link.microphone_at for link in links]).reshape(-1, 3)
        self.access_points = np.array([link.access_point_at for link in links]).reshape(-1, 3)
        self.sent_up = np.array([link.microphone_dbm for link in links])
        self.sent_down = np.array([link.access_point_dbm for link in links])
        self.gain_up = np.array([link.access_point_gain_db for link in links])
        self.gain_down = np.array([link.microphone_gain_db for link in links])
        self.borne_up = np.array([link.up_dbm - link.ratio_db for link in links])
        self.borne_down = np.array([link.down_dbm - link.ratio_db for link in links])
        names = sorted({link.room for link in links})
        number = {room: n for n, room in enumerate(names)}
        self.rooms: list[Integers] = [np.zeros(0, dtype=np.int64) for _ in names]
        of_room: list[list[int]] = [[] for _ in names]
        for n, link in enumerate(links):
            of_room[number[link.room]].append(n)
        self.rooms = [np.array(members, dtype=np.int64) for members in of_room]
        groups: dict[str, int] = {}
        self.group = np.array([groups.setdefault(link.group, len(groups)) for link in links])
        # One access point stands for all of its links: its paths are computed once.
        self.first_of: dict[str, int] = {}
        self.stands_for = np.array(
            [self.first_of.setdefault(link.access_point, n) for n, link in enumerate(links)]
        )


def _near(places: _Places, links: Sequence[Link], around: Surroundings) -> list[tuple[int, int]]:
    """Return the pairs of rooms, in order and each with itself, that no bound keeps apart.

    The bound: the strongest antenna of one room over the shortest way, with the floors between and the walls
    that no way avoids, against what the most sensitive link of the other bears.
    """
    if not places.rooms:
        return []
    lows, highs, sent, borne = [], [], [], []
    for members in places.rooms:
        points = np.concatenate([places.microphones[members], places.access_points[members]])
        lows.append(points.min(axis=0))
        highs.append(points.max(axis=0))
        sent.append(max(places.sent_up[members].max(), places.sent_down[members].max()))
        gain = max(places.gain_up[members].max(), places.gain_down[members].max())
        borne.append(min(places.borne_up[members].min(), places.borne_down[members].min()) - gain)
    low, high = np.array(lows), np.array(highs)
    strongest, weakest = np.array(sent), np.array(borne)
    bottom, top = around.storey_number(low[:, 2]), around.storey_number(high[:, 2])
    ones: list[Integers] = []
    others: list[Integers] = []
    spare: list[Floats] = []
    for a in range(len(places.rooms)):
        gap = np.maximum(np.maximum(low[a] - high, low - high[a]), 0.0)
        floors = np.where(
            bottom > top[a],
            around.floors_db(np.full(len(top), top[a]), np.maximum(bottom, top[a])),
            around.floors_db(np.minimum(top, bottom[a]), np.full(len(top), bottom[a])),
        )
        loss = free_space_losses_db(around.frequency_hz, np.maximum(np.linalg.norm(gap, axis=1), NEAREST_M))
        loss = loss + floors
        over = np.maximum(strongest[a] - loss - weakest, strongest - loss - weakest[a]) + REACH_DB
        near = np.nonzero(over >= 0)[0]
        near = near[near >= a]
        ones.append(np.full(len(near), a))
        others.append(near)
        spare.append(over[near])
    one, other, left = np.concatenate(ones), np.concatenate(others), np.concatenate(spare)
    boxes = np.concatenate([low[:, :2], high[:, :2]], axis=1)
    walls = around.unavoidable_db(
        boxes[one], boxes[other], np.minimum(bottom[one], bottom[other]), np.maximum(top[one], top[other])
    )
    kept = left >= walls
    return list(zip(one[kept].tolist(), other[kept].tolist(), strict=True))


def _between(
    places: _Places, links: Sequence[Link], around: Surroundings, pairs: Sequence[tuple[int, int]]
) -> tuple[Integers, Integers, Floats, Floats]:
    """Return the listed pairs of links of all near rooms: disturbed, disturber, up, down."""
    one: list[Integers] = []
    other: list[Integers] = []
    for n, m in pairs:
        first, second = places.rooms[n], places.rooms[m]
        i, j = np.repeat(first, len(second)), np.tile(second, len(first))
        if n == m:
            i, j = i[i != j], j[i != j]
            one.append(i)
            other.append(j)
        else:
            one += [i, j]
            other += [j, i]
    i, j = np.concatenate(one), np.concatenate(other)
    # Beyond these losses a pair would not be listed.
    enough_up = places.sent_up[j] + places.gain_up[i] - places.borne_up[i] + REACH_DB
    enough_down = places.sent_down[j] + places.gain_down[i] - places.borne_down[i] + REACH_DB
    a, b = places.stands_for[i], places.stands_for[j]
    up = enough_up - _loss_db(around, places.microphones, places.access_points, j, a, enough_up)
    down = enough_down - _loss_db(around, places.microphones, places.access_points, i, b, enough_down)
    sliding = np.nonzero(places.group[i] != places.group[j])[0]
    if len(sliding):
        k, h = i[sliding], j[sliding]
        enough = places.sent_up[h] + places.gain_down[k] - places.borne_down[k] + REACH_DB
        low, high = np.minimum(k, h), np.maximum(k, h)
        heard = enough - _loss_db(around, places.microphones, places.microphones, low, high, enough)
        down[sliding] = np.maximum(down[sliding], heard)
        enough = places.sent_down[h] + places.gain_up[k] - places.borne_up[k] + REACH_DB
        one_box, other_box = places.stands_for[k], places.stands_for[h]
        low, high = np.minimum(one_box, other_box), np.maximum(one_box, other_box)
        heard = enough - _loss_db(around, places.access_points, places.access_points, low, high, enough)
        up[sliding] = np.maximum(up[sliding], heard)
    listed = np.maximum(up, down) >= 0
    return i[listed], j[listed], up[listed] - REACH_DB, down[listed] - REACH_DB


def _loss_db(
    around: Surroundings, starts: Floats, ends: Floats, one: Integers, other: Integers, enough_db: Floats
) -> Floats:
    """Return the loss from starts[one] to ends[other], each path computed once however often it is asked for.

    enough_db: of each, the loss beyond which nobody asks.
    """
    keys, where = np.unique(one * len(ends) + other, return_inverse=True)
    a, b = keys // len(ends), keys % len(ends)
    most = np.full(len(keys), -np.inf)
    np.maximum.at(most, where, enough_db)
    return around.unwanted_loss_db(starts[a], ends[b], most)[where]


def synchronisation_groups(
    access_points: Sequence[tuple[str, str, str, int]], together: str = "building"
) -> Mapping[str, str]:
    """Return the synchronisation group of each access point by its tag.

    together: what the group of those kept in step is called.
    access_points: in order: tag, group by hand or empty, how it keeps in step (network, radio or none), and
        how many of its kind can share a frame.
    Those kept in step share one frame up to the least number that any of them can; further ones start
    another. An access point that keeps no step is a group of its own.
    """
    groups: dict[str, str] = {}
    ordered = [one for one in access_points if not one[1] and one[2] != "none"]
    most = min((size for *_, size in ordered), default=1)
    for number, (tag, *_rest) in enumerate(ordered):
        groups[tag] = f"{together} {number // most + 1}" if len(ordered) > most else together
    for tag, by_hand, kept, _ in access_points:
        if by_hand:
            groups[tag] = by_hand
        elif kept == "none":
            groups[tag] = tag
    return groups
