"""Code that nothing of the program uses: `.venv/bin/python -m tests.dead_code`, status 1 if there is some.

Vulture reads all of `proposal/` and says which names are never used there; that only tests use something does
not count. Left to others: imports (ruff), fields of the model (`tests/declared/`), fields of rows
(`tests/test_readers.py`) and of results that fill them by name, and fields of a page's view model that its
template names. Exceptions stand with
their reason in `dead_code.csv`; one that is used by now is told as well.
"""

import ast
import csv
import re
import sys
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

from vulture import Vulture  # type: ignore[import-untyped]  # it ships no types

ROOT = Path(__file__).resolve().parent.parent
EXCEPTIONS = Path(__file__).with_name("dead_code.csv")
LEAST_CONFIDENCE = 60
CALLED_BY_OTHERS = ("@model_validator", "@composed", "@gathered")
"""Decorators whose functions pydantic calls, or the loops over columns by their names."""
FIELDS_SEEN_ELSEWHERE = ("proposal/model/", "proposal/document/rows/")


class Unused(NamedTuple):
    """A name that nothing uses, and its file, relative to the root."""

    file: str
    name: str


@cache
def unused(root: Path = ROOT) -> dict[Unused, int]:
    """Return the names of a checkout that nothing uses, each with its line; exceptions are not taken off."""
    found = Vulture(ignore_decorators=list(CALLED_BY_OTHERS))
    found.scavenge([root / "proposal"])
    shown = names_in_templates(root)
    names: dict[Unused, int] = {}
    for item in found.get_unused_code(min_confidence=LEAST_CONFIDENCE):
        file = Path(item.filename).resolve().relative_to(root).as_posix()
        if item.typ == "import" or _seen_elsewhere(root, file, item.typ, item.first_lineno):
            continue
        if file.startswith("proposal/pages/") and item.name in shown:
            continue
        names[Unused(file, item.name)] = item.first_lineno
    return names


def _seen_elsewhere(root: Path, file: str, typ: str, line: int) -> bool:
    """Return whether a name is a field that others see to: of the model, of a row, or one that fills it."""
    name = _fields(root / file).get(line) if typ == "variable" else None
    return name is not None and (file.startswith(FIELDS_SEEN_ELSEWHERE) or name in _fields_of_rows(root))


@cache
def _fields_of_rows(root: Path) -> frozenset[str]:
    rows = sorted((root / "proposal" / "document" / "rows").glob("*.py"))
    return frozenset(name for path in rows for name in _fields(path).values())


@cache
def _fields(path: Path) -> Mapping[int, str]:
    """Return the fields that classes of a module declare, by line."""
    return {
        part.lineno: part.target.id
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.ClassDef)
        for part in node.body
        if isinstance(part, ast.AnnAssign) and isinstance(part.target, ast.Name)
    }


def names_in_templates(root: Path) -> frozenset[str]:
    """Return every word of the templates."""
    texts = (path.read_text("utf-8") for path in sorted((root / "templates").rglob("*.jinja")))
    return frozenset(word for text in texts for word in re.findall(r"[A-Za-z_]\w*", text))


def exceptions() -> dict[Unused, str]:
    """Return the reason of every exception."""
    with EXCEPTIONS.open(encoding="utf-8", newline="") as file:
        return {Unused(one["file"], one["name"]): one["reason"] for one in csv.DictReader(file)}


def complaints() -> Iterator[str]:
    """Yield a line for each name that nothing uses, and for each exception that is one no longer."""
    names, allowed = unused(), exceptions()
    for one, line in sorted(names.items()):
        if one not in allowed:
            yield f"{one.file}:{line}: nothing uses {one.name}; what stays is listed in dead_code.csv"
    for one in sorted(allowed.keys() - names.keys()):
        yield f"tests/dead_code.csv: {one.file}: {one.name} is used by now, or gone"


if __name__ == "__main__":
    told = list(complaints())
    print("\n".join(told) or "no dead code")
    sys.exit(bool(told))
