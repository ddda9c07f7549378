"""What was made of an edition, kept beside the names of what it read, and the digest of that."""

import hashlib
import json
import zlib
from collections.abc import Iterable, Mapping
from typing import Any

from proposal.document.readers import Reader
from proposal.pages.page_reads import Name, Reads
from proposal.publish.cache import Cache
from proposal.publish.program_version import installation, program

_QUICK = 1  # of the levels of compression


def kept_for(subject: str, reader: Reader) -> str:
    """Return the key under which all of a subject is kept for a reader.

    subject: such as `pages`.
    """
    told = json.dumps([subject, reader, program(), installation()])
    return hashlib.sha256(told.encode("ascii")).hexdigest()


def held_under(key: str, cache: Cache) -> Mapping[str, Any]:
    """Return what is kept under a key, by its names; nothing where it cannot be read.

    cache: which keeps it.
    """
    content = cache.found(key)
    try:
        held = {} if content is None else json.loads(zlib.decompress(content))
    except (ValueError, zlib.error):
        return {}
    return held if isinstance(held, dict) else {}


def keep_under(key: str, kept: Mapping[str, object], held: Mapping[str, object], cache: Cache) -> None:
    """Keep something under a key by its names, where it is not what is kept there already.

    key: under which.  held: what is kept there.  cache: which keeps it.
    """
    if any(kept[name] is not held.get(name) for name in kept) or kept.keys() != held.keys():
        cache.keep(key, zlib.compress(json.dumps(kept).encode("ascii"), _QUICK))


def digest_of(reads: Reads, names: Iterable[Name]) -> str | None:
    """Return the digest of all that was read, by its names; None where part of it has none.

    reads: of the edition.
    """
    told = hashlib.sha256()
    try:
        for name in sorted(names):
            told.update(json.dumps([*name, reads.digest(name)]).encode("ascii"))
    except TypeError:
        return None
    return told.hexdigest()


def names_in(held: Mapping[str, Any]) -> list[Name]:
    """Return the names of what was read, as they are kept.

    held: of one thing.
    Raises LookupError or TypeError where they are not.
    """
    return [tuple(name) for name in held["reads"]]
