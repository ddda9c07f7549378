"""Alternates are ticked in a browser, from disk, and the total is that of the table of combinations."""

import shutil
from decimal import Decimal
from io import BytesIO
from itertools import combinations
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from proposal.document.making.document import document_of
from proposal.document.making.proposal import alternate_document, combination, combinations_of, proposal_of
from proposal.editions import edition_of_proposal
from proposal.model.loading import load_source
from proposal.pipeline import compute
from proposal.publish.cache import Cache
from proposal.publish.edition_site import edition_source
from proposal.publish.program_folders import own_folders
from proposal.publish.site import build_site
from tests.browser.harness import NARROW, WIDE, opened

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]
MINIMAL = ROOT / "tests" / "projects" / "minimal"
NAMES = ("Gooseneck microphones", "A second spare", "No spare")
# Two that interact by the charger they share, and one that cannot stand beside the second.
ALTERNATES = {
    "goose": "name: Gooseneck microphones\ndescription: Nearer.\nchanges:\n"
    "  room_types: {TYPE: {microphones: {M1: {form: gooseneck}, M2: {form: gooseneck}}}}\n",
    "more": "name: A second spare\ndescription: Ready.\nchanges:\n"
    "  room_types: {TYPE: {spare_microphones: {boundary: 2}}}\n",
    "none": "name: No spare\ndescription: Cheap.\nchanges:\n"
    "  room_types: {TYPE: {spare_microphones: {boundary: 0}}}\n",
}


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of a client's site with three alternates to choose from."""
    folder = tmp_path_factory.mktemp("alternates") / "project"
    shutil.copytree(MINIMAL, folder)
    name = next((folder / "room_types").glob("*.yaml")).stem
    (folder / "alternates").mkdir()
    for key, text in ALTERNATES.items():
        (folder / "alternates" / f"{key}.yaml").write_text(text.replace("TYPE", name))
    source = load_source(folder)
    proposal = proposal_of(
        source,
        document_of(compute(source.base)),
        {key: alternate_document(source, key) for key in source.open},
        [combination(source, chosen) for chosen in combinations_of(source.open)],
        None,
    )
    edition = edition_of_proposal(proposal, "client")
    build = own_folders(folder).build
    made = edition_source(edition, {}, Cache(build / "cache"))
    return build_site(made, build / "client").parent


def table(page: Page) -> dict[frozenset[str], str]:
    """Return the price before tax of each combination as the table has it, by the names chosen."""
    rows = page.locator("table.data", has_text="Prices of all combinations").locator("tbody tr")
    found = {}
    for n in range(rows.count()):
        head = rows.nth(n).locator("th").inner_text()
        found[frozenset(name for name in NAMES if name in head)] = (
            rows.nth(n).locator("td").first.inner_text()
        )
    return found


def test_the_total_follows_what_is_ticked(chromium: Browser, site: Path) -> None:
    with opened(chromium, site / "alternates.html") as state:
        page = state.page
        prices = table(page)
        assert len(prices) == 8
        assert len({price for price in prices.values() if price != "not possible"}) == 6
        boxes = {
            label: page.get_by_label(label)
            for label in ("Gooseneck microphones", "A second spare", "No spare")
        }
        for size in range(4):
            for chosen in combinations(boxes, size):
                for label, box in boxes.items():
                    box.set_checked(label in chosen)
                price = page.locator("[role=status] [data-part=price]")
                excluded = page.locator("[role=status] [data-part=not]")
                if {"A second spare", "No spare"} <= set(chosen):
                    assert prices[frozenset(chosen)] == "not possible"
                    assert not price.is_visible()
                    assert "exclude each other" in excluded.inner_text()
                else:
                    assert price.locator("dd").inner_text() == prices[frozenset(chosen)]
                    assert not excluded.is_visible()
        assert state.outside == []
        assert state.errors == []


def test_keyboard_and_screen_reader_can_choose(chromium: Browser, site: Path) -> None:
    with opened(chromium, site / "alternates.html") as state:
        page = state.page
        before = page.locator("[role=status] [data-part=price] dd").inner_text()
        page.get_by_role("checkbox", name="Gooseneck microphones").focus()
        page.keyboard.press("Space")
        assert page.locator("[role=status] [data-part=price] dd").inner_text() != before
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.value") == "more"
        assert page.get_by_role("status").first.get_attribute("aria-live") == "polite"


def told(page: Page, part: str) -> str:
    return page.locator(f"[role=status] [data-part={part}] dd").inner_text()


def test_a_choice_stands_in_the_address_and_is_there_again(chromium: Browser, site: Path) -> None:
    with opened(chromium, site / "alternates.html") as state:
        page = state.page
        as_it_stands = told(page, "price")
        assert "choose=" not in page.url
        page.get_by_label("Gooseneck microphones").check()
        page.get_by_label("A second spare").check()
        price, address = told(page, "price"), page.url
        assert address.startswith("file:")
        assert address.endswith("#choose=goose+more")
        assert price != as_it_stands
        difference = Decimal(figure(price)) - Decimal(figure(as_it_stands))
        assert Decimal(figure(told(page, "difference"))) == difference
    with opened(chromium, site / "alternates.html", fragment="choose=goose+more") as state:
        assert state.page.get_by_label("Gooseneck microphones").is_checked()
        assert state.page.get_by_label("A second spare").is_checked()
        assert not state.page.get_by_label("No spare").is_checked()
        assert told(state.page, "price") == price
    with opened(chromium, site / "alternates.html", fragment="choose=%E0%A4%A+nothing") as state:
        assert told(state.page, "price") == as_it_stands
        assert state.errors == []


def figure(words: str) -> str:
    return words.replace("−", "-").translate(str.maketrans("", "", "€$£,+ \u00a0"))


def test_a_choice_is_printed_alone_with_lines_to_sign(chromium: Browser, site: Path) -> None:
    with opened(chromium, site / "alternates.html", fragment="choose=goose") as state:
        page = state.page
        page.evaluate("window.print = () => {}")
        page.get_by_role("button", name="Print the order form").click()
        paper = PdfReader(BytesIO(page.pdf(prefer_css_page_size=True)))
        assert len(paper.pages) == 1
        words = " ".join(paper.pages[0].extract_text().split())
        for said in ("Order form", "Gooseneck microphones", "signature"):
            assert said in words
        assert "file:" not in words
        assert told(page, "price") in words
        assert "A second spare" not in words


@pytest.mark.parametrize("width", [WIDE, NARROW])
@pytest.mark.parametrize("name", ["alternates.html", "alternates/goose.html"])
def test_pages_of_alternates_have_no_fault(chromium: Browser, site: Path, name: str, width: int) -> None:
    with opened(chromium, site / name, width) as state:
        assert state.faults() == []


def test_without_scripts_the_table_stands_and_the_form_does_not(chromium: Browser, site: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    try:
        page = context.new_page()
        page.goto((site / "alternates.html").resolve().as_uri())
        assert not page.locator("form.choose").is_visible()
        assert page.locator("table.data", has_text="Prices of all combinations").is_visible()
    finally:
        context.close()


def test_the_page_of_goosenecks_tells_its_consequences(chromium: Browser, site: Path) -> None:
    # Two boundary microphones and a spare take a slot each; so do two goosenecks and the spare: no change.
    with opened(chromium, site / "alternates" / "goose.html") as state:
        row = state.page.locator("tr", has=state.page.locator("th", has_text="Charge slots needed"))
        assert row.count() == 0
        said = state.page.locator("article").inner_text()
        assert "Microphone M1 is now of another form: gooseneck; before, boundary." in said
        assert "→" not in said
        for heading in ("What it comes to", "What follows"):
            assert state.page.get_by_role("heading", name=heading, exact=False).first.is_visible()
