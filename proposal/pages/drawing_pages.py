"""The list of drawings and one page a sheet."""

import re
from collections.abc import Mapping, Sequence
from typing import ClassVar

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.fact_list import fact_list, facts_of
from proposal.pages.markdown import Html, html_text, plain, text
from proposal.pages.page_context import PageContext
from proposal.pages.page_elements import figure
from proposal.pages.part_page import PartPage, part_page
from proposal.pages.prose import prose_of
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, sheet_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.pages.sheet_tables import tables_of
from proposal.quantities.formatting import count_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A rendered sheet as the pages show it.

    number: of the sheet.  file: its name under `drawings/`.  title: as on the sheet.
    alternative: what it shows, in a sentence.
    description: all that a reader who cannot see it needs, in words.
    size: width and height in pixels, where known.
    change: what became of it since the last issue: `new`, `changed` or `as before`; empty before the first.
    charts: files beside the sheet's in which pages show it in their own width: what the name of each ends in,
        and its size in pixels; none for what pages show as a sheet.
    """

    number: str
    file: str
    title: str
    alternative: str
    description: str = ""
    size: tuple[int, int] | None = None
    change: str = ""
    charts: tuple[tuple[str, tuple[int, int]], ...] = ()


def sheets_of(document: Document) -> tuple[SheetRow, ...]:
    """Return every sheet that the edition holds, those for all readers first."""
    return (*document.sheets, *document.detail_sheets, *document.check_sheets)


def sheets_of_kind(document: Document, *kinds: str) -> tuple[SheetRow, ...]:
    """Return the sheets of some kinds of drawings."""
    return tuple(row for row in sheets_of(document) if row.kind in kinds)


def figures_of(
    here: PageContext, drawings: Mapping[str, Drawing], kind: str, subject: str | None = None
) -> tuple[Html, ...]:
    """Return the drawings of a kind as ready HTML for a page.

    drawings: every drawing of the edition by sheet number.  subject: of which alone; None for all.
    """
    return tuple(
        figure_of(here, drawings[row.number])
        for row in sheets_of_kind(here.document, kind)
        if subject in (None, row.subject) and row.number in drawings
    )


def figure_of(here: PageContext, drawing: Drawing) -> Html:
    """Return a drawing as ready HTML for a page, titled with its number."""
    return figure(
        here.href(f"drawings/{drawing.file}"),
        drawing.alternative,
        f"{drawing.number} {drawing.title}",
        _lines(drawing.description),
        size=drawing.size,
        charts=dict(drawing.charts),
    )


def _lines(description: str) -> Html:
    """Return a description as ready HTML, each sentence on a line of its own."""
    sentences = re.split(r"(?<=\.)\s+(?=[^\W\d_])", plain(description))
    return Html("<br>".join(html_text(sentence) for sentence in sentences))


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingsPage:
    """The list of drawings and how to read them.

    parts: of many sheets, the way to the list of each kind and how many there are.
    """

    template: ClassVar[str] = "drawings.md.jinja"
    prose: Html | None
    sheets: Html | None
    parts: tuple[Html, ...]


def drawings_page(here: PageContext, drawings: Mapping[str, Drawing]) -> DrawingsPage:
    """Return the list of drawings, which says what changed in this revision.

    drawings: every drawing of the edition by sheet number.
    """
    links = links_to_parts(
        sheet_parts(here.document), paths.SHEET_LIST, here.to, lambda rows: count_of(len(rows), "sheet")
    )
    return DrawingsPage(
        prose=prose_of(here.document, "drawings", here.path),
        sheets=None if links else _sheets(here, sheets_of(here.document), drawings),
        parts=links,
    )


def drawings_part_page(
    here: PageContext, part: SchedulePart[SheetRow], drawings: Mapping[str, Drawing]
) -> PartPage:
    """Return the page of a part of the list of drawings.

    part: the sheets that stand on it.  drawings: every drawing of the edition by sheet number.
    """
    whole = paths.DRAWINGS, "List of drawings"
    return part_page(here, f"Drawings: {part.title}", whole, _sheets(here, part.rows, drawings))


def _sheets(here: PageContext, rows: Sequence[SheetRow], drawings: Mapping[str, Drawing]) -> Html:
    revision = here.document.cover.revision.identity
    fields: list[Field[SheetRow]] = [
        *fields_of(here, SheetRow, "number", "title", "kind", "shown", "members", "place", "hours_charged"),
        Field(here.heading("revision"), lambda _: revision),
        Field(here.heading("in_this_revision"), lambda row: drawings[row.number].change),
    ]
    return schedule("Every sheet of this edition", fields, rows, identity=lambda row: row.number)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingPage:
    """One drawing sheet in the browser."""

    template: ClassVar[str] = "drawing.md.jinja"
    number: Html
    title: Html
    facts: Html
    figure: Html
    tables: tuple[Html, ...]
    neighbours: tuple[Html, ...]


def drawing_page(here: PageContext, sheet: SheetRow, drawing: Drawing) -> DrawingPage:
    """Return the page of a drawing sheet."""
    return DrawingPage(
        number=text(sheet.number),
        title=text(sheet.title),
        facts=fact_list(f"Sheet {sheet.number}", facts_of(here, sheet, "kind", "shown", "members", "place")),
        figure=figure_of(here, drawing),
        tables=tables_of(here, sheet),
        neighbours=(
            *(
                here.drawing(row.number, f"{row.number} {row.title}")
                for row in sheets_of(here.document)
                if row is not sheet and (row.kind, row.subject) == (sheet.kind, sheet.subject)
            ),
            here.to(paths.DRAWINGS, "All drawings"),
        ),
    )
