"""Editions of real projects, computed once."""

from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.editions import Edition, edition_of
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
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
def books(estimator: dict[str, Edition]) -> dict[str, bytes]:
    """Return the workbook of each project with all its schedules."""
    return {name: workbook(edition, schedules(edition)) for name, edition in estimator.items()}
