"""A page of the preview loads again by itself when it has changed, and leaves the reader where they were."""

import threading
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from proposal.publish.preview import Making, Preview, listen
from tests.browser.harness import WIDE

pytestmark = pytest.mark.browser

LINES = "".join(f"<p>line {number}</p>" for number in range(400))


def test_a_changed_page_loads_again_and_stays_where_it_was(chromium: Browser, tmp_path: Path) -> None:
    site = tmp_path / "build" / "client" / "site"
    source = tmp_path / "words.txt"

    def rebuild(making: Making) -> None:
        site.mkdir(parents=True, exist_ok=True)
        folded = (
            "<details><summary>more</summary>first</details><details><summary>most</summary>second</details>"
        )
        words = source.read_text("utf-8")
        body = f"<body><h1>{words}</h1>{folded}{LINES}</body>"
        text = f"<html lang='en'><head><title>t</title></head>{body}</html>"
        (site / "index.html").write_text(text, "utf-8")
        (site / "other.html").write_text("<html><body>the same</body></html>", "utf-8")

    source.write_text("before", "utf-8")
    preview = Preview([tmp_path], rebuild, lambda: site)
    preview.refresh()
    server = listen(preview, "127.0.0.1", 0)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    page = chromium.new_page(viewport={"width": WIDE, "height": 600})
    try:
        address = f"http://127.0.0.1:{server.server_address[1]}"
        loads: list[str] = []
        page.on("load", lambda loaded: loads.append(loaded.url))
        page.goto(f"{address}/index.html")
        page.locator("summary").nth(1).click()
        page.evaluate("window.scrollTo(0, 2000)")

        preview.pending = "The rest is still being computed."
        page.wait_for_function(
            "document.getElementById('proposal-pending').textContent.startsWith('The rest')"
        )
        assert page.locator("#proposal-pending").is_visible()
        assert len(loads) == 1  # that alone is no reason to load it again
        preview.pending = ""
        page.wait_for_function("document.getElementById('proposal-pending').hidden")

        source.write_text("after", "utf-8")
        preview.refresh()
        page.wait_for_function("document.querySelector('h1').textContent === 'after'")
        page.wait_for_function("window.scrollY === 2000")
        assert page.evaluate("Array.from(document.querySelectorAll('details'), one => one.open)") == [
            False,
            True,
        ]
        assert len(loads) == 2
    finally:
        page.close()
        server.shutdown()
        server.server_close()
        thread.join()
