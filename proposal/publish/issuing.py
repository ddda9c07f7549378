"""Issue a revision: its record for git, and its published sites and files.

Both are written beside their places, into folders named `.part`. What is published is put in its place first,
where nothing leads to it yet. The rename of `issued/.part` to `issued/<revision>` is the moment that counts;
after it the schedules in `issued/latest/` and the pages that lead between revisions are written. A run that
is ended before that moment leaves no revision, one that is ended after it a whole one; the next run throws
away what is left of the first and writes what is missing of the second.
"""

from collections.abc import Callable, Mapping, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import NamedTuple

from proposal.document.kept_document import stored, stored_offer
from proposal.document.readers import READERS
from proposal.errors import BuildError, DesignError, InputError, Problem
from proposal.estimate.revision_register import register
from proposal.field_classes import dataclass
from proposal.model.issued import MANIFEST, REGISTER, REGISTER_BEFORE, register_text
from proposal.model.loading import load_source
from proposal.model.project import Project
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed, compute
from proposal.publish.archive import archive
from proposal.publish.cache import Cache
from proposal.publish.compared_states import record_state
from proposal.publish.compute_proposal import (
    all_combined,
    alternates_not_offered,
    house_findings,
    received_with,
)
from proposal.publish.earlier_issue import Earlier
from proposal.publish.editions_from_record import editions_shown, shown_mark
from proposal.publish.files import remove, settle, settle_names, write_all
from proposal.publish.git_commits import commit_at
from proposal.publish.issued_schedules import schedules_of, write_latest
from proposal.publish.manifest import Manifest, digest_of, manifest_text
from proposal.publish.prices_in_records import RECEIVED, issued_prices, received_text, received_until
from proposal.publish.program_folders import ISSUED, PUBLISHED, OwnFolders, own_folders
from proposal.publish.project_lock import exclusive
from proposal.publish.proposal_site import Mark, made_proposal
from proposal.publish.published_editions import versions, write_artifacts
from proposal.publish.published_list import Published
from proposal.publish.record import (
    INPUTS,
    LIBRARY,
    Record,
    ends_of_records,
    files_below,
    files_in,
    proposal_in,
    records_of,
)
from proposal.publish.record_file import RECORD_FILE, packed, unpacked
from proposal.publish.record_inputs import frozen_inputs, frozen_source
from proposal.publish.record_layouts import DOCUMENT, KEPT, PROPOSAL, record_digest
from proposal.publish.record_order import record_folders
from proposal.publish.record_placement import PART, clean_up, put_in_place, refuse_strange, write_surroundings
from proposal.publish.revision_names import is_revision_name
from proposal.publish.stop_signals import uninterrupted
from proposal.quantities.messages import printable, shown
from proposal.review.finding import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueRequest:
    """What is to be issued, as the call says it.

    named: what it names otherwise than project.yaml: `identity` and `purpose` of the revision.
    library: folder of a company's own library.
    with_errors: why it is issued although errors stand; empty where it is not to be.
    keep: whether the record keeps what the client is sent.
    """

    named: Mapping[str, str]
    library: Path | None = None
    with_errors: str = ""
    keep: bool = False


class Frozen(NamedTuple):
    """A revision that is written beside its place.

    manifest: of its record.  published: what lies in `.part` of the published folder.
    latest: its schedules, by name.
    """

    manifest: Manifest
    published: Published
    latest: Mapping[str, bytes]


def issue(
    folder: Path,
    request: IssueRequest,
    progress: Callable[[str], None],
    judged: Callable[[Computed, Sequence[Finding], Sequence[str]], None],
) -> Record:
    """Issue a revision of a project and return its record.

    folder: the project folder.
    progress: told in a few words what is being done.
    judged: given what was computed, what is said of its price to the house alone, and a line for each
        alternate that the client is not offered, before it is decided whether it is issued.
    Raises InputError where the input is wrong or the revision is issued already, DesignError where errors
    stand that nobody accepted, and BuildError where another run is at work or something cannot be made.
    A link, or anything else that a run does not make, in the project's own folders is wrong input.
    """
    progress("reading the project")
    if folder.is_dir():
        refuse_strange(own_folders(folder))
    # Said before anything is written, with the paths of the files that people know.
    source = load_source(folder, library=request.library, named=request.named)
    refuse_revision(folder, source.base)
    own = own_folders(folder)
    with ExitStack() as whole, exclusive(own.build):
        refuse_revision(folder, source.base)
        clean_up(own)
        try:
            frozen = _frozen(folder, own, source, request, progress, judged)
            whole.enter_context(uninterrupted(f"revision {frozen.manifest.revision} is issued"))
            put_in_place(own, frozen.manifest, frozen.published)
        except BaseException:
            clean_up(own)
            raise
        _follow_up(folder, own, frozen)
    return Record(folder / ISSUED / frozen.manifest.revision, frozen.manifest)


def _follow_up(folder: Path, own: OwnFolders, frozen: Frozen) -> None:
    """Write what follows from a revision that is in its place: its schedules, and what leads to it.

    Raises BuildError where that is not possible.
    """
    try:
        settle_names(own.issued)
        write_latest(own, frozen.latest)
        write_surroundings(own, records_of(folder))
    except OSError as error:
        where, why = error.filename or PUBLISHED, error.strerror
        raise BuildError(
            f"revision {frozen.manifest.revision} is issued, but {where} could not be written ({why}): "
            "run  proposal verify --repair"
        ) from error


def refuse_revision(folder: Path, project: Project) -> None:
    """Raise InputError where a project's revision is issued already, or cannot be the name of a folder."""
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


def _frozen(
    folder: Path,
    own: OwnFolders,
    source: ProjectSource,
    request: IssueRequest,
    progress: Callable[[str], None],
    judged: Callable[[Computed, Sequence[Finding], Sequence[str]], None],
) -> Frozen:
    """Write the record and what is published of it beside their places, and return what they are."""
    records = records_of(folder)
    ends = ends_of_records(records)
    commit = commit_at(folder)
    frozen, inputs = _read_again(own, folder, source, request)
    progress("computing")
    computed = compute(frozen.base)
    cache = Cache(own.build / "cache")
    earlier = _earlier(ends, inputs)
    received_before = earlier.received if earlier is not None else ()
    of_the_price = house_findings(frozen, computed, cache, progress, received_before)
    judged(computed, of_the_price, alternates_not_offered(frozen, computed, cache, progress))
    if computed.errors and not request.with_errors:
        raise DesignError("not issued: errors stand that nobody accepted")
    mark = Mark(with_errors=request.with_errors if computed.errors else "")
    proposal = made_proposal(frozen, computed, cache, READERS, progress, mark, earlier)
    own_prices = (computed.received, *received_with(all_combined(frozen, cache, progress)))
    prices = (*received_before, *issued_prices(computed.project.brief.revision.identity, own_prices))
    numbers = register_text(register(computed)).encode()
    members = {
        **inputs,
        DOCUMENT: stored(proposal.document),
        PROPOSAL: stored_offer(proposal),
        RECEIVED: received_text(prices).encode("utf-8"),
    }
    digest = record_digest(members | {REGISTER: numbers})
    # From here on the record alone speaks, so that it gives the same again.
    proposal = proposal_in(unpacked(packed(members), RECORD_FILE), f"{ISSUED}/{PART}")
    editions = editions_shown(proposal, earlier, shown_mark(mark, digest), progress)
    files = write_artifacts(editions, frozen.base.images, cache, own.published / PART, progress)
    progress("writing the record")
    kept = {f"{KEPT}{name}": data for name, data in _sent(own, computed, request).items()}
    content = {REGISTER: numbers, RECORD_FILE: packed(members | kept)}
    latest = schedules_of(proposal)
    revision = computed.project.brief.revision
    manifest = Manifest(
        revision=revision.identity,
        date=revision.date,
        purpose=revision.purpose,
        named=request.named,
        with_errors=mark.with_errors,
        project=proposal.document.cover.name,
        language=proposal.document.cover.locale,
        parents={one.manifest.revision: digest_of((one.folder / MANIFEST).read_bytes()) for one in ends},
        versions=versions(),
        digest=digest,
        record={path: digest_of(data) for path, data in content.items()},
        latest=record_digest(latest),
    )
    part = own.issued / PART
    write_all(part, content | {MANIFEST: manifest_text(manifest)})
    settle(part)
    published = Published(
        digest=digest, commit=commit.name, clean=commit.clean, versions=manifest.versions, files=files
    )
    return Frozen(manifest, published, latest)


def _read_again(
    own: OwnFolders, folder: Path, source: ProjectSource, request: IssueRequest
) -> tuple[ProjectSource, Mapping[str, bytes]]:
    """Return what makes the project from its frozen inputs alone, and these by their paths in a record."""
    part = own.issued / PART
    inputs = frozen_inputs(folder, request.library)
    inputs[REGISTER_BEFORE] = register_text(source.base.issued).encode("utf-8")
    write_all(part, inputs)
    frozen = frozen_source(part.path, f"{ISSUED}/{PART}", request.named)
    remove(part)
    return frozen, inputs


def _earlier(ends: Sequence[Record], inputs: Mapping[str, bytes]) -> Earlier | None:
    """Return the issue that a revision is compared with: the last of those that it follows.

    ends: those, in the order of issue.  inputs: of the revision, by their path in its record.
    """
    if not ends:
        return None
    return Earlier(
        before=record_state(ends[-1].folder, ends[-1].manifest.revision),
        files=files_in(inputs, INPUTS),
        library=files_in(inputs, LIBRARY),
        received=received_until([one.folder for one in ends]),
    )


def _sent(own: OwnFolders, computed: Computed, request: IssueRequest) -> Mapping[str, bytes]:
    """Return what the client is sent, where it is to be kept: the site with its downloads, as one archive."""
    if not request.keep:
        return {}
    site = (own.published / PART / "client").path
    files = {path: file.read_bytes() for path, file in files_below(site).items()}
    return {f"client-{computed.project.brief.revision.identity}.zip": archive(files)}
