"""The revisions before this one: those that project.yaml names, and those that were issued."""

from proposal.document.document import Document
from proposal.document.rows.terms import RevisionRow


def with_issued(document: Document, earlier: Document) -> Document:
    """Return a document whose cover names the revisions that were issued before, beside those it names.

    earlier: the document of the last issue, whose own cover names the issues before it. Each revision stands
    there once, as project.yaml has it where it has it.
    """
    before = earlier.cover
    issued = [*(row for row in before.history if row.issued), before.revision]
    own = {row.identity: row for row in document.cover.history}
    found: dict[str, RevisionRow] = dict(own)
    for row in issued:
        if row.identity != document.cover.revision.identity:
            known = own.get(row.identity, row)
            found[row.identity] = known.model_copy(update={"issued": True})
    history = tuple(sorted(found.values(), key=lambda row: row.date))
    return document.model_copy(update={"cover": document.cover.model_copy(update={"history": history})})
