"""The sample document's pages, and the pages as a browser would read them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from html.parser import HTMLParser

import yaml
from markdown import Markdown

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.editions import Edition, edition_of
from proposal.pages.site_pages import Drawing, SitePages, pages_of, planned_pages
from proposal.resources import resource
from tests.sample_document import sample_document

VOID = frozenset(
    {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"}
)


def templates() -> Mapping[str, str]:
    return {path.name: path.read_text("utf-8") for path in sorted(resource("templates").glob("*.jinja"))}


def drawings_for(document: Document) -> Mapping[str, Drawing]:
    return {
        row.number: Drawing(
            number=row.number,
            file=f"{row.number}.svg",
            title=row.title,
            alternative=f"{row.title}: what it shows in a sentence.",
            description=f"Everything that stands on {row.title}, in words.",
            size=(1587, 1123),
        )
        for row in (*document.sheets, *document.detail_sheets, *document.check_sheets)
    }


def pages_for(document: Document, reader: Reader) -> SitePages:
    edition = edition_of(document, reader)
    return pages_of(edition, drawings_for(edition.document), templates())


def page_of(edition: Edition, path: str) -> str:
    """Return one page of an edition, made without the others."""
    return planned_pages(edition, drawings_for(edition.document), templates()).page(path)


@cache
def sample_pages(reader: Reader) -> SitePages:
    return pages_for(sample_document(), reader)


@dataclass
class Read(HTMLParser):
    """What a browser would make of a page: its elements with attributes, and its visible text."""

    elements: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    open: list[str] = field(default_factory=list)
    unbalanced: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.unbalanced.append(tag)

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    def handle_comment(self, data: str) -> None:
        self.elements.append(("!--", {}))

    def handle_decl(self, decl: str) -> None:
        self.elements.append(("!", {}))

    def handle_pi(self, data: str) -> None:
        self.elements.append(("?", {}))

    @property
    def text(self) -> str:
        return " ".join("".join(self.words).split())

    @property
    def ids(self) -> list[str]:
        return [attributes["id"] for _, attributes in self.elements if "id" in attributes]


@cache
def _extensions() -> tuple[list[str], dict[str, dict[str, object]]]:
    """Return the extensions of the sites' common settings, so that pages are read as the site will be."""
    named = yaml.safe_load(resource("mkdocs.yml").read_text("utf-8")).get("markdown_extensions", [])
    names, settings = ["toc", "tables", "fenced_code"], {}  # what mkdocs always has
    for entry in named:
        for name, chosen in (entry if isinstance(entry, dict) else {entry: {}}).items():
            if name not in names:
                names.append(name)
            if chosen:
                settings[name] = chosen
    return names, settings


def browsed(markdown: str) -> Read:
    names, settings = _extensions()
    page = Read()
    page.feed(Markdown(extensions=names, extension_configs=settings).convert(markdown))
    page.close()
    return page
