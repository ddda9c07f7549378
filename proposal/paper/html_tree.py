"""The HTML of a page as a tree of elements."""

from collections.abc import Iterator, Mapping
from dataclasses import field
from html.parser import HTMLParser

from proposal.field_classes import dataclass

_EMPTY = frozenset(
    {"br", "hr", "img", "source", "input", "wbr", "path", "rect", "line", "circle", "polyline"}
)
"""Elements that hold nothing and need no end."""
_DEEPEST = 24


@dataclass(slots=True)
class Element:
    """An element of a page.

    tag: its name.  attributes: by name, empty where one has no value.
    children: elements and text, in order.
    """

    tag: str
    attributes: Mapping[str, str] = field(default_factory=dict)
    children: "list[Element | str]" = field(default_factory=list)

    @property
    def classes(self) -> frozenset[str]:
        """The names that the style sheet knows it by."""
        return frozenset(self.attributes.get("class", "").split())

    def elements(self) -> "Iterator[Element]":
        """Yield the elements that stand in it directly."""
        return (child for child in self.children if isinstance(child, Element))

    def every(self) -> "Iterator[Element]":
        """Yield it and all elements below it, in the order of the page."""
        yield self
        for child in self.elements():
            yield from child.every()

    def first(self, tag: str) -> "Element | None":
        """Return the first element of a name below it, None where there is none.

        tag: the name.
        """
        return next((one for one in self.every() if one.tag == tag), None)

    def words(self) -> str:
        """Return all text in it as one line."""
        return " ".join("".join(_texts(self)).split())


def html_tree(written: str) -> Element:
    """Return the tree of a page.

    written: HTML as the site builder's own parser makes it, in which every element is closed.
    """
    reader = _Reader()
    reader.feed(written)
    reader.close()
    return reader.root


def _texts(element: Element) -> Iterator[str]:
    for child in element.children:
        if isinstance(child, str):
            yield child
        elif child.tag == "br":
            yield " "
        else:
            yield from _texts(child)


class _Reader(HTMLParser):
    """Makes the tree; an end that nothing began is passed over, as browsers do."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("page")
        self._open = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, {name: value or "" for name, value in attrs})
        self._open[-1].children.append(element)
        # What is nested deeper than any page is shown beside, not below.
        if tag not in _EMPTY and len(self._open) < _DEEPEST:
            self._open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._open[-1].children.append(Element(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        for number in range(len(self._open) - 1, 0, -1):
            if self._open[number].tag == tag:
                del self._open[number:]
                return

    def handle_data(self, data: str) -> None:
        self._open[-1].children.append(data)
