"""The sample site, built once for all tests that only read it."""

from pathlib import Path

import pytest

from proposal.publish.site import build_site
from tests.publish.sample_site import sample_site


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_site(sample_site(), tmp_path_factory.mktemp("project") / "build" / "client").parent
