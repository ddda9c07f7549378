"""What the site of one edition is made of: pages, drawings, pictures; each made when it is asked for."""

import html
import posixpath
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING
from urllib.parse import unquote

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.document.spelling import Spelling
from proposal.drawings.drawing import Drawing as Told
from proposal.drawings.kinds import drawing_of, kind_called
from proposal.drawings.page_chart import PAGE_WIDTHS_MM
from proposal.editions import Edition
from proposal.exports.programme_calendar import programme_calendar
from proposal.model.pictures.picture import published_picture
from proposal.pages.downloads import Download
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.paths import CALENDAR_FILE, DOWNLOADS, drawing_path, file_stem
from proposal.pages.site_pages import Drawing, PlannedPages, planned_pages
from proposal.publish.cache import Cache, drawing_key, key_within
from proposal.publish.graph_program import embed_font, lay_out
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
        self._drawings = _Drawings(edition, cache, progress)

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
            *(f"{_DRAWINGS}{_file_of(sheet)}" for sheet in sheets_of(self._edition.document)),
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


class _Drawings(Mapping[str, Drawing]):
    """The drawings of an edition by sheet number, each drawn when it is asked for."""

    def __init__(self, edition: Edition, cache: Cache, progress: Callable[[str], None]) -> None:
        self._edition, self._cache, self._progress = edition, cache, progress
        self._spelling = Spelling.of(edition.document)
        self._sheets = {sheet.number: sheet for sheet in sheets_of(edition.document)}
        self._drawn: dict[str, tuple[Drawing, bytes]] = {}
        self._charts: dict[str, bytes] = {}
        self._told: dict[str, tuple[Told, str]] = {}

    def __getitem__(self, number: str) -> Drawing:
        return self._made(number)[0]

    def __contains__(self, number: object) -> bool:
        return number in self._sheets

    def __iter__(self) -> Iterator[str]:
        return iter(self._sheets)

    def __len__(self) -> int:
        return len(self._sheets)

    def svg(self, number: str) -> bytes:
        """Return a drawing as it is written to a file."""
        return self._made(number)[1]

    @cached_property
    def chart_files(self) -> Mapping[str, tuple[str, float]]:
        """The files of charts for pages: the number of the sheet and the width that each is drawn for, mm."""
        return {
            f"{number}-{name}.svg": (number, width_mm)
            for number, sheet in self._sheets.items()
            if kind_called(sheet.kind).in_page is not None
            for name, width_mm in PAGE_WIDTHS_MM.items()
        }

    def chart(self, file: str) -> bytes:
        """Return a chart as pages show it.

        file: one of `chart_files`.
        """
        if file not in self._charts:
            self._charts[file] = self._chart(*self.chart_files[file])
        return self._charts[file]

    def _chart(self, number: str, width_mm: float) -> bytes:
        drawing, key = self._of(number)

        def render() -> bytes:
            drawn = drawing.render_chart(width_mm, lay_out)
            assert drawn is not None
            return embed_font(drawn.decode("utf-8")).encode("utf-8")

        drawn = self._cache.get_or(key_within(key, f"{width_mm:g} mm"), render)
        return self._spelling.drawing(drawn.decode("utf-8"), html.escape).encode("utf-8")

    def _of(self, number: str) -> tuple[Told, str]:
        """Return what a sheet shows, compared with the issue before, and its key."""
        if number not in self._told:
            sheet = self._sheets[number]
            drawing = drawing_of(self._edition, sheet)
            self._told[number] = drawing, drawing_key(sheet.kind, drawing.spec)
        return self._told[number]

    def _made(self, number: str) -> tuple[Drawing, bytes]:
        if number not in self._drawn:
            sheet = self._sheets[number]
            drawing, key = self._of(number)

            def render() -> bytes:
                self._progress(f"drawing {number}")
                return embed_font(drawing.render(lay_out).decode("utf-8")).encode("utf-8")

            drawn = self._cache.get_or(key, render)
            content = self._spelling.drawing(drawn.decode("utf-8"), html.escape).encode("utf-8")
            shown = Drawing(
                number=number,
                file=_file_of(sheet),
                title=self._spelling.plain(sheet.title),
                alternative=self._spelling.plain(f"Sheet {number}: {sheet.title}"),
                description=self._spelling.plain(drawing.alternative),
                size=_size_px(content),
                change=drawing.change,
                charts=tuple(
                    (name, size)
                    for name in PAGE_WIDTHS_MM
                    if (file := f"{number}-{name}.svg") in self.chart_files
                    if (size := _size_px(self.chart(file)))
                ),
            )
            self._drawn[number] = shown, content
        return self._drawn[number]


def _file_of(sheet: SheetRow) -> str:
    return f"{sheet.number}.svg"


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


def _size_px(svg: bytes) -> tuple[int, int] | None:
    """Return the width and height of a drawing in CSS pixels, of which 96 make an inch."""
    found = re.search(rb'<svg\b[^>]*? width="([\d.]+)pt" height="([\d.]+)pt"', svg)
    return (round(float(found[1]) * 96 / 72), round(float(found[2]) * 96 / 72)) if found else None


def templates() -> Mapping[str, str]:
    """Return the page templates by file name."""
    folder = resource("templates")
    return {path.name: path.read_text("utf-8") for path in sorted(folder.glob("*.jinja"))}


def language_of(document: Document) -> str:
    """Return the language of the document's locale, in two or three letters."""
    return document.cover.locale.partition("_")[0]
