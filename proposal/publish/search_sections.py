"""The sections of a page as the theme's search divides it, found by one pattern, not by a parser of tags."""

import re
from collections.abc import Callable
from html import escape, unescape
from html.parser import HTMLParser
from typing import Any, TypeAlias

from proposal.publish.tested_versions import are_as_tested

_TOKEN = re.compile(
    r"[^<]++"
    r"|<(?P<end>/?)(?P<tag>[a-z][a-z0-9]*+)"
    r"(?P<attributes>(?: [a-zA-Z][a-zA-Z0-9:-]*+(?:=\"[^\"<>`\n]*+\")?+)*+)(?P<empty> ?/?)>"
)
_ATTRIBUTE = re.compile(r' ([^ ="]+)(?:="([^"]*)")?')
_ROW = re.compile(r"<tr(?: [^<>]*)?>")
MANY_ROWS = 150
"""From so many rows of tables on, a page is found row by row."""
_HEADINGS = frozenset({"h1", "h2", "h3", "h4", "h5", "h6"})
_KEPT = frozenset({"p", "code", "pre", "li", "ol", "ul", "sub", "sup"})
# What is in these is read otherwise, or not at all; pages of ours have none.
_OTHERWISE = frozenset(
    {"iframe", "noembed", "noframes", "object", "plaintext", "script", "style", "textarea", "title", "xmp"}
)


Adding: TypeAlias = Callable[[Any, Any], None]
"""Adds the entries of a page to the search index."""


def adding_at_once(add: Adding) -> Adding:
    """Return what adds entries of a page to the search index as the theme does, its sections found at once.

    add: what the theme has for it.
    """
    import material.plugins.search.plugin as search

    parser: Any = search.Parser
    plainly = adding_rows_apart(add)
    if not are_as_tested(search) or parser.feed is not HTMLParser.feed:
        return plainly

    def adding(index: Any, page: Any) -> None:
        excluded = (page.meta.get("search") or {}).get("exclude")
        sections = None if excluded else sections_of(rows_apart(page.content))
        if sections is None:
            plainly(index, page)
            return
        for section in sections:
            if not section.is_excluded():
                index.create_entry_for_section(section, page.toc, page.url, page)

    return adding


def adding_rows_apart(add: Adding) -> Adding:
    """Return what adds entries of a page, each row of its tables as a paragraph where they are many.

    add: what the theme has for it.
    """

    def adding(index: Any, page: Any) -> None:
        content = page.content
        page.content = rows_apart(content)
        try:
            add(index, page)
        finally:
            page.content = content

    return adding


def rows_apart(content: str) -> str:
    """Return a page with each row of a table as a paragraph of its own, where it has many rows.

    A result shows the first two paragraphs that hold one of the words; without paragraphs a schedule of some
    hundred rows would be marked, and laid out, whole. One of fewer rows is shown whole: a row that holds all
    of the words is among them then, wherever it stands.

    content: HTML.
    """
    if len(_ROW.findall(content)) < MANY_ROWS:
        return content
    return _ROW.sub("<p>", content).replace("</tr>", "</p>")


def sections_of(content: str) -> list[Any] | None:
    """Return the sections of a page; None where it is to be left to the theme.

    content: HTML.
    """
    from material.plugins.search.plugin import Element, Section, void

    if "data-search-exclude" in content or "linenodiv" in content:
        return None
    context: list[str] = []
    links: list[bool] = []  # for each of the context, whether it leads to the heading that it is in
    sections: list[Any] = []
    section: Any = None
    at, size = 0, len(content)
    match = _TOKEN.match
    while at < size:
        found = match(content, at)
        if found is None:
            return None
        at = found.end()
        end, tag, attributes, empty = found.groups()
        if tag is None:
            if section is None:
                section = Section(Element("hx"))
                sections.append(section)
            _add_text(section, unescape(found[0]), context, links)
            continue
        if tag in _OTHERWISE:
            return None
        if not end:
            if tag in void:
                continue
            named = (
                {name.lower(): unescape(value) for name, value in _ATTRIBUTE.findall(attributes)}
                if tag in _HEADINGS or tag == "a"
                else {}
            )
            context.append(tag)
            links.append(tag == "a" and named.get("class") == "headerlink")
            if tag in _HEADINGS and "id" in named:
                depth = len(context)
                if tag != "h1" and not sections:
                    section = Section(Element("hx"), depth)
                    sections.append(section)
                section = Section(Element(tag, named), depth)
                if sections:
                    section.id = named["id"]
                sections.append(section)
            if section is None:
                section = Section(Element("hx"))
                sections.append(section)
            if tag in _KEPT:
                (section.title if section.el.tag in context else section.text).append(f"<{tag}>")
            if not empty:
                continue
        if not context or context[-1] != tag:
            continue
        if section.depth > len(context):
            for other in reversed(sections):
                if other.depth <= len(context):
                    section.depth = float("inf")
                    section = other
                    break
        context.pop()
        links.pop()
        if tag in _KEPT:
            _close(section.title if section.el.tag in context else section.text, tag)
    return sections


def _add_text(section: Any, text: str, context: list[str], links: list[bool]) -> None:
    is_code = "pre" in context
    blank = text.isspace()
    if not is_code:
        text = " " if blank else text.replace("\n", " ")
    if section.el.tag in context:
        if True not in links:
            section.title.append(escape(text, quote=False))
    elif blank:
        if is_code or not section.text or not section.text[-1].isspace():
            section.text.append(text)
    else:
        section.text.append(escape(text, quote=False))


def _close(texts: list[str], tag: str) -> None:
    """End an element, or take it away where nothing is in it."""
    first = texts.index(f"<{tag}>")
    if any(not text.isspace() for text in texts[first + 1 :]):
        texts.append(f"</{tag}>")
    else:
        del texts[first:]
