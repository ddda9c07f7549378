"""What a preview shows of a project before its site is made is what the site then holds."""

import shutil
from pathlib import Path

import pytest

from proposal.commands.computing import read_and_compute
from proposal.document.readers import Reader
from proposal.publish.pages_ahead import Contents
from proposal.publish.preview import Making, Preview
from proposal.publish.proposal_preview import ProposalPreview

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"

pytestmark = pytest.mark.usefixtures("quick_builds")


class Watched:
    """A preview of a copy of a project, and what it offered before each site was made.

    ahead: what gives the pages that were shown first, of each build.
    said: what was said to be pending, in order.
    """

    def __init__(self, folder: Path, reader: Reader, patch: pytest.MonkeyPatch) -> None:
        self.folder = Path(shutil.copytree(MINIMAL, folder))
        self.site = folder / "build" / reader / "site"
        self.ahead: list[Contents] = []
        self.said: list[str] = []
        made = ProposalPreview(folder, None, reader, lambda: read_and_compute(folder, None))
        self.preview = Preview([folder], made.rebuild, lambda: self.site)
        offered, say = Making.show_ahead, Making.say_pending
        patch.setattr("proposal.publish.preview.sleep", lambda _: None)

        def show_ahead(making: Making, contents: Contents) -> None:
            self.ahead.append(contents)
            offered(making, contents)

        def say_pending(making: Making, said: str) -> None:
            self.said.append(said)
            say(making, said)

        patch.setattr(Making, "show_ahead", show_ahead)
        patch.setattr(Making, "say_pending", say_pending)

    def save(self, file: str, old: str, new: str) -> None:
        path = self.folder / file
        text = path.read_text("utf-8")
        assert text.count(old) == 1
        path.write_text(text.replace(old, new), "utf-8")
        assert self.preview.refresh()
        assert self.preview.problem == ""

    def differing(self) -> list[str]:
        """Return the files of the site that are not as they were shown before it was made."""
        return [
            path.relative_to(self.site).as_posix()
            for path in sorted(self.site.rglob("*"))
            if path.is_file()
            and not path.is_relative_to(self.site / "search")
            and self.ahead[-1](path.relative_to(self.site).as_posix()) != path.read_bytes()
        ]


@pytest.fixture(params=["client", "estimator"])
def watched(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Watched:
    return Watched(tmp_path / "project", request.param, monkeypatch)


OF_THE_WHOLE_SITE_ALONE = ["404.html", "sitemap.xml", "sitemap.xml.gz"]


def test_pages_shown_first_are_those_of_the_site(watched: Watched) -> None:
    watched.preview.refresh()
    watched.save("project.yaml", "site: Example Hall", "site: Another Hall")
    assert "Another Hall" in (watched.ahead[-1]("index.html") or b"").decode("utf-8")
    assert [path for path in watched.differing() if path not in OF_THE_WHOLE_SITE_ALONE] == []


def test_what_moves_the_price_is_pending_until_it_is_known(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    watched = Watched(tmp_path / "project", "estimator", monkeypatch)
    watched.preview.refresh()
    assert "What moves the price is still being computed." in watched.said
    assert watched.ahead[0]("sensitivity.html") is None
    assert (watched.site / "sensitivity.html").is_file()
    assert watched.preview.pending == ""

    # A word moves no price: it is known at once.
    del watched.said[:]
    watched.save("project.yaml", "site: Example Hall", "site: Another Hall")
    assert watched.ahead[-1]("sensitivity.html") == (watched.site / "sensitivity.html").read_bytes()
    assert not any("moves the price" in one for one in watched.said)
