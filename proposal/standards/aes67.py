"""Streams of networked audio after AES67 and what they take of an Ethernet link."""

from collections.abc import Sequence

from proposal.standards.formula import formula
from proposal.standards.sources import Source
from proposal.standards.validity import Range

AES67 = Source("AES67")
ON_THE_WIRE = Source("AES67", clause="with the headers of RTP, UDP, IPv4 and Ethernet (IEEE 802.3)")
ON_A_TAGGED_LINK = Source("AES67", clause="with the tag of IEEE 802.1Q")

SAMPLE_RATE_HZ = 48_000.0
BYTES_PER_SAMPLE = 3
TAG_BYTES = 4
PACKET_TIME_S = 0.001
MOST_CHANNELS = 8
"""Channels of a stream that every receiver takes, at 48 kHz, 24 bit and 1 ms."""

CLOCK_DSCP = 46
MEDIA_DSCP = 34
CLOCK_GROUP = "224.0.1.129"
"""Multicast group of the clock (IEEE 1588 over IPv4, memory)."""
ANNOUNCEMENT_GROUP = "239.255.255.255"
"""Multicast group in which streams are announced within a site (RFC 2974, memory)."""
DISCOVERY_GROUP = "224.0.0.251"
"""Multicast group in which devices tell their names (RFC 6762, memory)."""

_CHANNELS = Range(1, 64, whole=True)
_RATES = Range(8_000, 192_000)
_BYTES = Range(2, 4, whole=True)
_PACKET_TIMES = Range(0, 0.004, above=True)
_STREAM = {
    "channels": ("c", "channels of the stream", "-"),
    "bytes_per_sample": ("b", "bytes a sample", "byte"),
    "sample_rate_hz": ("f", "sampling frequency", "Hz"),
    "packet_time_s": ("t", "packet time", "s"),
}
_STREAMS = {
    "channels": _CHANNELS,
    "bytes_per_sample": _BYTES,
    "sample_rate_hz": _RATES,
    "packet_time_s": _PACKET_TIMES,
}


@formula(
    title="Audio bytes in a packet",
    equation="B = c·b·f·t",
    source=AES67,
    result=("B", "byte"),
    where=_STREAM,
    valid=_STREAMS,
)
def packet_payload_bytes(
    channels: int,
    bytes_per_sample: int = BYTES_PER_SAMPLE,
    sample_rate_hz: float = SAMPLE_RATE_HZ,
    packet_time_s: float = PACKET_TIME_S,
) -> float:
    """Return how much audio a packet carries [byte].

    channels: channels of the stream [-]
    bytes_per_sample: 3 for 24 bit [byte]
    sample_rate_hz: sampling frequency [Hz]
    packet_time_s: time between packets [s]

    Source: AES67.
    """
    return channels * bytes_per_sample * sample_rate_hz * packet_time_s


@formula(
    title="Data rate of a stream on the wire",
    equation="R = 8·(c·b·f·t + 12 + 8 + 20 + 14 + 4 + 8 + 12)/t",
    source=ON_THE_WIRE,
    result=("R", "bit/s"),
    where=_STREAM,
    valid=_STREAMS,
)
def stream_bandwidth_bit_per_s(
    channels: int,
    bytes_per_sample: int = BYTES_PER_SAMPLE,
    sample_rate_hz: float = SAMPLE_RATE_HZ,
    packet_time_s: float = PACKET_TIME_S,
) -> float:
    """Return what a stream takes of an untagged Ethernet link, gaps between frames included [bit/s].

    To the audio come RTP 12, UDP 8, IPv4 20, Ethernet 14 and 4, preamble 8 and gap 12 bytes.

    channels: channels of the stream [-]
    bytes_per_sample: 3 for 24 bit [byte]
    sample_rate_hz: sampling frequency [Hz]
    packet_time_s: time between packets [s]

    Source: AES67 with the headers of RTP, UDP, IPv4 and Ethernet.
    """
    payload = packet_payload_bytes(channels, bytes_per_sample, sample_rate_hz, packet_time_s)
    return 8 * (payload + 12 + 8 + 20 + 14 + 4 + 8 + 12) / packet_time_s


@formula(
    title="Data rate of a stream on a tagged link",
    equation="T = R + 8·4/t",
    source=ON_A_TAGGED_LINK,
    result=("T", "bit/s"),
    where={
        "untagged_bit_per_s": ("R", "data rate of the stream without a tag", "bit/s"),
        "packet_time_s": ("t", "packet time", "s"),
    },
    valid={"untagged_bit_per_s": Range(0), "packet_time_s": _PACKET_TIMES},
)
def tagged_bandwidth_bit_per_s(untagged_bit_per_s: float, packet_time_s: float = PACKET_TIME_S) -> float:
    """Return what a stream takes of a link between switches, where each frame names its VLAN [bit/s].

    untagged_bit_per_s: what it takes of an untagged link [bit/s]
    packet_time_s: time between packets [s]

    Source: IEEE 802.1Q: a tag has four bytes.
    """
    return untagged_bit_per_s + 8 * TAG_BYTES / packet_time_s


@formula(
    title="Load of a link between switches",
    equation="A = sum(T_i)",
    source=ON_A_TAGGED_LINK,
    result=("A", "bit/s"),
    where={"rates_bit_per_s": ("T_i", "data rate of a stream or of a device's control that passes", "bit/s")},
    valid={"rates_bit_per_s": Range(0)},
)
def link_load_bit_per_s(rates_bit_per_s: Sequence[float]) -> float:
    """Return what passes a link in one direction [bit/s].

    rates_bit_per_s: data rate of each stream and of the control of each device [bit/s], shape (rates,)

    Source: AES67 streams with the tag of IEEE 802.1Q.
    """
    return sum(rates_bit_per_s)
