"""A page of which nothing has changed is not converted again, and the site is the same bytes all the same."""

import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from material.plugins.search.plugin import Parser, SearchIndex
from mkdocs.structure.pages import Page, _RawHTMLPreprocessor

from proposal.publish import page_cache
from proposal.publish.cache import Cache
from proposal.publish.program_folders import OwnPath
from proposal.publish.record import files_below
from proposal.publish.site import build_site
from tests.publish.sample_site import sample_site

Pages = dict[str, str]
Nav = tuple[tuple[str, str], ...]
START: Pages = {
    "index.md": "---\nhide:\n  - toc\n---\n\n# Cover\n\nSee [the hall](rooms/hall.md#seats).\n",
    "rooms/hall.md": "# Hall\n\n## Seats\n\nTwelve.\n\n## Walls\n\n| a | b |\n| --- | --- |\n| 1 | 2 |\n",
    "rooms/attic.md": "Nothing here has a heading, but [the cover](../index.md) has.\n",
    # Settings of the search are in its entries too.
    "cables.md": (
        "---\nsearch:\n  boost: 0.5\ntags:\n- wire\n- cord\n---\n\n"
        "# Cables\n\n## Long & short\n\nSee [the hall](rooms/hall.md) and [here](#long-short).\n"
    ),
}


def edited(pages: Pages, nav: Nav, chance: random.Random) -> tuple[Pages, Nav]:
    """Return pages and contents as somebody might change them next."""
    pages = dict(pages)
    path = chance.choice(sorted(pages))
    match chance.choice(("word", "heading", "title", "link", "more", "less", "renamed")):
        case "word":
            pages[path] += f"\nAnother word: {chance.random()} Ω.\n"
        case "heading":
            pages[path] += f"\n## Part {chance.randrange(100)}\n\nSomething.\n"
        case "title":
            nav = tuple((f"{title} {chance.randrange(100)}", target) for title, target in nav)
        case "link":
            target = chance.choice(sorted(pages))
            pages[path] += f"\n[There]({'../' * path.count('/')}{target}#part-1).\n"
        case "more":
            path = f"rooms/new{chance.randrange(10**6)}.md"
            pages[path] = "# New\n\n## Seats\n\nOne.\n"
            nav = (*nav, ("New", path))
        case "less" if path != "index.md":
            del pages[path]
            nav = tuple(entry for entry in nav if entry[1] != path)
        case _:
            pages[path] = pages[path].replace("# ", "# Other ", 1)
    return pages, nav


def bytes_of(build: OwnPath, name: str, cache: Cache | None, pages: Pages, nav: Nav) -> dict[str, bytes]:
    site = build_site(
        sample_site(pages=pages, nav=nav, files={}, logo=None), build / name, cache=cache
    ).parent
    return {path: file.read_bytes() for path, file in files_below(site).items()}


@contextmanager
def counted() -> Iterator[dict[str, int]]:
    """Count how often the site builder converts a page and parses one for the search."""
    counts = {"convert": 0, "feed": 0}
    with pytest.MonkeyPatch.context() as patch:

        def counting(of: Any, method: str, name: str) -> None:
            counted = getattr(of, method)

            def call(*arguments: Any) -> Any:
                counts[name] += 1
                return counted(*arguments)

            patch.setattr(of, method, call)

        counting(_RawHTMLPreprocessor, "run", "convert")
        counting(Parser, "feed", "feed")
        yield counts


@pytest.mark.parametrize("seed", range(2))
def test_warm_and_cold_are_the_same_bytes_whatever_was_edited(seed: int, build: OwnPath) -> None:
    chance = random.Random(seed)
    cache = Cache(build / "cache")
    pages, nav = START, tuple((path, path) for path in START)
    for _ in range(4):
        warm = bytes_of(build, "warm", cache, pages, nav)
        assert warm == bytes_of(build, "cold", None, pages, nav)
        pages, nav = edited(pages, nav, chance)


def test_pages_that_did_not_change_are_not_converted_again(build: OwnPath) -> None:
    cache, nav = Cache(build / "cache"), tuple((path, path) for path in START)
    with counted() as first:
        before = bytes_of(build, "client", cache, START, nav)
    assert first == {"convert": len(START), "feed": len(START)}
    with counted() as again:
        assert bytes_of(build, "client", cache, START, nav) == before
    assert again == {"convert": 0, "feed": 0}
    with counted() as one_word:
        bytes_of(build, "client", cache, START | {"cables.md": START["cables.md"] + "Word.\n"}, nav)
    assert one_word == {"convert": 1, "feed": 1}


def test_another_set_of_pages_converts_those_that_lead_to_others(build: OwnPath) -> None:
    cache, nav = Cache(build / "cache"), tuple((path, path) for path in START)
    bytes_of(build, "client", cache, START, nav)
    with counted() as more:
        bytes_of(build, "client", cache, START | {"new.md": "# New\n"}, (*nav, ("New", "new.md")))
    assert more["convert"] == 1
    # Two pages lead to the hall. What they lead to is gone, so they are converted again.
    fewer = {path: text for path, text in START.items() if path != "rooms/hall.md"}
    with counted() as less:
        lost = bytes_of(build, "client", cache, fewer, tuple((path, path) for path in fewer))
    assert less["convert"] == 2
    assert lost == bytes_of(build, "cold", None, fewer, tuple((path, path) for path in fewer))
    with counted() as back:
        bytes_of(build, "client", cache, START, nav)
    assert back == {"convert": 0, "feed": 0}


def test_a_page_of_two_editions_is_converted_once(build: OwnPath) -> None:
    cache, nav = Cache(build / "cache"), tuple((path, path) for path in START)
    bytes_of(build, "client", cache, START, nav)
    others = START | {"price.md": "# Price\n", "rooms/attic.md": "Another attic.\n"}
    with counted() as counts:
        warm = bytes_of(build, "estimator", cache, others, (*nav, ("Price", "price.md")))
    assert counts["convert"] == 2
    assert warm == bytes_of(build, "cold", None, others, (*nav, ("Price", "price.md")))


def test_another_installation_converts_all(build: OwnPath, monkeypatch: pytest.MonkeyPatch) -> None:
    cache, nav = Cache(build / "cache"), tuple((path, path) for path in START)
    bytes_of(build, "client", cache, START, nav)
    monkeypatch.setattr(page_cache, "installation", lambda: ["another"])
    with counted() as other:
        bytes_of(build, "client", cache, START, nav)
    assert other == {"convert": len(START), "feed": len(START)}


@pytest.mark.parametrize("damage", [b"", b"nonsense"])
def test_what_is_damaged_is_converted_again(damage: bytes, build: OwnPath) -> None:
    cache, nav = Cache(build / "cache"), tuple((path, path) for path in START)
    before = bytes_of(build, "client", cache, START, nav)
    for path in (build / "cache").path.rglob("*"):
        if path.is_file():
            key, _, _ = path.name.partition(".")
            path.write_bytes(path.read_bytes()[:-1] + damage)
            assert cache.found(key) is None
    with counted() as again:
        assert bytes_of(build, "client", cache, START, nav) == before
    assert again == {"convert": len(START), "feed": len(START)}


def test_what_is_kept_but_is_not_what_was_made_is_converted_again(
    build: OwnPath, monkeypatch: pytest.MonkeyPatch
) -> None:
    cache, nav = Cache(build / "cache"), tuple((path, path) for path in START)
    before = bytes_of(build, "client", cache, START, nav)
    for held in (
        None,
        [],
        {},
        {"asked": {}, "links": None},
        {"asked": {}, "links": [["gone.md", {}]]},
        {"asked": [1], "links": None},
        [1],
        [{"title": 1}],
        "text",
    ):
        with monkeypatch.context() as patch:
            patch.setattr(page_cache._Store, "_found", lambda store, key, held=held: held)
            if held == []:  # a page without entries is one
                patch.setattr(page_cache, "_are_entries", lambda found: bool(found))
            assert bytes_of(build, "client", cache, START, nav) == before, held


def test_a_complaint_is_made_each_time(build: OwnPath) -> None:
    pages = {"index.md": "# Cover\n\n[Lost](lost.md)\n"}
    source = sample_site(pages=pages, nav=(("Cover", "index.md"),), files={}, logo=None)
    cache = Cache(build / "cache")
    for _ in range(2):
        said: list[str] = []
        build_site(source, build / "client", progress=said.append, cache=cache)
        assert any("lost.md" in line for line in said), said


@pytest.mark.parametrize(("of", "name"), [(Page, "render"), (SearchIndex, "add_entry_from_context")])
def test_methods_of_other_versions_are_left_alone(
    of: Any, name: str, build: OwnPath, monkeypatch: pytest.MonkeyPatch
) -> None:
    method: Callable[..., Any] = getattr(of, name)

    def other(*arguments: Any) -> Any:
        return method(*arguments)

    monkeypatch.setattr(of, name, other)
    cache, nav = Cache(build / "cache"), tuple((path, path) for path in START)
    for _ in range(2):
        with counted() as counts:
            bytes_of(build, "client", cache, START, nav)
        assert counts == {"convert": len(START), "feed": len(START)}
    assert not list(Path((build / "cache").path).rglob("*"))
    assert getattr(of, name) is other


def test_the_site_builder_is_itself_again_afterwards(build: OwnPath) -> None:
    before = Page.render, SearchIndex.add_entry_from_context
    bytes_of(build, "client", Cache(build / "cache"), START, tuple((path, path) for path in START))
    assert (Page.render, SearchIndex.add_entry_from_context) == before
