"""What computes and what shows touches no files, no clocks, no processes and no network.

Python tells an audit hook about every file, process and socket that is opened; clocks are not among it, so
that the functions that read them are watched one by one.
"""

import random
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import ModuleType

import pytest

from proposal.document.from_computed import document_of
from proposal.document.readers import READERS
from proposal.drawings import drawing
from proposal.editions import edition_of
from proposal.exports.document_json import document_json
from proposal.model.loading import load_project
from proposal.pages.site_pages import pages_of
from proposal.pipeline import compute
from proposal.publish.proposal_site import templates
from tests.pages.site import drawings_for

ROOT = Path(__file__).resolve().parent.parent
# Beginnings of the names of audit events.
TOUCHES = ("open", "os.", "shutil.", "socket.", "subprocess.", "tempfile.", "glob.", "pathlib.", "urllib.")
CLOCKS: tuple[tuple[ModuleType, str], ...] = (
    (time, "time"),
    (time, "time_ns"),
    (time, "localtime"),
    (time, "gmtime"),
    (random, "random"),
)

_heard: list[str] | None = None


def _hook(event: str, arguments: tuple[object, ...]) -> None:
    if _heard is not None and event.startswith(TOUCHES):
        _heard.append(f"{event} {arguments[:1]}")


sys.addaudithook(_hook)  # a hook stays as long as the process; it listens only inside `listening`


@contextmanager
def listening(patch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """Gather what is touched within the block."""
    global _heard
    heard: list[str] = []

    def watched(name: str, original: Callable[..., object]) -> Callable[..., object]:
        def call(*arguments: object) -> object:
            heard.append(name)
            return original(*arguments)

        return call

    with patch.context() as inner:
        for module, name in CLOCKS:
            inner.setattr(module, name, watched(f"{module.__name__}.{name}", getattr(module, name)))
        _heard = heard
        try:
            yield heard
        finally:
            _heard = None


def test_from_project_to_pages_nothing_is_touched(monkeypatch: pytest.MonkeyPatch) -> None:
    project = load_project(ROOT / "tests" / "projects" / "us_customary")
    texts = templates()

    def everything() -> list[object]:
        document = document_of(compute(project))
        made: list[object] = []
        for reader in READERS:
            edition = edition_of(document, reader)
            made.append(document_json(edition))
            made.append(pages_of(edition, drawings_for(edition.document), texts))
            for sheet in (*edition.document.sheets, *edition.document.detail_sheets):
                spec = drawing.spec(edition, sheet)
                made.append((spec, drawing.alternative(spec)))
        return made

    first = everything()  # modules are loaded, and libraries read their own data
    with listening(monkeypatch) as heard:
        second = everything()
    assert heard == []
    assert first == second


@pytest.mark.parametrize(
    ("touch", "told"),
    [
        (lambda: Path(__file__).read_bytes(), "open"),
        (lambda: list(Path(__file__).parent.iterdir()), "os."),
        (lambda: subprocess.run([sys.executable, "-c", ""], check=True), "subprocess.Popen"),
        (lambda: time.time(), "time.time"),
        (lambda: random.random(), "random.random"),
    ],
)
def test_a_touch_would_be_heard(
    touch: Callable[[], object], told: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    with listening(monkeypatch) as heard:
        touch()
    assert any(one.startswith(told) for one in heard)
