"""Build the sites of a computed project: one for each edition."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from proposal.document.document import Document
from proposal.document.making.history import with_issued, with_offered_prices
from proposal.document.readers import Reader
from proposal.document.whole_proposal import Proposal
from proposal.editions import Edition, edition_of_proposal, with_changes
from proposal.field_classes import dataclass
from proposal.model.source import ProjectSource
from proposal.pages.downloads import Download
from proposal.pipeline import Computed
from proposal.publish.cache import Cache
from proposal.publish.compute_proposal import alternates_not_offered, house_findings, whole_proposal
from proposal.publish.earlier_issue import Earlier
from proposal.publish.edition_site import language_of
from proposal.publish.folder_replacement import swapped_in
from proposal.publish.program_folders import own_folders, refuse_in_the_way
from proposal.publish.project_lock import exclusive
from proposal.publish.shared_work import Workers
from proposal.publish.site import write_front_page
from proposal.publish.site_processes import made_sources, place_sites
from proposal.review.finding import Finding

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


def finished(document: Document, mark: Mark, earlier: Earlier | None) -> Document:
    """Return a document whose cover holds a mark and names the revisions that were issued before.

    What the client chose since tells what it came to when it was offered.

    earlier: the last issue; None where nothing is issued yet.
    """
    document = marked(document, mark)
    if earlier is None:
        return document
    return with_offered_prices(with_issued(document, earlier.before.state.document), earlier.received)


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
    paper: bool = False,
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
    paper: whether each edition is handed over as one PDF too.
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
    editions = proposal_editions(proposal, readers, progress, earlier)
    return place_editions(editions, computed.project.images, folder, progress, placed, paper=paper)


def place_editions(
    editions: Mapping[Reader, Edition],
    images: Mapping[str, bytes],
    folder: Path,
    progress: Callable[[str], None],
    placed: Callable[[], None] = lambda: None,
    *,
    paper: bool = False,
) -> Mapping[Reader, Path]:
    """Make the site of each edition under a project's `build/` and return the page to open, by reader.

    editions: by reader, one at least.
    images: the project's own, by path.
    folder: the project folder.
    progress: told in a few words what is being done.
    placed: called when everything lies in its place, while no other run can write there.
    paper: whether each edition is handed over as one PDF too.
    Raises BuildError where a drawing or a site cannot be made, InputError where a link lies in `build/`; the
    sites of former builds then stay.
    """
    build = own_folders(folder).build
    cache = Cache(build / "cache")
    with Workers() as workers:
        downloads: tuple[Download, ...] = ("paper",) if paper else ()
        sources = made_sources(editions, images, cache, progress, EDITION_TITLES, downloads, workers)
        # Nothing is written before everything could be made.
        folders = {reader: build / reader for reader in sources}
        with exclusive(build):
            place_sites(
                {folders[reader]: made for reader, made in sources.items()},
                cache,
                progress,
                {folders[reader]: EDITION_TITLES[reader] for reader in sources},
                workers,
            )
            built = {reader: (folder / "site/index.html").path for reader, folder in folders.items()}
            # Sites of a former build may be of another state of the project: the front page leads to none.
            titles = {str(reader): EDITION_TITLES[reader] for reader in built}
            document = next(iter(editions.values())).document
            write_front_page(build, titles, document.cover.name, language_of(document))
            placed()
            cache.prune()
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


def not_offered_of(
    source: ProjectSource, computed: Computed, folder: Path, progress: Callable[[str], None]
) -> tuple[str, ...]:
    """Return a line for each alternate that the client is not offered.

    computed, folder: the base, and its folder.  progress: told in a few words what is being done.
    """
    return alternates_not_offered(source, computed, Cache(own_folders(folder).build / "cache"), progress)


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
    base: Document | None = None,
) -> Proposal:
    """Return the whole proposal of a project.

    progress: told in a few words what is being done.
    sensitivity: whether what moves the price is computed too.
    base: the document of the base where it is made already.
    The parameters are those of `build_proposal`. Raises InputError where an alternate cannot be computed.
    """
    return whole_proposal(
        source,
        computed,
        cache,
        progress,
        readers=readers,
        sensitivity=sensitivity and "estimator" in readers,
        finished=partial(finished, mark=mark, earlier=earlier),
        earlier=earlier.received if earlier is not None else (),
        base=base,
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
