"""The JSON Schema of every kind of file in a project folder, for editors.

The models are the source. What editors need beyond them is added here: `unknown` where a value may be left
open, the default in the words of the file, and, for what one room changes, everything optional and removable.
"""

import json
from collections.abc import Callable, Mapping
from typing import Any

from pydantic import BaseModel, Field

from proposal.model.alternate import AlternateFile
from proposal.model.alternate_files import COMMON_FIELDS
from proposal.model.base import Written
from proposal.model.equipment.library import file_schema
from proposal.model.labour.labour import Labour
from proposal.model.pathways.building import Building
from proposal.model.price.price_list import PriceListMapping
from proposal.model.project import Brief, Fixed
from proposal.model.requirements.requirements import Requirements
from proposal.model.rooms import Room, RoomType
from proposal.quantities.parsing import json_pattern
from proposal.quantities.units import KINDS

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
TABLE_KEY = "tag"

_TITLES = {
    "project": "project.yaml: the brief, its rules and terms",
    "building": "building.yaml: storeys, equipment rooms and shafts",
    "room_type": "room_types/<name>.yaml: a kind of room",
    "room": "rooms/<tag>.yaml: what one room changes of its type",
    "fixed": "fixed.yaml: decisions by hand",
    "requirements": "requirements.yaml: what the client asks for, and what answers it",
    "alternate": "alternates/<key>.yaml: something the client may choose instead",
    "rooms_csv": "rooms.csv: the room schedule, a room a row",
    "library": "library/*.yaml: entries of the equipment library",
    "labour": "library/labour/*.yaml: trades, tasks and conditions of labour",
    "price_list": "a mapping (import --mapping): how a supplier's price list is read",
}
_NULL: Schema = {"type": "null"}
_UNKNOWN: Schema = {"const": "unknown"}
# YAML's own true and false, and the words that a person rather writes.
_YES_OR_NO: Schema = {"enum": [True, False, "yes", "no"]}
_NOT_IN_THE_TABLE = ("layout", "changed")
_OF_THE_MODELS_ALONE = ("title", "assumption", "assumption_source", "max_digits", "decimal_places")
# Limits of exact numbers, which come under the names of the models.
_LIMITS = {"ge": "minimum", "le": "maximum", "gt": "exclusiveMinimum", "lt": "exclusiveMaximum"}
# Every text has this limit; an editor need not repeat it at each.
_LONGEST_TEXT = Written.model_config.get("str_max_length")
_UNIT_IN_FILES = {"fraction": ("%", 100.0)}


def schemas() -> dict[str, Schema]:
    """Return the JSON Schema of each kind of file, by its kind.

    The kinds are project, building, room_type, room, fixed, requirements, alternate, rooms_csv (one row of
    the table), library, labour and price_list.
    """
    return {kind: schema_of(kind) for kind in _TITLES}


def schema_of(kind: str) -> Schema:
    """Return the JSON Schema of a kind of file.

    kind: one of `schemas`.
    """
    makers: Mapping[str, Callable[[], Schema]] = {
        "project": lambda: _of_model(Brief),
        "building": lambda: _of_model(Building),
        "room_type": lambda: _of_model(RoomType),
        "room": lambda: _patched(RoomType.model_json_schema()),
        "fixed": lambda: _of_model(Fixed),
        "requirements": lambda: _of_model(Requirements),
        "alternate": _of_alternates,
        "rooms_csv": lambda: _row_of(Room),
        "library": lambda: _patched(file_schema()),
        "labour": _of_labour,
        "price_list": lambda: _of_model(PriceListMapping),
    }
    return _named(kind, makers[kind]())


def schema_text(schema: Schema) -> str:
    """Return a schema as its file holds it."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def _named(kind: str, schema: Schema) -> Schema:
    head = {"$schema": DIALECT, "title": _TITLES[kind]}
    return head | {key: value for key, value in schema.items() if key not in head}


def _of_model(model: type[BaseModel]) -> Schema:
    """Return the schema of a file that holds one model."""
    return _finished(_of_files(model.model_json_schema()))


def _patched(schema: Schema) -> Schema:
    """Return the schema of a merge patch (RFC 7396) on what `schema` describes: null removes."""
    schema = _of_files(schema)
    for part in _models_in(schema):
        part.pop("required", None)
        for name, field in part.get("properties", {}).items():
            field.pop("minProperties", None)
            if isinstance(field.get("additionalProperties"), dict):
                # A patch may also take one entry out of a collection.
                field["additionalProperties"] = _or(field["additionalProperties"], _NULL)
            for pattern, entry in field.get("patternProperties", {}).items():
                field["patternProperties"][pattern] = _or(entry, _NULL)
            part["properties"][name] = _or(field, _NULL)
    return _finished(schema)


class _Changes(Written):
    """What an alternate may change; under `layout` of a room, the room's own layout."""

    project: Brief | None = Field(default=None, description="Changes of project.yaml.")
    building: Building | None = Field(default=None, description="Changes of building.yaml.")
    room_types: dict[str, RoomType] = Field(default={}, description="Changes of room types, by name.")
    rooms: dict[str, Room] = Field(default={}, description="Changes of rooms, by tag.")
    fixed: Fixed | None = Field(default=None, description="Changes of fixed.yaml.")


def _of_labour() -> Schema:
    """Return the schema of a file of labour data: a merge patch on the layers below it, with its source."""
    schema = Labour.model_json_schema()
    for part in _models_in(schema):
        # Which library something comes from is filled in on reading.
        part.get("properties", {}).pop("layer", None)
    source = {"type": "string", "description": "Where the figures of this file come from."}
    schema["properties"] = {"source": source, **schema["properties"]}
    return _patched(schema)


def _of_alternates() -> Schema:
    """Return the schema of an alternate: what describes it, and a merge patch on the whole project."""
    changes = _Changes.model_json_schema()
    for name in COMMON_FIELDS:
        del changes["$defs"]["Brief"]["properties"][name]
    del changes["$defs"]["Room"]["properties"]["changed"]
    patched = _patched(changes)
    definitions = _reached(patched["properties"], patched.pop("$defs"))
    for field in patched["properties"].values():
        # Nothing of the project can be taken away as a whole, and none of it can be unknown.
        field["anyOf"] = [choice for choice in field["anyOf"] if choice not in (_NULL, _UNKNOWN)]
    described: Schema = _of_files(AlternateFile.model_json_schema())
    kept = {key: value for key, value in described["properties"].items() if key != "changes"}
    inside = {key: value for key, value in patched.items() if key != "description"}
    changed = {"description": described["properties"]["changes"]["description"], **inside, "minProperties": 1}
    return described | {"properties": {**kept, "changes": changed}, "$defs": definitions}


def _reached(schema: Any, definitions: Mapping[str, Schema]) -> dict[str, Schema]:
    """Return the definitions that a part of a schema names, directly or through others, in their order."""
    named: set[str] = set()
    open_parts = [schema]
    while open_parts:
        part = open_parts.pop()
        if isinstance(part, dict):
            open_parts += part.values()
            name = str(part.get("$ref", "")).removeprefix("#/$defs/")
            if name in definitions and name not in named:
                named.add(name)
                open_parts.append(definitions[name])
        elif isinstance(part, list):
            open_parts += part
    return {name: definition for name, definition in definitions.items() if name in named}


def _row_of(model: type[BaseModel]) -> Schema:
    """Return the schema of one row of the room schedule."""
    schema: Schema = _of_files(model.model_json_schema())
    tag = {"description": "Tag of the room, such as B101; unique in the table.", "type": "string"}
    fields = {name: field for name, field in schema["properties"].items() if name not in _NOT_IN_THE_TABLE}
    row = {
        "description": "A heading may carry the unit of its column: x (m). An empty cell takes the default.",
        "type": "object",
        "properties": {TABLE_KEY: tag} | fields,
        "required": [TABLE_KEY, *(name for name in schema["required"] if name in fields)],
        "additionalProperties": False,
    }
    return _finished(row)


def _models_in(schema: Schema) -> list[Schema]:
    return [schema, *schema.get("$defs", {}).values()]


def _finished(schema: Schema) -> Schema:
    """Return a schema in which what may be left out may also be unknown, and nothing else may.

    Each kind of quantity is told once.
    """
    for part in _models_in(schema):
        for name, field in part.get("properties", {}).items():
            if name not in part.get("required", ()):
                part["properties"][name] = _or_unknown(field)
            elif _takes_any_text(field):
                # What has no default cannot be unknown; only a text would take the word.
                part["properties"][name] = field | {"not": _UNKNOWN}
    quantities: dict[str, Schema] = {}
    schema = _with_quantities_apart(schema, quantities)
    defined = {**schema.pop("$defs", {}), **dict(sorted(quantities.items()))}
    return schema | ({"$defs": defined} if defined else {})


def _or_unknown(field: Schema) -> Schema:
    """Return a field that may say `unknown`: within the form of a quantity, else beside what it takes."""
    if _takes_any_text(field):
        return field
    choices = field.get("anyOf", [field])
    forms = [_form_or_unknown(choice) for choice in choices]
    if forms == choices:
        return _or(field, _UNKNOWN)
    return field | {"anyOf": forms} if "anyOf" in field else forms[0]


def _form_or_unknown(choice: Schema) -> Schema:
    pattern = choice.get("pattern", "") if choice.get("type") == "string" else ""
    opening = pattern.startswith(_OPENING)
    return choice | {"pattern": pattern.replace(_OPENING, f"{_OPENING}unknown|", 1)} if opening else choice


def _with_quantities_apart(schema: Any, quantities: dict[str, Schema]) -> Any:
    """Return a part of a schema that names each kind of quantity, whose description goes to `quantities`."""
    if isinstance(schema, list):
        return [_with_quantities_apart(item, quantities) for item in schema]
    if not isinstance(schema, dict):
        return schema
    kind = _kind_of(schema) if schema.get("type") == "string" else None
    if kind is None:
        return {key: _with_quantities_apart(value, quantities) for key, value in schema.items()}
    known = KINDS[kind.removesuffix(_OR_UNKNOWN)]
    quantities[kind] = {
        "description": f"{known.noun.capitalize()} with its unit, such as {' or '.join(known.examples)}.",
        "type": "string",
        "pattern": schema["pattern"],
        "examples": list(known.examples),
    }
    own = {key: value for key, value in schema.items() if key in ("description", "default")}
    if own.get("description") == quantities[kind]["description"]:
        del own["description"]
    return own | {"$ref": f"#/$defs/{kind}"}


def _of_files(schema: Any) -> Any:
    """Return a part of a schema without what only the models need, and with defaults as files write them."""
    if isinstance(schema, list):
        return [_of_files(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    # Names of fields are kept whatever they are called; only a schema's own words are dropped.
    result: Schema = {
        key: {name: _of_files(inner) for name, inner in value.items()}
        if key in ("properties", "$defs")
        else _of_files(value)
        for key, value in ((_LIMITS.get(str(name), str(name)), value) for name, value in schema.items())
        if key not in _OF_THE_MODELS_ALONE
    }
    if result.get("maxLength") == _LONGEST_TEXT:
        del result["maxLength"]
    if not result.get("propertyNames", True):
        del result["propertyNames"]
    if result.get("type") == "boolean":
        del result["type"]
        result |= _YES_OR_NO
    figures = [int(one) for one in result.get("enum", ()) if isinstance(one, str) and one.isdecimal()]
    if figures and result.get("type") == "string":
        # `category: 6` is a number to an editor, and text to us.
        del result["type"]
        result["enum"] = [*result["enum"], *figures]
    # A file leaves out what it does not say; it never says null.
    choices = [choice for choice in result.get("anyOf", ()) if choice != _NULL]
    if len(choices) == 1:
        del result["anyOf"]
        result = {**choices[0], **result}
    elif choices:
        result["anyOf"] = choices
    if "default" in schema:
        del result["default"]
        if schema["default"] is not None:
            result["default"] = _default_in_files(result, schema["default"])
    told = isinstance(schema.get("default"), bool) or bool(result.get("default"))
    if "assumption" in schema and not told and "left out" not in schema["description"]:
        result["description"] = f"{schema['description']} Left out: {_sentence(schema['assumption'])}"
    return result


def _sentence(text: str) -> str:
    return text[0].lower() + text[1:].rstrip(".") + "."


def _default_in_files(field: Mapping[str, Any], default: Any) -> Any:
    """Return a default as a person would write it."""
    kind = _kind_of(field)
    if kind is None or not isinstance(default, int | float):
        return default
    unit, factor = _UNIT_IN_FILES.get(kind, (KINDS[kind].unit, 1.0))
    return f"{default * factor:g} {unit}"


_OR_UNKNOWN = "_or_unknown"
_OPENING = r"^\s*(?:"
"""How the patterns of quantities begin, and of what else takes `unknown` where a field has a default."""
_KINDS_OF_PATTERN: dict[str, list[str]] = {}
for _kind in KINDS:
    _form = json_pattern(_kind)
    _KINDS_OF_PATTERN.setdefault(_form, []).append(_kind)
    _open_form = _form.replace(_OPENING, f"{_OPENING}unknown|", 1)
    _KINDS_OF_PATTERN.setdefault(_open_form, []).append(f"{_kind}{_OR_UNKNOWN}")


def _kind_of(field: Mapping[str, Any]) -> str | None:
    """Return the kind of quantity that a field holds: of those of one form by its examples."""
    kinds = _KINDS_OF_PATTERN.get(field.get("pattern", ""), ())
    named = (
        one for one in kinds if list(KINDS[one.removesuffix(_OR_UNKNOWN)].examples) == field.get("examples")
    )
    return next(named, kinds[-1] if kinds else None)


def _takes_any_text(field: Mapping[str, Any]) -> bool:
    """Say whether a field takes `unknown` already, as any text does."""
    choices = field.get("anyOf", [field])
    return any(
        choice.get("type") == "string" and "enum" not in choice and "const" not in choice
        and "pattern" not in choice
        for choice in choices
    )  # fmt: skip


def _or(field: Mapping[str, Any], other: Schema) -> Schema:
    """Return a field that also takes something else; its description and default stay on the outside."""
    outside = {key: field[key] for key in ("description", "default") if key in field}
    inside = {key: value for key, value in field.items() if key not in outside}
    choices = inside["anyOf"] if set(inside) == {"anyOf"} else [inside]
    return outside | {"anyOf": choices if other in choices else [*choices, other]}
