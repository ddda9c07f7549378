"""The order in which a reader meets the chapters."""

from collections.abc import Mapping
from typing import TypeVar

from proposal.document.readers import Reader

Entry = TypeVar("Entry")

_FIRST: Mapping[Reader, tuple[str, ...]] = {
    # What a client decides by, then what it rests on; drawings and schedules after that.
    "client": (
        "Cover",
        "Summary",
        "What changed",
        "What you asked for",
        "Alternates",
        "Price",
        "Programme",
        "Rooms",
        "Scope and terms",
        "Cautions",
        "System description",
        "Radio",
    ),
}
"""Titles of the chapters that come first, in order; all others follow as they stand."""


def in_order(reader: Reader, chapters: tuple[tuple[str, Entry], ...]) -> tuple[tuple[str, Entry], ...]:
    """Return the chapters in the order of a reader.

    chapters: title and entry of each.
    """
    places = {title: place for place, title in enumerate(_FIRST.get(reader, ()))}
    return tuple(sorted(chapters, key=lambda one: places.get(one[0], len(places))))
