"""The JSON Schema of project files: current, described, and without complaint about our own projects."""

import csv
import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from proposal.model.schema import schema_text, schemas
from tests.write_schemas import COPIED_KINDS, COPIES, MASTER, ROOT

made = cache(schemas)
KINDS = sorted(file.name.removesuffix(".schema.json") for file in MASTER.glob("*.schema.json"))
AGAIN = "the models have changed: run `python tests/write_schemas.py`"


def test_every_kind_of_file_has_a_shipped_schema() -> None:
    assert set(KINDS) == set(made())


@pytest.mark.parametrize("kind", KINDS)
def test_shipped_schema_is_current(kind: str) -> None:
    assert (MASTER / f"{kind}.schema.json").read_text(encoding="utf-8") == schema_text(made()[kind]), AGAIN


@pytest.mark.parametrize("folder", COPIES, ids=lambda folder: folder.parent.name)
def test_copies_in_project_folders_are_current(folder: Path) -> None:
    held = {file.name: file.read_text(encoding="utf-8") for file in folder.iterdir()}
    wanted = {f"{kind}.schema.json": schema_text(made()[kind]) for kind in COPIED_KINDS}
    assert held == wanted, AGAIN


def models_of(schema: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    yield "", schema
    yield from schema.get("$defs", {}).items()


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_has_a_description(kind: str) -> None:
    missing = [
        f"{model}.{name}"
        for model, schema in models_of(made()[kind])
        for name, field in schema.get("properties", {}).items()
        if not field.get("description", "").strip()
    ]
    assert missing == []


@pytest.mark.parametrize("kind", KINDS)
def test_every_reference_is_defined_and_every_definition_used(kind: str) -> None:
    named = set(re.findall(r'"#/\$defs/([^"]+)"', json.dumps(made()[kind])))
    assert named == set(made()[kind].get("$defs", {}))


@pytest.mark.parametrize("kind", ["room", "library", "labour"])
def test_a_patch_requires_nothing_and_may_remove_everything(kind: str) -> None:
    for model, schema in models_of(made()[kind]):
        assert "required" not in schema, model
        for name, field in schema.get("properties", {}).items():
            assert {"type": "null"} in field["anyOf"], f"{model}.{name}"


def test_a_file_that_is_no_patch_never_holds_null() -> None:
    for kind, schema in made().items():
        if kind not in ("room", "library", "labour", "alternate"):
            assert '{"type": "null"}' not in json.dumps(schema), kind


PROJECTS = [
    ROOT / "example_project",
    ROOT / "shared" / "starter",
    *(folder for folder in sorted((ROOT / "tests" / "projects").iterdir()) if folder.is_dir()),
]
FILES = [
    (file, kind)
    for project in PROJECTS
    for pattern, kind in (
        ("project.yaml", "project"),
        ("building.yaml", "building"),
        ("fixed.yaml", "fixed"),
        ("room_types/*.yaml", "room_type"),
        ("rooms/*.yaml", "room"),
        ("requirements.yaml", "requirements"),
        ("alternates/*.yaml", "alternate"),
        ("library/*.yaml", "library"),
        ("library/labour/*.yaml", "labour"),
    )
    for file in sorted(project.glob(pattern))
]
FILES += [(file, "labour") for file in sorted((ROOT / "shared" / "labour").glob("*.yaml"))]
FILES += [
    (file, "library")
    for folder in ("equipment", "materials")
    for file in sorted((ROOT / "shared" / folder).glob("*.yaml"))
]
TABLES = [project / "rooms.csv" for project in PROJECTS]


@pytest.mark.parametrize(("file", "kind"), FILES, ids=lambda value: str(value).removeprefix(f"{ROOT}/"))
def test_an_editor_finds_no_fault_in_our_projects(file: Path, kind: str) -> None:
    assert list(faults(as_an_editor_reads(file), made()[kind], made()[kind], "")) == []


@pytest.mark.parametrize("file", TABLES, ids=lambda value: str(value).removeprefix(f"{ROOT}/"))
def test_a_room_schedule_holds_what_its_schema_asks_for(file: Path) -> None:
    schema = made()["rooms_csv"]
    rows = [as_a_row_is_read(row) for row in csv.DictReader(file.read_text("utf-8").splitlines())]
    assert rows
    assert [fault for row in rows for fault in faults(row, schema, schema, row["tag"])] == []


def test_every_kind_of_file_that_people_write_is_held_against_its_schema() -> None:
    """What maps a price list is held against its schema with the lists themselves."""
    assert {kind for _, kind in FILES} | {"rooms_csv", "price_list"} == set(made())


@pytest.mark.parametrize(
    ("kind", "text", "place"),
    [
        ("requirements", "R-1: {clause: '1', text: x}", "document is missing"),
        ("requirements", "R-1: {document: b, clause: '1', text: x, answers: [{count: chairs}]}", "answers"),
        ("requirements", "R-1: {document: b, clause: '1', text: x, says: y}", "says"),
        ("labour", "tasks: {t: {base_hours: many}}", "tasks.t"),
        ("library", "chargers: {c: {slots: [1]}}", "chargers.c"),
    ],
)
def test_an_editor_finds_a_fault_in_other_files(kind: str, text: str, place: str) -> None:
    found = list(faults(as_an_editor_reads(text), made()[kind], made()[kind], ""))
    assert any(place in fault for fault in found), found


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("name: x", "use is missing"),
        ("outline: [[1 m, 2], [1 m, 2 m], [1 m, 2 m]]", "outline.0.1"),
        ("ceiling: {height: 3 kg, kind: metal}", "ceiling.height"),
        ("ceiling: {height: 3 m, kind: paper}", "ceiling.kind"),
        ("microphones: {M1: {form: gooseneck, pattern: cardioid, at: [1 m, 1 m], sheet: S1}}", "sheet"),
        ("spares_paired: perhaps", "spares_paired"),
        # What has no default cannot be unknown.
        ("name: unknown", "name"),
        ("ceiling: {height: unknown, kind: metal}", "ceiling.height"),
        ("outline: [[1 m, unknown], [1 m, 2 m], [1 m, 2 m]]", "outline.0.1"),
    ],
)
def test_an_editor_finds_a_fault(text: str, place: str) -> None:
    found = list(faults(as_an_editor_reads(text), made()["room_type"], made()["room_type"], ""))
    assert any(place in fault for fault in found), found


@pytest.mark.parametrize("project", PROJECTS, ids=lambda folder: folder.name)
def test_files_name_a_schema_that_is_there(project: Path) -> None:
    for file in sorted(project.glob("**/*.yaml")):
        if "issued" in file.relative_to(project).parts:
            continue  # what nobody edits any more
        first = file.read_text(encoding="utf-8").splitlines()[0]
        if first.startswith("# yaml-language-server: $schema="):
            named = file.parent / first.partition("=")[2]
            assert named.resolve().is_file(), f"{file}: {first}"
        else:
            assert project.name == "minimal", f"{file} names no schema"


def as_a_row_is_read(row: dict[str, str]) -> dict[str, str]:
    """Return a row of a room schedule by its keys: a unit of the heading goes to cells without their own.

    row: by the headings of the table.
    """
    found = {}
    for heading, cell in row.items():
        key, _, unit = heading.strip().partition(" (")
        if cell.strip():
            own = "" if cell.strip()[-1].isalpha() else unit.rstrip(")")
            found[{"room type": "type"}.get(key, key)] = f"{cell.strip()} {own}".strip()
    return found


def as_an_editor_reads(source: Path | str) -> Any:
    """Return a file's content by the core schema of YAML 1.2, which is what editors apply."""
    text = source.read_text(encoding="utf-8") if isinstance(source, Path) else source
    return _value(yaml.compose(text, Loader=yaml.BaseLoader))


def _value(node: Any) -> Any:
    if isinstance(node, yaml.MappingNode):
        return {key.value: _value(inner) for key, inner in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [_value(item) for item in node.value]
    text = node.value
    if node.style is not None:
        return text
    if text in ("null", "~", ""):
        return None
    if text in ("true", "false"):
        return text == "true"
    if re.fullmatch(r"[-+]?[0-9]+", text):
        return int(text)
    if re.fullmatch(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", text):
        return float(text)
    return text


TYPES: dict[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "integer": (int,),
    "number": (int, float),
    "boolean": (bool,),
    "null": (type(None),),
}
KNOWN_WORDS = {
    *("$schema", "$defs", "$ref", "title", "description", "default", "examples", "type", "properties"),
    *(
        "required",
        "additionalProperties",
        "patternProperties",
        "propertyNames",
        "items",
        "prefixItems",
        "minItems",
        "maxItems",
    ),
    *("anyOf", "oneOf", "enum", "const", "pattern", "format", "minimum", "maximum", "exclusiveMinimum"),
    *("exclusiveMaximum", "minLength", "maxLength", "minProperties", "maxProperties", "not"),
}


def faults(value: Any, schema: dict[str, Any], whole: dict[str, Any], path: str) -> Iterator[str]:
    """Yield what is wrong with a value by the words of JSON Schema that our schemas use."""
    assert set(schema) <= KNOWN_WORDS, set(schema) - KNOWN_WORDS
    if "$ref" in schema:
        yield from faults(value, whole["$defs"][schema["$ref"].removeprefix("#/$defs/")], whole, path)
    if "anyOf" in schema:
        tries = [list(faults(value, choice, whole, path)) for choice in schema["anyOf"]]
        if all(tries):
            yield from min(tries, key=len)
    if "oneOf" in schema:
        tries = [list(faults(value, choice, whole, path)) for choice in schema["oneOf"]]
        if not any(not one for one in tries):
            yield from min(tries, key=len)
        elif sum(not one for one in tries) > 1:
            yield f"{path}: is two things at once; found {value!r}"
    if "type" in schema:
        is_type = isinstance(value, TYPES[schema["type"]])
        if not is_type or (isinstance(value, bool) and schema["type"] != "boolean"):
            yield f"{path}: wanted {schema['type']}; found {value!r}"
            return
    if "enum" in schema and value not in schema["enum"]:
        yield f"{path}: wanted one of {schema['enum']}; found {value!r}"
    if "not" in schema and not list(faults(value, schema["not"], whole, path)):
        yield f"{path}: wanted anything but {schema['not']}; found {value!r}"
    if "const" in schema and value != schema["const"]:
        yield f"{path}: wanted {schema['const']}; found {value!r}"
    if isinstance(value, str) and not re.search(schema.get("pattern", ""), value):
        yield f"{path}: wanted {schema['pattern']}; found {value!r}"
    if isinstance(value, str) and not schema.get("minLength", 0) <= len(value) <= schema.get(
        "maxLength", 1e9
    ):
        yield f"{path}: wanted another length; found {value!r}"
    if isinstance(value, int | float) and not isinstance(value, bool):
        yield from _out_of_range(value, schema, path)
    if isinstance(value, list):
        yield from _faults_of_items(value, schema, whole, path)
    if isinstance(value, dict):
        yield from _faults_of_entries(value, schema, whole, path)


def _out_of_range(value: float, schema: dict[str, Any], path: str) -> Iterator[str]:
    inside = schema.get("minimum", value) <= value <= schema.get("maximum", value) and schema.get(
        "exclusiveMinimum", value - 1
    ) < value < schema.get("exclusiveMaximum", value + 1)
    if not inside:
        yield f"{path}: {value} is out of range"


def _faults_of_items(
    value: list[Any], schema: dict[str, Any], whole: dict[str, Any], path: str
) -> Iterator[str]:
    if not schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", len(value)):
        yield f"{path}: wanted another number of items; found {len(value)}"
    first = schema.get("prefixItems", [])
    for index, item in enumerate(value):
        each = first[index] if index < len(first) else schema.get("items", {})
        yield from faults(item, each, whole, f"{path}.{index}")


def _faults_of_entries(
    value: dict[str, Any], schema: dict[str, Any], whole: dict[str, Any], path: str
) -> Iterator[str]:
    properties, others = schema.get("properties", {}), schema.get("additionalProperties", True)
    patterns = schema.get("patternProperties", {})
    for name in schema.get("required", ()):
        if name not in value:
            yield f"{path}: {name} is missing"
    if len(value) < schema.get("minProperties", 0):
        yield f"{path}: wanted at least {schema['minProperties']}"
    if len(value) > schema.get("maxProperties", len(value)):
        yield f"{path}: wanted at most {schema['maxProperties']}"
    for name, inner in value.items():
        here = f"{path}.{name}".strip(".")
        yield from faults(name, schema.get("propertyNames", {}), whole, f"name of {here}")
        fitting = [each for pattern, each in patterns.items() if re.search(pattern, name)]
        if name in properties:
            yield from faults(inner, properties[name], whole, here)
        elif fitting:
            yield from faults(inner, fitting[0], whole, here)
        elif others is False or patterns:
            yield f"{here}: unknown name"
        elif isinstance(others, dict):
            yield from faults(inner, others, whole, here)
