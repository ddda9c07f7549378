"""Where devices are fixed: by what their model allows and by what the client forbids."""

from collections.abc import Iterable, Mapping

from proposal.model.equipment.entry import Device, Entry
from proposal.model.rooms import HangingPlace, RoomType, Surface

SURFACE_OF: Mapping[str, Surface] = {
    "ceiling": "ceiling",
    "wall": "walls",
    "under table": "furniture",
    "furniture": "furniture",
}
"""The surface that a mounting is fixed to; what only stands somewhere touches none."""
HANGING_PLACES: tuple[HangingPlace, ...] = ("ceiling", "wall")
_STANDS = ("table", "under table", "wall")


def surfaces_left(layout: RoomType, boxes: Iterable[Device]) -> tuple[HangingPlace, ...]:
    """Return where access points may hang: where their models can and the client lets them.

    layout: of their room; boxes: their entries in the library.
    """
    models = list(boxes)
    return tuple(
        place
        for place in HANGING_PLACES
        if SURFACE_OF[place] not in layout.untouchable and all(place in one.mounting for one in models)
    )


def hangs_on(layout: RoomType) -> HangingPlace:
    """Return where an access point with a written position hangs: as written, else where it may."""
    if layout.access_points_on is not None:
        return layout.access_points_on
    return "wall" if "ceiling" in layout.untouchable and "walls" not in layout.untouchable else "ceiling"


def stands_at(entry: Entry | None) -> str:
    """Return where a device of a room stands by its model: on a table, else under one, else on a wall.

    entry: of the library; None where no model is known.
    """
    allowed = entry.mounting if isinstance(entry, Device) else ()
    return next((place for place in _STANDS if place in allowed), "table")
