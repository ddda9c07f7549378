"""Editions on paper for tests, and the PDFs as other libraries read them."""

import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from pdfminer.high_level import extract_pages
from pdfminer.layout import LAParams, LTChar, LTContainer
from pypdf import PdfReader

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.editions import edition_of
from proposal.pages.paths import drawing_path
from proposal.pages.site_pages import SitePages, pages_of
from proposal.paper.paper_edition import PaperPage, PaperSource
from proposal.publish.cache import Cache
from proposal.publish.paper_file import paper_file
from proposal.publish.paper_source import paper_source
from proposal.publish.program_folders import own_folders
from proposal.publish.site import SiteSource
from proposal.quantities.sheet_sizes import sheets_for
from tests.pages.site import drawings_for, templates

DRAWN = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="277mm" viewBox="0 0 1133.86 785.2">'
    b'<text x="40" y="60" font-family="Arimo" font-size="9">what is drawn</text>'
    b'<path d="M0 0h1133v785h-1133z" fill="none" stroke="#000"/></svg>'
)


@dataclass(frozen=True)
class Letter:
    """A letter where it stands, pt from the lower left corner."""

    text: str
    size: float
    left: float
    right: float


@dataclass
class Printed:
    """A PDF as other libraries read it."""

    data: bytes = field(repr=False)
    site: SitePages | None = field(default=None, repr=False)

    @cached_property
    def reader(self) -> PdfReader:
        return PdfReader(io.BytesIO(self.data))

    @cached_property
    def words(self) -> list[str]:
        return [page.extract_text() for page in self.reader.pages]

    @cached_property
    def letters(self) -> list[list[Letter]]:
        pages = extract_pages(io.BytesIO(self.data), laparams=LAParams(all_texts=True))
        return [list(_letters(page)) for page in pages]

    @cached_property
    def bookmarks(self) -> list[tuple[str, int]]:
        """Each title with the number of its page, from 1."""
        return list(self._bookmarks(self.reader.outline))

    def _bookmarks(self, outline: list[Any]) -> Iterator[tuple[str, int]]:
        for one in outline:
            if isinstance(one, list):
                yield from self._bookmarks(one)
            else:
                number = self.reader.get_destination_page_number(one)
                assert number is not None
                yield str(one.title), number + 1

    def tags(self) -> list[str]:
        """The kinds of all parts of the document, in order."""
        return [str(part["/S"]) for part in self._parts()]

    def alternatives(self) -> list[str]:
        """What is said in place of each picture, in order."""
        return [str(part["/Alt"]) for part in self._parts() if part["/S"] == "/Figure"]

    def _parts(self) -> list[Any]:
        found: list[Any] = []

        def walk(part: Any) -> None:
            part = part.get_object() if hasattr(part, "get_object") else part
            if isinstance(part, list):
                for one in part:
                    walk(one)
            elif isinstance(part, dict) and part.get("/Type") != "/OBJR":
                if "/S" in part:
                    found.append(part)
                if "/K" in part:
                    walk(part["/K"])

        walk(self.reader.trailer["/Root"]["/StructTreeRoot"]["/K"])
        return found


def _letters(part: Any) -> Iterator[Letter]:
    if isinstance(part, LTChar):
        yield Letter(part.get_text(), part.size, part.x0, part.x1)
    elif isinstance(part, LTContainer):
        for one in part:
            yield from _letters(one)


def site_of(document: Document, reader: Reader) -> tuple[SiteSource, SitePages]:
    """Return the site of an edition, with drawings that are alike, before it is made."""
    edition = edition_of(document, reader)
    pages = pages_of(edition, drawings_for(edition.document), templates())
    cover = edition.document.cover
    site = SiteSource(
        title=f"{cover.name}, revision {cover.revision.identity}",
        short_title=cover.name,
        nav=pages.nav,
        pages=pages.pages,
        files={f"drawings/{drawing.file}": DRAWN for drawing in drawings_for(edition.document).values()},
        colour=cover.colour,
        logo=None,
        revision=cover.revision.identity,
        draft=cover.draft,
        purpose=cover.revision.purpose,
        date=cover.revision.date,
        footer=cover.integrator.name,
    )
    return site, pages


def source_of(document: Document, reader: Reader) -> tuple[PaperSource, SitePages]:
    """Return what an edition on paper is made of."""
    site, pages = site_of(document, reader)
    drawings = drawings_for(edition_of(document, reader).document)
    placed = {drawing_path(number): drawing for number, drawing in drawings.items()}
    return paper_source(site, placed, document.cover.locale, document.cover.units), pages


def printed(source: PaperSource, folder: Path, pages: SitePages | None = None) -> Printed:
    """Return an edition on paper, made anew in a folder."""
    return Printed(paper_file(source, Cache(own_folders(folder).build / "cache")), pages)


def of_one_page(html: str, **changed: Any) -> PaperSource:
    """Return a document with a cover and one page.

    html: of the page.  changed: of what `PaperSource` holds.
    """
    pages = (
        PaperPage("index.md", 1, (), '<h1>Title</h1>\n<h2 id="contents">Contents</h2><ul><li>one</li></ul>'),
        PaperPage("page.md", 1, (), html),
    )
    told: dict[str, Any] = {
        "title": "Title, revision A",
        "short_title": "Title",
        "author": "Example Conference Systems",
        "language": "en",
        "date": "2031-04-15",
        "colour": "#2f4858",
        "ink": "#2f4858",
        "foot": ("Example Conference Systems", "Revision A"),
        "notices": (),
        "sheets": sheets_for("en_IE", "metric"),
        "pages": pages,
        "drawings": {},
        "pictures": {},
    }
    return PaperSource(**(told | changed))


def table(head: list[str], rows: list[list[str]], caption: str = "Caption") -> str:
    """Return a schedule as pages have it."""

    def cells(row: list[str], kind: str) -> str:
        return "<tr>" + "".join(f"<{kind}>{one}</{kind}>" for one in row) + "</tr>"

    body = "\n".join(cells(row, "td") for row in rows)
    return (
        f'<div class="table-scroll"><table class="data"><caption>{caption}</caption>'
        f"<thead>{cells(head, 'th')}</thead><tbody>{body}</tbody></table></div>"
    )


def squeezed(text: str) -> str:
    """Return text without spaces and without marks where a word may be broken."""
    return re.sub(r"[\s\u200b]+", "", text)


def destinations(reader: PdfReader) -> Iterator[tuple[int, str, Any]]:
    """Yield the page, the kind and the target of every link: `page` with its number, or `address`."""
    numbers: Mapping[Any, int] = {page.indirect_reference.idnum: n for n, page in enumerate(reader.pages, 1)}
    for n, page in enumerate(reader.pages, 1):
        for one in page.get("/Annots", []):
            link = one.get_object()
            action = link.get("/A")
            if action is not None and action.get_object().get("/S") == "/URI":
                yield n, "address", str(action.get_object()["/URI"])
                continue
            target = link.get("/Dest") if action is None else action.get_object()["/D"]
            target = target.get_object()
            if isinstance(target, str | bytes):
                target = reader.named_destinations[str(target)].dest_array
            yield n, "page", numbers[target[0].idnum]
