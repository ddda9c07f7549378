"""Open pages of a site from disk in Chromium and say what is wrong with them."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from playwright.sync_api import Browser, Page

WIDE, NARROW = 1440, 390  # CSS pixels
HEIGHTS = {WIDE: 900, NARROW: 844}
AXE = Path(__file__).parent / "axe" / "axe.min.js"
WCAG_2_2_AA = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@dataclass
class Opened:
    """A page that is open, and what it did that it should not.

    outside: addresses it asked for beyond the disk.  errors: what its scripts complained about.
    """

    page: Page
    outside: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def violations(self) -> list[str]:
        """Return what axe finds against WCAG 2.2 A and AA: rule, and the elements it means."""
        self.page.evaluate(AXE.read_text("utf-8"))
        # Without `preload`, which would ask for every style sheet once more.
        passed, found = self.page.evaluate(
            "tags => axe.run(document, {runOnly: {type: 'tag', values: tags}, preload: false,"
            " resultTypes: ['violations', 'passes']}).then(result => [result.passes.length,"
            " result.violations.map(rule => [rule.id, rule.nodes.map(node => node.html)])])",
            WCAG_2_2_AA,
        )
        if not passed:
            return ["axe could apply no rule at all"]
        return [f"{rule}: {' | '.join(elements[:5])}" for rule, elements in found]

    def show(self, path: Path, fragment: str = "") -> None:
        """Show a file in the same window, which is quicker than a window of its own."""
        self.page.goto(path.resolve().as_uri() + (f"#{fragment}" if fragment else ""), wait_until="load")
        self.page.wait_for_function("document.fonts.status === 'loaded'")

    def too_wide(self) -> int:
        """Return by how many pixels the page is wider than its window."""
        return int(
            self.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        )

    def faults(self) -> list[str]:
        """Return everything that is wrong with the page as it stands now."""
        wide = self.too_wide()
        return [
            *(f"asked for {address}" for address in self.outside),
            *(f"script: {error}" for error in self.errors),
            *self.violations(),
            *([f"{wide} px wider than the window"] if wide > 0 else []),
        ]


@contextmanager
def opened(
    browser: Browser,
    path: Path,
    width: int = WIDE,
    fragment: str = "",
    prefers: Literal["light", "dark"] = "light",
    forced: Literal["active", "none"] = "none",
) -> Iterator[Opened]:
    """Open a file as a reader would from disk, in a window of a width in pixels.

    prefers: the reader's setting; forced: whether the system gives all colours.
    """
    context = browser.new_context(
        viewport={"width": width, "height": HEIGHTS.get(width, 900)},
        service_workers="block",
        color_scheme=prefers,
        forced_colors=forced,
    )
    page = context.new_page()
    state = Opened(page)
    page.on(
        "request",
        lambda request: (
            None
            if request.url.startswith(("file:", "data:", "blob:", "about:"))
            else state.outside.append(request.url)
        ),
    )
    page.on("websocket", lambda socket: state.outside.append(socket.url))
    page.on("pageerror", lambda error: state.errors.append(str(error)))
    page.on("console", lambda said: state.errors.append(said.text) if said.type == "error" else None)
    try:
        state.show(path, fragment)
        yield state
    finally:
        context.close()
