"""A site opened from disk can be read, searched, sorted and filtered by everybody, and asks nobody."""

from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.harness import NARROW, WIDE, opened
from tests.long_form import LONG

pytestmark = pytest.mark.browser

DARK_TOO: tuple[tuple[int, Literal["light", "dark"]], ...] = ((WIDE, "light"), (NARROW, "dark"))
PAGES = ["index.html", "rooms/chamber.html", "cables.html", "findings.html"]


@pytest.mark.parametrize(
    ("name", "width", "prefers"),
    [(name, *look) for n, name in enumerate(PAGES) for look in (DARK_TOO if LONG else DARK_TOO[n % 2 :][:1])],
)
def test_a_page_has_no_fault(
    chromium: Browser, sample: Path, name: str, width: int, prefers: Literal["light", "dark"]
) -> None:
    with opened(chromium, sample / name, width, prefers=prefers) as state:
        behind = state.page.evaluate("getComputedStyle(document.body).getPropertyValue('background-color')")
        assert behind == ("rgb(21, 25, 29)" if prefers == "dark" else "rgb(255, 255, 255)")
        assert state.faults() == []


def test_the_page_for_what_is_not_there_works_alone_in_any_folder(
    chromium: Browser, sample: Path, tmp_path: Path
) -> None:
    alone = tmp_path / "some" / "folder" / "missing.html"
    alone.parent.mkdir(parents=True)
    alone.write_bytes((sample / "404.html").read_bytes())
    for width, prefers in DARK_TOO:
        with opened(chromium, alone, width, prefers=prefers) as state:
            assert state.page.get_by_role("heading", name="Page not found").is_visible()
            assert state.faults() == []


def test_verdicts_keep_their_border_where_the_system_gives_the_colours(
    chromium: Browser, sample: Path
) -> None:
    with opened(chromium, sample / "cables.html", forced="active") as state:
        border = "getComputedStyle(document.querySelector('.status')).borderTopStyle"
        assert state.page.evaluate(border) == "solid"
        assert state.faults() == []


def test_the_harness_sees_faults(chromium: Browser, tmp_path: Path) -> None:
    page = tmp_path / "faulty.html"
    page.write_text(
        "<!doctype html><html><head><meta name=viewport content='width=device-width'></head><body>"
        "<img src='http://127.0.0.1:9/x.png'><div style='width:2000px'>x</div>"
        "<script>throw new Error('broken')</script></body></html>"
    )
    with opened(chromium, page, NARROW) as state:
        faults = " ".join(state.faults())
    for fault in (
        "asked for http://127.0.0.1:9/x.png",
        "script: broken",
        "image-alt",
        "html-has-lang",
        "px wider",
    ):
        assert fault in faults


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_search_works_from_disk(chromium: Browser, sample: Path, width: int) -> None:
    with opened(chromium, sample / "rooms" / "chamber.html", width) as state:
        if width == NARROW:
            state.page.locator("label.md-header__button[for='__search']").click()
        box = state.page.locator("input[name='query']")
        box.click()
        box.press_sequentially("R117", delay=20)
        result = state.page.locator(".md-search-result__link").first
        expect(result).to_be_visible(timeout=15_000)
        assert state.violations() == []
        result.click()
        state.page.wait_for_url("**/cables.html*")
        assert state.outside == []
        assert state.errors == []


def test_search_finds_a_word_that_stands_alone_in_a_cell(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / "index.html") as state:
        state.page.locator("input[name='query']").press_sequentially("R117 category", delay=20)
        found = state.page.locator(".md-search-result__link")
        expect(found).to_have_count(1, timeout=15_000)
        expect(found.locator("mark", has_text="R117").first).to_be_in_viewport()
        found.click()
        expect(state.page.locator("article mark", has_text="R117").first).to_be_in_viewport()


def first_column(page: Page) -> list[str]:
    return page.locator("tbody:not(.totals) tr:not([hidden]) > :first-child").all_inner_texts()


def test_a_table_sorts_by_mouse_and_keyboard(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / "rooms" / "chamber.html") as state:
        given = [f"R101-M{number}" for number in range(1, 31)]
        assert first_column(state.page) == given
        tag = state.page.locator("table.data thead th").nth(0)
        tag.get_by_role("button").click()
        assert tag.get_attribute("aria-sort") == "ascending"
        assert first_column(state.page) == given  # M2 before M10
        tag.get_by_role("button").press("Enter")
        assert tag.get_attribute("aria-sort") == "descending"
        assert first_column(state.page) == given[::-1]
        distance = state.page.locator("table.data thead th").nth(2)
        distance.get_by_role("button").press("Space")
        assert distance.get_attribute("aria-sort") == "ascending"
        assert tag.get_attribute("aria-sort") is None
        assert first_column(state.page) == given
        first = state.page.locator("table.data tbody tr").first
        assert first.inner_text().split() == ["Sum", "232.5", "m"]
        assert state.faults() == []


def test_a_table_filters_and_says_how_many_rows_are_left(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / "rooms" / "chamber.html") as state:
        box = state.page.get_by_label("Show rows with")
        count = state.page.locator(".table-tools [role='status']")
        assert count.inner_text() == "30 rows"
        box.fill("BOUNDARY m1")
        assert first_column(state.page) == ["R101-M12", "R101-M15", "R101-M18"]
        assert count.inner_text() == "3 of 30 rows"
        assert state.faults() == []
        box.fill("")
        assert len(first_column(state.page)) == 30
        box.fill("nothing has this")
        assert first_column(state.page) == []
        assert count.inner_text() == "0 of 30 rows"


def shown_heads(page: Page) -> list[str]:
    return [words.split("\u00a0")[0] for words in page.locator("thead th:visible").all_inner_texts()]


def test_a_wide_table_opens_with_the_columns_of_a_job_and_shows_others_when_asked(
    chromium: Browser, sample: Path
) -> None:
    both = ["Cable", "From", "To", "Type", "Jacket", "Permanent link m"]
    checking = [*both, "Channel m", "Limit m", "Margin m", "Result"]
    with opened(chromium, sample / "cables.html") as state:
        page = state.page
        assert shown_heads(page) == checking
        pulling = page.get_by_role("button", name="Pulling")
        pulling.press("Enter")
        assert sorted(shown_heads(page)) == sorted([*both, "Route"])
        assert page.locator("tbody tr").first.locator("td:visible").count() == 6
        assert pulling.get_attribute("aria-pressed") == "true"
        assert page.url.endswith("?view=pull")
        route = page.locator("details.fold")
        assert "up to ER1" not in route.inner_text()
        page.get_by_text("tray T1…").click()
        assert "tray T1, conduit C1, up to ER1" in route.inner_text()
        assert state.faults() == []
        address = page.url
        page.get_by_role("button", name="Everything").click()
        assert len(shown_heads(page)) == 11
        page.goto(address)
        assert "Route" in shown_heads(page)
        page.goto(address.replace("view=pull", "h=conduit"))  # as a search leads here
        assert len(shown_heads(page)) == 11


def test_a_link_to_a_row_shows_it(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / "findings.html") as state:
        state.page.get_by_role("link", name="R101-AP1/N1/ER1-RK1").click()
        state.page.wait_for_url("**/cables.html#*")
        expect(state.page.locator("tr:target")).to_be_in_viewport()
    with opened(chromium, sample / "cables.html", fragment="R140-AP1_N1_ER1-RK1") as state:
        row = state.page.locator("tr:target")
        expect(row).to_be_in_viewport()
        assert row.locator("th").inner_text() == "R140-AP1/N1/ER1-RK1"


def test_the_heads_of_a_long_table_stay_in_sight(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / "cables.html") as state:
        region = state.page.locator(".table-scroll")
        # The sample is short: its rows stand once more, until a table scrolls in its frame.
        region.evaluate(
            "region => { const rows = region.querySelector('tbody');"
            " while (rows.rows.length < 60) rows.append(rows.rows[0].cloneNode(true)); }"
        )
        region.evaluate("region => { region.scrollTop = region.scrollHeight; region.scrollIntoView(); }")
        top = region.bounding_box()
        head = state.page.locator("table.data thead th").first.bounding_box()
        assert top is not None
        assert head is not None
        assert head["y"] - top["y"] < 10


def test_hostile_text_has_not_run(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / PAGES[0]) as state:
        for name in PAGES:
            state.show(sample / name)
            for link in state.page.locator("article a").all():
                assert (link.get_attribute("href") or "").split(":")[0] not in (
                    "javascript",
                    "data",
                    "vbscript",
                )
            assert state.page.evaluate("window.leaked") is None


def test_drawings_and_logo_are_shown(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / "rooms" / "chamber.html") as state:
        state.page.locator("figure img").scroll_into_view_if_needed()
        state.page.wait_for_function("[...document.images].every(image => image.complete)")
        assert state.page.evaluate("[...document.images].every(image => image.naturalWidth > 0)")


def test_a_page_can_be_read_without_scripts(chromium: Browser, sample: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((sample / "rooms" / "chamber.html").as_uri())
    assert page.locator("tbody:not(.totals) tr").count() == 30
    assert page.get_by_role("button", name="Tag").count() == 0
    context.close()
