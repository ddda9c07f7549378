"""Notes on sheets of the devices and cables of a storey."""

from collections.abc import Sequence

from proposal.document.document import Document
from proposal.drawings.plan.holds import heights_asked, pathways_elsewhere
from proposal.drawings.plan.plan_marks import schedules_of
from proposal.quantities import formatting

NOTES = (
    "Distances are from the walls of the room, heights above the finished floor. Devices without a cable "
    "share a line; room plans show them, those at one place side by side. The label at both ends of a cable "
    "is its name. Spare in a length: left at the device + left where it ends + used up by terminating. "
    "Mains: outlet beside the device, in racks of a power strip (PS) or standby supply (UP). U13 in "
    "brackets: unit of the rack, from below.",
)
TEST_NOTE = (
    "Test, and hand over the reports: network cables for their category (5e: class D, 6: class E, 6A: class "
    "EA) as permanent links, those with a plug at the device up to that plug; fibre for loss both ways, at "
    "most 0.75 dB a joint and the loss of the cable; loudspeaker lines at 1 kHz, before the amplifier."
)
"""What is measured. Classes are those of ISO/IEC 11801-1, the loss of a joint of TIA-568.3 (both memory)."""
TILE_NOTE = (
    "What hangs in a tile hangs in its middle, so far from the west and the south wall as the column says. "
    "Check the grid before cutting."
)
FLOOR_NOTE = "What lies on the floor lies in a duct, or under a cover where people walk; agree who lays it."
OPENING_NOTE = (
    "Sleeves are conduit: in mm its outside diameter (IEC 60423), else its trade size; filled at most 53 % "
    "by one cable, 31 % by two, 40 % by more. Holes leave 25 mm (1 in) round a tray, 6 mm (1/4 in) round a "
    "sleeve; where the firestop system asks for another width, that."
)


def fixings(document: Document, storey: str) -> str:
    """Return where fixings are drawn, which safety wires there are, and how cables leave furniture.

    storey: its tag.
    """
    sheets = [row.number for row in document.detail_sheets if row.kind == "mounting details"]
    wires = sorted({row.wire for row in document.devices if row.storey == storey and row.wire})
    wired = f"; what hangs overhead has a safety wire {', '.join(wires)}" if wires else ""
    told = [f"Fixings, hooks, conduit in walls: {', '.join(sheets)}{wired}."] if sheets else []
    more = (*_along_furniture(document, storey), _on_other_storeys(document, storey))
    return " ".join((*told, *(part for part in more if part)))


def _on_other_storeys(document: Document, storey: str) -> str:
    """Return where pathways on other storeys are listed that cables take, and what their heights wait for."""
    told = []
    for other, tags in pathways_elsewhere(document, storey).items():
        asked = ", ".join(row.number for row in heights_asked(document, other))
        waits = f", heights there as taken until question {asked} is answered" if asked else ""
        told.append(f"{', '.join(tags)} on {other}: {schedules_of(document, (other,))}{waits}.")
    return " ".join(told)


def _answered(document: Document, asked: Sequence[str]) -> str:
    """Return by whom and when questions are answered, as far as that is told of the first of them.

    asked: their numbers.
    """
    row = next(row for row in document.questions if row.number == asked[0])
    day = f" by {formatting.date(row.by, document.cover.locale)}" if row.by else ""
    return f" by {row.who}{day}" if row.who and row.who != "you" else day


def _along_furniture(document: Document, storey: str) -> list[str]:
    """Return how cables of devices on or under tables come to the wall, and what their place waits for."""
    standing = {row.tag: row for row in document.devices if row.location in ("table", "under table")}
    rooms = {
        standing[cable.from_tag].room
        for cable in document.cables
        if cable.from_storey == storey and cable.from_tag in standing and cable.rises_at and not cable.floor_m
    }
    if not rooms:
        return []
    kinds = {room.sheet for room in document.rooms if room.tag in rooms}
    titles = {kind.title for kind in document.room_sheets if kind.key in kinds}
    asked = [
        row.number
        for row in document.questions
        if row.subject in rooms | titles and row.title.startswith("Where ")
    ]
    waits = f"; place of furniture: question {', '.join(asked)}" if asked else ""
    return [f"At a wall cables come to it along the furniture of their device{waits}."]
