"""Freeze a revision: its record for git, and what is published of it.

Both are written beside their places, into folders named `.part`. What is published is put in its place first,
where nothing leads to it yet. The rename of `issued/.part` to `issued/<revision>` is the moment that counts;
after it the pages that lead between revisions are written. A run that is ended before that moment leaves no
revision, one that is ended after it a whole one; the next run throws away what is left of the first and
writes what is missing of the second.
"""

from collections.abc import Callable, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from proposal.document.document import Document
from proposal.document.kept_document import stored
from proposal.document.readers import READERS, Reader
from proposal.errors import BuildError, DesignError, InputError, Problem
from proposal.estimate.register import register
from proposal.model.issued import MANIFEST, REGISTER, REGISTER_BEFORE, register_text
from proposal.model.loading import load_source
from proposal.model.project import Project
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed, compute
from proposal.publish.artifacts import Artifacts, versions, write_artifacts
from proposal.publish.cache import Cache
from proposal.publish.earlier import Earlier
from proposal.publish.files import settle, settle_names, write_all, write_new
from proposal.publish.freezing import INPUTS, LIBRARY, frozen_inputs, frozen_source
from proposal.publish.locking import exclusive
from proposal.publish.manifest import Manifest, digest_of, manifest_text
from proposal.publish.own_paths import ISSUED, PUBLISHED, OwnFolders, OwnPath, own_folders
from proposal.publish.placing import PART, clean_up, put_in_place, refuse_strange, write_surroundings
from proposal.publish.proposal_site import Mark, language_of, proposal_editions
from proposal.publish.proposing import all_combined, house_findings, received_with
from proposal.publish.received_prices import RECEIVED, issued_prices, received_text, received_until
from proposal.publish.record import (
    DOCUMENT,
    Record,
    files_below,
    records_of,
)
from proposal.publish.record_order import record_folders
from proposal.publish.revision_names import is_revision_name
from proposal.publish.states import kept_files, record_state
from proposal.publish.stopping import uninterrupted
from proposal.quantities.messages import printable, shown
from proposal.review.finding import Finding

# Where editions have a page in common, the first of these keeps it for all.
_KEEPERS: tuple[Reader, ...] = ("estimator", "reviewer", "installer", "client")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What is to be issued, as the call says it.

    named: what it names otherwise than project.yaml: `identity` and `purpose` of the revision.
    library: folder of a company's own library.
    with_errors: why it is issued although errors stand; empty where it is not to be.
    """

    named: Mapping[str, str]
    library: Path | None = None
    with_errors: str = ""


def issue(
    folder: Path,
    wish: Wish,
    progress: Callable[[str], None],
    judged: Callable[[Computed, Sequence[Finding]], None],
) -> Record:
    """Freeze a revision of a project and return its record.

    folder: the project folder.
    progress: told in a few words what is being done.
    judged: given what was computed and what is said of its price to the house alone, before it is decided
        whether it is issued.
    Raises InputError where the input is wrong or the revision is issued already, DesignError where errors
    stand that nobody accepted, and BuildError where another run is at work or something cannot be made.
    A link, or anything else that a run does not make, in the project's own folders is wrong input.
    """
    progress("reading the project")
    if folder.is_dir():
        refuse_strange(own_folders(folder))
    # Said before anything is written, with the paths of the files that people know.
    source = load_source(folder, library=wish.library, named=wish.named)
    refuse_revision(folder, source.base)
    own = own_folders(folder)
    with ExitStack() as whole, exclusive(own.build):
        refuse_revision(folder, source.base)
        clean_up(own)
        try:
            manifest = _frozen(folder, own, source, wish, progress, judged)
            whole.enter_context(uninterrupted(f"revision {manifest.revision} is issued"))
            put_in_place(own, manifest)
        except BaseException:
            clean_up(own)
            raise
        _lead_to(folder, own, manifest)
    return Record(folder / ISSUED / manifest.revision, manifest)


def _lead_to(folder: Path, own: OwnFolders, manifest: Manifest) -> None:
    """Write what leads to a revision that is in its place; raises BuildError where that is not possible."""
    try:
        settle_names(own.issued)
        write_surroundings(own, records_of(folder))
    except OSError as error:
        where, why = error.filename or PUBLISHED, error.strerror
        raise BuildError(
            f"revision {manifest.revision} is issued, but {where} could not be written ({why}): "
            "run  proposal verify --repair"
        ) from error


def refuse_revision(folder: Path, project: Project) -> None:
    """Raise InputError where a project's revision is issued already, or its name can be none of a folder."""
    revision = project.brief.revision.identity
    place = project.place("project", "revision", "identity")
    if not is_revision_name(revision):
        message = f"wanted a name that a folder of its own can have; found {shown(revision)}"
        raise InputError([Problem(place, "revision.identity", message)])
    for one in record_folders(folder):
        if one.name.casefold() == revision.casefold():
            message = f"wanted a revision that is not issued yet; found {shown(revision)}, issued already"
            as_name = "" if one.name == revision else f" as {printable(one.name)}"
            raise InputError([Problem(place, "revision.identity", message + as_name)])


def remade(
    record: Record, before: Record | None, folder: OwnPath, cache: Cache, progress: Callable[[str], None]
) -> Artifacts:
    """Write what is published of a record once more, from it and the one before it alone, and return it.

    before: the one issued before it, if any.
    folder: where to write.
    Raises InputError where the record does not hold a good project.
    """
    frozen = frozen_source(record.folder, record.name, record.manifest.named)
    mark = Mark(with_errors=record.manifest.with_errors)
    _, editions = proposal_editions(
        frozen, compute(frozen.base), cache, READERS, progress, mark, _earlier(before, record.folder)
    )
    return write_artifacts(editions, frozen.base.images, cache, folder, progress)


def _earlier(before: Record | None, record: Path) -> Earlier | None:
    """Return the issue that a record is compared with, by what both records hold."""
    if before is None:
        return None
    kept = record_state(before.folder, before.manifest.revision)
    return Earlier(
        before=kept,
        files=kept_files(record / INPUTS),
        library=kept_files(record / LIBRARY),
        received=received_until(before.folder),
    )


def _frozen(
    folder: Path,
    own: OwnFolders,
    source: ProjectSource,
    wish: Wish,
    progress: Callable[[str], None],
    judged: Callable[[Computed, Sequence[Finding]], None],
) -> Manifest:
    """Write the record and what is published of it beside their places, and return its manifest."""
    records = records_of(folder)
    part = own.issued / PART
    inputs = frozen_inputs(folder, wish.library)
    inputs[REGISTER_BEFORE] = register_text(source.base.issued).encode("utf-8")
    write_all(part, inputs)
    # From here on the record alone speaks, so that it makes the same again.
    frozen = frozen_source(part.path, f"{ISSUED}/{PART}", wish.named)
    progress("computing")
    computed = compute(frozen.base)
    cache = Cache(own.build / "cache")
    last = records[-1] if records else None
    earlier = _earlier(last, part.path)
    received_before = earlier.received if earlier is not None else ()
    judged(computed, house_findings(frozen, computed, cache, progress, received_before))
    if computed.errors and not wish.with_errors:
        raise DesignError("not issued: errors stand that nobody accepted")
    mark = Mark(with_errors=wish.with_errors if computed.errors else "")
    document, editions = proposal_editions(frozen, computed, cache, READERS, progress, mark, earlier)
    own_prices = (computed.received, *received_with(all_combined(frozen, cache, progress)))
    prices = (
        *received_before,
        *issued_prices(computed.project.brief.revision.identity, own_prices),
    )
    made = write_artifacts(editions, frozen.base.images, cache, own.published / PART, progress)
    progress("writing the record")
    write_all(part, {RECEIVED: received_text(prices).encode("utf-8")})
    return _kept(part, computed, document, made, last, wish.named, mark)


def _kept(
    part: OwnPath,
    computed: Computed,
    document: Document,
    made: Artifacts,
    last: Record | None,
    named: Mapping[str, str],
    mark: Mark,
) -> Manifest:
    """Write what a record keeps beside its inputs, and return its manifest, which is written too."""
    pages = _shared_pages(made.pages)
    sheets = {
        reader: {number: f"drawings/{digest_of(content)}.svg" for number, content in drawn.items()}
        for reader, drawn in made.drawings.items()
    }
    content = {
        REGISTER: register_text(register(computed)).encode(),
        DOCUMENT: stored(document),
    }
    for reader in READERS:
        content |= {kept: made.pages[reader][path] for path, kept in pages[reader].items()}
        content |= {kept: made.drawings[reader][number] for number, kept in sheets[reader].items()}
    write_all(part, content)
    revision = computed.project.brief.revision
    manifest = Manifest(
        sequence=last.manifest.sequence + 1 if last else 1,
        revision=revision.identity,
        date=revision.date,
        purpose=revision.purpose,
        named=named,
        with_errors=mark.with_errors,
        project=document.cover.name,
        language=language_of(document),
        previous=last.manifest.revision if last else "",
        previous_digest=digest_of((last.folder / MANIFEST).read_bytes()) if last else "",
        versions=versions(),
        pages={str(reader): pages[reader] for reader in READERS},
        drawings={str(reader): sheets[reader] for reader in READERS},
        record={path: digest_of(file.read_bytes()) for path, file in files_below(part.path).items()},
        published=made.digests,
    )
    write_new(part / MANIFEST, manifest_text(manifest))
    settle(part)
    return manifest


def _shared_pages(pages: Mapping[Reader, Mapping[str, bytes]]) -> dict[Reader, dict[str, str]]:
    """Return for each page of each edition the file that keeps it, one for all editions that share it."""
    found: dict[Reader, dict[str, str]] = {}
    keeper: dict[tuple[str, bytes], str] = {}
    for reader in _KEEPERS:
        found[reader] = {
            path: keeper.setdefault((path, page), f"markdown/{reader}/{path}")
            for path, page in pages[reader].items()
        }
    return found
