"""Energy over a year, by hand."""

import pytest

from proposal.standards.energy import yearly_energy_wh


@pytest.mark.pinned
def test_a_load_of_100_watts_all_year_takes_876_kilowatt_hours() -> None:
    assert yearly_energy_wh((100,), (8760,)) == pytest.approx(876_000)
    # 1000 h at 34 W, 300 h at 12 W, the rest of the year at 1 W: 34 + 3.6 + 7.46 kWh.
    assert yearly_energy_wh((34, 12, 1), (1000, 300, 7460)) == pytest.approx(45_060)
