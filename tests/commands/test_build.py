"""`proposal build`: the sites, and where they are made."""

import zipfile
from pathlib import Path

import pytest

from proposal.commands import build
from proposal.document.readers import READERS
from proposal.errors import BuildError, InputError, Place, Problem
from proposal.publish.record import files_below
from proposal.publish.site_archive import pack_sites
from tests.calls import Call
from tests.publish.links import broken_links

GOOD, DESIGN_ERRORS, WRONG = 0, 1, 2

pytestmark = pytest.mark.usefixtures("quick_builds")


def test_build_of_a_failing_project_writes_the_sites_and_ends_with_one(run: Call, minimal: Path) -> None:
    project = minimal
    schedule = project / "rooms.csv"
    assert ",L0,1 m," in schedule.read_text("utf-8")
    schedule.write_text(schedule.read_text("utf-8").replace(",L0,1 m,", ",L0,900 m,"), "utf-8")
    status, out, err = run("build", project)
    assert (status, err) == (DESIGN_ERRORS, "")
    last = out.splitlines()[-1]
    assert last == f"Open {project.resolve()}/build/client/site/index.html"
    for reader in READERS:
        page = project / "build" / reader / "site" / "index.html"
        assert page.is_file()
        assert f"{reader} edition: {page.resolve()}" in out.splitlines()
    shown = (project / "build" / "reviewer" / "site" / "findings.html").read_text("utf-8")
    assert "link-too-long" in shown


def test_build_makes_the_editions_that_were_asked_for(run: Call, minimal: Path) -> None:
    status, out, _ = run("build", minimal, "--edition", "installer", "--edition", "reviewer")
    assert status == GOOD
    made = sorted(path.parent.name for path in (minimal / "build").glob("*/site"))
    assert made == ["installer", "reviewer"]
    assert out.splitlines()[-1] == f"Open {minimal.resolve()}/build/reviewer/site/index.html"
    front = (minimal / "build" / "index.html").read_text("utf-8")
    assert "Installer edition" in front
    assert "Client edition" not in front


def test_a_build_of_the_same_ends_as_the_first_without_computing(
    run: Call, minimal: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    schedule = minimal / "rooms.csv"
    schedule.write_text(schedule.read_text("utf-8").replace(",L0,1 m,", ",L0,900 m,"), "utf-8")
    first = run("build", minimal, "--edition", "client")
    assert first.status == DESIGN_ERRORS
    assert "link-too-long" in first.out
    pages = {file: file.read_bytes() for file in sorted(minimal.rglob("*.html"))}

    def refuse(*_: object) -> None:
        raise InputError([Problem(Place("here"), "", "wanted nothing computed; found it computed")])

    with monkeypatch.context() as patch:
        patch.setattr(build, "read_and_compute", refuse)
        assert run("build", minimal, "--edition", "client") == first
        assert run("build", minimal, "--edition", "client", "--edition", "installer").status == WRONG
        assert run("build", minimal, "--edition", "client", "--revision", "Z").status == WRONG
        (minimal / "build" / "client" / "site" / "rooms.html").write_bytes(b"damaged")
        assert run("build", minimal, "--edition", "client").status == WRONG
    assert run("build", minimal, "--edition", "client") == first
    assert {file: file.read_bytes() for file in pages} == pages


def test_build_where_nothing_can_be_written_is_said_in_a_line(run: Call, minimal: Path) -> None:
    (minimal / "build").write_text("in the way", "utf-8")
    status, out, err = run("build", minimal, "--edition", "client")
    assert (status, out) == (WRONG, "")
    assert len(err.splitlines()) == 1
    assert "build" in err
    assert (minimal / "build").read_text("utf-8") == "in the way"


def test_a_site_is_packed_to_be_sent_and_opens_unpacked(run: Call, minimal: Path, tmp_path: Path) -> None:
    status, out, _ = run("build", minimal, "--edition", "client", "--archive")
    packed = minimal / "build" / "client.zip"
    assert status == GOOD
    assert f"client edition to send: {packed.resolve()}" in out.splitlines()
    first = packed.read_bytes()
    with zipfile.ZipFile(packed) as archive:
        archive.extractall(tmp_path / "received")
    site = tmp_path / "received" / "proposal-client"
    assert (site / "index.html").is_file()
    assert broken_links(site) == []
    assert files_below(site).keys() == files_below(minimal / "build" / "client" / "site").keys()
    # A second one replaces it with the same bytes; what does not belong to the site is never packed.
    stray = minimal / "build" / "client" / "site" / "more.html"
    stray.symlink_to(minimal / "project.yaml")
    with pytest.raises(BuildError, match=r"more\.html: wanted a file of the site; found a link"):
        pack_sites(minimal, ["client"])
    assert run("build", minimal, "--edition", "client", "--archive").status == GOOD
    assert not stray.exists()
    assert packed.read_bytes() == first
