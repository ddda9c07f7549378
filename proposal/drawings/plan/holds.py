"""What a sheet of a storey waits for: questions about the storey that nobody has answered yet."""

from proposal.document.document import Document


def holds_of(document: Document, storey: str) -> tuple[str, ...]:
    """Return what is on hold on a storey, a sentence for each open question about it.

    storey: its tag.
    """
    return tuple(
        f"Hold until {row.number} is answered{f' by {row.who}' if row.who else ''}: {row.asked or row.title}"
        for row in document.questions
        if row.subject == storey
    )
