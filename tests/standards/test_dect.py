"""Carriers, power and capacity of the licence-exempt band."""

import pytest

from proposal.standards import dect


@pytest.mark.published
def test_the_carriers_are_those_of_the_publications() -> None:
    # ETSI EN 300 175-2: ten carriers down from 1897.344 MHz; United States: the five listed
    europe = dect.REGIONS["Europe"].carriers_hz
    assert len(europe) == 10
    assert (europe[0], europe[9]) == (1_897_344_000, 1_881_792_000)
    states = [hz / 1e6 for hz in dect.REGIONS["United States"].carriers_hz]
    assert states == pytest.approx([1921.536, 1923.264, 1924.992, 1926.720, 1928.448], rel=0, abs=1e-9)


@pytest.mark.published
def test_the_power_limits_are_those_of_the_publications() -> None:
    # 250 mW is 24 dBm to the printed digit; 100 µW times the root of 1.4 MHz is 20.7 dBm
    assert dect.REGIONS["Europe"].peak_power_dbm == 24
    assert dect.united_states_power_limit_dbm(1.4e6, 0) == pytest.approx(20.7, rel=0, abs=0.05)
    assert dect.REGIONS["United States"].peak_power_dbm == 20.7


@pytest.mark.published
def test_antenna_gain_above_3_dbi_is_taken_off() -> None:
    plain = dect.united_states_power_limit_dbm(1.4e6, 3)
    assert plain == dect.united_states_power_limit_dbm(1.4e6, -2)
    assert plain - dect.united_states_power_limit_dbm(1.4e6, 5) == pytest.approx(2, rel=1e-9)


@pytest.mark.pinned
def test_ten_carriers_hold_40_links_of_three_pairs_and_20_or_30_beside_an_unsynchronised_system() -> None:
    # common practice: 10·⌊12/3⌋, 10·⌊12/6⌋, 10·⌊12/4⌋
    assert dect.links_on_one_carrier_each(10, 3, 0) == 40
    assert dect.links_beside_unsynchronised(10, dect.blocked_slot_pairs(3, False)) == 20
    assert dect.links_beside_unsynchronised(10, dect.blocked_slot_pairs(3, True)) == 30


@pytest.mark.parametrize(
    ("slot_pairs", "bearers", "links"),
    [
        (3, 5, 38),  # five bearers take two places of three pairs
        (3, 6, 38),
        (3, 7, 37),
        (5, 20, 20),  # ten carriers leave two pairs each that no link of five can use
        (5, 21, 19),
        (12, 1, 9),
        (12, 200, 0),
    ],
)
@pytest.mark.pinned
def test_always_on_bearers_first_take_what_no_link_can_use(slot_pairs: int, bearers: int, links: int) -> None:
    assert dect.links_on_one_carrier_each(10, slot_pairs, bearers) == links


def test_a_hundred_times_more_bearers_than_the_band_has_leave_no_link_and_are_no_error() -> None:
    assert dect.links_on_one_carrier_each(10, 3, 12_000) == 0
    assert dect.links_spread_over_carriers(10, 3, 12_000) == 0


@pytest.mark.independent
def test_the_capacity_equals_packing_bearers_one_by_one() -> None:
    # the oracle places each bearer on the carrier where it costs fewest links, over every small case
    for carriers in (1, 2, 5):
        for slot_pairs in range(1, 13):
            for bearers in range(13):
                free = [12] * carriers
                for _ in range(bearers):
                    costs = [pairs // slot_pairs - (pairs - 1) // slot_pairs for pairs in free]
                    held = [pairs % slot_pairs for pairs in free]
                    usable = [place for place in range(carriers) if free[place] > 0]
                    if usable:
                        free[min(usable, key=lambda at: (costs[at], held[at] == 0, free[at]))] -= 1
                placed = sum(pairs // slot_pairs for pairs in free)
                assert dect.links_on_one_carrier_each(carriers, slot_pairs, bearers) == placed


@pytest.mark.pinned
def test_an_eight_channel_access_point_at_three_pairs_needs_two_transceivers() -> None:
    assert dect.transceivers_needed(8, 3) == 2
    assert dect.transceivers_needed(4, 3) == 1
    assert dect.transceivers_needed(5, 5) == 3  # two links of five pairs fit into twelve


@pytest.mark.pinned
def test_spread_links_use_every_slot_pair() -> None:
    # 10·12 = 120 pairs: 24 links of five, and with one bearer 119/5 = 23.8
    assert dect.links_spread_over_carriers(10, 5, 0) == 24
    assert dect.links_spread_over_carriers(10, 5, 1) == 23


@pytest.mark.pinned
def test_links_on_other_carriers_are_borne_as_the_standard_asks_of_receivers() -> None:
    # EN 300 175-2, from memory: -73 dBm wanted; -60, -39 and -33 dBm one, two and three carriers away
    assert dict(dect.ADJACENT_CARRIER_TOLERANCE_DB) == {1: 73 - 60, 2: 73 - 39, 3: 73 - 33}
