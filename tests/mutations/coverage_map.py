"""Which file of tests runs which lines of the program, and how long it takes."""

import hashlib
import json
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.mutations.running import ran

# Tests of drawings, of pages in a browser, of broken input and of this tool say little of what is mutated.
_LEFT_OUT = ("browser", "drawings", "bad_input", "mutations")


@dataclass(frozen=True, slots=True)
class Covering:
    """A file of tests: its path, the processor time it takes, and the lines that it runs of each module."""

    path: str
    seconds: float
    lines: Mapping[str, frozenset[int]]


def test_files(tree: Path, beginnings: Sequence[str]) -> list[str]:
    """Return the files of tests that come into question, by their paths from the root of the tree.

    beginnings: of the paths that are wanted.
    """
    found = (path.relative_to(tree) for path in (tree / "tests").rglob("test_*.py"))
    paths = sorted(path.as_posix() for path in found if path.parts[1] not in _LEFT_OUT)
    return [path for path in paths if path.startswith(tuple(beginnings))]


def coverings(
    tree: Path, kept: Path, files: Iterable[str], longest_s: float, say: Callable[[str], None]
) -> list[Covering]:
    """Return what files of tests run, each measured once by itself and kept beside the tree.

    tree: a copy of the project; kept: file of what was measured before.
    longest_s: a file of tests that takes longer, or fails, is left out.
    """
    known = json.loads(kept.read_text()) if kept.is_file() else {}
    found = []
    for file in files:
        entry = known.get(file)
        if entry is None or not _holds(tree, file, entry, longest_s):
            entry = _measured(tree, file, longest_s)
            entry["digest"] = _digest(tree, [file, *entry["lines"]])
            known[file] = entry
            kept.parent.mkdir(parents=True, exist_ok=True)
            kept.write_text(json.dumps(known))
            say(f"measured {file}: {entry['said']}")
        if not entry["over"]:
            lines = {path: frozenset(held) for path, held in entry["lines"].items()}
            found.append(Covering(file, entry["seconds"], lines))
    return found


def _holds(tree: Path, file: str, entry: Mapping[str, Any], longest_s: float) -> bool:
    """Say whether a file of tests and all the modules that it runs are as they were when it was measured."""
    if entry["over"] and entry["over"] < longest_s:
        return False
    same: bool = entry["digest"] == _digest(tree, [file, *entry["lines"]])
    return same


def _digest(tree: Path, files: Sequence[str]) -> str:
    held = ((tree / file).read_bytes() if (tree / file).is_file() else b"" for file in files)
    return hashlib.sha256(b"\0".join(held)).hexdigest()[:16]


def _measured(tree: Path, file: str, longest_s: float) -> dict[str, Any]:
    data = tree / ".coverage_of_one"
    data.unlink(missing_ok=True)
    command = [
        *(sys.executable, "-m", "coverage", "run", f"--data-file={data}", "--source=proposal"),
        *("-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", file),
    ]
    found = ran(command, tree, longest_s)
    if found.status != 0:
        said = "takes too long" if found.status is None else "fails"
        return {"over": longest_s, "seconds": found.seconds, "lines": {}, "said": said}
    return {"over": 0, "seconds": found.seconds, "lines": _lines(tree, data), "said": f"{found.seconds} s"}


def _lines(tree: Path, data: Path) -> dict[str, list[int]]:
    from coverage import CoverageData

    held = CoverageData(basename=str(data))
    held.read()
    found = {}
    for path in sorted(held.measured_files()):
        lines = sorted(held.lines(path) or ())
        if lines:
            found[Path(path).relative_to(tree).as_posix()] = lines
    return found
