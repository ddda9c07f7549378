"""Editions of real projects, computed once."""

from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.editions import Edition, edition_of
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from tests.shared_builds import made_once
from tests.whole_projects import whole_document

ROOT = Path(__file__).resolve().parents[2]
PROJECTS = {"example": ROOT / "example_project", "us": ROOT / "tests" / "projects" / "us_customary"}


@pytest.fixture(scope="session")
def documents() -> dict[str, Document]:
    return {name: whole_document(folder) for name, folder in PROJECTS.items()}


@pytest.fixture(scope="session")
def estimator(documents: dict[str, Document]) -> dict[str, Edition]:
    reader: Reader = "estimator"
    return {name: edition_of(document, reader) for name, document in documents.items()}


@pytest.fixture(scope="session")
def books(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """Return the workbook of each project with all its schedules, made once for all processes."""

    def write(folder: Path) -> None:
        for name, edition in request.getfixturevalue("estimator").items():
            (folder / f"{name}.xlsx").write_bytes(workbook(edition, schedules(edition)))

    made = made_once(tmp_path_factory, "whole workbooks", write)
    return {name: (made / f"{name}.xlsx").read_bytes() for name in PROJECTS}
