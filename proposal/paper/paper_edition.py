"""An edition as one document to print: every page of its site, in the order of the contents."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial

from proposal.field_classes import dataclass
from proposal.paper.blocks import Block, Box, Heading, Listing, Picture, Table, as_data
from proposal.paper.column_widths import columns_of, fitted, takes, wants
from proposal.paper.html_tree import Element, html_tree
from proposal.paper.inline_text import Reader
from proposal.paper.link_destinations import Destinations, destinations, place_of
from proposal.paper.page_blocks import PageReader
from proposal.paper.signs import Fonts
from proposal.quantities.sheet_sizes import MARGIN_PT, SHEET_MARGIN_PT, Sheets, Size

COVER = "index.md"
BOX_PT, ITEM_PT = 12.0, 16.0
"""What a box and a list take of the width of what stands in them, pt."""
_HEAD_SIGNS, _FOOT_SIGNS = 100, 60
_ON_NEW_SHEET = 2
"""Levels of the navigation whose pages begin on a new sheet; those below go on where there is room."""


@dataclass(frozen=True, slots=True)
class PaperPage:
    """A page of the site as it goes to paper.

    path: in the site.  level: of its place in the navigation, from 1.
    groups: levels and titles of the navigation below which it is the first.
    html: what the site shows of it, within its frame.
    drawing: path of the drawing that it is the page of, empty where it is none.
    """

    path: str
    level: int
    groups: tuple[tuple[int, str], ...]
    html: str
    drawing: str = ""


@dataclass(frozen=True, slots=True)
class SheetDrawing:
    """A drawing as it goes to paper.

    svg: as text.  alternative: all that it shows, in words.
    """

    svg: str
    alternative: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperSource:
    """What an edition on paper is made of.

    title, short_title, author: of the proposal.  language, date: as in `en` and `2031-04-15`.
    colour, ink: of lines, and of links, as `#rrggbb`.
    foot: what stands at the foot of every page.  notices: what every page says of its state.
    sheets: what it is printed on.
    pages: in order, the cover first.
    bars: how bars that stand in a page are drawn, as a style sheet.
    drawings: by path.  pictures: those that pages show, as SVG, by path in the site.
    """

    title: str
    short_title: str
    author: str
    language: str
    date: str
    colour: str
    ink: str
    foot: tuple[str, ...]
    notices: tuple[tuple[str, str], ...]
    sheets: Sheets
    pages: tuple[PaperPage, ...]
    drawings: Mapping[str, SheetDrawing]
    pictures: Mapping[str, str]
    bars: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """What stands on sheets of one size, pt.

    margin: left and right, pt.  is_drawing: whether it is a drawing that fills the sheet.
    """

    width: float
    height: float
    margin: float
    is_drawing: bool
    blocks: tuple[Block, ...]


def paper_data(source: PaperSource, fonts: Fonts) -> str:
    """Return an edition on paper as the template reads it, as JSON.

    source: what it is made of.  fonts: what its text is set with; it keeps the signs that none of them has.
    """
    trees = {page.path: html_tree(page.html) for page in source.pages}
    there = destinations(trees, {page.drawing: page.path for page in source.pages if page.drawing})
    parts: list[Part] = []
    last = 0  # the level of the last heading
    for page in source.pages:
        blocks, last = _levelled(tuple(_blocks(page, trees[page.path], source, there, fonts)), last)
        if page.drawing:
            parts.append(_sheet_part(blocks, source.drawings[page.drawing].svg, source.sheets))
            continue
        part = _text_part(blocks, source.sheets, fonts)
        before = parts[-1] if parts else part
        goes_on = (
            page.level > _ON_NEW_SHEET
            and not page.groups
            and (before.width, before.is_drawing)
            == (
                part.width,
                part.is_drawing,
            )
        )
        if goes_on and parts:
            parts[-1] = replace(before, blocks=(*before.blocks, *part.blocks))
        else:
            parts.append(part)
    shown = fonts.shown
    head = {
        "title": shown(source.title),
        "short_title": _short(shown(source.short_title), _HEAD_SIGNS),
        "author": shown(source.author),
        "language": source.language,
        "date": source.date,
        "colour": source.colour,
        "ink": source.ink,
        "foot": [_short(shown(one), _FOOT_SIGNS) for one in source.foot],
        "notices": [[shown(one) for one in notice] for notice in source.notices],
    }
    return json.dumps({**head, "parts": parts}, default=as_data, ensure_ascii=False, separators=(",", ":"))


def _short(text: str, most: int) -> str:
    """Return text that is cut where it is longer than the head or the foot of a page holds."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def _blocks(
    page: PaperPage, tree: Element, source: PaperSource, there: Destinations, fonts: Fonts
) -> Iterator[Block]:
    """Yield the blocks of a page, with the titles of the navigation that it is the first of."""
    title = tree.first("h1")
    # Where the first page of a group is called as the group, one heading is enough.
    groups = [group for group in page.groups if title is None or group[1] != title.words()]
    for level, name in groups:
        yield Heading(level, (fonts.shown(name),), (), listed=True)
    reader = PageReader(
        text=Reader(fonts, partial(there.target, page.path), partial(there.name, page.path)),
        level=page.level - len(page.groups) + len(groups),
        pictures=lambda address: source.pictures.get(place_of(page.path, address), ""),
        sheet=lambda address: there.drawings.get(place_of(page.path, address), ""),
        bars=source.bars,
        anchors=[page.path],
        is_cover=page.path == COVER,
    )
    blocks = reader.blocks(tree)
    if not page.drawing:
        yield from blocks
        return
    # The list of drawings tells the rest of it.
    yield from (one for one in blocks if isinstance(one, Heading) and one.listed)
    drawing = source.drawings[page.drawing]
    yield Picture(drawing.svg, fonts.shown(drawing.alternative))


def _levelled(blocks: tuple[Block, ...], last: int) -> tuple[tuple[Block, ...], int]:
    """Return blocks in which no heading is more than one level below the one before it, and the last level.

    last: level of the heading before them, 0 where there is none.
    """
    levelled: list[Block] = []
    for one in blocks:
        if isinstance(one, Heading):
            last = min(one.level, last + 1)
            levelled.append(replace(one, level=last))
        else:
            levelled.append(one)
    return tuple(levelled), last


def _sheet_part(blocks: tuple[Block, ...], svg: str, sheets: Sheets) -> Part:
    size = sheets.large if _is_upright(svg) else sheets.large.turned()
    return Part(round(size.width, 3), round(size.height, 3), SHEET_MARGIN_PT, True, blocks)


def _is_upright(svg: str) -> bool:
    box = svg.partition('viewBox="')[2].partition('"')[0].split()
    return len(box) == 4 and float(box[3]) > float(box[2])


def _text_part(blocks: tuple[Block, ...], sheets: Sheets, fonts: Fonts) -> Part:
    """Return blocks on the smallest sheet on which every schedule can be read with ease."""
    needs = {id(one): columns_of(one, fonts) for one in _tables(blocks)}
    upright, turned, large = sheets.usual, sheets.usual.turned(), sheets.large.turned()
    if all(wants(one) <= _within(upright) for one in needs.values()):
        size = upright
    elif all(takes(one) <= _within(turned) for one in needs.values()):
        size = turned
    else:
        size = large
    width = _within(size)

    def set_out(those: tuple[Block, ...], within: float) -> tuple[Block, ...]:
        return tuple(
            fitted(one, needs[id(one)], within)
            if isinstance(one, Table)
            else replace(one, blocks=set_out(one.blocks, within - BOX_PT))
            if isinstance(one, Box)
            else replace(one, items=tuple(set_out(item, within - ITEM_PT) for item in one.items))
            if isinstance(one, Listing)
            else one
            for one in those
        )

    return Part(round(size.width, 3), round(size.height, 3), MARGIN_PT, False, set_out(blocks, width))


def _within(size: Size) -> float:
    """Return the width of a sheet within its margins, pt."""
    return size.width - 2 * MARGIN_PT


def _tables(blocks: tuple[Block, ...]) -> Iterator[Table]:
    for one in blocks:
        if isinstance(one, Table):
            yield one
        elif isinstance(one, Box):
            yield from _tables(one.blocks)
        elif isinstance(one, Listing):
            for item in one.items:
                yield from _tables(item)
