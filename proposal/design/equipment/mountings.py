"""Where devices are fixed: by what their model allows and by what the client forbids."""

from collections.abc import Collection, Iterable, Mapping

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
_LISTENING_PLACES = ("wall", "ceiling", "stand", "table")
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


def stands_at(entry: Entry | None, untouchable: Collection[str] = ()) -> str:
    """Return where a device of a room stands by its model: on a table, else under one, else on a wall.

    entry: of the library; None where no model is known.
    untouchable: surfaces to which it is not fixed where it may stand elsewhere.
    """
    allowed = entry.mounting if isinstance(entry, Device) else ()
    places = [place for place in _STANDS if place in allowed]
    return next(iter([*left_of(places, untouchable), *places]), "table")


def left_of(places: Iterable[str], untouchable: Collection[str]) -> tuple[str, ...]:
    """Return the places at which nothing is fixed to a surface that may not be touched.

    untouchable: those surfaces.
    """
    return tuple(place for place in places if SURFACE_OF.get(place) not in untouchable)


def listening_places(layout: RoomType, entry: Device) -> tuple[str, ...]:
    """Return where a device for assistive listening can be and the client lets it, the usual place first.

    entry: of the library.
    """
    return left_of((place for place in _LISTENING_PLACES if place in entry.mounting), layout.untouchable)


def listening_place(layout: RoomType, entry: Device, *, written: str | None, at_a_wall: bool = True) -> str:
    """Return where a device for assistive listening is: as written, else where it can be and may.

    entry: of the library.  at_a_wall: whether its position is at one, or is free to be.
    """
    if written is not None:
        return written
    places = listening_places(layout, entry)
    if not at_a_wall:
        places = tuple(place for place in places if place != "wall")
    return next(iter(places), "wall")
