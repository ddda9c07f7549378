"""What stands on the floor plan of a storey."""

import pytest

from proposal.drawings.floor_plan import spec_of
from proposal.editions import edition_of
from tests.sample_document import sample_document


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
    sample = sample_document()
    storey = sample.storeys[0].tag
    room = next(row for row in sample.rooms if row.storey == storey)
    device = sample.devices[0].model_copy(
        update={
            "tag": f"{room.tag}-X1",
            "room": room.tag,
            "storey": storey,
            "location": location,
            "height_m": height_m,
            "at": (1.0, 1.0),
        }
    )
    sheet = sample.sheets[0].model_copy(update={"kind": "floor plan", "subject": storey})
    spec = spec_of(edition_of(sample.model_copy(update={"devices": (device,)}), "client"), sheet)
    marked = [code for one in spec.rooms for mark in one.marks for code in mark.codes]
    assert marked == (["X1"] if shown else [])
