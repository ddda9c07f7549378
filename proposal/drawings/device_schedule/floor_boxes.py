"""Lines of the schedule of a storey about its floor boxes and pull boxes."""

from collections.abc import Iterator, Sequence

from proposal.document.document import Document
from proposal.drawings.plan.pathway_words import size_of
from proposal.quantities import formatting
from proposal.quantities.wall_openings import Point

Texts = tuple[str, ...]
BOXES = "Floor boxes and pull boxes"
BOX_HEADS = (
    "Box", "What", "East", "North", "Height", "In", "Comes in", "", "", "", "Size, depth, cover",
    "Cables that go on", "", "By",
)  # fmt: skip
NOT_TOLD = "whoever furnishes it tells them"
FURNISHED = "Conduit, boxes and pull strings"
"""What the matrix of duties calls boxes."""
JUNCTION = "junction"
ON_WALL_M = 0.01
"""What is as near to a wall as this is on it, m."""


def box_texts(document: Document, storey: str) -> Iterator[tuple[str, Texts]]:
    """Yield tag and cells of each box of a storey: where it is, what comes in, and what goes on from it.

    storey: its tag.
    """
    by = _furnisher(document)
    for node in document.nodes:
        if node.storey != storey or node.kind == JUNCTION:
            continue
        arriving = [row for row in document.pathways if node.tag in (row.from_node, row.to_node)]
        tags = {row.tag for row in arriving}
        onward = [
            cable.identity
            for cable in document.cables
            if cable.turns and cable.turns[0] == node.at and tags & set(cable.pathways[:1])
        ]
        yield (
            node.tag,
            (
                node.tag,
                node.kind,
                f"{_length(document, node.at[0])} E",
                f"{_length(document, node.at[1])} N",
                _length(document, node.height_m),
                _in_room(document, storey, node.at),
                ", ".join(f"{row.kind} {row.tag} {size_of(document, row)}".strip() for row in arriving),
                "",
                "",
                "",
                node.box or NOT_TOLD,
                ", ".join(onward),
                "",
                by,
            ),
        )


def within(at: Point, outline: Sequence[Point]) -> bool:
    """Return whether a point lies in the box around a room, its walls included.

    at, outline: in the building, m.
    """
    pairs = zip(at, zip(*outline, strict=True), strict=True)
    return all(min(values) - ON_WALL_M <= own <= max(values) + ON_WALL_M for own, values in pairs)


def _furnisher(document: Document) -> str:
    """Return who furnishes boxes, as the matrix of duties says; empty where it has no such line."""
    party = next((row.furnish for row in document.responsibilities if row.about == FURNISHED), "")
    return dict(document.parties).get(party, party)


def _in_room(document: Document, storey: str, at: Point) -> str:
    """Return how far a point is from the west and the south wall of its room; empty outside rooms."""
    for room in document.rooms:
        if room.storey == storey and within(at, room.outline):
            west, south = (min(values) for values in zip(*room.outline, strict=True))
            return f"{room.tag}, at {_length(document, at[0] - west)} and {_length(document, at[1] - south)}"
    return ""


def _length(document: Document, value_m: float) -> str:
    return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)
