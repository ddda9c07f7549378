"""Carriers, frame and capacity of the licence-exempt DECT band, after ETSI EN 300 175-2 and 47 CFR 15.

A link takes slot pairs of a frame. Within one synchronised group of access points links are planned slot by
slot; a system that is not synchronised slides against them and so blocks more than it uses.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from proposal.standards.formula import formula
from proposal.standards.sources import COMMON_PRACTICE, Source
from proposal.standards.validity import OneOf, Range

EN_300_175_2 = Source("ETSI EN 300 175-2")
CFR_15_319 = Source("47 CFR 15.319", clause="(c), (e)")
CFR_15_323 = Source("47 CFR 15.323")
LISTENING = Source("47 CFR 15.323", clause="(c)(2), (5), (9)", memory=True)

SLOT_PAIRS = 12
"""Of a frame of 10 ms, which has 24 full slots."""
CARRIER_SPACING_HZ = 1_728_000.0

ADJACENT_CARRIER_TOLERANCE_DB: Mapping[int, float] = MappingProxyType({1: 13.0, 2: 34.0, 3: 40.0})
"""How much stronger another link may be that many carriers away in the same slot [dB] (memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Listening:
    """What a region asks of a device before it transmits.

    open_db, least_interfered_db: margins of the thresholds of an open channel and the quietest one [dB]
    least_channels: duplex access channels that must be defined for the second threshold to count (memory) [-]
    most_bandwidth_hz, most_share: what one device, or devices together, may hold: so much bandwidth, or
        such a share of the windows (memory) [Hz], [-]
    together_m: devices so close to each other count as one (memory) [m]
    repeated_after_h: after so long access is sought anew (memory) [h]
    """

    open_db: float = 30.0
    least_interfered_db: float = 50.0
    least_channels: int = 20
    most_bandwidth_hz: float = 6e6
    most_share: float = 1 / 3
    together_m: float = 1.0
    repeated_after_h: float = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """What a region allows.

    name: the region
    carriers_hz: centre of each carrier [Hz], shape (carriers,)
    peak_power_dbm: greatest peak power before any antenna rule [dBm]
    listening: what a device must do before it transmits, None where it need not listen
    source: where it stands
    """

    name: str
    carriers_hz: tuple[float, ...]
    peak_power_dbm: float
    listening: Listening | None
    source: Source


_PAIRS = Range(1, SLOT_PAIRS, whole=True)
_CARRIERS = Range(1, 100, whole=True)


@formula(
    title="Centre of a carrier in Europe",
    equation="f = 1897344000 − 1728000·c",
    source=EN_300_175_2,
    result=("f", "Hz"),
    where={"carrier": ("c", "number of the carrier", "-")},
    valid={"carrier": Range(0, 9, whole=True)},
)
def european_carrier_hz(carrier: int) -> float:
    """Return the centre of a carrier of the band 1880 MHz to 1900 MHz [Hz].

    carrier: number of the carrier, 0 to 9 [-]

    Source: ETSI EN 300 175-2.
    """
    return 1_897_344_000.0 - CARRIER_SPACING_HZ * carrier


@formula(
    title="Centre of a carrier in the United States",
    equation="f = 1921536000 + 1728000·c",
    source=CFR_15_323,
    result=("f", "Hz"),
    where={"carrier": ("c", "number of the carrier", "-")},
    valid={"carrier": Range(0, 4, whole=True)},
)
def united_states_carrier_hz(carrier: int) -> float:
    """Return the centre of a carrier of the band 1920 MHz to 1930 MHz [Hz].

    carrier: number of the carrier from the lowest, 0 to 4 [-]

    Source: carriers used under 47 CFR 15.323.
    """
    return 1_921_536_000.0 + CARRIER_SPACING_HZ * carrier


@formula(
    title="Power limit in the United States",
    equation="P = 10·log10(0.1·√(B)) − max(G − 3, 0)",
    source=CFR_15_319,
    result=("P", "dBm"),
    where={"bandwidth_hz": ("B", "emission bandwidth", "Hz"), "gain_dbi": ("G", "antenna gain", "dBi")},
    valid={"bandwidth_hz": Range(50e3, 2.5e6), "gain_dbi": Range(-20, 30)},
)
def united_states_power_limit_dbm(bandwidth_hz: float, gain_dbi: float) -> float:
    """Return the greatest peak power: 100 µW times the root of the bandwidth, less gain above 3 dBi [dBm].

    bandwidth_hz: emission bandwidth, 50 kHz to 2.5 MHz [Hz]
    gain_dbi: gain of the antenna [dBi]

    Source: 47 CFR 15.319(c) and (e).
    """
    return 10 * math.log10(0.1 * math.sqrt(bandwidth_hz)) - max(gain_dbi - 3, 0)


@formula(
    title="Threshold of listening before transmitting",
    equation="T = 15·log10(B) − 184 + M − P",
    source=LISTENING,
    result=("T", "dBm"),
    where={
        "bandwidth_hz": ("B", "emission bandwidth", "Hz"),
        "power_dbm": ("P", "transmit power", "dBm"),
        "margin_db": ("M", "30 for an open channel, 50 for the least interfered one", "dB"),
    },
    valid={"bandwidth_hz": Range(50e3, 2.5e6), "power_dbm": Range(-60, 60), "margin_db": OneOf((30, 50))},
)
def listening_threshold_dbm(bandwidth_hz: float, power_dbm: float, margin_db: float) -> float:
    """Return the level of others at or under which a device may use a channel [dBm].

    bandwidth_hz: emission bandwidth, 50 kHz to 2.5 MHz [Hz]
    power_dbm: transmit power [dBm]
    margin_db: 30 for an open channel, 50 for the least interfered one [dB]

    Source: 47 CFR 15.323(c)(2), (5), (9); formula and margins seen in a certification report of 2008.
    """
    return 15 * math.log10(bandwidth_hz) - 184 + margin_db - power_dbm


_LINKS = {
    "carriers": ("C", "carriers of the region", "-"),
    "slot_pairs": ("k", "slot pairs a link", "-"),
    "bearers": ("a", "always-on bearers, one an access point", "-"),
}
_OF_LINKS = {"carriers": _CARRIERS, "slot_pairs": _PAIRS, "bearers": Range(0, 100_000, whole=True)}


@formula(
    title="Links in one space, each on one carrier",
    equation="n = max(C·floor(12/k) − ceil(max(a − C·(12 − k·floor(12/k)), 0)/k), 0)",
    source=COMMON_PRACTICE,
    result=("n", "-"),
    where=_LINKS,
    valid=_OF_LINKS,
)
def links_on_one_carrier_each(carriers: int, slot_pairs: int, bearers: int) -> int:
    """Return how many synchronised links one space holds where the slot pairs of a link share a carrier [-].

    Always-on bearers first take the slot pairs that no link can use, then whole links' places.

    carriers: carriers of the region [-]
    slot_pairs: slot pairs that a link takes [-]
    bearers: always-on bearers, one for each access point [-]

    Source: common practice from the frame of ETSI EN 300 175-2.
    """
    each = SLOT_PAIRS // slot_pairs
    unusable = carriers * (SLOT_PAIRS - slot_pairs * each)
    displaced = math.ceil(max(bearers - unusable, 0) / slot_pairs)
    return max(carriers * each - displaced, 0)


@formula(
    title="Links in one space, spread over carriers",
    equation="n = max(floor((C·12 − a)/k), 0)",
    source=COMMON_PRACTICE,
    result=("n", "-"),
    where=_LINKS,
    valid=_OF_LINKS,
)
def links_spread_over_carriers(carriers: int, slot_pairs: int, bearers: int) -> int:
    """Return how many synchronised links one space holds where slot pairs may lie on any carrier [-].

    carriers: carriers of the region [-]
    slot_pairs: slot pairs that a link takes [-]
    bearers: always-on bearers, one for each access point [-]

    Source: common practice from the frame of ETSI EN 300 175-2.
    """
    return max((carriers * SLOT_PAIRS - bearers) // slot_pairs, 0)


@formula(
    title="Slot pairs that a link blocks for an unsynchronised system",
    equation="b = min(if(q = 1, k + 1, 2·k), 12)",
    source=COMMON_PRACTICE,
    result=("b", "-"),
    where={
        "slot_pairs": ("k", "slot pairs a link", "-"),
        "in_a_row": ("q", "1 where they follow each other, 0 where they stand single", "-"),
    },
    valid={"slot_pairs": _PAIRS, "in_a_row": OneOf((0, 1))},
)
def blocked_slot_pairs(slot_pairs: int, in_a_row: bool) -> int:
    """Return how many slot pairs one link blocks for a system whose frame slides against its own [-].

    slot_pairs: slot pairs that a link takes [-]
    in_a_row: whether they follow each other in the frame [-]

    Source: common practice.
    """
    return min(slot_pairs + 1 if in_a_row else 2 * slot_pairs, SLOT_PAIRS)


@formula(
    title="Links in one space beside an unsynchronised system",
    equation="n = C·floor(12/b)",
    source=COMMON_PRACTICE,
    result=("n", "-"),
    where={
        "carriers": ("C", "carriers of the region", "-"),
        "blocked": ("b", "slot pairs that a link blocks", "-"),
    },
    valid={"carriers": _CARRIERS, "blocked": _PAIRS},
)
def links_beside_unsynchronised(carriers: int, blocked: int) -> int:
    """Return how many links all systems in one space may have together when they are not synchronised [-].

    carriers: carriers of the region [-]
    blocked: slot pairs that a link blocks, see `blocked_slot_pairs` [-]

    Source: common practice.
    """
    return carriers * (SLOT_PAIRS // blocked)


@formula(
    title="Transceivers of an access point",
    equation="t = ceil(m/floor(12/k))",
    source=EN_300_175_2,
    result=("t", "-"),
    where={"links": ("m", "links of the access point", "-"), "slot_pairs": ("k", "slot pairs a link", "-")},
    valid={"links": Range(0, 120, whole=True), "slot_pairs": _PAIRS},
)
def transceivers_needed(links: int, slot_pairs: int) -> int:
    """Return how many transceivers an access point needs, each with twelve slot pairs [-].

    links: links of the access point [-]
    slot_pairs: slot pairs that a link takes, all with one transceiver [-]

    Source: frame of ETSI EN 300 175-2.
    """
    return math.ceil(links / (SLOT_PAIRS // slot_pairs))


REGIONS: Mapping[str, Region] = MappingProxyType(
    {
        "Europe": Region(
            name="Europe",
            carriers_hz=tuple(european_carrier_hz(carrier) for carrier in range(10)),
            peak_power_dbm=24.0,
            listening=None,
            source=EN_300_175_2,
        ),
        "United States": Region(
            name="United States",
            carriers_hz=tuple(united_states_carrier_hz(carrier) for carrier in range(5)),
            peak_power_dbm=round(united_states_power_limit_dbm(1.4e6, 0.0), 1),
            listening=Listening(),
            source=CFR_15_319,
        ),
    }
)
"""The regions by name; the power of the United States is that at a bandwidth of 1.4 MHz."""
