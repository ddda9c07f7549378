"""What a kind of file may hold as a list to read: a line a field, with its form, default and use."""

import json
from collections.abc import Iterator, Mapping
from typing import Any

Schema = Mapping[str, Any]

_INDENT = "  "
_PLAIN = {
    "string": "text",
    "integer": "whole number",
    "number": "number",
}
_REQUIRED = "has to be written"
_ANY_NAME = "<name>"
_UNKNOWN = "unknown"


def schema_in_words(schema: Schema) -> Iterator[str]:
    """Yield the lines of a list of all fields of a kind of file, what is inside a field under it.

    schema: JSON Schema of the kind, as `schema_of` returns it.
    A part that stands in several places is listed where it comes first.
    """
    yield str(schema["title"])
    if "description" in schema:
        yield str(schema["description"])
    if '"null"' in json.dumps(schema):
        yield "null takes away what a room type, the project or a library below has."
    else:
        yield "What need not be written may be unknown, too: its default counts, and the proposal asks."
    yield ""
    yield from _fields(schema, schema.get("$defs", {}), 0, {})


def _fields(part: Schema, parts: Mapping[str, Schema], depth: int, listed: dict[str, str]) -> Iterator[str]:
    """Yield the fields of a part, and its entries where it takes any name.

    listed: under which field each part has been listed.
    """
    for name, field in part.get("properties", {}).items():
        needed = name in part.get("required", ())
        yield from _field(str(name), field, parts, depth, listed, needed=needed)
    inner = _entries(part)
    if inner is not None:
        yield from _field(_ANY_NAME, inner, parts, depth, listed, needed=False)


def _field(
    name: str,
    field: Schema,
    parts: Mapping[str, Schema],
    depth: int,
    listed: dict[str, str],
    *,
    needed: bool,
) -> Iterator[str]:
    inside = _inside(field, parts)
    notes = [_form(field, parts)]
    if needed:
        notes.append(_REQUIRED)
    default = field.get("default")
    if default not in (None, "", [], {}):
        notes.append(f"{_written(default)} where left out")
    if examples := field.get("examples"):
        notes.append(f"such as {_written(examples[0])}")
    described = field.get("description") or (inside[0][1].get("description", "") if inside else "")
    known = [listed[part] for part, _ in inside if part in listed]
    if known:
        notes.append(f"as under {known[0]}")
    told = "; ".join(filter(None, notes))
    yield f"{_INDENT * depth}{name}: {f'{told}. ' if told else ''}{described}".rstrip()
    for part_name, part in inside if not known else ():
        if part_name:
            listed[part_name] = name
        if len(inside) > 1:
            yield f"{_INDENT * (depth + 1)}- {part.get('description', '')}"
        yield from _fields(part, parts, depth + 1 + (len(inside) > 1), listed)


def _inside(field: Schema, parts: Mapping[str, Schema]) -> list[tuple[str, Schema]]:
    """Return what may stand inside a field: each part with its name, if it has one."""
    found: list[tuple[str, Schema]] = []
    for choice in _choices(field):
        name = _name_of(choice)
        if choice.get("type") == "array":
            found += _inside(choice.get("items", {}), parts)
        elif name in parts and "properties" in parts[name]:
            found.append((name, parts[name]))
        elif _entries(choice) is not None or "properties" in choice:
            found.append(("", choice))
    return found


def _choices(field: Schema) -> list[Schema]:
    return list(field.get("anyOf", field.get("oneOf", [field])))


def _entries(part: Schema) -> Schema | None:
    """Return what each entry of a mapping is, None where a part takes no name but its own."""
    inner = part.get("additionalProperties")
    if isinstance(inner, Mapping):
        return inner
    return next(iter(part.get("patternProperties", {}).values()), None)


def _name_of(choice: Schema) -> str:
    return str(choice.get("$ref", "")).removeprefix("#/$defs/")


def _form(field: Schema, parts: Mapping[str, Schema]) -> str:
    """Return in which form a field is written."""
    forms = dict.fromkeys(filter(None, (_form_of(one, parts) for one in _choices(field))))
    return " or ".join(form for form in forms if form != _UNKNOWN)


def _form_of(choice: Schema, parts: Mapping[str, Schema]) -> str:
    if "const" in choice:
        return str(choice["const"])
    if "enum" in choice:
        words = dict.fromkeys(str(one) for one in choice["enum"] if not isinstance(one, bool))
        return " | ".join(words)
    name = _name_of(choice)
    if name in parts and "examples" in parts[name]:
        what = str(parts[name]["description"]).partition(" with its unit")[0]
        return f"{what[0].lower()}{what[1:]} ({', '.join(parts[name]['examples'])})"
    if name in parts and "enum" in parts[name]:
        return _form_of(parts[name], parts)
    if choice.get("type") == "array":
        items = choice.get("prefixItems")
        if items:
            return f"[{', '.join(_short(one, parts) for one in items)}]"
        return f"list of {_short(choice.get('items', {}), parts)}"
    return _PLAIN.get(str(choice.get("type", "")), "")


def _short(item: Schema, parts: Mapping[str, Schema]) -> str:
    """Return the form of an entry of a list, a quantity by its first example."""
    name = _name_of(item)
    if name in parts and "examples" in parts[name]:
        return str(parts[name]["examples"][0])
    return _form(item, parts) or "entries"


def _written(value: object) -> str:
    """Return a value as a file has it on one line."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{key}: {_written(inner)}' for key, inner in value.items())}}}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_written, value))}]"
    return str(value)
