"""What is heard where the plan puts links, in regions where equipment listens before it transmits."""

import math
from collections.abc import Mapping, Sequence
from typing import Literal

from proposal.design.radio.air_plan import AirPlan
from proposal.design.radio.radio_neighbours import Position
from proposal.field_classes import dataclass
from proposal.standards.dect import SLOT_PAIRS, Listening
from proposal.standards.levels import power_ratio

Access = Literal["open", "least interfered", "not proven"]
NOISE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Heavy:
    """A device that holds more of the band than one may, alone or with others close by, which count as one.

    devices: tags, of the one in the middle first; slot_pairs: of their links; most: as many as they may hold.
    carriers: that their links fill at least.
    """

    devices: tuple[str, ...]
    slot_pairs: int
    most: int
    carriers: int


def accesses(air: AirPlan, rules: Listening) -> Mapping[str, Access]:
    """Return how each link of ours that has a place would come by it, by its identity.

    air: the links, and what came of planning them.
    rules: of the region.
    Open: what the end that asks for it hears of all others in either direction lies under the first
    threshold. Least interfered: under the second, no run of slots is quieter there, and enough channels are
    defined. Else the place is free of conflict, but that it may be taken is not proven.
    """
    first = power_ratio(rules.open_db - rules.least_interfered_db)
    shares = air.board.shares()[:, 1]
    enough = air.graph.carriers * SLOT_PAIRS >= rules.least_channels
    found: dict[str, Access] = {}
    for demand, number in enumerate(air.owner):
        link = air.links[number]
        if link.kind != "link" or air.board.carrier_of[demand] < 0:
            continue
        access: Access = "not proven"
        if shares[demand] <= first:
            access = "open"
        elif enough and air.board.quietest(demand) >= shares[demand] - NOISE:
            access = "least interfered"
        # A link planned slot pair by slot pair is as its worst one.
        worse = (access, found.get(link.identity, "open"))
        found[link.identity] = max(worse, key=("open", "least interfered", "not proven").index)
    return found


def heavy(air: AirPlan, rules: Listening, bandwidth_hz: float) -> Sequence[Heavy]:
    """Return the devices that hold more of the band than one may, the heaviest first, each told once.

    air: the links, and what came of planning them.
    rules: of the region; bandwidth_hz: emission bandwidth of a carrier, Hz.
    A device may hold so much bandwidth, or such a share of all slot pairs; one of the two is enough. Devices
    of a room that are close to each other are held to that together.
    """
    most = int(air.graph.carriers * SLOT_PAIRS * rules.most_share + NOISE)
    rooms: dict[str, dict[str, Position]] = {}
    demands: dict[str, list[tuple[int, set[str]]]] = {}
    for demand, number in enumerate(air.owner):
        link = air.links[number]
        if link.kind != "other":
            rooms.setdefault(link.room, {})[link.access_point] = link.access_point_at
            demands.setdefault(link.room, []).append((demand, {link.access_point, link.identity}))
    for link in air.links:
        if link.kind == "link":
            rooms[link.room][link.identity] = link.microphone_at
    found: list[Heavy] = []
    for room, devices in rooms.items():
        for tag, at in devices.items():
            near = [one for one, there in devices.items() if math.dist(at, there) <= rules.together_m]
            own = [demand for demand, ends in demands[room] if not ends.isdisjoint(near)]
            pairs, longest = air.board.lengths[own].sum(), air.board.lengths[own].max()
            carriers = -(-len(own) // (SLOT_PAIRS // int(longest)))
            if pairs > most and carriers * bandwidth_hz > rules.most_bandwidth_hz:
                named = (tag, *(one for one in near if one != tag))
                found.append(Heavy(devices=named, slot_pairs=int(pairs), most=most, carriers=carriers))
    told: list[Heavy] = []
    for one in sorted(found, key=lambda one: -one.slot_pairs):
        if all(set(one.devices).isdisjoint(before.devices) for before in told):
            told.append(one)
    return told
