"""The computed document of an edition as JSON, and its schema."""

import datetime
import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from proposal.document.document import Document
from proposal.document.figures import settled_figure
from proposal.document.readers import READERS, Reader, Shown
from proposal.document.schedule import columns_of, parts_of
from proposal.editions import Edition, readers_of


def document_json(edition: Edition) -> bytes:
    """Return an edition's document as JSON, one value a line, without the fields its reader may not see.

    edition: the document as one reader may see it.
    Numbers are in SI units, money is text with its decimals, dates are ISO 8601.
    """
    content = _plain(edition.document, edition.reader)
    return (json.dumps(content, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")


def document_schema() -> dict[str, Any]:
    """Return the JSON Schema of the whole document; `readers` of each field says who sees it."""
    schema: dict[str, Any] = Document.model_json_schema(mode="serialization")
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    for part in parts_of(Document):
        named = schema if part is Document else schema["$defs"].get(part.__name__)
        if named is None:
            continue
        for field, column in columns_of(part).items():
            if column.composed:
                continue
            shows = column.shows
            named["properties"][field] |= {
                "readers": [reader for reader in READERS if reader in shows.readers],
                "quantity": shows.quantity,
            }
    return schema


def _plain(value: Any, reader: Reader) -> Any:
    """Return a value as JSON has it, parts without the fields that are not the reader's."""
    if isinstance(value, Shown):
        allowed = readers_of(type(value))
        return {
            name: _plain(getattr(value, name), reader)
            for name in type(value).model_fields
            if reader in allowed[name]
        }
    if isinstance(value, tuple | list):
        return [_plain(item, reader) for item in value]
    if isinstance(value, Mapping):
        return {str(key): _plain(item, reader) for key, item in value.items()}
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, float):
        rounded = settled_figure(value)
        return int(rounded) if rounded == int(rounded) and abs(rounded) < 1e15 else rounded
    return value
