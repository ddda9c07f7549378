"""No code lies about that nothing uses, and the tool that says so would see some."""

import shutil
from pathlib import Path

import pytest

from tests.dead_code import EXCEPTIONS, ROOT, Unused, complaints, exceptions, unused


def test_nothing_is_unused_but_what_is_listed_with_its_reason() -> None:
    assert list(complaints()) == []


def test_exceptions_are_in_order_and_say_why() -> None:
    listed = list(exceptions())
    assert listed == sorted(listed)
    assert len(listed) == len(EXCEPTIONS.read_text("utf-8").splitlines()) - 1
    assert [one for one, reason in exceptions().items() if len(reason) < 20] == []


def test_what_nothing_calls_is_seen_and_fields_are_left_to_their_own_tests(tmp_path: Path) -> None:
    root = tmp_path.resolve()
    for folder in ("standards", "pages", "model", "templates"):
        (root / "proposal" / folder).mkdir(parents=True)
    (root / "templates").mkdir()
    (root / "templates" / "page.md.jinja").write_text("{{ page.shown }}\n")
    (root / "proposal" / "standards" / "sums.py").write_text("def nobody_calls() -> int:\n    return 1\n")
    (root / "proposal" / "pages" / "page.py").write_text(
        "class Page:\n    shown: str\n    hidden: str\n\n\nPage()\n"
    )
    (root / "proposal" / "model" / "rooms.py").write_text(
        "class Room:\n    written: str\n\n    def forgotten(self) -> None: ...\n\n\nRoom()\n"
    )
    assert set(unused(root)) == {
        Unused("proposal/standards/sums.py", "nobody_calls"),
        Unused("proposal/pages/page.py", "hidden"),
        Unused("proposal/model/rooms.py", "forgotten"),
    }


def test_an_exception_that_is_used_by_now_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    more = tmp_path / "dead_code.csv"
    shutil.copy(EXCEPTIONS, more)
    with more.open("a", encoding="utf-8") as file:
        file.write("proposal/pipeline.py,compute,it was used all the time\n")
    monkeypatch.setattr("tests.dead_code.EXCEPTIONS", more)
    monkeypatch.setattr("tests.dead_code.unused", dict)
    assert "tests/dead_code.csv: proposal/pipeline.py: compute is used by now, or gone" in complaints()


def test_the_tool_runs_beside_the_linter() -> None:
    assert ".venv/bin/python -m tests.dead_code" in (ROOT / ".ci" / "run").read_text("utf-8")
