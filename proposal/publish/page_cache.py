"""What the site builder made of a page, kept: its HTML and its entries in the search index.

Both follow from the page's source, its path, the settings, what is installed, and what the page leads to: a
page of which nothing of this has changed is not converted again, in whichever edition it stands. Templates
are always filled in. Where the methods of the site builder that are stood in for are not those that were
tested, nothing is kept.
"""

import hashlib
import json
import logging
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from proposal.publish.cache import Cache
from proposal.publish.program_version import installation
from proposal.publish.ready_html import ready_html_at_once
from proposal.publish.search_sections import adding_at_once, adding_rows_apart
from proposal.publish.tested_versions import is_as_tested

_FOR_THE_SEARCH = "data-search-"
_QUICK = 1  # of the levels of compression


@contextmanager
def pages_kept(cache: Cache | None, between: Callable[[], None] = lambda: None) -> Iterator[None]:
    """Let the site builder take from a cache what it made of pages before, until the block ends.

    cache: None where nothing is to be kept.
    between: called before each page.
    """
    from material.plugins.search.plugin import SearchIndex, SearchPlugin
    from mkdocs.structure.pages import Page

    page, index, plugin = _class(Page), _class(SearchIndex), _class(SearchPlugin)
    render, add, index_page = page.render, index.add_entry_from_context, plugin.on_page_context
    replaced = (render, add, index_page, index.create_entry_for_section)
    if cache is None or not all(map(is_as_tested, replaced)):
        index.add_entry_from_context = adding_rows_apart(add)
        try:
            yield
        finally:
            index.add_entry_from_context = add
        return
    store = _Store(cache, between)
    page.render = lambda page, config, files: store.render(page, config, files, render)
    adding = adding_at_once(add)
    index.add_entry_from_context = lambda index, page: store.add_entries(index, page, adding)
    plugin.on_page_context = _indexing(index_page)
    try:
        with ready_html_at_once():
            yield
    finally:
        page.render, index.add_entry_from_context = render, add
        plugin.on_page_context = index_page


def _indexing(whole: Callable[..., None]) -> Callable[..., None]:
    """Return what puts a page into the search index; attributes are taken away only where there are any.

    whole: the method of the search, which looks for them letter by letter on every page.
    """

    def on_page_context(plugin: Any, context: Any, *, page: Any, config: Any, nav: Any) -> None:
        if _FOR_THE_SEARCH in page.content:
            whole(plugin, context, page=page, config=config, nav=nav)
        elif plugin.config.enabled:
            plugin.search_index.add_entry_from_context(page)

    return on_page_context


def _class(found: Any) -> Any:
    return found


class _Store:
    """What is kept for one site."""

    def __init__(self, cache: Cache, between: Callable[[], None]) -> None:
        self._cache, self._between = cache, between
        self._installation = _digest(installation())
        self._surroundings: tuple[object, str] | None = None

    def render(self, page: Any, config: Any, files: Any, render: Callable[..., None]) -> None:
        """Convert a page, or take what was made of it before."""
        self._between()
        key = _key("page", self._around(config), *_told(page.file), page.markdown)
        held = self._found(key)
        if held is not None and _restored(page, files, held):
            return
        asked = _Asked(files)
        with _complaints() as complained:
            render(page, config, asked)
        if not complained and key is not None:  # what is complained about has to be said each time
            self._keep(key, {**_held(page), "asked": asked.answers})

    def add_entries(self, index: Any, page: Any, add: Callable[..., None]) -> None:
        """Add the entries of a page to the search index, or those that were made of it before."""
        self._between()
        toc = [_token(item) for item in page.toc]
        key = _key("search", self._installation, page.content, toc, page.url, page.title, dict(page.meta))
        held = self._found(key)
        if _are_entries(held):
            index.entries += held
            return
        before = len(index.entries)
        add(index, page)
        made = index.entries[before:]
        if key is not None and _are_entries(made):
            self._keep(key, made)

    def _around(self, config: Any) -> str:
        """Return the digest of the settings that pages of a site share."""
        if self._surroundings is None or self._surroundings[0] is not config:
            told = [
                self._installation,
                list(config["markdown_extensions"]),
                repr(config["mdx_configs"]),
                config["use_directory_urls"],
                repr(config["validation"]),
                logging.getLogger("mkdocs").getEffectiveLevel(),
            ]
            self._surroundings = config, _digest(told)
        return self._surroundings[1]

    def _found(self, key: str | None) -> Any:
        """Return what is kept under a key, None where it cannot be read."""
        content = None if key is None else self._cache.found(key)
        try:
            return None if content is None else json.loads(zlib.decompress(content))
        except (ValueError, zlib.error):
            return None

    def _keep(self, key: str, held: object) -> None:
        self._cache.keep(key, zlib.compress(json.dumps(held).encode("ascii"), _QUICK))


def _digest(told: object) -> str:
    return hashlib.sha256(json.dumps(told).encode("ascii")).hexdigest()


def _key(*told: object) -> str | None:
    """Return a key of plain values, None where one of them is not plain."""
    try:
        return _digest(told)
    except (TypeError, ValueError):
        return None


class _Asked:
    """The files of a site, with what a page that is converted asks of them: which file stands at a path.

    answers: by path, what is told of the file there; None where there is none.
    """

    def __init__(self, files: Any) -> None:
        self._files = files
        self.answers: dict[str, list[str] | None] = {}

    def get_file_from_path(self, path: str) -> Any:
        """Return the file at a path, None where there is none; the name is the library's."""
        file = self._files.get_file_from_path(path)
        self.answers[path] = _answer(self._files, path)
        return file


def _answer(files: Any, path: str) -> list[str] | None:
    """Return all that a page may show of a file that it leads to, None where there is none."""
    file = files.get_file_from_path(path)
    return None if file is None else _told(file)


def _told(file: Any) -> list[str]:
    return [file.src_uri, file.dest_uri, file.url, file.inclusion.name]


class _Gathering(logging.Handler):
    """Puts what is complained about into a list."""

    def __init__(self, said: list[logging.LogRecord]) -> None:
        super().__init__(logging.WARNING)
        self._said = said

    def emit(self, record: logging.LogRecord) -> None:
        """Take what is said; the name is the library's."""
        self._said.append(record)


@contextmanager
def _complaints() -> Iterator[list[logging.LogRecord]]:
    """Yield a list that gets what the site builder complains about."""
    said: list[logging.LogRecord] = []
    handler = _Gathering(said)
    logger = logging.getLogger("mkdocs")
    logger.addHandler(handler)
    try:
        yield said
    finally:
        logger.removeHandler(handler)


def _held(page: Any) -> dict[str, object]:
    """Return what converting has made of a page."""
    links = page.links_to_anchors
    return {
        "content": page.content,
        "toc": [_token(item) for item in page.toc],
        "title": page._title_from_render,
        "anchors": sorted(page.present_anchor_ids),
        "links": None if links is None else [[file.src_uri, anchors] for file, anchors in links.items()],
    }


def _restored(page: Any, files: Any, held: Any) -> bool:
    """Give a page what converting has made of it before; say whether it could be."""
    from mkdocs.structure.toc import get_toc

    try:
        if any(_answer(files, path) != answer for path, answer in held["asked"].items()):
            return False
        links = held["links"]
        if links is not None:
            links = {files.get_file_from_path(path): dict(anchors) for path, anchors in links}
            if None in links:
                return False
        toc, anchors = get_toc(held["toc"]), set(held["anchors"])
        page.content, page._title_from_render = held["content"], held["title"]
    except (AttributeError, LookupError, TypeError, ValueError):
        return False
    page.toc, page.present_anchor_ids = toc, anchors
    if links is not None:
        page.links_to_anchors = links
    return True


def _token(item: Any) -> dict[str, object]:
    """Return an entry of a page's contents as the Markdown library gives it."""
    return {
        "name": item.title,
        "id": item.id,
        "level": item.level,
        "children": [_token(child) for child in item.children],
    }


def _are_entries(found: Any) -> bool:
    """Say whether something is entries of the search index as pages have them: texts, tags and a boost."""
    return isinstance(found, list) and all(
        isinstance(entry, dict) and all(_is_of_an_entry(*item) for item in entry.items()) for entry in found
    )


def _is_of_an_entry(name: str, value: object) -> bool:
    match name:
        case "boost":
            return type(value) in (int, float)
        case "tags":
            return isinstance(value, list) and all(type(tag) is str for tag in value)
        case _:
            return type(value) is str
