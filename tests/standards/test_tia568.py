"""Lengths of balanced cabling."""

import pytest

from proposal.standards import tia568
from proposal.standards.validity import OutOfRange
from proposal.standards.working import working


@pytest.mark.published
def test_our_rule_is_shorter_than_the_printed_84_m_at_40_degrees_by_at_most_0_7_m() -> None:
    # ANSI/TIA-568.2-D prints 84 m for unscreened cable at 40 °C; 90/(1 + 0.08) = 83.33 stays on the safe side
    ours_m = tia568.permitted_permanent_link_m(tia568.insertion_loss_rise(40, False))
    assert 84 - 0.7 <= ours_m <= 84


@pytest.mark.published
@pytest.mark.parametrize(
    ("temperature_c", "screened", "rise"),
    # 0.4 %/°C from 20 to 40 °C, 0.6 %/°C from 40 to 60 °C unscreened; 0.2 %/°C screened (ANSI/TIA-568.2-D)
    [
        (20, False, 0),
        (30, False, 0.04),
        (40, False, 0.08),
        (41, False, 0.086),
        (60, False, 0.2),
        (20, True, 0),
        (40, True, 0.04),
        (60, True, 0.08),
    ],
)
def test_insertion_loss_rises_by_the_published_share_for_each_degree(
    temperature_c: float, screened: bool, rise: float
) -> None:
    assert tia568.insertion_loss_rise(temperature_c, screened) == pytest.approx(rise, rel=0, abs=1e-12)


def test_cold_cable_is_given_no_credit() -> None:
    assert tia568.insertion_loss_rise(-5, False) == 0
    assert tia568.insertion_loss_rise(5, True) == 0


def test_a_cable_warmer_than_the_standard_covers_is_refused() -> None:
    with pytest.raises(OutOfRange, match="temperature_c: wanted at least −20 and at most 60; found 60"):
        tia568.insertion_loss_rise(60.5, False)


@pytest.mark.pinned
def test_stretches_are_weighted_one_by_one_and_held_against_90_m() -> None:
    # 40 m at 45 °C: 40·1.11 = 44.4; 45 m at 20 °C: 45; together 89.4
    rises = (tia568.insertion_loss_rise(45, False), tia568.insertion_loss_rise(20, False))
    record = working(
        tia568.weighted_length_m, lengths_m=(40, 45), rises=rises, limit=tia568.PERMANENT_LINK_LIMIT
    )
    assert record.result == pytest.approx(89.4, rel=1e-12)
    assert record.verdict == "holds"


def test_one_stretch_of_the_permitted_length_weighs_exactly_90_m() -> None:
    for rise in (0, 0.05, 0.2):
        length_m = tia568.permitted_permanent_link_m(rise)
        assert tia568.weighted_length_m((length_m,), (rise,)) == pytest.approx(90, rel=1e-12)


def test_stretches_and_rises_must_be_as_many() -> None:
    with pytest.raises(ValueError, match="shorter"):
        tia568.weighted_length_m((1.0, 2.0), (0.0,))


@pytest.mark.published
def test_the_work_area_cord_is_capped_at_22_m_for_24_awg_and_17_m_for_26_awg() -> None:
    assert tia568.work_area_cord_m(60, 5, 24) == 22
    assert tia568.work_area_cord_m(60, 4, 26) == 17


def test_a_short_link_carries_the_note_that_the_table_does_not_reach_it() -> None:
    assert "70 m to 90 m" in working(tia568.cord_length_m, permanent_link_m=40, derating=0.2).note
    assert working(tia568.cord_length_m, permanent_link_m=75, derating=0.2).note == ""


@pytest.mark.published
def test_a_channel_of_90_m_and_10_m_of_cords_is_just_permitted() -> None:
    record = working(tia568.channel_length_m, permanent_link_m=90, cords_m=10, limit=tia568.CHANNEL_LIMIT)
    assert record.verdict == "holds"
    longer = working(tia568.channel_length_m, permanent_link_m=90, cords_m=10.1, limit=tia568.CHANNEL_LIMIT)
    assert longer.verdict == "fails"


@pytest.mark.published
@pytest.mark.parametrize(("gauge_awg", "derating"), [(24, 0.2), (26, 0.5), (28, 0.95)])
def test_cords_lose_more_than_horizontal_cable_by_the_published_share(
    gauge_awg: int, derating: float
) -> None:
    # TIA/EIA-568-B.1: 20 % for 24 AWG, 50 % for 26 AWG; 28 AWG from memory
    assert tia568.cord_derating(gauge_awg) == derating
