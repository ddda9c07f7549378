"""Which radio links of a building disturb each other, and by how much.

For each pair of links the foreign microphone is heard at the access point and the foreign access point at the
microphone; where two links do not share a frame, also access point by access point and microphone by
microphone. Wanted levels carry the losses of bodies, unwanted ones do not.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from proposal.design.radio.propagation import NEAREST_M, Floats, Surroundings
from proposal.field_classes import dataclass
from proposal.standards.dect import ADJACENT_CARRIER_TOLERANCE_DB
from proposal.standards.free_space import free_space_losses_db

Integers = NDArray[np.int64]
Position = tuple[float, float, float]
LinkKind = Literal["link", "bearer", "other"]
End = Literal["microphone", "access_point"]

REACH_DB = 25.0
"""Pairs that miss a conflict by more than this are not listed; the check of sums counts them at this much."""
FEW_LINKS = 500
"""Up to so many, links that are not listed add up to little; of more, weaker pairs are listed too."""
NOTHING_DB = -500.0
"""Stands for no level at all, so that differences stay finite."""


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
    initiated_by: the end that asks for a place, and listens first where the region has equipment listen.
    refused_dbm: the level of all others in either direction above which it may not use a place; infinite
        where nobody listens.
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
    initiated_by: End = "microphone"
    refused_dbm: float = math.inf

    @property
    def listening_gain_db(self) -> float:
        """Return the gain of the end that listens."""
        at_microphone = self.initiated_by == "microphone"
        return self.microphone_gain_db if at_microphone else self.access_point_gain_db


@dataclass(frozen=True)
class Interference:
    """How far each link is disturbed by each other one in the same slot and on the same carrier.

    links: all of them, in order.
    disturbed, disturber: numbers of links, shape (pairs,), in order of disturbed and disturber.
    over_db: how far the unwanted level lies above what the disturbed link tolerates, dB, shape (pairs, ends):
        0 or more is a conflict. Ends: at the access point, at the microphone; where equipment listens first
        also the access point and the microphone of the other, each heard by the end that listens.
    reach_db: pairs not listed lie below minus this: farther down the more links there are.
    """

    links: tuple[Link, ...]
    disturbed: Integers
    disturber: Integers
    over_db: Floats
    reach_db: float = REACH_DB

    def shifted(
        self, wanted_db: Floats | float = 0.0, sent_db: Floats | float = 0.0, paths_db: Floats | float = 0.0
    ) -> "Interference":
        """Return what becomes of it with other levels.

        wanted_db: what is added to each link's wanted levels, shape (links,).
        sent_db: what is added to each link's power, shape (links,); who listens tolerates so much less.
        paths_db: what is added to the level on each unwanted path, shape (pairs,).
        """
        wanted, sent = (np.broadcast_to(one, len(self.links)) for one in (wanted_db, sent_db))
        paths = np.broadcast_to(paths_db, len(self.disturbed))
        sent_here = sent[self.disturber] + paths
        over = self.over_db.copy()
        over[:, :2] += (sent_here - wanted[self.disturbed])[:, None]
        over[:, 2:] += (sent_here + sent[self.disturbed])[:, None]
        nearer = float(np.max(paths, initial=0.0)) + float(np.max(sent, initial=0.0))
        return replace(
            self, over_db=over, reach_db=self.reach_db - nearer + float(np.min(wanted, initial=0.0))
        )

    def between_rooms(self) -> NDArray[np.bool_]:
        """Say of each pair whether its links are those of two rooms."""
        rooms: dict[str, int] = {}
        room = np.array([rooms.setdefault(link.room, len(rooms)) for link in self.links], dtype=np.int64)
        apart: NDArray[np.bool_] = room[self.disturbed] != room[self.disturber]
        return apart

    def worst_db(self) -> Floats:
        """Return the worst end of each pair, shape (pairs,)."""
        worst: Floats = self.over_db.max(axis=1, initial=-math.inf)
        return worst

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
        stronger = self.over_db[:, :2].max(axis=1, initial=-math.inf) - ratio[self.disturbed]
        bad = stronger > ADJACENT_CARRIER_TOLERANCE_DB[carriers_away]
        return _ordered(self.disturbed[bad], self.disturber[bad])


def _ordered(one: Integers, other: Integers) -> set[tuple[int, int]]:
    """Return pairs, each once, lower number first."""
    low, high = np.minimum(one, other), np.maximum(one, other)
    count = int(high.max(initial=0)) + 1
    once = np.unique(low * count + high)  # most pairs are listed from both ends
    return set(zip((once // count).tolist(), (once % count).tolist(), strict=True))


def interference(links: Sequence[Link], around: Surroundings) -> Interference:
    """Return how far each link disturbs each other one.

    links: in order; those of one room stand in one building block of the computation.
    around: walls and floors.
    """
    places = _Places(links)
    disturbed, disturber, over = _between(places, around, _near(places, around))
    order = np.lexsort((disturber, disturbed))
    return Interference(
        links=tuple(links),
        disturbed=disturbed[order],
        disturber=disturber[order],
        over_db=over[order],
        reach_db=places.reach_db,
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
        self.tolerated_up = np.array([link.up_dbm - link.ratio_db for link in links])
        self.tolerated_down = np.array([link.down_dbm - link.ratio_db for link in links])
        self.refused = np.array([link.refused_dbm for link in links])
        self.asked_above = np.array([link.initiated_by == "access_point" for link in links], dtype=np.bool_)
        self.reach_db = REACH_DB + 10 * math.log10(max(len(links) / FEW_LINKS, 1.0))
        self.listening = bool(np.isfinite(self.refused).any())
        names = sorted({link.room for link in links})
        number = {room: n for n, room in enumerate(names)}
        of_room: list[list[int]] = [[] for _ in names]
        for n, link in enumerate(links):
            of_room[number[link.room]].append(n)
        self.rooms: list[Integers] = [np.array(members, dtype=np.int64) for members in of_room]
        groups: dict[str, int] = {}
        self.group = np.array([groups.setdefault(link.group, len(groups)) for link in links])
        # One access point stands for all of its links: its paths are computed once.
        self.first_of: dict[str, int] = {}
        self.stands_for = np.array(
            [self.first_of.setdefault(link.access_point, n) for n, link in enumerate(links)]
        )


def _near(places: _Places, around: Surroundings) -> list[tuple[int, int]]:
    """Return the pairs of rooms, in order and each with itself, that no bound keeps apart.

    The bound: the strongest antenna of one room over the shortest way, with the floors between and the walls
    that no way avoids, against what the most sensitive link of the other tolerates.
    """
    if not places.rooms:
        return []
    both = (places.microphones, places.access_points)
    points = [np.concatenate([one[members] for one in both]) for members in places.rooms]
    low = np.array([one.min(axis=0) for one in points])
    high = np.array([one.max(axis=0) for one in points])
    sent = np.maximum(places.sent_up, places.sent_down)
    least = np.minimum(np.minimum(places.tolerated_up, places.tolerated_down), places.refused)
    gain = np.maximum(places.gain_up, places.gain_down)
    strongest = np.array([sent[members].max() for members in places.rooms])
    weakest = np.array([least[members].min() - gain[members].max() for members in places.rooms])
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
        over = np.maximum(strongest[a] - loss - weakest, strongest - loss - weakest[a]) + places.reach_db
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
    places: _Places, around: Surroundings, pairs: Sequence[tuple[int, int]]
) -> tuple[Integers, Integers, Floats]:
    """Return the listed pairs of links of near rooms: disturbed, disturber, and how far over at each end."""
    one: list[Integers] = [np.zeros(0, dtype=np.int64)]
    other: list[Integers] = [np.zeros(0, dtype=np.int64)]
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
    microphones, boxes, reach_db = places.microphones, places.access_points, places.reach_db
    a, b = places.stands_for[i], places.stands_for[j]
    up_tolerated, down_tolerated = places.tolerated_up[i], places.tolerated_down[i]
    above = places.asked_above[i]
    up_least = np.where(above, np.minimum(up_tolerated, places.refused[i]), up_tolerated)
    down_least = np.where(above, down_tolerated, np.minimum(down_tolerated, places.refused[i]))
    up_gain, down_gain = places.gain_up[i], places.gain_down[i]
    sliding, everywhere = places.group[i] != places.group[j], np.ones(len(i), dtype=np.bool_)

    def level_dbm(
        ways: tuple[Floats, Floats, Integers, Integers], sent: Floats, least: Floats, asked: NDArray[np.bool_]
    ) -> Floats:
        """Return the level of each disturber by paths between numbered positions, where it is asked for."""
        found, k = np.full(len(i), -np.inf), np.nonzero(asked)[0]
        starts, ends, one, other = ways
        enough = sent[k] - least[k] + reach_db  # beyond this loss a pair would not be listed
        found[k] = sent[k] - _loss_db(around, starts, ends, one[k], other[k], enough)
        return found

    up = level_dbm((microphones, boxes, j, a), places.sent_up[j] + up_gain, up_least, everywhere)
    down = level_dbm((microphones, boxes, i, b), places.sent_down[j] + down_gain, down_least, everywhere)
    # Between two of a kind there is one path, whoever disturbs.
    both = (microphones, microphones, np.minimum(i, j), np.maximum(i, j))
    heard = level_dbm(both, places.sent_up[j] + down_gain, down_least, sliding | (places.listening & ~above))
    both = (boxes, boxes, np.minimum(a, b), np.maximum(a, b))
    beside = level_dbm(both, places.sent_down[j] + up_gain, up_least, sliding | (places.listening & above))
    at_box = np.where(sliding, np.maximum(up, beside), up)
    at_microphone = np.where(sliding, np.maximum(down, heard), down)
    over = [at_box - up_tolerated, at_microphone - down_tolerated]
    if places.listening:
        over += [np.where(above, *two) - places.refused[i] for two in ((beside, down), (up, heard))]
    ends = np.maximum(np.stack(over, axis=1), NOTHING_DB)
    listed = ends.max(axis=1, initial=NOTHING_DB) >= -reach_db
    return i[listed], j[listed], ends[listed]


def _loss_db(
    around: Surroundings, starts: Floats, ends: Floats, one: Integers, other: Integers, enough_db: Floats
) -> Floats:
    """Return the loss from starts[one] to ends[other], each path computed once however often it is asked for.

    enough_db: of each, the loss beyond which nobody asks.
    """
    if not len(one):
        return np.zeros(0)
    keys, where = np.unique(one * len(ends) + other, return_inverse=True)
    a, b = keys // len(ends), keys % len(ends)
    most = np.full(len(keys), -np.inf)
    np.maximum.at(most, where, enough_db)
    return around.unwanted_loss_db(starts[a], ends[b], most)[where]
