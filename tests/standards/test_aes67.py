"""Streams of networked audio."""

import pytest

from proposal.standards import aes67
from proposal.standards.validity import OutOfRange
from proposal.standards.working import working


@pytest.mark.pinned
def test_eight_channels_take_9_840_mbit_per_s() -> None:
    # 8·3·48 = 1152 bytes of audio and 78 of headers and gap, a thousand times a second
    assert aes67.packet_payload_bytes(8) == pytest.approx(1152, rel=1e-12)
    assert aes67.stream_bandwidth_bit_per_s(8) == pytest.approx(9_840_000, rel=1e-12)


@pytest.mark.pinned
def test_one_channel_costs_more_than_an_eighth() -> None:
    # (144 + 78)·8·1000
    assert aes67.stream_bandwidth_bit_per_s(1) == pytest.approx(1_776_000, rel=1e-12)


def test_shorter_packets_cost_more() -> None:
    quick = aes67.stream_bandwidth_bit_per_s(2, packet_time_s=0.000125)
    assert quick > aes67.stream_bandwidth_bit_per_s(2)


def test_the_working_shows_the_defaults_that_were_put_in() -> None:
    record = working(aes67.stream_bandwidth_bit_per_s, channels=8)
    assert record.substituted == "R = 8·(8·3·48000·0.001 + 12 + 8 + 20 + 14 + 4 + 8 + 12)/0.001"


def test_packets_of_no_time_are_refused() -> None:
    with pytest.raises(OutOfRange, match="packet_time_s: wanted above 0"):
        aes67.stream_bandwidth_bit_per_s(8, packet_time_s=0.0)


def test_samples_have_16_to_32_bit() -> None:
    # 8·2·48 and 8·4·48
    assert aes67.packet_payload_bytes(8, bytes_per_sample=2) == pytest.approx(768)
    assert aes67.packet_payload_bytes(8, bytes_per_sample=4) == pytest.approx(1536)
    for other in (1, 5):
        with pytest.raises(OutOfRange, match="bytes_per_sample"):
            aes67.packet_payload_bytes(8, bytes_per_sample=other)
