"""Projects as they lie in the repository, each computed once by a process and only read by its tests.

For tests that replace no part of what computes: whatever they read first is kept for all.
"""

from functools import cache
from pathlib import Path

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute


@cache
def whole_computed(folder: Path) -> Computed:
    """Return all that is computed of a project in a folder, which nobody changes."""
    return compute(load_project(folder))


@cache
def whole_document(folder: Path) -> Document:
    """Return the document of a project in a folder, which nobody changes."""
    return document_of(whole_computed(folder))
