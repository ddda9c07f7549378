"""What a sheet of a storey or a room waits for: questions about it that nobody has answered yet."""

from collections.abc import Iterable

from proposal.document.document import Document
from proposal.document.rows.findings import QuestionRow
from proposal.quantities import formatting

HEIGHT = "pathway_height"
"""Key of the height of cables in the input of a storey."""


def holds_of(document: Document, storey: str) -> tuple[str, ...]:
    """Return what is on hold on a storey and in its rooms, a sentence for each open question.

    storey: its tag.
    """
    rooms = [room for room in document.rooms if room.storey == storey]
    own = _asked(document, (storey, *_names(document, [room.tag for room in rooms])))
    return (*own, *_asked_elsewhere(document, storey))


def pathways_elsewhere(document: Document, storey: str) -> dict[str, list[str]]:
    """Return the pathways on other storeys that cables of a storey take, by that storey.

    storey: its tag.
    """
    nodes = {node.tag: node.storey for node in document.nodes}
    begins = {tag for cable in document.cables if cable.from_storey == storey for tag in cable.pathways}
    away: dict[str, list[str]] = {}
    for row in document.pathways:
        ends = {nodes.get(tag, storey) for tag in (row.from_node, row.to_node)}
        if row.tag in begins and storey not in ends:
            away.setdefault(min(ends), []).append(row.tag)
    return away


def heights_asked(document: Document, storey: str) -> list[QuestionRow]:
    """Return the open questions that heights of cables on a storey wait for.

    storey: its tag.
    """
    return [row for row in document.questions if row.key == f"building.storeys.{storey}.{HEIGHT}"]


def _asked_elsewhere(document: Document, storey: str) -> tuple[str, ...]:
    """Return what cables of a storey wait for where they go on through pathways of others."""
    return tuple(
        _held(document, f"Hold cables in {', '.join(tags)} on {other}", row)
        for other, tags in pathways_elsewhere(document, storey).items()
        for row in heights_asked(document, other)
    )


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
    return tuple(_held(document, "Hold", row) for row in document.questions if row.subject in subjects)


def _held(document: Document, hold: str, row: QuestionRow) -> str:
    """Return until when something is on hold.

    hold: what is, in words.  row: the question that it waits for.
    """
    # Pages speak to the client; sheets go to those who build.
    who = "the client" if row.who == "you" else row.who
    answered = f"is answered by {who}" if who else "is answered"
    by = f" by {formatting.date(row.by, document.cover.locale)}" if row.by else ""
    return f"{hold} until question {row.number} {answered}{by}: {row.asked or row.title}"
