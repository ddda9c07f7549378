"""The blocks of a page of paper, read from the HTML that the site shows of the same page."""

import html
from collections.abc import Callable, Iterator, Mapping
from dataclasses import field

from proposal.field_classes import dataclass
from proposal.paper.blocks import (
    Block,
    Box,
    Contents,
    Facts,
    Heading,
    Inline,
    Labels,
    Listing,
    Paragraph,
    Picture,
    Rule,
    Span,
    Table,
    Verbatim,
)
from proposal.paper.html_tree import Element
from proposal.paper.inline_text import Reader

_HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
_LEAST_BOOKMARKED = 3
"""The level of a page's own headings, 1 to 6, below which the reader's list of headings tells none."""
_FLOWING = frozenset(
    {"div", "section", "article", "main", "details", "summary", "header", "footer", "nav", "fieldset"}
)
_BLOCKS = _FLOWING | {
    *_HEADINGS,
    *("p", "ul", "ol", "dl", "table", "figure", "blockquote", "pre", "hr", "svg", "form", "script", "style"),
}
_MOST_LEADING = 40
"""Rows of the longest schedule whose cells lead on: each link takes as long as many cells to be set."""
_LEFT_OUT = frozenset({"form", "script", "style", "input", "button"})
_ON_SCREEN = frozenset({"download", "on-screen"})
"""Classes of what is said to readers in front of a screen alone."""


@dataclass(slots=True)
class PageReader:
    """Reads one page.

    text: how its text is read.
    level: of its first heading, from 1.
    pictures: each picture that the pages show, as SVG, by the address that the page gives.
    sheet: what a figure of a drawing becomes, by the address that the page gives; None leaves it out.
    bars: how bars that stand in a page are drawn, as a style sheet.
    anchors: names that lead to its beginning.
    is_cover: whether the contents stand in the place of its list of chapters.
    """

    text: Reader
    level: int
    pictures: Callable[[str], str]
    sheet: Callable[[str], str]
    bars: str = ""
    anchors: list[str] = field(default_factory=list)
    is_cover: bool = False
    _in_contents: bool = False
    _in_working: bool = False
    _named: set[str] = field(default_factory=set)

    def blocks(self, element: Element) -> tuple[Block, ...]:
        """Return the blocks that an element holds.

        element: the whole page, or a part that holds others.
        """
        found: list[Block] = []
        run: list[Element | str] = []

        def end_of_run() -> None:
            inline = self.text.run(run)
            run.clear()
            if inline:
                found.append(Paragraph(self._anchored(inline)))

        for child in element.children:
            if isinstance(child, str) or child.tag not in _BLOCKS | _LEFT_OUT:
                if isinstance(child, Element) and child.tag == "img":
                    end_of_run()
                    found += self._pictures(child)
                else:
                    run.append(child)
                continue
            end_of_run()
            if child.tag in _LEFT_OUT or "hidden" in child.attributes or child.classes & _ON_SCREEN:
                continue
            found += self._blocks_of(child)
        end_of_run()
        return tuple(found)

    def _blocks_of(self, element: Element) -> Iterator[Block]:
        tag = element.tag
        if tag in _HEADINGS:
            yield from self._heading(element)
            return
        self._wait_for(element)
        if tag == "p":
            yield from self._paragraph(element)
        elif tag in ("ul", "ol"):
            yield from self._list(element)
        elif tag == "dl":
            yield self._facts(element)
        elif tag == "table":
            yield self._table(element)
        elif tag == "figure":
            yield from self._figure(element)
        elif tag == "svg":
            yield Picture(_svg_text(element, self.bars), _title_of(element))
        elif tag == "blockquote" or "admonition" in element.classes:
            yield Box(self.blocks(element))
        elif tag == "pre":
            yield Verbatim("\n".join(map(self.text.fonts.shown, _typed(element).rstrip("\n").split("\n"))))
        elif tag == "hr":
            yield Rule()
        else:
            before, self._in_working = self._in_working, self._in_working or "working" in element.classes
            yield from self.blocks(element)
            self._in_working = before

    def _heading(self, element: Element) -> Iterator[Block]:
        number = int(element.tag[1])
        inline = self.text.inline(element)
        if self.is_cover and number == 1:
            yield Paragraph(self._anchored(inline), "name")
            return
        self._wait_for(element)
        anchors, self.anchors = tuple(self.anchors), []
        self._in_contents = self.is_cover and element.attributes.get("id") == "contents"
        if inline:
            level = self.level + number - 1
            yield Heading(level, inline, anchors, number == 1, number <= _LEAST_BOOKMARKED, self._in_contents)

    def _paragraph(self, element: Element) -> Iterator[Block]:
        pictures = [one for one in element.every() if one.tag == "img"]
        if pictures and not element.words():
            for one in pictures:
                yield from self._pictures(one)
            return
        if inline := self.text.inline(element):
            role = element.classes & {"lead", "admonition-title"}
            anchored = self._anchored(inline)
            yield Paragraph(anchored, "lead" if "lead" in role else "title" if role else "")

    def _pictures(self, element: Element) -> Iterator[Block]:
        svg = self.pictures(element.attributes.get("src", ""))
        alternative = self.text.fonts.shown(element.attributes.get("alt", ""))
        if svg:
            yield Picture(svg, alternative, 160.0 if self.is_cover and not alternative else 0.0)
        elif alternative:
            yield Paragraph((alternative,))

    def _list(self, element: Element) -> Iterator[Block]:
        if self._in_contents:
            self._in_contents = False
            yield Contents()
            return
        items = [one for one in element.elements() if one.tag == "li"]
        if "labels" in element.classes:
            yield Labels(tuple(self._label(one) for one in items))
            return
        yield Listing(tuple(self.blocks(one) for one in items), element.tag == "ol")

    def _label(self, element: Element) -> tuple[str, str, Inline]:
        code = element.first("svg")
        lines: list[str | Span] = []
        for one in element.every():
            if one.tag in ("strong", "span"):
                lines += [*([Span("break")] if lines else []), *self.text.run([one])]
        # The code says the same as the first line beside it.
        return ("" if code is None else _svg_text(code), "", tuple(lines))

    def _facts(self, element: Element) -> Facts:
        pairs: list[tuple[Inline, Inline]] = []
        name: Inline = ()
        for one in element.every():
            if one.tag == "dt":
                name = self._anchored(self.text.inline(one))
            elif one.tag == "dd":
                pairs.append((name, self.text.inline(one)))
                name = ()
        return Facts(tuple(pairs), self._in_working)

    def _table(self, element: Element) -> Table:
        parts = {one.tag: one for one in element.elements()}
        sums = next((one for one in element.elements() if "totals" in one.classes), parts.get("tfoot"))
        head = parts.get("thead")
        head_row = None if head is None else head.first("tr")
        titles = [] if head_row is None else _cells(head_row)
        body = [one for one in _rows(parts.get("tbody", element)) if one is not head_row]
        caption = self.text.inline(parts["caption"]) if "caption" in parts else ()
        columns = max((len(titles), *(len(_cells(row)) for row in body)), default=0)
        first = _cells(body[0]) if body else []
        numeric = tuple(n < len(titles) and _is_numeric(titles[n]) for n in range(columns))
        rows = tuple(self._row(row, columns) for row in body)
        names = next((n for n, one in enumerate(first) if one.tag != "th"), len(first))
        return Table(
            caption=self._anchored(caption),
            head=_filled([self.text.inline(one) for one in titles], columns) if titles else (),
            rows=rows if len(rows) <= _MOST_LEADING else tuple(map(_leading_nowhere, rows)),
            foot=() if sums is None else tuple(self._row(row, columns) for row in _rows(sums)),
            numeric=numeric,
            names=names,
            sums_first=sums is not None and sums.tag == "tbody",
        )

    def _row(self, row: Element, columns: int) -> tuple[Inline, ...]:
        cells = [self._cell(one) for one in _cells(row)]
        if anchor := self._anchor_of(row):
            cells[:1] = [(Span("anchor", to=anchor), *(cells[0] if cells else ()))]
        return _filled(cells, columns)

    def _cell(self, element: Element) -> Inline:
        inline = self.text.inline(element)
        if inline and ("tag" in element.classes or "num" in element.classes):
            return (Span("whole", inline),)
        return inline

    def _figure(self, element: Element) -> Iterator[Block]:
        image = element.first("img")
        to = "" if image is None else self.sheet(image.attributes.get("src", ""))
        caption = element.first("figcaption")
        if to and caption is not None:
            yield Paragraph((Span("link", self.text.inline(caption), f"#{to}"), Span("page", to=to)))

    def _wait_for(self, element: Element) -> None:
        if anchor := self._anchor_of(element):
            self.anchors.append(anchor)

    def _anchor_of(self, element: Element) -> str:
        identity = element.attributes.get("id", "")
        if not identity or identity in self._named:  # the first alone is led to
            return ""
        self._named.add(identity)
        return self.text.anchor(identity)

    def _anchored(self, inline: Inline) -> Inline:
        waiting, self.anchors = self.anchors, []
        return (*(Span("anchor", to=anchor) for anchor in waiting), *inline)


def _is_numeric(title: Element) -> bool:
    return "num" in title.classes or "right" in title.attributes.get("style", "")


def _leading_nowhere(cells: tuple[Inline, ...]) -> tuple[Inline, ...]:
    return tuple(
        tuple(
            part
            for one in cell
            for part in (one.text if isinstance(one, Span) and one.style == "link" else (one,))
        )
        for cell in cells
    )


def _rows(element: Element) -> list[Element]:
    return [one for one in element.every() if one.tag == "tr"]


def _cells(row: Element) -> list[Element]:
    return [one for one in row.elements() if one.tag in ("td", "th")]


def _filled(cells: list[Inline], columns: int) -> tuple[Inline, ...]:
    return (*cells, *((),) * (columns - len(cells)))


def _typed(element: Element) -> str:
    return "".join(child if isinstance(child, str) else _typed(child) for child in element.children)


def _title_of(element: Element) -> str:
    title = element.first("title")
    return "" if title is None else title.words()


_CASES: Mapping[str, str] = {"viewbox": "viewBox"}


def _svg_text(element: Element, bars: str = "") -> str:
    style = f"<style>{bars}</style>" if "bars" in element.classes else ""
    return _svg_part(element, ' xmlns="http://www.w3.org/2000/svg"', style)


def _svg_part(element: Element, extra: str = "", inside: str = "") -> str:
    attributes = "".join(
        f' {_CASES.get(name, name)}="{html.escape(value)}"' for name, value in element.attributes.items()
    )
    content = "".join(
        html.escape(child) if isinstance(child, str) else _svg_part(child) for child in element.children
    )
    return f"<{element.tag}{extra}{attributes}>{inside}{content}</{element.tag}>"
