"""Where the files lie that ship with the program."""

from pathlib import Path


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
