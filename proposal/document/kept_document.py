"""The document and the whole proposal as a record keeps them, and those that were kept."""

import datetime
import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from pydantic import ValidationError

from proposal.document.document import Document
from proposal.document.figures import settled_figure
from proposal.document.readers import Shown
from proposal.document.rooms_and_equipment import SCHEMA_VERSION
from proposal.document.whole_proposal import Proposal


def stored(document: Document) -> bytes:
    """Return a whole document as JSON: a row a line where it is short, the same bytes for equal documents.

    What stands at its default is left out. Figures are settled, as in an edition's JSON.
    """
    return (_written(_plain(document), 0) + "\n").encode("utf-8")


def restored(data: bytes) -> Document:
    """Return the document that JSON of `stored` holds.

    data: JSON.
    Raises ValueError where it is none, or of a layout that this program does not read.
    """
    found = json.loads(data, parse_float=float)
    version = found.get("schema_version") if isinstance(found, dict) else None
    if version != SCHEMA_VERSION:
        raise ValueError(f"wanted a document of schema_version {SCHEMA_VERSION}; found {version!r}")
    try:
        return Document.model_validate_json(data)
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise ValueError(f"wanted a document; found a fault at {where}: {first['msg']}") from error


def stored_offer(proposal: Proposal) -> bytes:
    """Return what a proposal offers beside its base as JSON: alternates, combinations, what moves the price.

    It is written as `stored` writes a document.
    """
    found: dict[str, Any] = _plain(proposal)
    del found["document"]
    return (_written(found, 0) + "\n").encode("utf-8")


def restored_proposal(document: bytes, offer: bytes, base: Document) -> Proposal:
    """Return the proposal that JSON of `stored` and of `stored_offer` holds.

    offer: JSON of `stored_offer`.
    base: the document that the first of them holds.
    Raises ValueError where it is none, or of a layout that this program does not read.
    """
    found = json.loads(offer, parse_float=float)
    if not isinstance(found, dict) or "document" in found:
        raise ValueError("wanted what a proposal offers beside its base; found something else")
    # The base is put in again after the rest was looked at, so that it is read once.
    whole = json.dumps({**found, "document": json.loads(document)}, ensure_ascii=False)
    try:
        read = Proposal.model_validate_json(whole)
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise ValueError(f"wanted a proposal; found a fault at {where}: {first['msg']}") from error
    return read.model_copy(update={"document": base})


def _plain(value: Any) -> Any:
    if isinstance(value, Shown):
        return {
            name: _plain(getattr(value, name))
            for name, field in type(value).model_fields.items()
            if name == "schema_version"
            or field.is_required()
            or getattr(value, name) != field.get_default(call_default_factory=True)
        }
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, float):
        rounded = settled_figure(value)
        return int(rounded) if rounded == int(rounded) and abs(rounded) < 1e15 else rounded
    return value


_LONGEST = 300
_on_one_line = json.JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode


def _written(value: Any, depth: int) -> str:
    """Return JSON in which what fits on a line stands on one."""
    line = _on_one_line(value)
    if not isinstance(value, dict | list) or not value or len(line) + depth <= _LONGEST:
        return line
    pad, end = "\n" + " " * (depth + 1), "\n" + " " * depth
    if isinstance(value, list):
        return "[" + pad + f",{pad}".join(_written(item, depth + 1) for item in value) + end + "]"
    entries = (f"{_on_one_line(key)}:{_written(item, depth + 1)}" for key, item in value.items())
    return "{" + pad + f",{pad}".join(entries) + end + "}"
