"""Take the pictures of the README from the example, as it is built now.

    .venv/bin/python docs/screens/make.py

Wants the test extra, and a Chromium on the path or named in PROPOSAL_CHROMIUM. The example is built in a
temporary folder; only the pictures beside this file are written.
"""

import io
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
PROGRAM = Path(sys.executable).with_name("proposal")
WIDTH, HEIGHT = 1440, 900
MOST_BYTES = 200_000
# Picture, edition, page, and how far down the page in pixels.
PICTURES = (
    ("summary.png", "client", "summary.html", 0),
    ("room.png", "client", "rooms/chamber.html", 0),
    ("riser.png", "client", "drawings/R-01.html", 0),
    ("cable-schedule.png", "reviewer", "cable-schedule.html", 0),
    ("alternates.png", "client", "alternates.html", 0),
    ("programme.png", "client", "programme.html", 0),
)


def main() -> None:
    """Build the example and take every picture."""
    chromium = (
        os.environ.get("PROPOSAL_CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
    )
    if chromium is None:
        sys.exit("no Chromium: install one, or name one in PROPOSAL_CHROMIUM")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        project = Path(folder) / "example_project"
        shutil.copytree(ROOT / "example_project", project, ignore=shutil.ignore_patterns("build"))
        subprocess.run([PROGRAM, "build", project], check=True, stdout=subprocess.DEVNULL)  # noqa: S603 - our own
        browser = playwright.chromium.launch(
            executable_path=chromium,
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        page = browser.new_page(viewport={"width": WIDTH, "height": HEIGHT})
        for name, edition, path, down in PICTURES:
            page.goto((project / "build" / edition / "site" / path).as_uri(), wait_until="load")
            page.wait_for_function("document.fonts.status === 'loaded'")
            page.evaluate("down => window.scrollTo(0, down)", down)
            page.wait_for_function(
                "[...document.images].every(image => image.complete || image.loading === 'lazy')"
            )
            page.wait_for_timeout(500)
            picture = small(page.screenshot())
            (HERE / name).write_bytes(picture)
            print(f"{name}: {len(picture) // 1000} kB")
        browser.close()


def small(png: bytes) -> bytes:
    """Return a picture with 128 colours, which suits pages of few colours."""
    with Image.open(io.BytesIO(png)) as image:
        reduced = image.convert("RGB").quantize(128, dither=Image.Dither.NONE)
    held = io.BytesIO()
    reduced.save(held, "PNG", optimize=True)
    if len(held.getvalue()) > MOST_BYTES:
        sys.exit(f"a picture of {len(held.getvalue())} bytes is too large for the README")
    return held.getvalue()


if __name__ == "__main__":
    main()
