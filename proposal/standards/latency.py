"""The time that sound takes from a microphone to those who listen, as a sum of its parts."""

from collections.abc import Sequence

from proposal.standards.formula import formula
from proposal.standards.sources import COMMON_PRACTICE, Source
from proposal.standards.validity import Range

PACKETS = Source("AES67", clause="a packet is sent when it is full")

_PART = Range(0, 60_000)


@formula(
    title="Delay of networked audio from a sender to a receiver",
    equation="D = t + sum(f_i) + b",
    source=PACKETS,
    result=("D", "ms"),
    where={
        "packet_time_ms": ("t", "packet time", "ms"),
        "forwarding_ms": ("f_i", "delay of one switch on the way", "ms"),
        "buffer_ms": ("b", "what the receiver holds back", "ms"),
    },
    valid={"packet_time_ms": Range(0, 4, above=True), "forwarding_ms": _PART, "buffer_ms": _PART},
)
def network_delay_ms(packet_time_ms: float, forwarding_ms: Sequence[float], buffer_ms: float) -> float:
    """Return how long audio takes from a sender to a receiver of a stream [ms].

    packet_time_ms: time between packets [ms]
    forwarding_ms: delay of each switch on the way [ms], shape (switches,)
    buffer_ms: time that the receiver holds back what has arrived [ms]

    Source: AES67: a packet is sent when it is full.
    """
    return packet_time_ms + sum(forwarding_ms) + buffer_ms


@formula(
    title="Delay from a microphone to a listener",
    equation="T = sum(d_i)",
    source=COMMON_PRACTICE,
    result=("T", "ms"),
    where={"parts_ms": ("d_i", "delay of one part of the way", "ms")},
    valid={"parts_ms": _PART},
)
def path_delay_ms(parts_ms: Sequence[float]) -> float:
    """Return how long sound takes over all parts of its way [ms].

    parts_ms: delay of each part, from the microphone to what is heard [ms], shape (parts,)

    Source: common practice: microphone, radio link, network, mixer and conversion add up.
    """
    return sum(parts_ms)
