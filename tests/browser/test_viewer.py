"""A drawing opens over the whole window and is zoomed and moved by keyboard, mouse and touch."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.harness import NARROW, WIDE, opened

pytestmark = pytest.mark.browser
PAGE = Path("rooms/chamber.html")


def width(page: Page) -> float:
    """Return how wide the drawing is shown, in CSS pixels."""
    box = page.locator(".viewer img").bounding_box()
    assert box is not None
    return box["width"]


@pytest.mark.parametrize("window", [WIDE, NARROW])
def test_a_drawing_is_zoomed_and_moved_by_keyboard(chromium: Browser, sample: Path, window: int) -> None:
    with opened(chromium, sample / PAGE, window) as state:
        page = state.page
        link = page.locator("figure.drawing a.full-size").first
        link.focus()
        page.keyboard.press("Enter")
        viewer = page.locator("dialog.viewer")
        expect(viewer).to_be_visible()
        expect(page.locator(".viewer__size")).to_have_text("100\u00a0%")
        whole = width(page)
        assert whole <= window
        assert state.faults() == []
        for _ in range(3):
            page.keyboard.press("+")
        assert width(page) == pytest.approx(whole * 1.5**3, rel=0.02)
        before = page.locator(".viewer__pane").evaluate("pane => pane.scrollLeft")
        page.keyboard.press("ArrowRight")
        page.wait_for_function(
            "before => document.querySelector('.viewer__pane').scrollLeft > before", arg=before
        )
        page.keyboard.press("0")
        assert width(page) == pytest.approx(whole, rel=0.02)
        page.keyboard.press("Escape")
        expect(viewer).to_be_hidden()
        expect(link).to_be_focused()


def test_two_fingers_zoom_and_buttons_do(chromium: Browser, sample: Path) -> None:
    with opened(chromium, sample / PAGE, NARROW) as state:
        page = state.page
        page.locator("figure.drawing img").first.click()
        whole = width(page)
        page.locator(".viewer__pane").evaluate(
            """pane => {
                const touches = apart => [0, 1].map(n => new Touch(
                    {identifier: n, target: pane, clientX: 150 + n * apart, clientY: 300}));
                for (const [name, apart] of [['touchstart', 50], ['touchmove', 100]])
                    pane.dispatchEvent(new TouchEvent(name, {touches: touches(apart), cancelable: true}));
            }"""
        )
        assert width(page) == pytest.approx(2 * whole, rel=0.02)
        page.get_by_role("button", name="Show the whole sheet").click()
        assert width(page) == pytest.approx(whole, rel=0.02)
        page.get_by_role("button", name="Close the drawing").click()
        expect(page.locator("dialog.viewer")).to_be_hidden()
        assert state.errors == []
