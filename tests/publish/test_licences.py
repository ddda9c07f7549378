"""Whatever a site holds that others made is listed in it, with its licence."""

import json
import re
from fnmatch import fnmatchcase
from importlib.metadata import distribution
from importlib.util import find_spec
from pathlib import Path

from proposal.resources import resource

OWN = resource("shared") / "site" / "theme" / "assets"
LISTED = (OWN / "licences" / "index.txt").read_text("utf-8")
MADE_HERE = {
    *(f"proposal/{name}.js" for name in ("alternates", "proposal", "revisions", "viewer")),
    *("proposal/proposal.css", "proposal/favicon.svg"),
}


def theme() -> Path:
    found = find_spec("material")
    assert found is not None
    assert found.submodule_search_locations is not None
    return Path(found.submodule_search_locations[0]) / "templates" / "assets"


def files(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def test_every_file_that_others_made_is_listed() -> None:
    patterns = re.findall(r"assets/([\w./*-]+)", LISTED)
    # The theme's fonts of code are for the pages of programmers; a site without code has none.
    shipped = files(OWN) | {name for name in files(theme()) if not name.startswith("fonts/")}
    unlisted = {name for name in shipped if not any(fnmatchcase(name, pattern) for pattern in patterns)}
    assert {name for name in unlisted if not name.startswith("licences/")} == MADE_HERE


def test_every_licence_that_is_named_is_there_and_the_other_way_round() -> None:
    texts = files(OWN / "licences") - {"index.txt"}
    named = set(re.findall(r"(?<![\w/-])([\w.-]+\.txt)", LISTED))
    assert named == texts
    for path in re.findall(r"assets/([\w./-]+/LICENSE[\w.-]*)", LISTED):
        assert (OWN / path).read_text("utf-8").strip(), path
    assert all((OWN / "licences" / name).read_text("utf-8").strip() for name in texts)


def test_the_theme_s_licence_and_what_it_holds_are_those_of_the_version_that_is_installed() -> None:
    licence = distribution("mkdocs-material").read_text("licenses/LICENSE")
    assert (OWN / "licences" / "theme.txt").read_text("utf-8") == licence
    held: set[str] = set()
    for path in theme().rglob("*.map"):
        for source in json.loads(path.read_text("utf-8"))["sources"]:
            held |= set(re.findall(r"node_modules/((?:@[^/]+/)?[^/]+)", source))
    assert held
    assert {name for name in held if not re.search(rf"\b{re.escape(name)}\b", LISTED)} == set()


def test_every_page_leads_to_the_list() -> None:
    template = (resource("shared") / "site" / "theme" / "main.html").read_text("utf-8")
    assert "'assets/licences/index.txt' | url" in template
