"""Numbers outside a range are refused with the name of their parameter."""

import pytest

from proposal.standards.validity import OutOfRange
from proposal.standards.working import working
from tests.standards.sample_formulas import links


def test_outside_the_range_is_an_error_that_names_the_parameter() -> None:
    with pytest.raises(OutOfRange, match=r"links: each: wanted a whole number and at least 1; found 0"):
        working(links, slots=9, each=0)
    with pytest.raises(OutOfRange, match=r"slots: wanted a whole number and at least 0; found 2\.5"):
        links(2.5, 1)  # type: ignore[arg-type]
