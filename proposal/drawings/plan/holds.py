"""What a sheet of a storey or a room waits for: questions about it that nobody has answered yet."""

from collections.abc import Iterable

from proposal.document.document import Document
from proposal.quantities import formatting


def holds_of(document: Document, storey: str) -> tuple[str, ...]:
    """Return what is on hold on a storey and in its rooms, a sentence for each open question.

    storey: its tag.
    """
    rooms = [room for room in document.rooms if room.storey == storey]
    return _asked(document, (storey, *_names(document, [room.tag for room in rooms])))


def holds_in_rooms(document: Document, rooms: Iterable[str]) -> tuple[str, ...]:
    """Return what is on hold in some rooms, a sentence for each open question.

    rooms: their tags.
    """
    return _asked(document, _names(document, rooms))


def _names(document: Document, rooms: Iterable[str]) -> tuple[str, ...]:
    """Return the tags of rooms, and what their kinds are called."""
    tags = set(rooms)
    kinds = {room.sheet for room in document.rooms if room.tag in tags}
    return (*sorted(tags), *(kind.title for kind in document.room_sheets if kind.key in kinds))


def _asked(document: Document, subjects: tuple[str, ...]) -> tuple[str, ...]:
    found = []
    for row in document.questions:
        if row.subject in subjects:
            # Pages speak to the client; sheets go to those who build.
            who = "the client" if row.who == "you" else row.who
            answered = f"is answered by {who}" if who else "is answered"
            by = f" by {formatting.date(row.by, document.cover.locale)}" if row.by else ""
            found.append(f"Hold until {row.number} {answered}{by}: {row.asked or row.title}")
    return tuple(found)
