"""The schedules of the last record lie in `issued/latest/`, a row a line, and follow from it."""

import csv
import io
import shutil
from pathlib import Path

import pytest

from proposal.publish.repairing import repair
from tests.publish import interrupted
from tests.publish.interrupted import MINIMAL, altered, contents

pytestmark = pytest.mark.usefixtures("quick")


@pytest.fixture(scope="module")
def issued_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    project = Path(shutil.copytree(MINIMAL, tmp_path_factory.mktemp("latest") / "project"))
    with pytest.MonkeyPatch.context() as patch:
        interrupted.make_quick(patch)
        interrupted.issue_revision(project, "A")
    return project


@pytest.fixture
def project(issued_once: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(issued_once, tmp_path / "project"))


def rows(project: Path, schedule: str) -> list[list[str]]:
    text = (project / "issued" / "latest" / f"{schedule}.csv").read_text("utf-8")
    found = list(csv.reader(io.StringIO(text)))
    assert len(found) == len(text.splitlines())
    return found


def test_every_schedule_of_the_house_is_there_a_row_a_line(project: Path) -> None:
    names = {path.stem for path in (project / "issued" / "latest").iterdir()}
    assert {"cables", "devices", "rooms", "takeoff", "labour", "price-lines", "unit-costs"} <= names
    for name in names:
        assert len(rows(project, name)) > 1, name
    assert rows(project, "rooms")[1][:2] == ["B001", "Meeting Room"]
    assert any(heading.startswith("Unit cost") for heading in rows(project, "price-lines")[0])
    assert {row[0] for row in rows(project, "sheet")[1:]} == {
        "Sheets",
        "Sheets with every identity",
        "Sheets of hours and people",
    }


def test_one_more_line_changes_none_of_those_after_it(project: Path) -> None:
    """Lines of labour are numbered room by room, in the order of phases: a number would change them."""
    before = rows(project, "labour")
    kinds = project / "room_types" / "meeting.yaml"
    text = kinds.read_text("utf-8")
    kinds.write_text(text.replace("{boundary: 1}", "{boundary: 1, handheld: 1}"), "utf-8")
    interrupted.issue_revision(project, "B")
    now = rows(project, "labour")
    assert len(now) > len(before) > 5
    stay = {tuple(row[:4]) for row in before}
    assert stay <= {tuple(row[:4]) for row in now}


def test_they_are_replaced_at_each_issue_and_rows_that_stay_are_not_touched(project: Path) -> None:
    before = contents(project, "issued/latest")
    (project / "issued" / "latest" / "stray.csv").write_text("ours")
    text = (project / "rooms.csv").read_text("utf-8").replace("Meeting Room", "Board Room")
    (project / "rooms.csv").write_text(text, "utf-8")
    interrupted.issue_revision(project, "B")
    now = contents(project, "issued/latest")
    assert now.keys() == before.keys()
    changed = {path.removeprefix("issued/latest/") for path in now if now[path] != before[path]}
    assert "rooms.csv" in changed
    assert "cables.csv" not in changed
    assert altered(project) == []


def test_what_is_not_so_is_named_and_repaired(project: Path) -> None:
    before = contents(project, "issued")
    latest = project / "issued" / "latest"
    (latest / "rooms.csv").write_text("tag\n", "utf-8")
    (latest / "cables.csv").unlink()
    (latest / "ours.csv").write_text("ours", "utf-8")
    assert altered(project) == [
        "lost: issued/latest/cables.csv",
        "added: issued/latest/ours.csv",
        "changed: issued/latest/rooms.csv",
    ]
    assert repair(project, None, lambda _: None) == ("issued/latest: written again from revision A",)
    assert contents(project, "issued") == before
    assert repair(project, None, lambda _: None) == ()
    shutil.rmtree(latest)
    assert altered(project) == ["lost: issued/latest/"]
    repair(project, None, lambda _: None)
    assert contents(project, "issued") == before


def test_what_a_newer_program_writes_of_the_same_record_is_good(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from proposal.exports import csv_files

    written = csv_files.line_files
    monkeypatch.setattr(
        csv_files,
        "line_files",
        lambda tables: {name: data + b"and a column\n" for name, data in written(tables).items()},
    )
    assert altered(project) == []  # as it was written then
    shutil.rmtree(project / "issued" / "latest")
    repair(project, None, lambda _: None)
    assert (project / "issued" / "latest" / "rooms.csv").read_bytes().endswith(b"and a column\n")
    assert altered(project) == []


def test_of_a_record_that_was_altered_no_schedules_are_made(project: Path) -> None:
    shutil.rmtree(project / "issued" / "latest")
    (project / "issued" / "A" / "record.zip").write_bytes(b"PK")
    assert repair(project, None, lambda _: None) == ()
    assert "changed: issued/A/record.zip" in altered(project)
    assert not (project / "issued" / "latest").exists()
