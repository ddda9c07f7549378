"""No page of a large building grows beyond what a browser takes easily."""

import math
from pathlib import Path

import pytest

from benchmarks import building
from proposal.document.making.document import document_of
from proposal.model.loading import load_project
from proposal.pages import schedule_parts
from proposal.pages.schedule_parts import MOST_ROWS
from proposal.pipeline import compute
from tests.long_form import LONG
from tests.pages.site import pages_for

MOST_BYTES = 300_000
LARGE, SMALLER = 100, 30
SPLIT = ("devices", "cable-schedule", "takeoff", "labour-lines", "price-build-up", "radio")
"""Schedules that are split, by the beginning of the paths of their pages."""


def test_no_page_of_a_schedule_passes_what_a_browser_takes_easily(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rooms = LARGE if LONG else SMALLER
    # A smaller building has smaller pages in proportion, each with a head of its own.
    share = rooms / LARGE
    monkeypatch.setattr(
        schedule_parts, "MOST_ROWS", {page: math.ceil(most * share) for page, most in MOST_ROWS.items()}
    )
    document = document_of(compute(load_project(building.write(tmp_path / "building", rooms))))
    pages = pages_for(document, "estimator").pages
    sizes = {path: len(text.encode("utf-8")) for path, text in pages.items() if path.startswith(SPLIT)}
    assert {name for name in SPLIT if sum(path.startswith(f"{name}") for path in sizes) > 1} >= {
        "devices", "takeoff", "labour-lines", "price-build-up", "radio",
    }  # fmt: skip
    too_large = {path: size for path, size in sizes.items() if size > MOST_BYTES * share}
    assert not too_large
