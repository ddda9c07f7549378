"""What a plan of a storey marks of one device, by where it is held."""

from collections.abc import Callable
from typing import Any

from proposal.editions import edition_of
from tests.sample_document import sample_document


def marked(spec_of: Callable[..., Any], kind: str, location: str, height_m: float) -> list[str]:
    """Return the codes on a kind of plan of a storey that holds a device X1 and nothing else."""
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
    sheet = sample.sheets[0].model_copy(update={"kind": kind, "subject": storey})
    spec = spec_of(edition_of(sample.model_copy(update={"devices": (device,)}), "client"), sheet)
    return [code for one in spec.rooms for mark in one.marks for code in mark.codes]
