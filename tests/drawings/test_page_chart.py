"""Charts are read in a page at its width: on a wide window and on a telephone, with their legend."""

import re
from functools import cache
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.kinds import drawing_of
from proposal.drawings.page_chart import PAGE_WIDTHS_MM
from proposal.editions import edition_of
from tests.drawings.collisions import collisions
from tests.drawings.shown import lettering, svg_of, texts
from tests.long_form import LONG
from tests.whole_projects import whole_document

ROOT = Path(__file__).parents[2]
PROJECTS = (
    "tests/projects/us_customary",
    *(("tests/projects/failing", "example_project", "tests/projects/university") if LONG else ()),
)
CHARTS = {"gantt chart", "charge timeline", "level map", "crew loading"}
# Widths in pixels that the columns of a page had in Chromium, in windows of 1440 and 390 pixels.
COLUMNS = {"page": 1152, "narrow": 356}
LEAST_PX = 12.0


@cache
def charts(project: str) -> tuple[tuple[SheetRow, str, str], ...]:
    document = whole_document(ROOT / project)
    return tuple(
        (row, name, drawn.decode())
        for row in sheets(document)
        for name, width_mm in PAGE_WIDTHS_MM.items()
        if (drawn := drawing_of(edition_of(document, "reviewer"), row).render_chart(width_mm, str))
    )


def sheets(document: Document) -> list[SheetRow]:
    return [*document.sheets, *document.detail_sheets, *document.check_sheets]


@pytest.mark.parametrize("project", PROJECTS)
def test_letters_of_a_chart_have_twelve_pixels_and_touch_nothing(project: str) -> None:
    assert {row.kind for row, _, _ in charts(project)} == CHARTS & {
        row.kind for row in sheets(whole_document(ROOT / project))
    }
    for row, name, svg in charts(project):
        found = re.search(r'viewBox="0 0 ([\d.]+) ', svg)
        assert found is not None
        smallest = min(size for size, _ in lettering(svg))
        assert smallest * COLUMNS[name] / float(found[1]) >= LEAST_PX, (row.number, name)
        assert collisions(svg) == [], (row.number, name)


def test_a_chart_says_in_a_page_what_its_sheet_says() -> None:
    """Names, dates and legend of the Gantt chart and of the level map, whichever width they have."""
    document = whole_document(ROOT / PROJECTS[0])
    for row, name, svg in charts(PROJECTS[0]):
        said = " ".join(texts(svg))
        if row.kind == "gantt chart":
            assert [one.name for one in document.activities if one.name not in said] == []
        if row.kind == "level map":
            sheet = [text for text in texts(svg_of(document, row)) if text.startswith("weakest: ")]
            assert sheet
            assert set(sheet[0].replace(",", "").split()) <= set(said.replace(",", "").split()), (row, name)


def test_what_is_no_chart_is_shown_as_its_sheet() -> None:
    document = whole_document(ROOT / PROJECTS[0])
    edition = edition_of(document, "reviewer")
    riser = next(row for row in document.sheets if row.kind == "riser overall")
    assert drawing_of(edition, riser).render_chart(200.0, str) is None
