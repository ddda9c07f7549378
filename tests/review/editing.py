"""Project folders changed for tests: a copy with pieces of text replaced, and where a text stands in it."""

import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path

PROJECTS = Path(__file__).resolve().parent.parent / "projects"
Edit = str | Sequence[tuple[str, str]]


def edited(folder: Path, base: str, edits: Mapping[str, Edit]) -> Path:
    """Return a copy of a test project with some files changed.

    folder: where to make it; it must not exist.
    edits: by file, either its whole content or texts to replace; the text `*end*` stands for the end.
    Raises AssertionError where a text to replace is not there once.
    """
    shutil.copytree(PROJECTS / base, folder)
    for name, edit in edits.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        if isinstance(edit, str):
            path.write_text(edit, encoding="utf-8")
            continue
        text = path.read_text(encoding="utf-8")
        for old, new in edit:
            if old == "*end*":
                text += new
            else:
                assert text.count(old) == 1, (name, old)
                text = text.replace(old, new)
        path.write_text(text, encoding="utf-8")
    return folder


def line_of(folder: Path, name: str, text: str) -> int:
    """Return the line of a file on which a text stands first, from 1."""
    lines = (folder / name).read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if text in line)
