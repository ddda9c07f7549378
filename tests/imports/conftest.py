"""The estimator's workbook of a small project, with the sheets that its price needs alone."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.links import WANTED
from proposal.model.loading import load_project
from proposal.pipeline import compute

PROJECT = Path(__file__).resolve().parents[1] / "projects" / "us_customary"


@dataclass(frozen=True)
class Sent:
    """What goes out: the document, and its workbook."""

    document: Document
    book: bytes


def first_sheets(document: Document) -> bytes:
    """Return the workbook of the estimator with the schedules alone that its price needs."""
    edition = edition_of(document, "estimator")
    return workbook(edition, [one for one in schedules(edition) if one.name in WANTED])


def book_of(folder: Path, library: Path | None = None) -> bytes:
    return first_sheets(document_of(compute(load_project(folder, library=library))))


@cache
def sent() -> Sent:
    document = document_of(compute(load_project(PROJECT)))
    return Sent(document, first_sheets(document))


@pytest.fixture(scope="session")
def out() -> Sent:
    return sent()
