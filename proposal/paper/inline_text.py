"""Text within a line of a page: emphasis, links, verdicts, and plain words."""

import re
from collections.abc import Callable
from dataclasses import replace

from proposal.field_classes import dataclass
from proposal.paper.blocks import Inline, Span, Style
from proposal.paper.html_tree import Element
from proposal.paper.signs import Fonts, broken

_SPACE = re.compile(r"[ \t\r\n\f]+")
_STYLES: dict[str, Style] = {
    "strong": "strong",
    "b": "strong",
    "em": "emphasis",
    "i": "emphasis",
    "code": "code",
    "sup": "raised",
    "sub": "lowered",
}
_VERDICTS: tuple[Style, ...] = ("good", "bad", "care", "info", "open")


@dataclass(frozen=True, slots=True)
class Reader:
    """How the text of a page is read.

    fonts: the signs that can be set.
    target: where a link of the page leads on paper, empty where it leads to nothing there.
    anchor: the name of an id of the page, empty where nothing leads to it.
    """

    fonts: Fonts
    target: Callable[[str], str]
    anchor: Callable[[str], str]

    def inline(self, element: Element) -> Inline:
        """Return what stands in an element, as one stretch of text."""
        return trimmed(self._parts(element))

    def run(self, children: "list[Element | str]") -> Inline:
        """Return neighbours as one stretch of text."""
        return trimmed(self._parts(Element("span", {}, children)))

    def _parts(self, element: Element) -> list[str | Span]:
        parts: list[str | Span] = []
        for child in element.children:
            if isinstance(child, str):
                parts.append(self.fonts.shown(_SPACE.sub(" ", child)))
            else:
                parts += self._part(child)
        return parts

    def _part(self, element: Element) -> list[str | Span]:
        if element.tag == "br":
            return [Span("break")]
        if element.tag == "img":  # in the middle of a line it is told in words
            return [self.fonts.shown(element.attributes.get("alt", ""))]
        # On paper what is folded stands whole, without the beginning by which it is opened.
        if element.tag in ("svg", "script", "style", "summary") or "hidden" in element.attributes:
            return []
        parts = self._parts(element)
        style = _style(element)
        if element.tag == "a":
            if "full-size" in element.classes:
                return []
            to = self.target(element.attributes.get("href", ""))
            return [Span("link", tuple(parts), to)] if to and parts else parts
        return parts if style is None else [Span(style, tuple(parts))]


def _style(element: Element) -> Style | None:
    if element.tag == "span":
        if "unit" in element.classes:
            return "unit"
        if "row-mark" in element.classes:
            return "mark"
        return next((one for one in _VERDICTS if one in element.classes), None)
    return _STYLES.get(element.tag)


def trimmed(parts: "list[str | Span]") -> Inline:
    """Return parts of a text with neighbours joined, and without spaces at its ends."""
    joined: list[str | Span] = []
    for part in parts:
        if isinstance(part, str) and joined and isinstance(joined[-1], str):
            joined[-1] = _SPACE.sub(" ", joined[-1] + part)
        elif part != "":
            joined.append(part)
    if joined and isinstance(joined[0], str):
        joined[0] = joined[0].lstrip(" ")
    if joined and isinstance(joined[-1], str):
        joined[-1] = joined[-1].rstrip(" ")
    return tuple(part for part in joined if part != "")


def breakable(inline: Inline, most: int) -> Inline:
    """Return text whose words may be broken where they are long.

    inline: the text.  most: signs of a word that stay together.
    """
    parts: list[str | Span] = []
    for part in inline:
        if isinstance(part, str):
            parts.append(broken(part, most))
        elif part.style == "whole":
            parts += breakable(part.text, most)
        else:
            parts.append(replace(part, text=breakable(part.text, most)))
    return tuple(parts)


def words_of(inline: Inline) -> str:
    """Return the words of a text without their styles.

    inline: the text.
    """
    return "".join(
        part if isinstance(part, str) else "\n" if part.style == "break" else words_of(part.text)
        for part in inline
    )
