"""What several commands do with a project: read it, compute it, and find its library."""

import gc
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from proposal.resources import company_library


def read_and_compute(
    folder: Path, library: Path | None, named: Mapping[str, str] | None = None
) -> tuple[Any, Any]:
    """Return what makes a project with its alternates, and everything computed from its base.

    named: fields of the revision that the call names otherwise than project.yaml.
    Raises InputError, with every problem of the files.
    """
    # Models and rows are many and are kept: collecting garbage among them would take a tenth of `check`.
    gc.disable()
    try:
        from proposal.model.loading import load_source
        from proposal.pipeline import compute

        source = load_source(folder, library=library, named=named or {})
        computed = compute(source.base)
        len(computed.findings)  # computed while collection is off; every command prints them
        return source, computed
    finally:
        gc.freeze()  # what was read and computed is kept to the end: it is not collected later either
        gc.enable()


def library_folders(library: Path | None) -> list[Path]:
    """Return the folder of a company's own library, as the call or the environment names it, if any."""
    company = company_library(library)
    return [] if company is None else [company]
