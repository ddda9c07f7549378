"""Drawings that are taken run nothing and ask nobody, alone and in a page; some that are refused would."""

import base64
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from proposal.model.pictures.picture import published_picture
from tests.browser.harness import Opened, opened
from tests.model.pictures.drawings import GOOD, HOSTILE, OUTSIDE, POINT

pytestmark = pytest.mark.browser

# Of the drawings that are refused, those with which a browser of today would run or ask for something.
RUN = (
    "script",
    "script under another prefix",
    "script of another language",
    "script whose namespace is written with signs",
    "script inside an element of a program's own",
    "script with a text in sections",
    "handler of loading",
    "page in a drawing",
    "entity",
)
ASK = (
    "script with an address",
    "frame in a drawing",
    "picture from elsewhere",
    "import of a style",
    "import of a style in a section after a comment",
    "background in a style",
    "style with an address in escapes",
    "filter with a picture from elsewhere",
    "style sheet of the file",
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the good drawings as they are published, a bitmap, and a page that shows all."""
    made = tmp_path_factory.mktemp("pictures")
    shown = []
    for number, drawing in enumerate(GOOD.values()):
        (made / f"{number}.svg").write_bytes(published_picture(f"images/{number}.svg", drawing.encode()))
        shown.append(f"<img alt='' src='{number}.svg'><object data='{number}.svg' width='40'></object>")
    (made / "point.png").write_bytes(base64.b64decode(POINT))
    shown.append("<img alt='' src='point.png'>")
    (made / "all.html").write_text(
        f"<!doctype html><html lang='en'><title>All</title>{''.join(shown)}</html>"
    )
    return made


def asked(state: Opened) -> list[str]:
    state.page.wait_for_timeout(50)  # what a page does of itself after it has been loaded
    return state.outside


def ran(state: Opened) -> object:
    return state.page.evaluate("top.ran")


@pytest.mark.parametrize("number", range(len(GOOD)), ids=list(GOOD))
def test_a_drawing_that_is_taken_draws_and_does_nothing_else(
    chromium: Browser, folder: Path, number: int
) -> None:
    with opened(chromium, folder / f"{number}.svg") as state:
        assert state.page.evaluate("document.documentElement.localName") == "svg"
        assert state.page.evaluate("document.querySelector('parsererror')") is None
        assert (ran(state), asked(state), state.errors) == (None, [], [])


def test_a_page_of_drawings_that_are_taken_shows_them_and_does_nothing_else(
    chromium: Browser, folder: Path
) -> None:
    with opened(chromium, folder / "all.html") as state:
        widths = state.page.evaluate("[...document.images].map(image => image.naturalWidth)")
        assert len(widths) == len(GOOD) + 1
        assert min(widths) > 0
        assert (ran(state), asked(state), state.errors) == (None, [], [])


def opened_hostile(name: str, folder: Path) -> Path:
    content = HOSTILE[name][0]
    path = folder / "hostile.svg"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


@pytest.mark.parametrize("name", RUN)
def test_a_script_of_a_drawing_that_is_refused_would_be_noticed(
    chromium: Browser, tmp_path: Path, name: str
) -> None:
    with opened(chromium, opened_hostile(name, tmp_path)) as state:
        assert ran(state) is True


@pytest.mark.parametrize("name", ASK)
def test_a_request_of_a_drawing_that_is_refused_would_be_noticed(
    chromium: Browser, tmp_path: Path, name: str
) -> None:
    with opened(chromium, opened_hostile(name, tmp_path)) as state:
        assert any(address.startswith(OUTSIDE) for address in asked(state))
