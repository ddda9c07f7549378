"""Pages printed from the browser: heads of tables on each page, wide schedules on their side, nothing cut."""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser
from pypdf import PageObject, PdfReader

from proposal.pages.markdown import Html
from proposal.pages.tables import Column, View, table
from proposal.publish.program_folders import own_folders
from proposal.publish.site import build_site
from tests.browser.harness import opened
from tests.publish.sample_site import DRAWING, sample_site

pytestmark = pytest.mark.browser

ROWS = 50
SMALLEST_PT = 7.0
A3_WIDTH_PX = 1587
"""420 mm at 96 to the inch."""
A3_PT, A4_PT = (1191, 842), (595, 842)
"""Of ISO 216, in points of 1/72 inch, rounded."""


def page(columns: int) -> str:
    heads = [Column(f"Head{n}", numeric=n > 2) for n in range(columns)]
    rows = [[f"B101-AP{row}", *(f"some words {n}" for n in range(1, columns))] for row in range(ROWS)]
    return f"# Page of {columns}\n\nWords.\n\n{table('Rows', heads, rows)}\n\nMore words.\n"


def views() -> str:
    folded = Html('<details class="fold"><summary>tray first</summary>tray first and second</details>')
    heads = ["Cable", Column("Route", views=("pull",)), *(Column(f"Head{n}", views=()) for n in range(10))]
    rows = [["B101-AP1", folded, *["words"] * 10]]
    return f"# Views\n\n{table('Rows', heads, rows, views=[View('pull', 'Pulling')], opens='pull')}\n"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of a site with schedules of several widths and a drawing."""
    drawing = (
        '# Sheet\n\n<figure class="drawing">\n<div class="sheet" tabindex="0" role="region" aria-label="S">'
        '<img src="a.svg" alt="S" width="1587" height="1123"></div>\n<figcaption>S</figcaption>\n</figure>\n'
    )
    widths = {f"w{columns}.md": page(columns) for columns in (5, 15)}
    widths["views.md"] = views()
    source = sample_site(
        pages={"index.md": "# Cover\n", "sheet.md": drawing, **widths},
        nav=(("Cover", "index.md"), ("Sheet", "sheet.md"), *((path, path) for path in widths)),
        files={"a.svg": DRAWING},
        logo=None,
    )
    return build_site(source, own_folders(tmp_path_factory.mktemp("print")).build / "client").parent


def printed(chromium: Browser, path: Path) -> PdfReader:
    with opened(chromium, path) as state:
        return PdfReader(BytesIO(state.page.pdf(prefer_css_page_size=True)))


def size_of(paper: PageObject) -> tuple[int, int]:
    return round(float(paper.mediabox.width)), round(float(paper.mediabox.height))


def texts(paper: PageObject) -> Iterator[tuple[str, float, float]]:
    """Yield each text with its left edge and its size, both in points."""
    found: list[tuple[str, float, float]] = []

    def visit(words: str, cm: list[float], tm: list[float], font: Any, size: float) -> None:
        if words.strip():
            left = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            height = abs(size * (tm[2] * cm[1] + tm[3] * cm[3]))
            found.append((words.strip(), left, height))

    paper.extract_text(visitor_text=visit)
    yield from found


@pytest.mark.parametrize(("columns", "landscape"), [(5, False), (15, True)])
def test_heads_stand_on_each_page_of_a_schedule_and_no_column_is_cut(
    chromium: Browser, site: Path, columns: int, landscape: bool
) -> None:
    papers = printed(chromium, site / f"w{columns}.html").pages
    with_rows = [one for one in papers if "B101-AP" in one.extract_text()]
    assert len(with_rows) > 1
    rows = 0
    for one in with_rows:
        words = one.extract_text()
        assert all(f"Head{n}" in words for n in range(columns))
        rows += words.count("B101-AP")
        width, height = size_of(one)
        assert (width > height) is landscape
        for _, left, size in texts(one):
            assert 0 < left < width - 20
            assert size >= SMALLEST_PT
    assert rows == ROWS
    # What follows a long schedule is printed below it, and on none of its rows.
    assert ["More words." in one.extract_text() for one in papers].index(True) == len(papers) - 1


def test_the_columns_that_are_chosen_are_printed_upright_with_folded_texts_whole(
    chromium: Browser, site: Path
) -> None:
    with opened(chromium, site / "views.html") as state:
        paper = PdfReader(BytesIO(state.page.pdf(prefer_css_page_size=True))).pages[0]
        assert state.page.locator("details.fold[open]").count() == 0  # as it was before printing
    words = " ".join(paper.extract_text().split())
    assert "tray first and second" in words
    assert words.count("tray first") == 1
    assert "Head0" not in words
    width, height = size_of(paper)
    assert width < height


def test_each_page_says_which_proposal_it_is_of(chromium: Browser, site: Path) -> None:
    papers = printed(chromium, site / "w5.html").pages
    source = sample_site()
    for number, one in enumerate(papers, 1):
        words = " ".join(one.extract_text().split())
        assert source.short_title in words
        assert "Revision B, 2 March 2026" in words
        assert f"Page {number} of {len(papers)}" in words


def test_headings_can_be_sorted_again_after_printing(chromium: Browser, site: Path) -> None:
    with opened(chromium, site / "w5.html") as state:
        state.page.pdf()
        head = state.page.locator("table.data thead th").nth(0)
        head.get_by_role("button").click()
        assert head.get_attribute("aria-sort") == "ascending"
        assert state.errors == []


def test_a_drawing_takes_a_whole_sheet_of_its_own(chromium: Browser, site: Path) -> None:
    sizes = [size_of(one) for one in printed(chromium, site / "sheet.html").pages]
    assert sizes.count(A3_PT) == 1
    assert set(sizes) <= {A3_PT, A4_PT}
    with opened(chromium, site / "sheet.html") as state:
        # From edge to edge of A3, so that its letters have the size for which they were drawn.
        state.page.set_viewport_size({"width": A3_WIDTH_PX, "height": 1123})
        state.page.emulate_media(media="print")
        box = state.page.locator("figure.drawing img").bounding_box()
    assert box is not None
    assert (box["x"], box["width"]) == (0, A3_WIDTH_PX)
