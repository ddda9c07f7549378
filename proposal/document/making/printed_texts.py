"""The texts of a project that its document prints as they stand, put into a document that is kept."""

from proposal.document.document import Document
from proposal.model.project import Project


def with_printed_texts(document: Document, project: Project) -> Document:
    """Return a document with the printed texts of its project as they are now.

    document: of a project that differs from it in such texts alone.
    """
    rooms = project.rooms
    return document.model_copy(
        update={
            "cover": document.cover.model_copy(update={"internal_note": project.brief.internal_note}),
            "rooms": tuple(
                row.model_copy(update={"internal_note": rooms[row.tag].internal_note})
                for row in document.rooms
            ),
            "room_sheets": tuple(
                sheet.model_copy(update={"use": layout.use, "internal_note": layout.internal_note})
                for sheet in document.room_sheets
                for layout in (rooms[sheet.rooms[0]].layout,)
            ),
        }
    )
