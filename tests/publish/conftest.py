"""A folder to build in, and the sample site, built once for all tests that only read it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from proposal.publish.program_folders import OwnPath, own_folders
from proposal.publish.site import build_site
from tests.publish import interrupted
from tests.publish.sample_site import sample_site


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    build = own_folders(tmp_path_factory.mktemp("project")).build
    return build_site(sample_site(), build / "client").parent


@pytest.fixture
def build(tmp_path: Path) -> OwnPath:
    """The `build/` of a project in `tmp_path`."""
    return own_folders(tmp_path).build


@pytest.fixture
def quick() -> Iterator[None]:
    """Let issues and builds write a few short pages; what they read and keep is the program's own."""
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_quick(patch)
        yield
