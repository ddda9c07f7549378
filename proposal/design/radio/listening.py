"""What microphones hear where the plan puts them, in regions that have them listen before they transmit."""

from collections.abc import Mapping, Sequence
from typing import Literal

from proposal.design.radio.air_plan import AirPlan
from proposal.field_classes import dataclass
from proposal.standards.dect import SLOT_PAIRS, Listening
from proposal.standards.levels import power_ratio

Access = Literal["open", "least interfered", "not proven"]
NOISE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Heavy:
    """An access point that holds more of the band than one device may.

    access_point: its tag; slot_pairs: those of its links; most: as many as its share allows.
    carriers: that its links fill at least.
    """

    access_point: str
    slot_pairs: int
    most: int
    carriers: int


def accesses(air: AirPlan, rules: Listening) -> Mapping[str, Access]:
    """Return how each link of ours that has a place would come by it, by its identity.

    air: the links, and what came of planning them.
    rules: of the region.
    Open: what its microphone hears of all others in either direction lies under the first threshold. Least
    interfered: under the second, no run of slots is quieter there, and enough channels are defined.
    Else the place is free of conflict, but that the microphone may take it is not proven.
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
    """Return the access points that hold more of the band than one device may, in order.

    air: the links, and what came of planning them.
    rules: of the region; bandwidth_hz: emission bandwidth of a carrier, Hz.
    A device may hold so much bandwidth, or such a share of all slot pairs; one of the two is enough.
    """
    most = int(air.graph.carriers * SLOT_PAIRS * rules.most_share + NOISE)
    found = []
    for own in air.graph.served():
        pairs = int(air.board.lengths[own].sum())
        longest = int(air.board.lengths[own].max(initial=1))
        carriers = -(-len(own) // (SLOT_PAIRS // longest))
        if pairs > most and carriers * bandwidth_hz > rules.most_bandwidth_hz:
            tag = air.links[air.owner[int(own[0])]].access_point
            found.append(Heavy(access_point=tag, slot_pairs=pairs, most=most, carriers=carriers))
    return found
