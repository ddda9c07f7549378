"""What people type finds the page that answers it: rooms, price and programme first, drawings last."""

from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from proposal.publish.page_settings import with_settings
from proposal.publish.program_folders import own_folders
from proposal.publish.search_words import words_of_rooms
from proposal.publish.site import build_site
from tests.browser.harness import opened
from tests.pages.site import sample_pages
from tests.publish.sample_site import sample_site
from tests.sample_document import sample_document

pytestmark = pytest.mark.browser

# Judged by hand: what a client types, and where the answer stands.
FOUND = {
    "cost": "price.html",
    "budget": "price.html",
    "schedule": "programme.html",
    "deadline": "programme.html",
    "guarantee": "scope.html",
    "delivery": "programme.html",
    "exclusions": "assumptions.html",
    "order": "summary.html",
    "what is not included": "assumptions.html",
    "who does what": "responsibilities.html",
    "how much": "price.html",
    "B101": "rooms/meeting.html",
    "meeting room": "rooms",
    "council chamber": "rooms",
}


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the sample document's site, as its client gets it."""
    made = sample_pages("client")
    rooms = words_of_rooms(sample_document())
    pages = {path: with_settings(path, page, rooms.get(path, ())) for path, page in made.pages.items()}
    source = sample_site(pages=pages, nav=made.nav, files={}, logo=None)
    return build_site(source, own_folders(tmp_path_factory.mktemp("search")).build / "client").parent


def found(page: Page, words: str) -> list[str]:
    """Return the pages that a search names, in its order."""
    box = page.locator("input[name='query']")
    box.fill("")
    expect(page.locator(".md-search-result__link")).to_have_count(0)
    box.press_sequentially(words, delay=5)
    expect(page.locator(".md-search-result__link").first).to_be_attached(timeout=15_000)
    page.wait_for_timeout(300)
    addresses = page.locator(".md-search-result__link").evaluate_all("all => all.map(one => one.href)")
    return [urlsplit(one).path.partition("/site/")[2] for one in addresses]


def test_what_a_client_types_finds_the_answer_first_and_drawings_last(chromium: Browser, site: Path) -> None:
    with opened(chromium, site / "index.html") as state:
        state.page.locator("input[name='query']").click()
        first = {words: found(state.page, words) for words in FOUND}
        assert {
            words: pages[0] for words, pages in first.items() if not pages[0].startswith(FOUND[words])
        } == {}
        of_chamber = first["council chamber"]
        drawings = [place for place, path in enumerate(of_chamber) if path.startswith("drawings/")]
        assert drawings == list(range(len(of_chamber) - len(drawings), len(of_chamber)))
        assert drawings
        assert not state.page.locator(".md-search-result .md-tags").first.is_visible()
        assert state.errors == []


def test_the_words_by_which_a_page_is_found_are_not_on_it(chromium: Browser, site: Path) -> None:
    with opened(chromium, site / "price.html") as state:
        assert "invoices" not in state.page.locator("article").inner_text()
        assert state.page.locator("article .md-tags").count() == 0
