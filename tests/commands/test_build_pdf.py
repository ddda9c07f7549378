"""`proposal build --pdf`: each edition as one PDF, to which its cover leads, and nothing of it without."""

import shutil
from pathlib import Path

import pytest

from proposal.publish import paper_file
from tests.calls import caller

MINIMAL = Path(__file__).parent.parent / "projects" / "minimal"
NAME = "downloads/proposal-client-A.pdf"


def test_an_edition_is_made_as_one_pdf_where_it_is_asked_for_and_nowhere_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "project"
    shutil.copytree(MINIMAL, folder)
    site = folder / "build" / "client" / "site"
    call = caller(monkeypatch, capsys)
    assert call("build", folder, "--edition", "client", "--pdf").status == 0
    assert (site / NAME).read_bytes().startswith(b"%PDF-1.")
    assert f'href="{NAME}"' in (site / "index.html").read_text("utf-8")

    def never(*_: object) -> bytes:
        raise AssertionError("no PDF was asked for")

    monkeypatch.setattr(paper_file, "paper_file", never)
    assert call("build", folder, "--edition", "client").status == 0
    assert not (site / NAME).exists()
    assert NAME not in (site / "index.html").read_text("utf-8")


def test_what_the_typesetting_program_refuses_is_one_line_and_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import typst

    def refuses(*_: object, **__: object) -> bytes:
        raise typst.TypstError("something is wrong")

    folder = tmp_path / "project"
    shutil.copytree(MINIMAL, folder)
    monkeypatch.setattr(typst, "compile", refuses)
    called = caller(monkeypatch, capsys)("build", folder, "--edition", "client", "--pdf")
    assert called.status == 2
    assert "the PDF could not be made: something is wrong" in called.err
    assert not (folder / "build" / "client").exists()
