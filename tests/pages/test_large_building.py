"""No page of a large building grows beyond what a browser takes easily."""

import math
import re
from pathlib import Path

import pytest

from benchmarks import building
from proposal.document.making.document import document_of
from proposal.model.loading import load_project
from proposal.pages import calculations, schedule_parts
from proposal.pages.paths import BUILD_UP, DEVICES, LABOUR_LINES, TAKEOFF
from proposal.pages.rows_on_a_page import MOST_ROWS
from proposal.pipeline import compute
from tests.long_form import LONG
from tests.pages.site import pages_for

MOST_BYTES = 300_000
LARGE, SMALLER = 100, 30
SPLIT = ("devices", "takeoff", "labour-lines", "price-build-up", "radio", "power", "mains")
"""Schedules that are split, by the beginning of the paths of their pages."""
ROW_BY_ROW = (DEVICES, TAKEOFF, LABOUR_LINES, BUILD_UP)
"""Those whose rows are the lines of tables: a full page of them stays within the limit."""
OF_ONE_PLACE = ("calculations/", "channels/", "drawings/")
CODE = re.compile(r"<svg.*?</svg>", re.DOTALL)


def test_no_page_passes_what_a_browser_takes_easily(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rooms = LARGE if LONG else SMALLER
    # A smaller building has smaller pages in proportion, each with a head of its own.
    share = rooms / LARGE
    monkeypatch.setattr(
        schedule_parts,
        "MOST_ROWS",
        {page: max(math.floor(most * share), 1) for page, most in MOST_ROWS.items()},
    )
    monkeypatch.setattr(calculations, "MOST_CHECKS", calculations.MOST_CHECKS * share)
    document = document_of(compute(load_project(building.write(tmp_path / "building", rooms))))
    pages = pages_for(document, "estimator").pages
    sizes = {path: len(CODE.sub("", text).encode("utf-8")) for path, text in pages.items()}
    assert [name for name in SPLIT if sum(path.startswith(name) for path in sizes) < 2] == []
    for page in ROW_BY_ROW:
        parts = [path for path in sizes if path.startswith(page.replace(".md", "/"))]
        a_row = sum(sizes[path] for path in parts) / sum(pages[path].count("<tr id=") for path in parts)
        assert a_row * MOST_ROWS[page] < MOST_BYTES, page
    too_large = {
        path: size
        for path, size in sizes.items()
        if size > MOST_BYTES * (1 if path.startswith(OF_ONE_PLACE) else share)
    }
    assert not too_large
