"""A build of a revision that is not issued says so on every page and every drawing; other builds do not."""

import html
import shutil
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal import cli
from proposal.document.making.document import document_of
from proposal.drawings.draft_mark import marked
from proposal.drawings.kinds import drawing_of
from proposal.editions import edition_of
from proposal.model.loading import load_project
from proposal.pages.drawing_pages import sheets_of
from proposal.pipeline import compute
from proposal.publish.cache import drawing_key
from proposal.publish.proposal_site import Mark
from proposal.publish.proposal_site import marked as marked_document
from tests.publish import interrupted
from tests.publish.interrupted import MINIMAL

SVG = "{http://www.w3.org/2000/svg}"

pytestmark = pytest.mark.usefixtures("quick_builds")


def built(project: Path, monkeypatch: pytest.MonkeyPatch, *options: str) -> Path:
    call = ["proposal", "build", str(project), "--edition", "estimator", *options]
    monkeypatch.setattr("sys.argv", call)
    with pytest.raises(SystemExit) as ended:
        cli.main()
    assert ended.value.code == 0
    return project / "build" / "estimator" / "site"


def test_every_page_and_drawing_of_a_draft_says_so_and_of_a_plain_build_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    project = Path(shutil.copytree(MINIMAL, tmp_path / "project"))
    site = built(project, monkeypatch, "--revision", "B")
    pages = [path for path in site.rglob("*.html") if path.name != "404.html"]
    drawings = sorted((site / "drawings").glob("*.svg"))
    assert len(pages) > 30
    assert len(drawings) > 5
    for page in pages:
        text = page.read_text("utf-8")
        assert "<strong>Draft</strong> of revision B, not issued" in text, page
        assert "for comment, draft</p>" in text, page
    assert "draft, not issued" in html.unescape((site / "index.html").read_text("utf-8"))
    for path in drawings:
        root = ElementTree.fromstring(path.read_text("utf-8"))
        texts = ["".join(one.itertext()) for one in root.iter(f"{SVG}text")]
        assert texts[-1] == "DRAFT", path
        # Once across the sheet, once in its title strip, once in its text alternative.
        assert (root.findtext(f"{SVG}desc") or "").startswith("Draft, not issued. "), path
        if path.stem.endswith(("-page", "-narrow")):
            continue  # a chart as pages show it, which has no strip
        strip = " ".join(texts)
        assert "Draft, not issued · for comment" in strip, path
        page = (site / "drawings" / f"{path.stem}.html").read_text("utf-8")
        assert "Draft, not issued" in html.unescape(page), path
    assert not (project / "issued").exists()
    assert not (project / "published").exists()

    site = built(project, monkeypatch)
    for page in site.rglob("*.html"):
        text = page.read_text("utf-8")
        assert "Draft</strong>" not in text, page
        assert "not issued" not in text, page
    for path in (site / "drawings").glob("*.svg"):
        assert "Draft, not issued" not in path.read_text("utf-8"), path
        assert "DRAFT" not in path.read_text("utf-8"), path


def test_a_drawing_of_a_draft_is_kept_apart_from_the_one_issued() -> None:
    document = document_of(compute(load_project(MINIMAL)))
    keys = []
    for one in (document, marked_document(document, Mark(draft=True))):
        edition = edition_of(one, "estimator")
        specs = [(sheet.kind, drawing_of(edition, sheet).spec) for sheet in sheets_of(edition.document)]
        assert {spec.strip.draft for _, spec in specs} == {one.cover.draft}
        keys.append({drawing_key(kind, spec) for kind, spec in specs})
    assert len(keys[0]) == len(keys[1]) > 5
    assert keys[0].isdisjoint(keys[1])


def test_a_revision_that_is_issued_is_not_built_as_a_draft(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    project = Path(shutil.copytree(MINIMAL, tmp_path / "project"))
    with monkeypatch.context() as patch:
        interrupted.make_quick(patch)
        interrupted.issue_revision(project, "B")
    monkeypatch.setattr("sys.argv", ["proposal", "build", str(project), "--revision", "b"])
    with pytest.raises(SystemExit) as ended:
        cli.main()
    assert ended.value.code == 2
    assert "wanted a revision that is not issued yet; found b, issued already as B" in capsys.readouterr().err
    assert not (project / "build" / "client").exists()


def test_a_mark_lies_over_all_else_and_within_the_sheet() -> None:
    svg = b'<svg viewBox="0 0 400 300"><title>a</title><desc id="d">Words.</desc><g/></svg>\n'
    root = ElementTree.fromstring(marked(svg))
    mark = root[-1]
    assert mark.text == "DRAFT"
    assert root.findtext("desc") == "Draft, not issued. Words."
    # Five letters, none wider than its size, turned along a diagonal of 500.
    assert 5 * float(mark.attrib["font-size"]) < 500
    with pytest.raises(ValueError, match="no viewBox or no description"):
        marked(b"<svg></svg>")
