"""A Chromium for the tests that look at pages.

It is the system's own: PROPOSAL_CHROMIUM, or `chromium` on the path. Where there is none the tests are
skipped, unless PROPOSAL_REQUIRE_BROWSER=1 says that this machine must have one.
"""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from proposal.document.readers import READERS
from proposal.publish.program_folders import own_folders
from proposal.publish.site import build_site
from tests.pages.site import drawings_for, sample_pages
from tests.publish.sample_site import DRAWING, sample_site
from tests.sample_document import sample_document
from tests.shared_builds import made_once

OPTIONS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
]


def chromium_path() -> str | None:
    chosen = os.environ.get("PROPOSAL_CHROMIUM")
    if chosen:
        return shutil.which(chosen)
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    path = chromium_path()
    if path is None:
        message = "no Chromium: install one, or name one in PROPOSAL_CHROMIUM"
        if os.environ.get("PROPOSAL_REQUIRE_BROWSER") == "1":
            pytest.fail(message)
        pytest.skip(message)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=OPTIONS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the sample site."""
    return build_site(
        sample_site(), own_folders(tmp_path_factory.mktemp("sample project")).build / "client"
    ).parent


@pytest.fixture(scope="session")
def sample_editions(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder that holds the sample document's site for each reader."""
    files = {f"drawings/{one.file}": DRAWING for one in drawings_for(sample_document()).values()}

    def build(folder: Path) -> None:
        for reader in READERS:
            made = sample_pages(reader)
            source = sample_site(pages=made.pages, nav=made.nav, files=files, logo=None)
            build_site(source, own_folders(folder).build / reader)

    return made_once(tmp_path_factory, "sample editions", build) / "build"
