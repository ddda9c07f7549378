"""Every chapter of an edition is seen without scrolling, wherever a reader begins."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from proposal.document.readers import READERS, Reader
from tests.browser.harness import HEIGHTS, WIDE, opened
from tests.pages.site import sample_pages

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("reader", READERS)
def test_all_chapters_are_in_sight(chromium: Browser, sample_editions: Path, reader: Reader) -> None:
    made = sample_pages(reader)
    site = sample_editions / reader / "site"
    with opened(chromium, site / "summary.html") as state:
        for name in ("summary.html", "drawings.html", "assumptions.html"):
            state.show(site / name)
            entries = state.page.locator(".md-nav--primary > .md-nav__list > .md-nav__item")
            assert entries.count() == len(made.nav)
            for n, (title, _) in enumerate(made.nav):
                box = entries.nth(n).locator(".md-nav__link:visible").first.bounding_box()
                assert box is not None, title
                assert box["y"] >= 0, title
                assert box["y"] + box["height"] <= HEIGHTS[WIDE], title
        # The last one stands for all, which have the same navigation.
        assert state.faults() == []


def test_the_client_meets_what_there_is_to_decide_first() -> None:
    titles = [title for title, _ in sample_pages("client").nav]
    first = ["Cover", "Summary", "Price", "Programme", "Rooms", "Scope and terms"]
    assert [title for title in titles if title in first] == first
    assert titles.index("Scope and terms") < titles.index("Drawings") < titles.index("Equipment and cables")
