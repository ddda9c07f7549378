"""Computed numbers are written in the units of the project."""

import pytest

from proposal.quantities import computed_figures


@pytest.mark.pinned
def test_a_reader_of_customary_units_finds_these_alone() -> None:
    assert computed_figures.figure(99.99, "%", "us_customary", "en_US") == "99.99%"
    # 6.9 mm across and 968 mm² inside: 0.27 in and 1.5 in²; 110 N over 4.448 N a pound is 24.7 lbf.
    assert computed_figures.figure(0.0069, "m", "us_customary", "en_US") == "0.2717 in"
    assert computed_figures.figure(0.000968, "m²", "us_customary", "en_US") == "1.5 in²"
    assert computed_figures.figure(110.0, "N", "us_customary", "en_US") == "24.7 lbf"
