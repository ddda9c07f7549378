"""`proposal export`: what is printed and what is written, in each format."""

import csv
import json
import os
import zipfile
from pathlib import Path

import pytest

from proposal.document.readers import READERS
from tests.calls import Call, files_under

GOOD, WRONG = 0, 2


@pytest.mark.parametrize("reader", READERS)
def test_export_prints_the_document_of_the_edition(reader: str, run: Call, minimal: Path) -> None:
    status, out, err = run("export", minimal, "--edition", reader)
    assert (status, err) == (GOOD, "")
    document = json.loads(out)
    assert document["cover"]["name"] == "One meeting room"
    assert ("equipment_cost" in document) == (reader == "estimator")
    assert ("cables" in document) == (reader != "client")


def test_export_is_the_clients_unless_told_otherwise(run: Call, minimal: Path) -> None:
    assert run("export", minimal).out == run("export", minimal, "--edition", "client").out


def test_export_writes_what_it_would_print(run: Call, minimal: Path) -> None:
    printed = run("export", minimal, "--edition", "reviewer").out
    for name in ("document.json", "made/here/document.json"):
        assert run("export", minimal, "--edition", "reviewer", "--output", name) == (GOOD, "", "")
        assert Path(name).read_text("utf-8") == printed
        assert os.stat(name).st_mode & 0o777 == 0o644


def test_export_writes_a_file_for_each_schedule(run: Call, minimal: Path) -> None:
    status, out, err = run("export", minimal, "--edition", "installer", "--format", "csv", "--output", "made")
    assert (status, out, err) == (GOOD, "", "")
    names = files_under(Path("made"))
    assert {"cables.csv", "devices.csv", "equipment.csv", "labels.csv", "rooms.csv"} <= set(names)
    with Path("made/rooms.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    assert rows[0][:2] == ["Room", "Name"]
    assert rows[1][:2] == ["B001", "Meeting Room"]
    assert run("export", minimal, "--format", "csv", "--output", "clients").status == GOOD
    assert not {"cables.csv", "labels.csv"} & set(files_under(Path("clients")))


def test_export_writes_the_columns_of_a_job_alone(run: Call, minimal: Path) -> None:
    call = ("export", minimal, "--edition", "installer", "--view", "pull")
    assert run(*call, "--format", "csv", "--output", "made") == (GOOD, "", "")
    with Path("made/cables.csv").open(encoding="utf-8", newline="") as file:
        heads = next(csv.reader(file))
    assert "Route" in heads
    assert "To port" not in heads
    assert run(*call).status == WRONG
    client = run("export", minimal, "--view", "pull", "--format", "csv", "--output", "clients")
    assert client.status == WRONG
    assert "found client" in client.err


def test_export_writes_a_workbook_that_is_the_same_every_time(run: Call, minimal: Path) -> None:
    for name in ("one.xlsx", "two.xlsx"):
        assert run("export", minimal, "--format", "xlsx", "--output", name) == (GOOD, "", "")
    assert Path("one.xlsx").read_bytes() == Path("two.xlsx").read_bytes()
    with zipfile.ZipFile("one.xlsx") as book:
        assert book.testzip() is None
        assert "Meeting Room" in book.read("xl/sharedStrings.xml").decode("utf-8")


def test_the_estimators_workbook_tells_what_alternates_come_to(run: Call, minimal: Path) -> None:
    (minimal / "alternates").mkdir()
    changes = "changes: {project: {price: {allowances: {signs: {name: Signs, price: 1234.50 EUR}}}}}"
    (minimal / "alternates" / "signs_at_doors.yaml").write_text(
        f"name: Signs at the doors\ndescription: Signs.\n{changes}\n"
    )
    call = ("export", minimal, "--format", "xlsx", "--edition")
    assert run(*call, "estimator", "--output", "ours.xlsx").status == GOOD
    with zipfile.ZipFile("ours.xlsx") as book:
        recap = book.read("xl/worksheets/sheet1.xml").decode("utf-8")
        assert "<v>1234.5</v>" in recap
        assert "1. Signs at the doors" in book.read("xl/sharedStrings.xml").decode("utf-8")
    assert run(*call, "client", "--output", "theirs.xlsx").status == GOOD
    with zipfile.ZipFile("theirs.xlsx") as book:
        assert "1. Signs at the doors" not in book.read("xl/sharedStrings.xml").decode("utf-8")


def test_export_onto_a_folder_or_below_a_file_is_said_in_a_line(run: Call, minimal: Path) -> None:
    Path("folder").mkdir()
    Path("file").write_text("mine", "utf-8")
    wanted = "wanted a new file, or a regular file to replace; found a folder"
    for name, said in (("folder", wanted), ("file/document.json", "cannot be read or written: ")):
        status, out, err = run("export", minimal, "--output", name)
        assert (status, out) == (WRONG, "")
        assert err.startswith(f"{name}: {said}")
        assert len(err.splitlines()) == 1
    assert files_under(Path.cwd()) == ["file", "folder"]
