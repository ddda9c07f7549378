"""The manifest of an issued record: what was issued, by what, after what, and the digest of every file."""

import dataclasses
import datetime
import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import field
from functools import lru_cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.model.issued import LAYOUT, MANIFEST, layout_of, read_object
from proposal.publish.record_layouts import Held, in_layout
from proposal.publish.revision_names import is_revision_name

_DIGEST = "sha256"


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """What `manifest.json` of an issued record says, in the layout of this program.

    layout: how records are laid out.
    revision, date, purpose: as issued.
    named: what the call named otherwise than project.yaml: `revision`, `purpose`.
    with_errors: why it was issued with error findings that nobody accepted; empty where there were none.
    project: its name.  language: of the pages, as a locale such as en_US; two or three letters
        in records of earlier programs.
    parents: the revisions that it follows, each with the digest of its manifest; none for the first, two
        where branches that both issued were merged.
    versions: of everything it was made with.
    digest: of the record (`record_digest`); empty where it was written in a layout that had none.
    record: digest of every file of the record but the manifest, as they lie there.
    latest: digest of the schedules in `issued/latest/` as they were written with this revision, of a list of
        them as the record's is; empty where the record's layout had none.
    published: digest of every published file, where the record's layout kept them.
    """

    layout: int = LAYOUT
    revision: str
    date: datetime.date
    purpose: str
    named: Mapping[str, str] = field(default_factory=dict)
    with_errors: str = ""
    project: str
    language: str
    parents: Mapping[str, str] = field(default_factory=dict)
    versions: Mapping[str, str]
    digest: str
    record: Mapping[str, str]
    latest: str = ""
    published: Mapping[str, str] = field(default_factory=dict)


def digest_of(content: bytes) -> str:
    """Return the SHA-256 of a content, in hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def manifest_text(manifest: Manifest) -> bytes:
    """Return a manifest as its file holds it: a fact a line, in order, with a digest of all others."""
    return _with_digest(_content(manifest), _a_fact_a_line)


def _content(manifest: Manifest) -> dict[str, Any]:
    content: dict[str, Any] = {}
    for one in dataclasses.fields(manifest):
        value = getattr(manifest, one.name)
        if one.name != "published":
            content[one.name] = value.isoformat() if isinstance(value, datetime.date) else _sorted(value)
    return content


def _sorted(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _sorted(value[key]) for key in sorted(value)}
    return value


def _with_digest(content: Mapping[str, Any], written: Callable[[Mapping[str, Any]], bytes]) -> bytes:
    told = {key: value for key, value in content.items() if key != _DIGEST}
    return written({**told, _DIGEST: digest_of(written(told))})


def _a_fact_a_line(content: Mapping[str, Any]) -> bytes:
    lines = (f"{_plain(key)}: {_plain(value)}" for key, value in content.items())
    return ("{\n " + ",\n ".join(lines) + "\n}\n").encode("utf-8")


def _plain(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def _an_entry_a_line(content: Mapping[str, Any]) -> bytes:
    return (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


_WRITTEN: Mapping[int, Callable[[Mapping[str, Any]], bytes]] = {1: _an_entry_a_line}
"""How manifests of earlier layouts were written, where that was otherwise."""


def read_manifest(data: bytes, folder: str) -> tuple[Manifest, int]:
    """Return the manifest that a file holds, in the layout of this program, and the layout it is written in.

    data: what the file holds.
    folder: the record's, as a project names it, such as `issued/B`.
    Raises InputError where it is not what this program or one before it writes, or was altered.
    """
    file = f"{folder}/{MANIFEST}"
    problems: list[Problem] = []
    found = read_object(data, file, problems)
    if found is None:
        raise InputError(problems)
    layout = layout_of(found)
    if layout is None:
        message = f"wanted 1 to {LAYOUT}, which this program reads; found {found.get('layout')!r}"
        raise InputError([Problem(Place(file), "layout", message)])
    manifest = _manifest(found) if _as_written(found, layout, data) else None
    if manifest is None or (layout == LAYOUT and manifest_text(manifest) != data):
        message = "wanted the manifest as it was issued; found one that was altered"
        raise InputError([Problem(Place(file), "", message)])
    return manifest, layout


def _as_written(found: Mapping[str, Any], layout: int, data: bytes) -> bool:
    """Say whether a manifest is as a program wrote it, in whatever layout."""
    try:
        return _with_digest(found, _WRITTEN.get(layout, _a_fact_a_line)) == data
    except (UnicodeEncodeError, RecursionError):
        return False


def _manifest(found: Mapping[str, Any]) -> Manifest | None:
    """Return what a manifest of any layout says, None where it does not have its form."""
    told = {key: value for key, value in found.items() if key != _DIGEST}
    try:
        read = _form().validate_json(_a_fact_a_line(in_layout(Held(told, {})).manifest), strict=True)
    except (ValidationError, KeyError, TypeError, ValueError):
        return None
    return read if _is_named(read) else None


@lru_cache(maxsize=1)
def _form() -> TypeAdapter[Manifest]:
    return TypeAdapter(Manifest)


def _is_named(manifest: Manifest) -> bool:
    """Say whether a manifest names revisions alone where it names folders."""
    return all(is_revision_name(name) for name in (manifest.revision, *manifest.parents))
