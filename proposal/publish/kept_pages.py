"""The Markdown of pages, kept from one build to the next.

Beside each page stands what it read of the edition (`proposal/pages/page_reads.py`) with the digest of it: a
page of which nothing of this has changed, and which is given nothing else, is not written again.
"""

from typing import TYPE_CHECKING, Any

from proposal.publish.cache import Cache
from proposal.publish.kept_reads import digest_of, held_under, keep_under, kept_for, names_in

if TYPE_CHECKING:
    from proposal.pages.site_pages import PlannedPages


def written_pages(planned: "PlannedPages", cache: Cache) -> dict[str, str]:
    """Return the Markdown of every page of an edition by its path.

    planned: the pages before they are written.
    cache: keeps them.
    """
    key = kept_for("pages", planned.reads.edition.reader)
    held = held_under(key, cache)
    pages: dict[str, str] = {}
    kept: dict[str, object] = {}
    for path in planned.views:
        basis = _basis(planned, path)
        known = None if basis is None else _known(planned, basis, held.get(path))
        if known is not None:
            kept[path], pages[path] = held[path], known
            continue
        pages[path], names = planned.page_and_reads(path)
        digest = None if basis is None else digest_of(planned.reads, names)
        if digest is not None:
            kept[path] = {"basis": basis, "reads": sorted(names), "digest": digest, "page": pages[path]}
    keep_under(key, kept, held, cache)
    return pages


def _basis(planned: "PlannedPages", path: str) -> str | None:
    try:
        return planned.basis(path)
    except TypeError:
        return None


def _known(planned: "PlannedPages", basis: str, held: Any) -> str | None:
    """Return a page as it was written before, None where it has to be written anew."""
    try:
        same = held["basis"] == basis and held["digest"] == digest_of(planned.reads, names_in(held))
        page = held["page"] if same else None
    except (LookupError, TypeError):
        return None
    return page if isinstance(page, str) else None
