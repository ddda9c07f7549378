"""Heat in British units and the air that carries it away, against the figures of the trade."""

import pytest

from proposal.standards.cooling import airflow_m3_h, heat_btu_h


def test_a_watt_is_3_412_btu_an_hour() -> None:
    # 1 W is 3600 J an hour; 1 BTU (international table) is 1055.05585262 J.
    assert heat_btu_h(1) == pytest.approx(3600 / 1055.05585262, rel=1e-4)
    assert heat_btu_h(1) == pytest.approx(3.412)


def test_a_ton_of_cooling_is_12000_btu_an_hour() -> None:
    # 3516.85 W are a ton of refrigeration (NIST SP 811, appendix B.8, memory).
    assert heat_btu_h(3516.85) == pytest.approx(12_000, rel=1e-4)


def test_500_watts_and_10_kelvins_take_149_cubic_metres_an_hour() -> None:
    assert airflow_m3_h(500, 10) == pytest.approx(149, abs=0.5)
    assert airflow_m3_h(500, 5) == pytest.approx(2 * airflow_m3_h(500, 10))
