"""The Markdown of pages, kept from one build to the next.

Beside each page stands what it read of the edition (`proposal/pages/page_reads.py`) with the digest of it: a
page of which nothing of this has changed, and which is given nothing else, is not written again.
"""

import hashlib
import json
import zlib
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from proposal.pages.page_reads import Name
from proposal.publish.cache import Cache
from proposal.publish.program_version import installation, program

if TYPE_CHECKING:
    from proposal.pages.site_pages import PlannedPages

_QUICK = 1  # of the levels of compression


def written_pages(planned: "PlannedPages", cache: Cache) -> dict[str, str]:
    """Return the Markdown of every page of an edition by its path.

    planned: the pages before they are written.
    cache: keeps them.
    """
    key = hashlib.sha256(
        json.dumps(["pages", planned.reads.edition.reader, program(), installation()]).encode("ascii")
    ).hexdigest()
    held = _read(cache.found(key))
    pages: dict[str, str] = {}
    kept: dict[str, object] = {}
    for path in planned.views:
        basis = _basis(planned, path)
        known = None if basis is None else _known(planned, basis, held.get(path))
        if known is not None:
            kept[path], pages[path] = held[path], known
            continue
        pages[path], names = planned.page_and_reads(path)
        digest = None if basis is None else _digest(planned, names)
        if digest is not None:
            kept[path] = {"basis": basis, "reads": sorted(names), "digest": digest, "page": pages[path]}
    if any(kept[path] is not held.get(path) for path in kept) or kept.keys() != held.keys():
        cache.keep(key, zlib.compress(json.dumps(kept).encode("ascii"), _QUICK))
    return pages


def _basis(planned: "PlannedPages", path: str) -> str | None:
    try:
        return planned.basis(path)
    except TypeError:
        return None


def _known(planned: "PlannedPages", basis: str, held: Any) -> str | None:
    """Return a page as it was written before, None where it has to be written anew."""
    try:
        names = [tuple(name) for name in held["reads"]]
        same = held["basis"] == basis and held["digest"] == _digest(planned, names)
        page = held["page"] if same else None
    except (LookupError, TypeError):
        return None
    return page if isinstance(page, str) else None


def _digest(planned: "PlannedPages", names: "frozenset[Name] | list[tuple[str, ...]]") -> str | None:
    """Return the digest of all that was read, by its names; None where part of it has none."""
    told = hashlib.sha256()
    try:
        for name in sorted(names):
            told.update(json.dumps([*name, planned.reads.digest(name)]).encode("ascii"))
    except TypeError:
        return None
    return told.hexdigest()


def _read(content: bytes | None) -> Mapping[str, Any]:
    """Return what is kept of pages by their paths; nothing where it cannot be read."""
    try:
        held = {} if content is None else json.loads(zlib.decompress(content))
    except (ValueError, zlib.error):
        return {}
    return held if isinstance(held, dict) else {}
