"""Build the sites of a computed project: one for each edition."""

import html
import posixpath
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from urllib.parse import unquote

from proposal.document.document import Document
from proposal.document.making.history import with_issued
from proposal.document.readers import Reader
from proposal.document.rows.sheets import SheetRow
from proposal.document.whole_proposal import Proposal
from proposal.drawings.kinds import drawing_of
from proposal.editions import Edition, edition_of_proposal, with_changes
from proposal.exports.programme_calendar import programme_calendar
from proposal.model.pictures.picture import published_picture
from proposal.model.source import ProjectSource
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.paths import CALENDAR_FILE
from proposal.pages.site_pages import Drawing, pages_of
from proposal.pipeline import Computed
from proposal.publish.cache import Cache, drawing_key
from proposal.publish.compute_proposal import house_findings, whole_proposal
from proposal.publish.earlier_issue import Earlier
from proposal.publish.folder_replacement import swapped_in
from proposal.publish.graph_program import embed_font, lay_out
from proposal.publish.program_folders import own_folders, refuse_in_the_way
from proposal.publish.project_lock import exclusive
from proposal.publish.site import SiteSource, place_site, write_front_page
from proposal.resources import resource
from proposal.review.finding import Finding

# Whatever else stands in a picture, its quotes and angle brackets are entities.
_SHOWN = re.compile(r'<img\b[^<>]*? src="([^"<>]*)"')

EDITION_TITLES: Mapping[Reader, str] = {
    "client": "Client edition",
    "reviewer": "Reviewer edition",
    "estimator": "Estimator edition (the integrator's own)",
    "installer": "Installer edition",
}


@dataclass(frozen=True, slots=True)
class Mark:
    """What every page, and every drawing of a draft, says of the state of a revision.

    draft: whether it is a draft of a revision that is not issued.
    with_errors: why it is issued with errors that are not resolved; empty where none stand.
    digest: of the record of a revision that is issued, or its beginning; empty where there is none.
    rebuilt: what it was made with again, and before, where other versions made it from the figures of its
        record; empty where it is as it was issued.
    """

    draft: bool = False
    with_errors: str = ""
    digest: str = ""
    rebuilt: str = ""


NO_MARK = Mark()


def marked(document: Document, mark: Mark) -> Document:
    """Return a document whose cover holds a mark."""
    if mark == NO_MARK:
        return document
    state = {
        "draft": mark.draft,
        "with_errors": mark.with_errors,
        "record_digest": mark.digest,
        "rebuilt": mark.rebuilt,
    }
    return document.model_copy(update={"cover": document.cover.model_copy(update=state)})


def marked_edition(edition: Edition, mark: Mark) -> Edition:
    """Return an edition all of whose documents hold a mark, after they were compared without it."""
    return replace(
        edition,
        document=marked(edition.document, mark),
        alternates=tuple(replace(one, document=marked(one.document, mark)) for one in edition.alternates),
    )


def build_proposal(
    source: ProjectSource,
    computed: Computed,
    folder: Path,
    readers: Sequence[Reader],
    progress: Callable[[str], None],
    mark: Mark = NO_MARK,
    earlier: Earlier | None = None,
    *,
    sensitivity: bool = True,
    placed: Callable[[], None] = lambda: None,
) -> Mapping[Reader, Path]:
    """Build the site of each edition under a project's `build/` and return the page to open, by reader.

    source: makes the project with its alternates.
    computed: the base.
    folder: the project folder.
    readers: whose editions.
    progress: told in a few words what is being done.
    mark: what every page and drawing says of its state.
    earlier: the issue with which changes are told; None where nothing is issued yet.
    sensitivity: whether an estimator's edition tells what moves the price, which takes long to find out.
    placed: called when everything lies in its place, while no other run can write there.
    Raises BuildError where a drawing or a site cannot be made, InputError where an alternate cannot be
    computed or a link lies in `build/`; the sites of former builds then stay.
    """
    build = own_folders(folder).build
    refuse_in_the_way([build, *(place for reader in readers for place in swapped_in(build / reader))])
    cache = Cache(build / "cache")
    proposal = made_proposal(
        source, computed, cache, readers, progress, mark, earlier, sensitivity=sensitivity
    )
    document = proposal.document
    editions = proposal_editions(proposal, readers, progress, earlier)
    sources: dict[Reader, SiteSource] = {}
    for reader, edition in editions.items():
        progress(f"{EDITION_TITLES[reader]}: pages and drawings")
        sources[reader] = edition_source(edition, computed.project.images, cache)
    # Nothing is written before everything could be made.
    built: dict[Reader, Path] = {}
    with exclusive(build):
        for reader, made in sources.items():
            progress(f"{EDITION_TITLES[reader]}: site")
            built[reader] = place_site(made, build / reader, progress=progress, cache=cache)
        # Sites of a former build may be of another state of the project: the front page leads to none.
        titles = {str(reader): EDITION_TITLES[reader] for reader in built}
        write_front_page(build, titles, document.cover.name, language_of(document))
        placed()
    return built


def house_findings_of(
    source: ProjectSource,
    computed: Computed,
    folder: Path,
    progress: Callable[[str], None],
    earlier: Earlier | None,
) -> tuple[Finding, ...]:
    """Return the findings for the house alone about a project that was built.

    progress, earlier: what is told, and the last issue, as there.
    The parameters are those of `build_proposal`.
    """
    cache = Cache(own_folders(folder).build / "cache")
    return house_findings(source, computed, cache, progress, earlier.received if earlier is not None else ())


def made_proposal(
    source: ProjectSource,
    computed: Computed,
    cache: Cache,
    readers: Sequence[Reader],
    progress: Callable[[str], None],
    mark: Mark,
    earlier: Earlier | None,
    *,
    sensitivity: bool = True,
) -> Proposal:
    """Return the whole proposal of a project.

    progress: told in a few words what is being done.
    sensitivity: whether what moves the price is computed too.
    The parameters are those of `build_proposal`. Raises InputError where an alternate cannot be computed.
    """

    def finished(document: Document) -> Document:
        document = marked(document, mark)
        return document if earlier is None else with_issued(document, earlier.before.state.document)

    return whole_proposal(
        source,
        computed,
        cache,
        progress,
        sensitivity=sensitivity and "estimator" in readers,
        finished=finished,
        earlier=earlier.received if earlier is not None else (),
    )


def proposal_editions(
    proposal: Proposal,
    readers: Sequence[Reader],
    progress: Callable[[str], None],
    earlier: Earlier | None,
) -> Mapping[Reader, Edition]:
    """Return the edition of each reader with alternates and changes.

    progress: told in a few words what is being done.
    The parameters are those of `build_proposal`.
    """
    editions = {reader: edition_of_proposal(proposal, reader) for reader in readers}
    if earlier is not None:
        progress("what changed")
        inputs = earlier.inputs(proposal.document)
        editions = {
            reader: with_changes(edition, earlier.before.state, inputs)
            for reader, edition in editions.items()
        }
    return editions


def edition_source(edition: Edition, images: Mapping[str, bytes], cache: Cache) -> SiteSource:
    """Return what the site of an edition is made of: pages, drawings, logo.

    edition: the document as one reader may see it.
    images: the project's images by path.
    cache: keeps rendered drawings.
    """
    document = edition.document
    cover = document.cover
    files: dict[str, bytes] = {}
    drawings: dict[str, Drawing] = {}
    for sheet in sheets_of(document):
        name, content, text = rendered(edition, sheet, cache)
        files[f"drawings/{name}"] = content
        drawings[sheet.number] = Drawing(
            number=sheet.number,
            file=name,
            title=sheet.title,
            alternative=f"Sheet {sheet.number}: {sheet.title}",
            description=text,
            size=_size_px(content),
        )
    if cover.logo:
        files[f"images/{cover.logo}"] = published_picture(cover.logo, images[cover.logo])
    if document.activities:
        files[CALENDAR_FILE] = programme_calendar(edition)
    site = pages_of(edition, drawings, templates())
    for name in pictures_shown(site.pages):
        if name in images:
            files[f"images/{name}"] = published_picture(name, images[name])
    return SiteSource(
        title=f"{cover.name}, revision {cover.revision.identity}",
        short_title=cover.name,
        language=language_of(document),
        nav=site.nav,
        pages=site.pages,
        files=files,
        colour=cover.colour,
        logo=f"images/{cover.logo}" if cover.logo else None,
        revision=cover.revision.identity,
        draft=cover.draft,
        with_errors=bool(cover.with_errors),
        rebuilt=cover.rebuilt,
        purpose=cover.revision.purpose,
        date=cover.revision.date,
        footer=f"{cover.integrator.name} · {cover.number}" if cover.number else cover.integrator.name,
    )


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


def rendered(edition: Edition, sheet: SheetRow, cache: Cache) -> tuple[str, bytes, str]:
    """Return a drawing's file name, its SVG and its text alternative."""
    drawing = drawing_of(edition, sheet)

    def render() -> bytes:
        return embed_font(drawing.render(lay_out).decode("utf-8")).encode("utf-8")

    return (
        f"{sheet.number}.svg",
        cache.get_or(drawing_key(sheet.kind, drawing.spec), render),
        drawing.alternative,
    )


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
