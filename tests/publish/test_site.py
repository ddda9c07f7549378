"""A site is whole, the same every time, harmless, and asks nobody."""

import datetime
import errno
import json
import logging
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest
import yaml
from mkdocs.exceptions import MkDocsException

from proposal.errors import BuildError, PartError
from proposal.pages.markdown import text
from proposal.publish.program_folders import OwnPath, own_folders
from proposal.publish.project_lock import exclusive
from proposal.publish.site import build_site, write_front_page
from tests.publish.links import asked_outside, broken_links
from tests.publish.sample_site import HOSTILE, sample_site

ROOT = Path(__file__).resolve().parents[2]


def content(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_every_page_and_file_is_there_and_no_link_is_broken(built: Path) -> None:
    files = content(built)
    assert {"index.html", "rooms/chamber.html", "cables.html", "findings.html"} <= set(files)
    assert {"drawings/flow.svg", "images/logo.svg", "assets/proposal/brand.css"} <= set(files)
    assert broken_links(built) == []


def test_no_page_loads_anything_from_elsewhere(built: Path) -> None:
    assert asked_outside(built) == []
    for path in built.rglob("*.css"):
        assert "url(http" not in path.read_text("utf-8").replace('"', "").replace("'", "")


def test_the_same_source_gives_the_same_bytes_anywhere_and_at_any_time(
    tmp_path: Path, build: OwnPath, monkeypatch: pytest.MonkeyPatch, built: Path
) -> None:
    monkeypatch.setenv("TZ", "Pacific/Auckland")
    longer = tmp_path / "a much longer path" / "other"
    longer.mkdir(parents=True)
    there = own_folders(longer).build
    again = build_site(sample_site(), there / "reviewer").parent
    assert content(again) == content(built)
    markdown = [content(site.parent / "markdown") for site in (again, built)]
    assert markdown[0] == markdown[1]


def test_the_revisions_date_is_the_only_date(build: OwnPath, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1")
    site = build_site(sample_site(date=datetime.date(2031, 7, 9)), build / "client").parent
    assert os.environ["SOURCE_DATE_EPOCH"] == "1"
    assert b"2031-07-09" in (site / "sitemap.xml").read_bytes() + (site / "index.html").read_bytes()
    today = datetime.date.today().isoformat().encode()
    assert not [name for name, data in content(site).items() if today in data]


def test_the_day_on_which_time_began_is_a_date_too(build: OwnPath) -> None:
    assert build_site(sample_site(date=datetime.date(1970, 1, 1)), build / "client").is_file()


def test_names_that_are_hostile_are_shown_and_not_run(build: OwnPath) -> None:
    source = sample_site(
        title=HOSTILE,
        short_title=HOSTILE,
        nav=((HOSTILE, "index.md"), (HOSTILE, ((HOSTILE, "cables.md"),))),
        revision=HOSTILE,
        purpose=HOSTILE,
        footer=HOSTILE,
    )
    site = build_site(source, build / "client").parent
    for name, data in content(site).items():
        if name.endswith(".html"):
            assert b"<script>window.leaked" not in data, name
            assert b"<img src=x" not in data, name
            assert b'href="javascript:window' not in data, name


def test_a_page_outside_the_contents_has_no_live_title(build: OwnPath) -> None:
    pages = dict(sample_site().pages) | {"apart.md": f"# {text(HOSTILE)}\n\nApart.\n"}
    page = build_site(sample_site(pages=pages), build / "client").with_name("apart.html").read_text("utf-8")
    assert "Apart." in page
    assert "<script>window.leaked" not in page
    assert "<img src=x" not in page


def test_names_that_look_like_other_values_stay_names(build: OwnPath) -> None:
    source = sample_site(short_title="Off", nav=(("Yes", "index.md"), ("1:30", "cables.md")), revision="007")
    site = build_site(source, build / "client").parent
    page = (site / "cables.html").read_text("utf-8")
    assert "<title>1:30 · Off</title>" in page
    assert "Revision 007" in page


def test_a_draft_says_so_on_every_page_and_an_issue_does_not(built: Path, build: OwnPath) -> None:
    issued = build_site(sample_site(draft=False), build / "client").parent
    for name in ("index.html", "rooms/chamber.html", "cables.html"):
        assert "not issued" in (built / name).read_text("utf-8")
        assert "raft" not in (issued / name).read_text("utf-8").split("<main")[0].split("<body")[1]


def test_the_clients_colour_and_logo_are_used(built: Path) -> None:
    assert "--brand: #7a1f3d;" in (built / "assets/proposal/brand.css").read_text("utf-8")
    page = (built / "rooms/chamber.html").read_text("utf-8")
    assert 'src="../images/logo.svg"' in page
    assert "../assets/proposal/brand.css" in page


def test_an_unknown_language_reads_english_labels(build: OwnPath) -> None:
    for language, label in (("de", "Suche"), ("xx", "Search"), ("../de", "Search")):
        site = build_site(sample_site(language=language), build / "client").parent
        assert f'aria-label="{label}"' in (site / "index.html").read_text("utf-8")


def test_what_was_removed_from_the_source_is_gone_from_the_site(build: OwnPath) -> None:
    build_site(sample_site(), build / "client")
    source = sample_site()
    pages = {path: page for path, page in source.pages.items() if path != "cables.md"}
    site = build_site(sample_site(pages=pages, nav=(("A", "index.md"),)), build / "client").parent
    assert not (site / "cables.html").exists()
    assert not (site.parent / "markdown" / "cables.md").exists()


def test_a_failed_build_leaves_the_former_site(build: OwnPath, monkeypatch: pytest.MonkeyPatch) -> None:
    site = build_site(sample_site(), build / "client").parent
    before = content(site.parent)

    def fail(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "no space left on device")

    monkeypatch.setattr("mkdocs.commands.build.build", fail)
    with pytest.raises(BuildError) as failure:
        build_site(sample_site(short_title="Other"), build / "client")
    assert str(failure.value) == (
        f"{build.path}/client/.part: the site could not be made: no space left on device"
    )
    assert content(site.parent) == before


@pytest.mark.parametrize("kind", [MkDocsException, SystemExit], ids=lambda kind: kind.__name__)
def test_a_site_builder_that_fails_is_a_failure_of_the_program(
    kind: type[BaseException], build: OwnPath, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        logging.getLogger("mkdocs.structure").warning("a page is strange")
        raise kind("stopped")

    monkeypatch.setattr("mkdocs.commands.build.build", fail)
    with pytest.raises(PartError) as failure:
        build_site(sample_site(), build / "client")
    assert str(failure.value).splitlines() == ["a page is strange", "the site could not be made: stopped"]
    assert not (build / "client/site").path.exists()


def test_a_second_run_is_refused(build: OwnPath) -> None:
    with exclusive(build), pytest.raises(BuildError, match="another run"):
        build_site(sample_site(), build / "client")


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"files": {"../a": b""}, "logo": None}, r"would lie outside it: ../a"),
        ({"files": {"/a": b""}, "logo": None}, r"would lie outside it: /a"),
        ({"files": {"a\\b": b""}, "logo": None}, r"would lie outside it: a\\b"),
        ({"files": {"a//b": b""}, "logo": None}, r"would lie outside it: a//b"),
        ({"files": {"": b""}, "logo": None}, r"would lie outside it: "),
        ({"files": {"Cables.html": b""}, "logo": None}, r"would have one name: cables.md and Cables.html"),
        ({"pages": {"a.md": ""}}, r"no cover, index.md"),
        ({"logo": "other.svg"}, r"the logo is not among the files of the site: other.svg"),
        ({"nav": (("A", (("B", "none.md"),)),)}, r"the contents name a page that is missing: none.md"),
        ({"colour": "red"}, r"wanted as #rrggbb"),
    ],
)
def test_a_source_that_does_not_fit_together_is_refused(
    build: OwnPath, changes: dict[str, object], message: str
) -> None:
    with pytest.raises(BuildError, match=message):
        build_site(sample_site(**changes), build / "client")
    assert not (build / "client/site").path.exists()


def test_progress_is_told_and_nothing_is_complained_about(build: OwnPath) -> None:
    said: list[str] = []
    build_site(sample_site(), build / "client", progress=said.append)
    assert said == ["writing 4 pages and 2 files", "making the site"]


def test_the_front_page_leads_to_what_was_built(built: Path, build: OwnPath) -> None:
    shutil.copytree(built, build.path / "client" / "site")
    page = write_front_page(build, {"client": "Client <edition>", "reviewer": "Reviewer"}, "A & B").read_text(
        "utf-8"
    )
    assert 'url=client/site/index.html"' in page
    assert "Client &lt;edition&gt;" in page
    assert "Reviewer" not in page
    shutil.copytree(built, build.path / "reviewer" / "site")
    page = write_front_page(build, {"client": "Client", "reviewer": "Reviewer"}, "A & B").read_text("utf-8")
    assert "refresh" not in page
    assert broken_links(build.path) == []


def mkdocs_at_root(clone: Path) -> Path:
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--quiet"],
        cwd=clone,
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return clone / "site"


def test_the_root_builds_in_a_fresh_clone_and_shows_the_example_once_it_is_built(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "shared" / "site", tmp_path / "shared" / "site")
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    build = tmp_path / "example_project" / "build"
    build.mkdir(parents=True)
    shutil.copy(ROOT / "example_project" / "build" / "README.md", build)
    site = mkdocs_at_root(tmp_path)
    assert "has not been built yet" in (site / "index.html").read_text("utf-8")
    assert broken_links(site) == []
    assert asked_outside(site) == []

    own = own_folders(build.parent).build
    build_site(sample_site(), own / "client")
    write_front_page(own, {"client": "Client"}, "Example")
    site = mkdocs_at_root(tmp_path)
    assert "client/site/index.html" in (site / "index.html").read_text("utf-8")
    assert content(site / "client" / "site") == content(build / "client" / "site")
    assert not (site / "client" / "markdown").exists()


def test_only_the_plugins_that_other_builders_know_are_used() -> None:
    config = yaml.safe_load((ROOT / "mkdocs.yml").read_text("utf-8"))
    plugins = [next(iter(p)) if isinstance(p, dict) else p for p in config["plugins"]]
    assert plugins == ["search", "offline"]
    assert "hooks" not in config


def in_search(site: Mapping[str, bytes]) -> list[tuple[str, str, list[str]]]:
    """Return place, title and words of each entry of a search index."""
    index = json.loads(site["search/search_index.json"])
    return [
        (entry["location"], entry["title"], re.sub(r"<[^>]+>", " ", entry["text"]).split())
        for entry in index["docs"]
    ]


def test_the_generated_configuration_can_be_run_again_by_hand(built: Path, tmp_path: Path) -> None:
    """All is the same but paragraphs of the search: rows of long tables are such in our builds alone."""
    folder = shutil.copytree(built.parent, tmp_path / "client")
    shutil.rmtree(folder / "site")
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--quiet", "-f", str(folder / "mkdocs.yml")],
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": "1772409600"},  # 2026-03-02
        check=True,
    )
    by_hand, ours = content(folder / "site"), content(built)
    assert in_search(by_hand) == in_search(ours)
    assert len(in_search(ours)) > 3
    index = {"search/search_index.json", "search/search_index.js"}
    assert {path: held for path, held in by_hand.items() if path not in index} == {
        path: held for path, held in ours.items() if path not in index
    }
    assert by_hand.keys() == ours.keys()


def test_what_ships_with_the_site_is_small() -> None:
    size = sum(path.stat().st_size for path in (ROOT / "shared" / "site").rglob("*") if path.is_file())
    assert size < 2_000_000
