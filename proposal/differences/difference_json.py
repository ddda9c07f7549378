"""A difference as plain values for JSON, and a difference read from them."""

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from pydantic import TypeAdapter

from proposal.differences.difference import (
    ABSENT,
    Addition,
    Change,
    Difference,
    OrderChange,
    Path,
    Removal,
)
from proposal.differences.places import kind_at, quantities_at
from proposal.document.readers import Shown


def plain_difference(difference: Difference) -> dict[str, Any]:
    """Return a difference as JSON has it.

    What stands in an added or removed row at its default is left out; so is the value of a key that is not
    there. Numbers are in SI, money is text, dates are ISO 8601; what a changed field holds stands beside it.
    """
    return {
        "additions": [_row(one) for one in difference.additions],
        "removals": [_row(one) for one in difference.removals],
        "changes": [_change(one) for one in difference.changes],
        "reordered": [
            {"path": _path(one.path), "before": _keys(one.before), "after": _keys(one.after)}
            for one in difference.reordered
        ],
        "renumbered": [_change(one) for one in difference.renumbered],
    }


def _row(one: Addition | Removal) -> dict[str, Any]:
    return {"path": _path(one.path), "index": one.index, "row": plain_value(one.row)}


def _change(one: Change) -> dict[str, Any]:
    found: dict[str, Any] = {"path": _path(one.path), "quantities": list(quantities_at(one.path))}
    if one.before is not ABSENT:
        found["before"] = plain_value(one.before)
    if one.after is not ABSENT:
        found["after"] = plain_value(one.after)
    return found


def _path(path: Path) -> list[str | list[str]]:
    return [list(step) if isinstance(step, tuple) else step for step in path]


def _keys(keys: tuple[tuple[str, ...], ...]) -> list[list[str]]:
    return [list(key) for key in keys]


def plain_value(value: Any) -> Any:
    """Return a value of a document as JSON has it."""
    if isinstance(value, Shown):
        return {
            name: plain_value(getattr(value, name))
            for name, field in type(value).model_fields.items()
            if field.is_required() or getattr(value, name) != field.get_default(call_default_factory=True)
        }
    if isinstance(value, tuple | list):
        return [plain_value(item) for item in value]
    if isinstance(value, Mapping):
        return {str(key): plain_value(item) for key, item in value.items()}
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, datetime.date):
        return value.isoformat()
    return value


def difference_of(plain: Mapping[str, Any]) -> Difference:
    """Return the difference that plain values hold.

    plain: as `plain_difference` returns it.
    Raises ValueError where it is none of documents of this program's layout.
    """
    try:
        return Difference(
            additions=tuple(
                Addition(_path_of(one["path"]), _row_of(one), one["index"]) for one in plain["additions"]
            ),
            removals=tuple(
                Removal(_path_of(one["path"]), _row_of(one), one["index"]) for one in plain["removals"]
            ),
            changes=tuple(_change_of(one) for one in plain["changes"]),
            reordered=tuple(
                OrderChange(
                    _path_of(one["path"]),
                    tuple(tuple(key) for key in one["before"]),
                    tuple(tuple(key) for key in one["after"]),
                )
                for one in plain["reordered"]
            ),
            renumbered=tuple(_change_of(one) for one in plain["renumbered"]),
        )
    except (KeyError, TypeError, AttributeError) as error:
        raise ValueError(f"wanted a difference of two documents; found a fault: {error}") from error


def _path_of(path: list[str | list[str]]) -> Path:
    return tuple(tuple(step) if isinstance(step, list) else step for step in path)


def _row_of(one: Mapping[str, Any]) -> Any:
    return TypeAdapter(kind_at(_path_of(one["path"]))).validate_python(one["row"])


def _change_of(one: Mapping[str, Any]) -> Change:
    path = _path_of(one["path"])
    kind: TypeAdapter[Any] = TypeAdapter(kind_at(path))
    before, after = (
        kind.validate_python(one[side]) if side in one else ABSENT for side in ("before", "after")
    )
    return Change(path, before, after)
