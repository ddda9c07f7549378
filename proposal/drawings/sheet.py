"""What every sheet has around its drawing: the paper, and what the title block says."""

from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.terms import Cover, RevisionRow
from proposal.drawings.draft_mark import DRAFT
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting
from proposal.quantities.sheet_sizes import SHEET_MARGIN_PT, sheets_for

REBUILT = "Rebuilt with other versions"
"""State of a sheet that other versions made from the figures of the record of its revision."""

MM_PT = 72 / 25.4
FOOT_MM = 36.0
"""Height of the foot of a sheet, in which the legend and the title block stand, mm."""
TITLE_MM = 190.0
"""Width of the title block, mm."""


@dataclass(frozen=True, slots=True)
class SheetPaper:
    """The paper of a sheet, lying, and what of it a drawing has.

    name: such as `A3`.  width_mm, height_mm: of the paper.
    """

    name: str
    width_mm: float
    height_mm: float

    @property
    def margin_mm(self) -> float:
        """From the edge of the paper to the frame, all round, mm."""
        return SHEET_MARGIN_PT / MM_PT

    @property
    def field_mm(self) -> tuple[float, float]:
        """Width and height within the frame above the foot: the field of the drawing, mm."""
        return self.width_mm - 2 * self.margin_mm, self.height_mm - 2 * self.margin_mm - FOOT_MM


def paper_for(locale: str, units: str) -> SheetPaper:
    """Return the paper of a project's drawings.

    locale: as in `en_GB`.  units: metric or us_customary.
    """
    sheets = sheets_for(locale, units)
    return SheetPaper(
        sheets.name, round(sheets.large.height / MM_PT, 4), round(sheets.large.width / MM_PT, 4)
    )


A3 = paper_for("en_GB", "metric")
COMMON_FIELD_MM = (400.0, 223.0)
"""A field that sheets of every paper have, mm."""


@dataclass(frozen=True, slots=True)
class RevisionLine:
    """A line of the table of revisions: its letter, its date, what it is for, and who drew it."""

    identity: str
    date: str
    purpose: str
    drawn: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """What the title block of a sheet says.

    number, title: of the sheet.  part: such as `1 of 2`, empty where the drawing is one sheet; the title
    of the sheet says it too.
    project, revision, purpose: as the cover has them; what state the sheet is in stands before the purpose.
    draft: whether the sheet is marked as not issued.
    state: what state it is in, where it is not as it was issued; empty where it is.
    project_number, client, integrator: as the cover has them.
    date: of the revision.  drawn, checked: by whom; a line to fill in where nobody is named.
    units: in which lengths are written.  paper: of the sheet.
    revisions: this one and those before it, the latest last.
    changed: what the sheet shows otherwise than the last issue, each as the texts that it may stand under.
    new: whether the last issue did not have the sheet.
    """

    number: str
    title: str
    part: str
    project: str
    revision: str
    purpose: str
    draft: bool = False
    state: str = ""
    project_number: str = ""
    client: str = ""
    integrator: str = ""
    date: str = ""
    drawn: str = ""
    checked: str = ""
    units: str = ""
    paper: SheetPaper = A3
    revisions: tuple[RevisionLine, ...] = ()
    changed: tuple[tuple[str, ...], ...] = ()
    new: bool = False


def strip_of(edition: Edition, sheet: SheetRow) -> TitleBlock:
    """Return what the title block of a sheet says."""
    cover = edition.document.cover
    revision = cover.revision
    state = DRAFT if cover.draft else REBUILT if cover.rebuilt else ""
    return TitleBlock(
        number=sheet.number,
        title=sheet.title,
        part=f"{sheet.part} of {sheet.parts}" if sheet.parts > 1 else "",
        project=cover.name,
        revision=revision.identity,
        purpose=" · ".join(part for part in (state, revision.purpose) if part),
        draft=cover.draft,
        state=state,
        project_number=cover.number,
        client=cover.client.name,
        integrator=cover.integrator.name,
        date=formatting.date(revision.date, cover.locale),
        drawn=revision.prepared_by,
        checked=revision.checked_by,
        units=_units(cover),
        paper=paper_for(cover.locale, cover.units),
        revisions=tuple(_line(one, cover) for one in (*cover.history, revision)),
    )


def _units(cover: Cover) -> str:
    """Return in which units lengths are written, and small sizes such as those of sleeves and tiles."""
    length, small = (formatting.unit_of(quantity, cover.units) for quantity in ("length", "short_length"))
    return f"{length}, sizes in {small}"


def _line(revision: RevisionRow, cover: Cover) -> RevisionLine:
    return RevisionLine(
        revision.identity,
        formatting.date(revision.date, cover.locale),
        revision.purpose,
        revision.prepared_by,
    )
