"""Where the files lie that ship with the program, and a company's own library."""

import os
from pathlib import Path

LIBRARY_VARIABLE = "PROPOSAL_LIBRARY"


def resource(name: str) -> Path:
    """Return the path of a shipped file or folder, in a checkout and in an installation alike.

    name: `templates`, `shared` or `mkdocs.yml`.
    Raises FileNotFoundError where the installation is incomplete.
    """
    package = Path(__file__).resolve().parent
    for base in (package / "_data", package.parent):
        path = base / name
        if path.exists():
            return path
    raise FileNotFoundError(f"{name} is missing from the installation of this program")


def company_library(named: Path | None) -> Path | None:
    """Return the folder of a company's own library: as named, else as the environment names it."""
    variable = os.environ.get(LIBRARY_VARIABLE)
    return named if named is not None or not variable else Path(variable)
