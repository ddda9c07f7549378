"""Heat in British units and the air that carries it away, against the figures of the trade."""

import pytest

from proposal.standards.cooling import airflow_m3_h, heat_btu_h


@pytest.mark.independent
def test_a_watt_is_3600_joules_an_hour() -> None:
    # 1 BTU (international table) is 1055.05585262 J.
    assert heat_btu_h(1) == pytest.approx(3600 / 1055.05585262, rel=1e-4)


def test_half_the_rise_takes_twice_the_air() -> None:
    assert airflow_m3_h(500, 5) == pytest.approx(2 * airflow_m3_h(500, 10))
