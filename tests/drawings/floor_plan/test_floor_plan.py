"""What stands on the floor plan of a storey."""

import pytest

from proposal.drawings.floor_plan import spec_of
from tests.drawings.plan.storey_marks import marked


@pytest.mark.parametrize(
    ("location", "height_m", "shown"),
    [
        ("table", 0.75, True),
        ("charger", 0.75, True),
        ("ceiling", 2.7, False),
        ("wall", 1.2, True),
        ("wall", 2.4, False),
    ],
)
def test_a_device_stands_there_by_where_it_is_held(location: str, height_m: float, shown: bool) -> None:
    assert marked(spec_of, "floor plan", location, height_m) == (["X1"] if shown else [])
