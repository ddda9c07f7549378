"""Blocks of ready HTML in the Markdown of a page, found at once: the site builder reads each tag there twice.

Tables, lists and drawings of a page are ready HTML. mkdocs gathers the anchors in it, and the Markdown
library stores each block as it stands; each with a parser of tags in Python. Here a block is recognised as a
whole where it is written as our pages write it, and the rest alone is left to those parsers. So is a page as
a whole that is written otherwise in any way.
"""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache
from html import unescape
from typing import Any, TypeAlias

from proposal.field_classes import dataclass
from proposal.publish.tested_versions import are_as_tested, is_as_tested

_TAG = (
    r"<(?P<end>/?)(?P<tag>[a-z][a-z0-9]*+)"
    r"(?P<attributes>(?: [a-zA-Z][a-zA-Z0-9:-]*+(?:=\"[^\"<>`\n]*+\")?+)*+)(?P<empty> ?/?)>"
)
"""A tag as our pages write it: attributes in quotes, in one line."""
_TOKEN = re.compile(r"[^<&]++|&(?:#[0-9]{1,7}|#x[0-9a-f]{1,6}|[a-zA-Z][a-zA-Z0-9]{1,30});|" + _TAG)
"""A text, a sign by its name, or a tag."""
_TAGS = re.compile(r"[^<]++|" + _TAG)
_BLOCK = re.compile(r"(?:(?<=\n\n)|\A)<(?:div|dl|ul|ol|table|section|figure)[ >]")
_ATTRIBUTE = re.compile(r' ([^ ="]+)(?:="([^"]*)")?')
_AFTER = re.compile(r"(?: *\n){2}")
# What is in these, or their end, is read otherwise.
_OTHERWISE = frozenset(
    {"hr", "iframe", "noembed", "noframes", "plaintext", "script", "style", "textarea", "title", "xmp"}
)


@dataclass(frozen=True, slots=True)
class Ready:
    """Blocks of ready HTML in a page, and what is between them.

    between: Markdown before, between and after the blocks: one more than these.
    anchors: the names in the blocks to which a link may lead.
    """

    blocks: tuple[str, ...]
    between: tuple[str, ...]
    anchors: frozenset[str]


@lru_cache(maxsize=2)
def ready_html(source: str) -> Ready | None:
    """Return the blocks of ready HTML in a page; None where all of it is to be left to the site builder.

    source: Markdown.
    """
    blocks: list[str] = []
    between: list[str] = []
    anchors: set[str] = set()
    at = done = 0
    while (begin := _BLOCK.search(source, at)) is not None:
        end = _end_of(source, begin.start(), anchors)
        if end is None:
            return None
        between.append(source[done : begin.start()])
        blocks.append(source[begin.start() : end])
        at = done = end
    between.append(source[done:])
    if not blocks or not all(map(_is_plain, between)):
        return None
    return Ready(tuple(blocks), tuple(between), frozenset(anchors))


def _end_of(source: str, start: int, anchors: set[str]) -> int | None:
    """Return the end of a block alone between blank lines, None where it is not written as pages of ours.

    start: of the block.  anchors: gets those in it.
    """
    open_tags: list[str] = []
    at = start
    while (found := _TOKEN.match(source, at)) is not None:
        at = found.end()
        tag = found["tag"]
        if tag is None:
            continue
        attributes = found["attributes"]
        if tag in _OTHERWISE:
            return None
        if not found["end"]:
            if "id" in attributes or "name" in attributes:
                anchors.update(_anchors(tag, attributes))
            if not found["empty"]:
                open_tags.append(tag)
        elif attributes or found["empty"]:
            return None
        elif tag in open_tags:
            while open_tags.pop() != tag:
                pass  # an end closes all that was begun inside
            if not open_tags:
                return at if _AFTER.match(source, at) else None
    return None


def _anchors(tag: str, attributes: str) -> list[str]:
    return [
        unescape(value)
        for name, value in _ATTRIBUTE.findall(attributes)
        if name.lower() == "id" or (name.lower() == "name" and tag == "a")
    ]


def _is_plain(text: str) -> bool:
    """Say whether what is between blocks can be read by itself: no tag or comment goes beyond it."""
    at = 0
    while (found := _TAGS.match(text, at)) is not None:
        if found["tag"] in _OTHERWISE:
            return False
        at = found.end()
    return at == len(text)


@contextmanager
def ready_html_at_once() -> Iterator[None]:
    """Let the site builder find ready HTML at once, until the block ends."""
    import markdown.htmlparser as html_parser
    import mkdocs.structure.pages as site_pages
    from markdown.preprocessors import HtmlBlockPreprocessor

    gatherer, storer = _class(site_pages._RawHTMLPreprocessor), _class(HtmlBlockPreprocessor)
    gather, store = gatherer.run, storer.run
    if not (are_as_tested(html_parser, site_pages) and is_as_tested(gather) and is_as_tested(store)):
        yield
        return
    gatherer.run = lambda preprocessor, lines: _gathered(preprocessor, lines, gather)
    storer.run = lambda preprocessor, lines: _stored(preprocessor, lines, store)
    try:
        yield
    finally:
        gatherer.run, storer.run = gather, store


def _class(found: Any) -> Any:
    return found


_Run: TypeAlias = Callable[[Any, list[str]], list[str]]


def _gathered(preprocessor: Any, lines: list[str], run: _Run) -> list[str]:
    """Gather the anchors of a page as mkdocs does, blocks of ready HTML apart.

    run: what mkdocs runs.
    """
    ready = ready_html("\n".join(lines))
    if ready is None:
        return run(preprocessor, lines)
    found = set(ready.anchors)
    for text in ready.between:
        if "<" in text:
            run(preprocessor, text.split("\n"))
            found |= preprocessor.present_anchor_ids
    preprocessor.present_anchor_ids = found
    return lines


def _stored(preprocessor: Any, lines: list[str], run: _Run) -> list[str]:
    """Store ready HTML as the Markdown library does, that of our pages block by block.

    run: what the library runs.
    """
    from markdown.htmlparser import HTMLExtractor

    ready = ready_html("\n".join(lines))
    if ready is None:
        return run(preprocessor, lines)
    texts: list[str] = []
    for number, text in enumerate(ready.between):
        if number:
            # As the library does with a block that blank lines surround.
            block = preprocessor.md.htmlStash.store(f"{ready.blocks[number - 1]}\n")
            texts += ["\n", block, "\n\n"]
        parser = HTMLExtractor(preprocessor.md)
        parser.feed(text)
        if parser.inraw or parser.rawdata:
            return run(preprocessor, lines)  # a block of another kind goes on behind
        parser.close()
        texts += parser.cleandoc
    return "".join(texts).split("\n")
