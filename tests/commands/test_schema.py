"""`proposal schema`: every kind, printed and written."""

import json
from pathlib import Path

from proposal.commands.schema import SchemaKind
from tests.calls import Call, files_under

GOOD, WRONG = 0, 2


def test_every_schema_is_printed(run: Call) -> None:
    for kind in SchemaKind:
        status, out, _ = run("schema", kind.value)
        assert status == GOOD
        schema = json.loads(out)
        assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema", kind
    assert run("schema").out == run("schema", "project").out


def test_schemas_are_written_into_a_folder(run: Call) -> None:
    status, out, _ = run("schema", "--write", "schemas")
    assert status == GOOD
    names = [f"{kind.value}.schema.json" for kind in SchemaKind]
    assert files_under(Path("schemas")) == sorted(names)
    assert out == f"{len(names)} schemas written to schemas\n"
    for name in names:
        assert json.loads(Path("schemas", name).read_text("utf-8"))


def test_schemas_below_a_file_are_said_in_a_line(run: Call) -> None:
    Path("file").write_text("mine", "utf-8")
    status, out, err = run("schema", "--write", "file")
    assert (status, out) == (WRONG, "")
    assert err.startswith("file/project.schema.json: cannot be read or written: ")
