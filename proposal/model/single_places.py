"""The single seats and microphones that rows stand for, put into the tree of a room's layout."""

from dataclasses import replace
from itertools import islice

from proposal.errors import Place
from proposal.model.microphone_positions import MicrophoneRow
from proposal.model.reading.tree import Mapping, Node, Sequence, Text, merge, plain
from proposal.model.room_shape import SeatRow
from proposal.model.rows_of_places import RowOfPlaces, as_row, places_of

SORTS: dict[str, tuple[str, type[RowOfPlaces]]] = {
    "seat_rows": ("seats", SeatRow),
    "microphone_rows": ("microphones", MicrophoneRow),
}
"""Where rows are written: where the single places go, and what a row is."""
MOST_PLACES = 12_000
"""So many places are made at most before the rest of the rows is passed over."""
_OWN = frozenset({"numbers", "first", "last", "arc", "rows", "step", "seats"})
"""What a row says of itself, and not of each of its places."""


def with_single_places(layout: Mapping) -> Mapping:
    """Return a layout with a seat or a microphone for each place of its rows; the same one without rows.

    layout: tree of a room type, or of a room with what it changes.
    A place that is written by itself too takes from its row what it does not say.
    """
    for rows, (singles, sort) in SORTS.items():
        written = layout.get(rows)
        if not isinstance(written, Mapping):
            continue
        made: dict[str, tuple[Place, Node]] = {}
        for code, (place, row) in written.entries.items():
            made |= _places(code, place, row, sort)
            if len(made) > MOST_PLACES:
                # No room has as many; that it has is said of the seats or microphones themselves.
                break
        own = layout.entries.get(singles)
        if made and (own is None or isinstance(own[1], Mapping)):
            # What is written by itself is merged over what its row says, so that one seat can have a name.
            whole: Node = Mapping(made, written.place)
            if own is not None:
                whole = merge(whole, own[1])
            key = own[0] if own else layout.entries[rows][0]
            layout = replace(layout, entries={**layout.entries, singles: (key, whole)})
    return layout


def _places(code: str, place: Place, row: Node, sort: type[RowOfPlaces]) -> dict[str, tuple[Place, Node]]:
    """Return the places of one row by tag; none where something is wrong with the row."""
    if not isinstance(row, Mapping):
        return {}
    said = as_row(sort, plain(row))
    if said is None:
        return {}
    shared = {key: entry for key, entry in row.entries.items() if key not in _OWN}
    found: dict[str, tuple[Place, Node]] = {}
    for tag, (x, y) in islice(places_of(code, said), MOST_PLACES):
        at = Sequence((Text(f"{x!r} m", place), Text(f"{y!r} m", place)), place)
        entries: dict[str, tuple[Place, Node]] = {**shared, "at": (place, at)}
        if isinstance(said, MicrophoneRow) and said.seats:
            number = tag.removeprefix(code).removeprefix("-")
            dash = "-" if said.seats[-1:].isdigit() else ""
            entries["seat"] = (place, Text(f"{said.seats}{dash}{number}", place))
        found[tag] = (place, Mapping(entries, place))
    return found
