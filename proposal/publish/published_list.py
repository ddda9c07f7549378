"""What is published of each revision: `published/published.json`, outside the records and their digests.

It holds the digest of every published file, what made them, and the commit that the revision was issued from.
Nothing of it is needed to make anything again: where it is lost, everything is.
"""

import dataclasses
import json
from collections.abc import Mapping
from dataclasses import field
from functools import lru_cache

from pydantic import TypeAdapter, ValidationError

from proposal.errors import InputError
from proposal.field_classes import dataclass
from proposal.publish.manifest import Manifest
from proposal.publish.program_folders import OwnPath
from proposal.publish.revision_names import is_revision_name

PUBLISHED_LIST = "published.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """What is published of one revision.

    digest: of its record.
    commit: of git that it was issued from, empty where that is not known.
    clean: whether the work tree of the project was as in that commit; None where that is not known.
    versions: of everything that made the files.
    files: digest of each, by its path in the published folder.
    """

    digest: str
    commit: str = ""
    clean: bool | None = None
    versions: Mapping[str, str] = field(default_factory=dict)
    files: Mapping[str, str] = field(default_factory=dict)


def published_text(listed: Mapping[str, Published]) -> bytes:
    """Return the list as its file holds it.

    listed: what is published of each revision.
    """
    content = {}
    for name in sorted(listed):
        told = dataclasses.asdict(listed[name])
        content[name] = told | {key: dict(sorted(told[key].items())) for key in ("versions", "files")}
    return (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def published_list(published: OwnPath) -> Mapping[str, Published] | None:
    """Return what is published of each revision, None where the list is not there or not as it was written.

    published: the folder.
    """
    try:
        data = (published / PUBLISHED_LIST).read()
        listed = None if data is None else _form().validate_json(data, strict=True)
    except (InputError, ValidationError):
        return None
    if listed is None or published_text(listed) != data or not all(map(is_revision_name, listed)):
        return None
    return listed


def files_published(manifest: Manifest, listed: Mapping[str, Published]) -> Mapping[str, str] | None:
    """Return the digests of what is published of a revision by path, None where nobody knows them.

    listed: what the list says; a record of a layout that kept them itself stands in for it.
    """
    one = listed.get(manifest.revision)
    if one is not None and one.digest == manifest.digest:
        return one.files
    return manifest.published or None


@lru_cache(maxsize=1)
def _form() -> TypeAdapter[dict[str, Published]]:
    return TypeAdapter(dict[str, Published])
