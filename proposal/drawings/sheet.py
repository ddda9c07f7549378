"""What the title block of every sheet says, whichever engine draws it."""

from dataclasses import dataclass

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.draft_mark import DRAFT
from proposal.editions import Edition
from proposal.quantities import formatting

REBUILT = "Made again with other versions"
"""State of a sheet that other versions made from the figures of the record of its revision."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """The title strip of a sheet.

    number, title: of the sheet.  part: such as `1 of 2`, empty where the drawing is one sheet; the title
    of the sheet says it too.
    project, revision, purpose: as the cover has them; what state the sheet is in stands before the purpose.
    draft: whether the sheet is marked as not issued.
    state: what state it is in, where it is not as it was issued; empty where it is.
    """

    number: str
    title: str
    part: str
    project: str
    revision: str
    purpose: str
    draft: bool = False
    state: str = ""


def strip_of(edition: Edition, sheet: SheetRow) -> TitleBlock:
    """Return the title strip of a sheet."""
    cover = edition.document.cover
    revision = cover.revision
    state = DRAFT if cover.draft else REBUILT if cover.rebuilt else ""
    return TitleBlock(
        number=sheet.number,
        title=sheet.title,
        part=f"{sheet.part} of {sheet.parts}" if sheet.parts > 1 else "",
        project=cover.name,
        revision=f"Revision {revision.identity}, {formatting.date(revision.date, cover.locale)}",
        purpose=" · ".join(part for part in (state, revision.purpose) if part),
        draft=cover.draft,
        state=state,
    )
