"""What the site of one edition is made of: pages, drawings, pictures; each made when it is asked for."""

import html
import posixpath
import re
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING
from urllib.parse import unquote

from proposal.document.document import Document
from proposal.document.spelling import Spelling
from proposal.editions import Edition
from proposal.exports.programme_calendar import programme_calendar
from proposal.model.pictures.picture import published_picture
from proposal.pages.downloads import Download
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.paths import CALENDAR_FILE, DOWNLOADS, drawing_path, file_stem
from proposal.pages.site_pages import PlannedPages, planned_pages
from proposal.publish.cache import Cache
from proposal.publish.edition_drawings import EditionDrawings, file_of
from proposal.publish.kept_pages import written_pages
from proposal.publish.page_settings import with_settings
from proposal.publish.revision_names import is_revision_name
from proposal.publish.search_words import words_of_rooms
from proposal.publish.site import SiteSource
from proposal.resources import resource

if TYPE_CHECKING:
    from proposal.paper.paper_edition import PaperSource

# Whatever else stands in a picture, its quotes and angle brackets are entities.
_SHOWN = re.compile(r'<img\b[^<>]*? src="([^"<>]*)"')
_DRAWINGS, _IMAGES = "drawings/", "images/"


class EditionSite:
    """The site of one edition before it is made."""

    def __init__(
        self,
        edition: Edition,
        images: Mapping[str, bytes],
        cache: Cache,
        progress: Callable[[str], None] = lambda _: None,
        *,
        downloads: Sequence[Download] = (),
    ) -> None:
        """Take what the site shows.

        edition: the document as one reader may see it.
        images: the project's images by path.
        cache: keeps rendered drawings.
        progress: told in a few words what is being done.
        downloads: files that the edition is handed over with, as far as it has them; the PDF is made here.
        """
        self._edition, self._images = edition, images
        self._cache, self._progress = cache, progress
        files = download_files(edition)
        self._downloads = {one: f"{DOWNLOADS}/{files[one]}" for one in downloads if one in files}
        self._drawings = EditionDrawings(edition, lambda: self.planned.reads, cache, progress)

    @cached_property
    def planned(self) -> PlannedPages:
        """The pages, each written when it is asked for."""
        return planned_pages(self._edition, self._drawings, templates(), self._downloads)

    @cached_property
    def _words(self) -> Mapping[str, tuple[str, ...]]:
        return words_of_rooms(self._edition.document)

    def page(self, path: str) -> str:
        """Return the Markdown of a page, with what tells the search how it is found.

        path: of the page, one of those planned.
        """
        return self._found_by_search(path, self.planned.page(path))

    def _found_by_search(self, path: str, page: str) -> str:
        return with_settings(path, page, self._words.get(path, ()))

    @property
    def files(self) -> tuple[str, ...]:
        """The paths of all files beside the pages but pictures that pages show."""
        cover = self._edition.document.cover
        return (
            *(f"{_DRAWINGS}{file_of(sheet)}" for sheet in sheets_of(self._edition.document)),
            *(f"{_DRAWINGS}{file}" for file in self._drawings.chart_files),
            *((f"{_IMAGES}{cover.logo}",) if cover.logo else ()),
            *((CALENDAR_FILE,) if self._edition.document.activities else ()),
        )

    def file(self, path: str) -> bytes | None:
        """Return a file beside the pages, None where there is none.

        path: in the site; any picture of the project counts that a page might show.
        """
        if path in self.files and path.startswith(_DRAWINGS):
            name = path.removeprefix(_DRAWINGS)
            if name in self._drawings.chart_files:
                return self._drawings.chart(name)
            return self._drawings.svg(name.removesuffix(".svg"))
        if path == CALENDAR_FILE and path in self.files:
            return programme_calendar(self._edition)
        name = path.removeprefix(_IMAGES)
        if path.startswith(_IMAGES) and name in self._images:
            return published_picture(name, self._images[name])
        return None

    def source(self) -> SiteSource:
        """Return what the whole site is made of."""
        plain = written_pages(self.planned, self._cache)
        pages = {path: self._found_by_search(path, page) for path, page in plain.items()}
        shown = [f"{_IMAGES}{name}" for name in pictures_shown(pages) if name in self._images]
        found = {path: self.file(path) for path in dict.fromkeys((*self.files, *shown))}
        files = {path: content for path, content in found.items() if content is not None}
        self._drawings.keep_facts()
        if "paper" in self._downloads:
            # Imported here: a site alone is made without.
            from proposal.publish.paper_file import paper_file

            self._progress("the PDF")
            printed = self._printed(self.without_contents(plain, files))
            files[self._downloads["paper"]] = paper_file(printed, self._cache, self._progress)
        return self.without_contents(pages, files)

    def _printed(self, site: SiteSource) -> "PaperSource":
        """Return what the edition on paper is made of.

        site: with its pages and drawings.
        """
        from proposal.publish.paper_source import paper_source

        document = self._edition.document
        drawings = {drawing_path(row.number): self._drawings[row.number] for row in sheets_of(document)}
        return paper_source(site, drawings, document.cover.locale, document.cover.units)

    def without_contents(
        self, pages: Mapping[str, str] | None = None, files: Mapping[str, bytes] | None = None
    ) -> SiteSource:
        """Return what the site is made of, with some of its pages and files alone.

        pages, files: by their paths.
        """
        document = self._edition.document
        cover = document.cover
        return SiteSource(
            title=f"{cover.name}, revision {cover.revision.identity}",
            short_title=cover.name,
            language=language_of(document),
            locale=cover.locale,
            nav=self.planned.nav,
            pages=pages or {},
            files=files or {},
            colour=cover.colour,
            logo=f"{_IMAGES}{cover.logo}" if cover.logo else None,
            revision=cover.revision.identity,
            draft=cover.draft,
            with_errors=bool(cover.with_errors),
            rebuilt=cover.rebuilt,
            purpose=cover.revision.purpose,
            date=cover.revision.date,
            paper="letter" if cover.units == "us_customary" else "A4",
            licences=Spelling.of(document).plain("Licences of fonts and scripts"),
            footer=f"{cover.integrator.name} · {cover.number}" if cover.number else cover.integrator.name,
        )


def edition_source(
    edition: Edition,
    images: Mapping[str, bytes],
    cache: Cache,
    progress: Callable[[str], None] = lambda _: None,
    *,
    downloads: Sequence[Download] = (),
) -> SiteSource:
    """Return what the site of an edition is made of: pages, drawings, logo.

    progress: told in a few words what is being done.
    downloads: files that it is handed over with; the PDF alone is among its own.
    The parameters are those of `EditionSite`.
    """
    return EditionSite(edition, images, cache, progress, downloads=downloads).source()


def download_files(edition: Edition) -> Mapping[Download, str]:
    """Return the names of the files that an edition can be handed over with.

    edition: which holds what they are made of.
    """
    found: dict[Download, str] = {
        "paper": name_of(edition, "proposal", "pdf"),
        "workbook": name_of(edition, "schedules", "xlsx"),
        "tables": name_of(edition, "schedules", "zip"),
    }
    if edition.document.cables:
        found["labels"] = name_of(edition, "labels", "csv")
    return found


def name_of(edition: Edition, subject: str, ending: str) -> str:
    """Return what a file is called that an edition is handed over with.

    subject: what it holds.  ending: of its name.
    """
    revision = edition.document.cover.revision.identity
    # What is not issued may have a name that no file can have.
    named = revision if is_revision_name(revision) else file_stem(revision)
    return f"{subject}-{edition.reader}-{named}.{ending}"


def pictures_shown(pages: Mapping[str, str]) -> list[str]:
    """Return the names of the files in `images/` that pages show.

    pages: path of each page and its Markdown, in which pictures are ready HTML.
    """
    found = {
        posixpath.normpath(posixpath.join(posixpath.dirname(path), unquote(html.unescape(target))))
        for path, page in pages.items()
        for target in _SHOWN.findall(page)
    }
    return sorted(path.removeprefix("images/") for path in found if path.startswith("images/"))


def templates() -> Mapping[str, str]:
    """Return the page templates by file name."""
    folder = resource("templates")
    return {path.name: path.read_text("utf-8") for path in sorted(folder.glob("*.jinja"))}


def language_of(document: Document) -> str:
    """Return the language of the document's locale, in two or three letters."""
    return document.cover.locale.partition("_")[0]
