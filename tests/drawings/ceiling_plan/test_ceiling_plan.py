"""What stands on the ceiling plan of a storey."""

import pytest

from proposal.drawings.ceiling_plan import spec_of
from tests.drawings.plan.storey_marks import marked


@pytest.mark.parametrize(
    ("location", "height_m", "shown"),
    [("table", 0.75, False), ("ceiling", 2.7, True), ("wall", 1.2, False), ("wall", 2.0, True)],
)
def test_a_device_stands_there_by_where_it_is_held(location: str, height_m: float, shown: bool) -> None:
    assert marked(spec_of, "ceiling plan", location, height_m) == (["X1"] if shown else [])
