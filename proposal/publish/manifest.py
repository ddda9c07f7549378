"""The manifest of an issued record: what was issued, by what, and the digest of every file."""

import dataclasses
import datetime
import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from proposal.errors import InputError, Place, Problem
from proposal.model.issued import MANIFEST, read_object
from proposal.publish.revision_names import is_revision_name

FORMAT = 1
_DIGEST = "sha256"


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """What `manifest.json` of an issued record says.

    sequence: which issue of the project it is, from 1.
    revision, date, purpose: as issued.
    named: what the call named otherwise than project.yaml: `revision`, `purpose`.
    with_errors: why it was issued with error findings that nobody accepted; empty where there were none.
    project: its name.  language: of the pages, two or three letters.
    previous: the revision issued before, empty for the first.  previous_digest: of that one's manifest.
    versions: of everything it was made with.
    pages: for each edition, the file of the record that holds each page.
    drawings: for each edition, the file of the record that holds each sheet.
    record: digest of every file of the record but the manifest.
    published: digest of every file in `published/` that the record makes again.
    """

    sequence: int
    revision: str
    date: datetime.date
    purpose: str
    named: Mapping[str, str] = field(default_factory=dict)
    with_errors: str = ""
    project: str
    language: str
    previous: str = ""
    previous_digest: str = ""
    versions: Mapping[str, str]
    pages: Mapping[str, Mapping[str, str]]
    drawings: Mapping[str, Mapping[str, str]]
    record: Mapping[str, str]
    published: Mapping[str, str]


def digest_of(content: bytes) -> str:
    """Return the SHA-256 of a content, in hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def manifest_text(manifest: Manifest) -> bytes:
    """Return a manifest as its file holds it: a fact a line, in order, with a digest of all others."""
    content = _content(manifest)
    content[_DIGEST] = digest_of(_json(content))
    return _json(content)


def _content(manifest: Manifest) -> dict[str, Any]:
    content: dict[str, Any] = {"format": FORMAT}
    for one in dataclasses.fields(manifest):
        value = getattr(manifest, one.name)
        content[one.name] = value.isoformat() if isinstance(value, datetime.date) else _sorted(value)
    return content


def _sorted(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _sorted(value[key]) for key in sorted(value)}
    return value


def _json(content: Mapping[str, Any]) -> bytes:
    return (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def read_manifest(data: bytes, folder: str) -> Manifest:
    """Return the manifest that a file holds.

    data: what the file holds.
    folder: the record's, as a project names it, such as `issued/B`.
    Raises InputError where it is not what this program writes, or was altered.
    """
    file = f"{folder}/{MANIFEST}"
    problems: list[Problem] = []
    found = read_object(data, file, problems)
    if found is None:
        raise InputError(problems)
    if found.get("format") != FORMAT:
        message = f"wanted {FORMAT}, which this program reads; found {found.get('format')!r}"
        raise InputError([Problem(Place(file), "format", message)])
    try:
        manifest = _form().validate_json(data, strict=True)
    except ValidationError:
        manifest = None
    if manifest is None or manifest_text(manifest) != data or not _is_named(manifest):
        message = "wanted the manifest as it was issued; found one that was altered"
        raise InputError([Problem(Place(file), "", message)])
    return manifest


@lru_cache(maxsize=1)
def _form() -> TypeAdapter[Manifest]:
    return TypeAdapter(Manifest)


def _is_named(manifest: Manifest) -> bool:
    """Say whether a manifest names revisions alone where it names folders."""
    return is_revision_name(manifest.revision) and (
        not manifest.previous or is_revision_name(manifest.previous)
    )
