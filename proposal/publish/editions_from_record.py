"""A revision's sites and files made from the figures of its record alone; nothing is computed.

Under the versions that made it, it is the same bytes. Under others every page says that it was made again.
"""

from collections.abc import Callable, Mapping

from proposal.document.readers import READERS, Reader
from proposal.document.whole_proposal import Proposal
from proposal.editions import Edition
from proposal.publish.cache import Cache
from proposal.publish.compared_states import record_state
from proposal.publish.earlier_issue import Earlier
from proposal.publish.program_folders import OwnPath
from proposal.publish.proposal_site import Mark, marked_edition, proposal_editions
from proposal.publish.published_editions import versions, write_artifacts
from proposal.publish.published_list import Published
from proposal.publish.record import INPUTS, LIBRARY, Record, files_in, proposal_in

SHORTEST_DIGEST = 32
"""How many digits of a record's digest are shown, and are the fewest that stand for it."""
_IMAGES = "inputs/images"


def shown_mark(mark: Mark, digest: str, rebuilt: str = "") -> Mark:
    """Return a mark that tells of a record.

    digest: of the record.  rebuilt: what made it again, and before, where other versions did.
    """
    shown = digest[:SHORTEST_DIGEST]
    groups = " ".join(shown[start : start + 8] for start in range(0, len(shown), 8))
    return Mark(draft=mark.draft, with_errors=mark.with_errors, digest=groups, rebuilt=rebuilt)


def editions_shown(
    proposal: Proposal, earlier: Earlier | None, mark: Mark, progress: Callable[[str], None]
) -> Mapping[Reader, Edition]:
    """Return the editions of a record's proposal as they are published.

    progress: told in a few words what is being done.
    proposal: as the record holds it.
    earlier: the issue that it is compared with; None for the first.
    mark: what every page says of it.
    """
    editions = proposal_editions(proposal, READERS, progress, earlier)
    return {reader: marked_edition(edition, mark) for reader, edition in editions.items()}


def remade(
    record: Record, before: Record | None, folder: OwnPath, cache: Cache, progress: Callable[[str], None]
) -> Published:
    """Write what is published of a record once more, and return what it is.

    progress: told in a few words what is being done.
    before: the one that it is compared with, if any.
    folder: where to write.
    Raises InputError where a record cannot be read.
    """
    held = record.contents()
    proposal = proposal_in(held, record.name)
    earlier = None
    if before is not None:
        earlier = Earlier(
            before=record_state(before.folder, before.manifest.revision),
            files=files_in(held, INPUTS),
            library=files_in(held, LIBRARY),
            received=(),
        )
    now = versions()
    mark = shown_mark(
        Mark(with_errors=record.manifest.with_errors),
        record.digest(),
        other_versions(record.manifest.versions, now),
    )
    files = write_artifacts(
        editions_shown(proposal, earlier, mark, progress), files_in(held, _IMAGES), cache, folder, progress
    )
    return Published(digest=record.manifest.digest, versions=now, files=files)


def other_versions(then: Mapping[str, str], now: Mapping[str, str]) -> str:
    """Return in words which versions make a revision now and which made it; empty where they are the same.

    then, now: versions by name.
    """
    return ", ".join(
        f"{name} {now.get(name, 'none')} (issued with {then.get(name, 'none')})"
        for name in sorted({*then, *now})
        if then.get(name) != now.get(name)
    )
