"""What pydantic found wrong, in our own words and with the place in the file."""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from proposal.errors import Place, Problem
from proposal.model.reading.fields import Wanted, in_words, wanted_at, wanted_of_key, without_tags
from proposal.model.reading.removed_keys import removed
from proposal.model.reading.tree import Node, Path, place_of
from proposal.quantities.messages import shape, shown, wanted_one_of
from proposal.quantities.units import Kind


def problems_of(
    error: ValidationError,
    annotation: Any,
    node: Node,
    unknown: Mapping[Path, Place],
    field_name: Callable[[Path, Place], str],
    above: Path = (),
) -> list[Problem]:
    """Return everything that a validation found wrong.

    error: what pydantic raised.
    annotation: the type it validated.
    node: the tree it validated.
    unknown: where the files say `unknown`, by path from the top.
    field_name: how a field is named in messages, given its path from the top and its place.
    above: path from the top to the node.
    """
    return [
        _problem(details, annotation, node, unknown, field_name, above)
        for details in error.errors(include_url=False)
        if not _entries_alone(details)
    ]


def _entries_alone(details: ErrorDetails) -> bool:
    """Return whether a list is called too short for entries alone that are wrong, each of which is told."""
    least = details.get("ctx", {}).get("min_length", 0)
    return details["type"] == "too_short" and len(details["input"]) >= least > 0


def _problem(
    details: ErrorDetails,
    annotation: Any,
    node: Node,
    unknown: Mapping[Path, Place],
    field_name: Callable[[Path, Place], str],
    above: Path,
) -> Problem:
    tagged: Path = details["loc"]
    path = without_tags(annotation, tagged)
    if path and path[-1] == "[key]":
        path = path[:-1]
        place = place_of(node, path, key=True)
        key_wanted = wanted_of_key(annotation, path[:-1])
        message = _message(details, key_wanted, _found(path[-1]))
        return Problem(place, field_name((*above, *path[:-1]), place), message)
    wanted = wanted_at(annotation, tagged)
    if details["type"] == "extra_forbidden":
        place = place_of(node, path, key=True)
        holder = wanted_at(annotation, tagged[:-1])
        message = _unknown_key(str(path[-1]), holder)
        return Problem(place, field_name((*above, *path[:-1]), place), message)
    place = place_of(node, path)
    if details["type"] == "missing":
        whole = (*above, *path)
        if whole in unknown:
            place = unknown[whole]
            message = f"wanted {in_words(wanted)}; found unknown (this field has no default)"
        else:
            message = f"wanted {in_words(wanted)}; found {_nothing(place)}"
        return Problem(place, field_name(whole, place), message)
    message = _message(details, wanted, _found(details["input"]))
    return Problem(place, field_name((*above, *path), place), message)


def _unknown_key(key: str, holder: Wanted | None) -> str:
    """Return what is said of a key that a model does not have, though it may have had it once."""
    model = holder.annotation if holder else None
    if isinstance(model, type) and issubclass(model, BaseModel) and (advice := removed(model, key)):
        return f"wanted no {key} any more, {advice}; found {key}"
    if _AFTER_A_COMMA.fullmatch(key):
        return f"wanted a decimal point, since a comma in braces parts entries; found {shown(key)} after one"
    return wanted_one_of(key, holder.names if holder else ())


_AFTER_A_COMMA = re.compile(r"[0-9]+(?:\s*\S{1,6})?")
"""What stands behind a decimal comma where YAML takes it for the end of a value."""


def _nothing(place: Place) -> str:
    """Return what a missing value is called: in a table it is a cell or a whole column."""
    if place.file.endswith(".csv"):
        return "an empty cell" if place.line > 1 else "no such column"
    return "nothing"


def _found(value: object) -> str:
    return shown(value) if isinstance(value, str) else shape(value)


def _message(details: ErrorDetails, wanted: Wanted | None, found: str) -> str:
    """Return `wanted …; found …` for an error about a value that is there."""
    kind, context = details["type"], details.get("ctx", {})
    if kind == "wanted":
        return details["msg"]
    if kind == "literal_error" and wanted and wanted.choices:
        return wanted_one_of(_written(details, found), wanted.choices)
    if kind in _LIMITS:
        words, name = _LIMITS[kind]
        return f"wanted {words} {_limit(context[name], wanted)}; found {found}"
    if kind in ("too_short", "too_long"):
        least = kind == "too_short"
        count = context["min_length" if least else "max_length"]
        entries = "entry" if count == 1 else "entries"
        actual = len(details["input"]) or "none"
        return f"wanted at {'least' if least else 'most'} {count} {entries}; found {actual}"
    if kind == "string_too_short" and context["min_length"] > 1:
        return f"wanted a text of at least {context['min_length']} characters; found {found}"
    if kind == "string_too_long":
        return f"wanted a text of at most {context['max_length']} characters; found {found}"
    if kind == "string_pattern_mismatch":
        return f"wanted {_described(wanted, context['pattern'])}; found {found}"
    if kind == "value_error":
        return f"{details['msg'].removeprefix('Value error, ')}; found {found}"
    if wanted and wanted.annotation in (float, Decimal) and not wanted.kind and _COMMA.fullmatch(found):
        return f"wanted a number with a decimal point and no comma, such as 1.5; found {found}"
    return f"wanted {in_words(wanted, details['input'])}; found {found}"


_COMMA = re.compile(r"[+-]?[0-9]+,[0-9]+")


def _written(details: ErrorDetails, found: str) -> str:
    value = details["input"]
    return value if isinstance(value, str) else found


_LIMITS = {
    "greater_than": ("more than", "gt"),
    "greater_than_equal": ("at least", "ge"),
    "less_than": ("less than", "lt"),
    "less_than_equal": ("at most", "le"),
}


def _limit(limit: Any, wanted: Wanted | None) -> str:
    """Return a limit as a person would write it, with its unit."""
    kind: Kind | None = wanted.kind if wanted else None
    if kind is None:
        return str(limit)
    if kind.unit == "1":
        return f"{float(limit) * 100:g} %"
    return f"{float(limit):g} {kind.unit}"


def _described(wanted: Wanted | None, pattern: str) -> str:
    """Return what a text has to look like: the field's own words, or its pattern."""
    description = wanted.field.description if wanted and wanted.field else None
    if description and (such := re.search(r"such as [^.;]+", description)):
        return f"a text {such[0]}"
    if wanted and wanted.examples:
        return f"a text such as {' or '.join(wanted.examples)}"
    return f"a text of the form {pattern}"


def dotted(path: Path, place: Place) -> str:
    """Return a field's name as all keys that lead to it."""
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in path)
