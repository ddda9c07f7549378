"""`proposal schema`: every kind, printed and written."""

import json
from pathlib import Path

from proposal.commands.schema import SchemaKind
from tests.calls import Call, files_under
from tests.catalogue import shipped

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


def test_the_models_that_files_may_name_are_listed_kind_by_kind(run: Call) -> None:
    library = shipped()
    status, out, _ = run("schema", "--models")
    assert status == GOOD
    listed = {line.split()[0] for line in out.splitlines() if line.startswith("  ")}
    assert listed == {entry.model for entry in library.entries()}
    (charger,) = [line for line in out.splitlines() if line.startswith("  56376V ")]
    assert charger.startswith("  56376V  ")
    assert f"{library.chargers['56376V'].slots} slots" in charger
    assert "system Vasselgate" in charger
    (point,) = [line for line in out.splitlines() if line.startswith("  14708 ")]
    pairs = library.access_points["14708"].radio.slot_pairs
    assert f"; {pairs} slot pairs a link; " in point


def test_a_library_that_is_not_there_is_told(run: Call) -> None:
    status, _, err = run("schema", "--models", "--library", "nowhere")
    assert status == WRONG
    assert err.startswith("nowhere: wanted a folder with library files (.yaml); found nothing")


def test_a_schema_is_printed_as_a_list_to_read(run: Call) -> None:
    status, printed, _ = run("schema", "rooms_csv", "--text")
    assert status == GOOD
    assert printed.startswith("rooms.csv: the room schedule, a room a row\n")
    assert "\ntag: text; has to be written. Tag of the room, such as B101; unique in the table.\n" in printed
