"""No kind of page of any edition breaks a rule of accessibility, wide and narrow, light and dark.

The suite opens some pages of the sample document in each edition. `PROPOSAL_LONG_TESTS=2` builds the example
and opens one page of every kind of each edition in all four ways: some 600 openings, a quarter of an hour.
"""

import re
import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser

from proposal.document.readers import READERS, Reader
from tests.browser.harness import NARROW, WIDE, opened
from tests.long_form import LONG
from tests.shared_builds import made_once

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]
LOOKS: tuple[tuple[int, Literal["light", "dark"]], ...] = (
    (WIDE, "light"),
    (NARROW, "dark"),
    (WIDE, "dark"),
    (NARROW, "light"),
)
CHOSEN: Mapping[Reader, tuple[str, ...]] = {
    "client": ("price.html", "summary.html", "rooms/meeting.html", "programme.html"),
    "reviewer": ("calculations/room-B101.html", "power.html", "cable-schedule.html"),
    "estimator": ("labour-lines.html", "findings.html", "price-build-up.html"),
    "installer": ("channels/ER1.html", "network.html", "labels.html"),
}
"""Pages of the suite; the first is opened as the first of `LOOKS` says, and so on."""


def kinds(site: Path) -> Iterator[Path]:
    """Yield one page of every kind: pages beside each other in a folder are of one kind."""
    seen: set[str] = set()
    for page in sorted(site.rglob("*.html")):
        kind = re.sub(r"/[^/]+\.html$", "/", page.relative_to(site).as_posix())
        if kind not in seen:
            seen.add(kind)
            yield page


@pytest.fixture(scope="module")
def editions(tmp_path_factory: pytest.TempPathFactory, sample_editions: Path) -> Mapping[Reader, Path]:
    """Return the folder of the site of each edition."""
    if not LONG:
        return {reader: sample_editions / reader / "site" for reader in READERS}

    def build(folder: Path) -> None:
        project = folder / "project"
        shutil.copytree(
            ROOT / "example_project", project, ignore=shutil.ignore_patterns("build", "published")
        )
        program = Path(sys.executable).with_name("proposal")
        subprocess.run([program, "build", project], check=True, capture_output=True)

    built = made_once(tmp_path_factory, "the example to look at", build) / "project" / "build"
    return {reader: built / reader / "site" for reader in READERS}


@pytest.mark.parametrize("reader", READERS)
def test_no_kind_of_page_has_a_fault(
    chromium: Browser, editions: Mapping[Reader, Path], reader: Reader
) -> None:
    site = editions[reader]
    if LONG:
        openings = [(page, *look) for page in kinds(site) for look in LOOKS]
        assert len(openings) > 100
    else:
        openings = [(site / name, *LOOKS[n % len(LOOKS)]) for n, name in enumerate(CHOSEN[reader])]
    found: list[str] = []
    for page, width, scheme in openings:
        with opened(chromium, page, width, prefers=scheme) as state:
            name = f"{page.relative_to(site)} at {width} px, {scheme}"
            found += [f"{name}: {fault}" for fault in state.faults()]
    assert found == []


def test_a_wide_table_is_a_list_of_cards_on_a_telephone(chromium: Browser, sample_editions: Path) -> None:
    """Each value stands beside its head, nothing scrolls sideways; views and filter work as on a desk."""
    shown = "getComputedStyle(this).display !== 'none'"
    with opened(chromium, sample_editions / "reviewer" / "site" / "cable-schedule.html", NARROW) as state:
        table = state.page.locator("table.data.cards").first
        assert table.evaluate("one => one.scrollWidth <= one.parentNode.clientWidth + 1")
        cells = table.locator("tbody tr").first.locator("th, td")
        heads = table.locator("thead th").evaluate_all("all => all.map(one => one.textContent.trim())")
        assert cells.evaluate_all("all => all.map(one => one.dataset.head)") == heads
        seen = cells.evaluate_all(f"all => all.map(one => (function () {{ return {shown}; }}).call(one))")
        hidden = cells.evaluate_all("all => all.map(one => one.hidden || !one.textContent)")
        assert any(hidden)
        assert seen == [not one for one in hidden]
        rows = table.locator("tbody").last.locator("tr")
        first = rows.first.locator("th").first.inner_text()
        state.page.evaluate("document.querySelector('table.data.cards tbody tr').hidden = true")
        assert not rows.first.is_visible()
        assert first
        assert state.faults() == []
    with opened(chromium, sample_editions / "reviewer" / "site" / "cable-schedule.html", WIDE) as state:
        assert state.page.locator("table.data.cards").count() == 0
