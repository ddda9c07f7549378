"""Revisions side by side: from any page to the same page of another revision, from disk and from a server."""

import functools
import shutil
import threading
from collections.abc import Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.harness import NARROW, WIDE, opened
from tests.publish import interrupted

pytestmark = pytest.mark.browser

MANY = 30


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The published folder of the client's edition: revisions A, B and C, of a few pages each."""
    project = Path(shutil.copytree(interrupted.MINIMAL, tmp_path_factory.mktemp("revisions") / "project"))
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_small(patch)
        for revision in ("A", "B", "C"):
            interrupted.issue_revision(project, revision)
    return project / "published" / "client"


@pytest.fixture
def served(client: Path) -> Iterator[str]:
    handler = functools.partial(Quiet, directory=str(client))
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass


def choose(page: Page, revision: str) -> None:
    page.get_by_text("Choose a revision").click()
    page.locator(".revisions__list a").filter(has_text=f"Revision {revision},").click()


def here(page: Page) -> str:
    return "/".join(page.url.split("#")[0].rsplit("/", 3)[-3:])


@pytest.mark.parametrize(("revision", "width"), [("A", NARROW), ("C", WIDE)])
def test_a_published_page_has_no_fault_with_the_list_closed_and_open(
    chromium: Browser, client: Path, revision: str, width: int
) -> None:
    with opened(chromium, client / revision / "rooms" / "a.html", width) as state:
        expect(state.page.locator(".revisions__choose")).to_be_visible()
        assert state.faults() == []
        state.page.get_by_text("Choose a revision").click()
        entries = state.page.locator(".revisions__list")
        expect(entries).to_be_visible()
        box = entries.bounding_box()
        assert box is not None
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= width
        assert state.faults() == []


@pytest.mark.parametrize(
    ("name", "width"), [("revisions.html", NARROW), ("C/index.html", WIDE), ("../index.html", NARROW)]
)
def test_pages_that_lead_between_revisions_have_no_fault(
    chromium: Browser, client: Path, name: str, width: int
) -> None:
    with opened(chromium, client / name, width) as state:
        assert state.faults() == []


def test_the_same_page_is_kept_from_disk(chromium: Browser, client: Path) -> None:
    with opened(chromium, client / "A" / "rooms" / "a.html", fragment="part") as state:
        choose(state.page, "B")
        state.page.wait_for_url("**/B/rooms/a.html#part")
        choose(state.page, "C")
        state.page.wait_for_url("**/C/rooms/a.html#part")
        assert state.outside == []
        assert state.errors == []


def test_the_same_page_is_kept_from_a_server(chromium: Browser, served: str) -> None:
    page = chromium.new_page()
    page.goto(f"{served}/B/rooms/a.html")
    choose(page, "A")
    page.wait_for_url(f"{served}/A/rooms/a.html")
    expect(page.locator(".revisions__superseded")).to_contain_text("Superseded. Revision C of 3 March 2031")
    page.get_by_role("link", name="Show this page in revision C").click()
    page.wait_for_url(f"{served}/C/rooms/a.html")
    page.goto(f"{served}/")
    page.wait_for_url(f"{served}/C/index.html")
    page.goto(f"{served}/latest/")
    page.wait_for_url(f"{served}/C/index.html")
    page.close()


def test_a_page_that_the_other_revision_lacks_leads_to_its_cover_and_says_so(
    chromium: Browser, client: Path
) -> None:
    with opened(chromium, client / "A" / "only-A.html") as state:
        state.page.get_by_text("Choose a revision").click()
        entry = state.page.locator(".revisions__list a").filter(has_text="Revision B,")
        expect(entry).to_contain_text("its cover: this page is not in it")
        entry.click()
        state.page.wait_for_url("**/B/index.html")
    with opened(chromium, client / "A" / "only-A.html") as state:
        state.page.get_by_role("link", name="Show the cover of revision C").click()
        state.page.wait_for_url("**/C/index.html")


def test_superseded_revisions_say_so_and_the_latest_does_not(chromium: Browser, client: Path) -> None:
    with opened(chromium, client / "A" / "index.html") as state:
        for revision, banners in (("A", 1), ("B", 1), ("C", 0)):
            for name in ("index.html", "rooms/a.html", f"only-{revision}.html"):
                state.show(client / revision / name)
                expect(state.page.locator(".revisions__choose")).to_be_visible()
                assert state.page.locator(".revisions__superseded").count() == banners, (revision, name)
                shown = state.page.locator(".revisions__list [aria-current]").text_content()
                assert shown is not None
                assert shown.startswith(f"Revision {revision},")
                assert ("(latest)" in shown) == (revision == "C")


def test_the_list_can_be_used_by_keyboard(chromium: Browser, client: Path) -> None:
    with opened(chromium, client / "A" / "rooms" / "a.html") as state:
        button = state.page.locator(".revisions__choose")
        button.focus()
        state.page.keyboard.press("Enter")
        expect(state.page.locator(".revisions__list")).to_be_visible()
        state.page.keyboard.press("Escape")
        expect(state.page.locator(".revisions__list")).to_be_hidden()
        expect(button).to_be_focused()
        state.page.keyboard.press("Enter")
        state.page.keyboard.press("Tab")
        expect(state.page.locator(".revisions__list a").first).to_be_focused()
        state.page.keyboard.press("Enter")
        state.page.wait_for_url("**/C/rooms/a.html")


def test_without_scripts_a_plain_list_leads_to_every_revision(chromium: Browser, client: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((client / "A" / "rooms" / "a.html").as_uri())
    page.get_by_role("link", name="All revisions").click()
    page.get_by_role("link", name="Revision B, 3 March 2031").click()
    assert here(page) == "client/B/index.html"
    context.close()


def test_an_edition_that_was_handed_over_without_its_list_still_reads(
    chromium: Browser, client: Path, tmp_path: Path
) -> None:
    alone = Path(shutil.copytree(client / "A", tmp_path / "alone"))
    with opened(chromium, alone / "index.html") as state:
        expect(state.page.get_by_role("link", name="All revisions")).to_be_visible()
        assert state.page.locator(".revisions__choose").count() == 0
        assert state.violations() == []


def test_thirty_revisions_can_be_chosen_from(chromium: Browser, client: Path, tmp_path: Path) -> None:
    many = Path(shutil.copytree(client, tmp_path / "client"))
    script = (many / "versions.js").read_text("utf-8")
    entry = next(line for line in script.splitlines() if '"name":"A"' in line)
    others = [entry.replace('"name":"A"', f'"name":"R{number}"') for number in range(1, MANY - 2)]
    (many / "versions.js").write_text(script.replace(entry, ",\n".join([entry, *others])), "utf-8")
    with opened(chromium, many / "B" / "index.html", NARROW) as state:
        state.page.get_by_text("Choose a revision").click()
        assert state.page.locator(".revisions__list li").count() == MANY
        last = state.page.locator(".revisions__list li").last
        last.scroll_into_view_if_needed()
        expect(last).to_be_in_viewport()
        assert state.faults() == []


def test_a_site_that_is_only_built_has_no_list(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / "index.html") as state:
        assert state.page.locator(".revisions").count() == 0
