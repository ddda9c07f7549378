"""A page that is made alone is the page of the whole site, byte for byte."""

from dataclasses import replace
from pathlib import Path

from proposal.publish.cache import Cache
from proposal.publish.one_page import OnePageSite
from proposal.publish.program_folders import own_folders
from proposal.publish.site import SiteSource, build_site
from tests.publish.sample_site import sample_site


def differing(source: SiteSource, site: Path, cache: Cache | None) -> list[str]:
    """Return the pages that are others when they are made alone."""
    alone = OnePageSite(replace(source, pages={}, files={}), source.pages, source.files, cache)
    return [
        path
        for path, markdown in source.pages.items()
        if alone.html(path, markdown) != (site / path).with_suffix(".html").read_bytes()
    ]


def test_every_page_of_a_site_is_the_same_when_it_is_made_alone(tmp_path: Path) -> None:
    build = own_folders(tmp_path).build
    source = sample_site()
    site = build_site(source, build / "client").parent
    assert differing(source, site, None) == []
    assert differing(source, site, Cache(build / "cache")) == []
    assert differing(source, site, Cache(build / "cache")) == []  # what was kept of each page


def test_a_page_alone_follows_a_changed_title_of_another(tmp_path: Path) -> None:
    """The contents stand on every page."""
    build = own_folders(tmp_path).build
    first = sample_site()
    cache = Cache(build / "cache")
    build_site(first, build / "client", cache=cache)
    (title, target), *rest = first.nav[1:]
    second = replace(first, nav=(first.nav[0], (f"{title} anew", target), *rest))
    site = build_site(second, build / "other").parent
    assert differing(second, site, cache) == []
    assert "anew" in (site / "index.html").read_text("utf-8")


def test_files_of_the_theme_and_the_colours_of_the_client_are_those_of_the_site(tmp_path: Path) -> None:
    source = sample_site()
    site = build_site(source, own_folders(tmp_path).build / "client").parent
    alone = OnePageSite(source, source.pages, source.files, None)
    made = [path.relative_to(site).as_posix() for path in (site / "assets").rglob("*") if path.is_file()]
    assert len(made) > 10
    assert [path for path in made if alone.theme_file(path) != (site / path).read_bytes()] == []
    for path in ("assets", "assets/none.css", "main.html", "mkdocs_theme.yml"):
        assert alone.theme_file(path) is None
