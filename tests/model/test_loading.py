"""A project folder is loaded with its libraries, its defaults and the place of every value."""

import os
import sys
from pathlib import Path

import pytest

from proposal.errors import InputError, Place
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.resources import LIBRARY_VARIABLE
from tests.bad_input.projects import messages_of, write_project

ROOT = Path(__file__).parents[2]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_project(tmp_path / "project")


@pytest.fixture(autouse=True)
def _no_library_from_outside(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(LIBRARY_VARIABLE, raising=False)


def test_values_arrive_in_si_and_as_they_were_written(folder: Path) -> None:
    project = load_project(folder)
    assert project.brief.name == "Two rooms"
    assert project.brief.rules.cabling.rack_slack == 3.0
    assert project.rooms["B001"].x == 1.0
    assert project.rooms["B001"].rotation == 0.0
    assert project.building.storeys["L1"].height == 3.6
    assert project.room_types["meeting"].sessions["morning"].start == 540
    assert project.fixed.devices["B001-AP1"].height == 2.6
    assert project.wording == {"introduction": "Thank you for asking.\n"}
    assert project.images["logo.svg"].startswith(b"<svg")


def test_a_room_shares_its_type_unless_its_own_file_changes_it(folder: Path) -> None:
    project = load_project(folder)
    unchanged, changed = project.rooms["B001"], project.rooms["B002"]
    assert unchanged.layout is project.room_types["meeting"]
    assert not unchanged.changed
    assert changed.changed
    assert changed.layout.ceiling.height == 2.5
    assert changed.layout.ceiling.kind == "mineral tile"
    assert changed.layout.spare_microphones == {}
    assert project.room_types["meeting"].spare_microphones == {"boundary": 1}


def test_a_value_left_out_is_an_assumption_and_an_unknown_one_a_question(folder: Path) -> None:
    project = load_project(folder)
    assumed = {assumption.path for assumption in project.assumptions}
    assert ("project", "rules", "cabling", "ceiling_slack") in assumed
    assert ("project", "rules", "cabling", "rack_slack") not in assumed
    assert [(question.path, question.place) for question in project.questions] == [
        (("project", "rules", "cabling", "device_cord"), Place("project.yaml", 18, 18)),
        # Nobody can assume on which days the place has its holidays.
        (("project", "programme", "holidays"), Place("project.yaml", 1, 7)),
    ]
    assert ("project", "programme", "holidays") not in assumed
    assert ("project", "rules", "cabling", "device_cord") not in assumed
    # No room of it asks for assistive listening.
    assert not [one for one in project.assumptions if "assistive_devices" in one.path]


def test_receivers_are_assumed_of_where_a_room_gets_some_of_ours_alone(folder: Path) -> None:
    def assumed() -> int:
        rules = ("project", "rules", "assistive_listening")
        return sum(one.path[:3] == rules for one in load_project(folder).assumptions)

    assert assumed() == 0
    (folder / "rooms/B002.yaml").write_text("assistive_listening: yes\n")
    assert assumed() == 4
    by_others = "destinations: {D1: {name: Infrared for assistive listening, signal: analogue}}\n"
    (folder / "rooms/B002.yaml").write_text(f"assistive_listening: yes\n{by_others}")
    assert assumed() == 0


def test_an_unknown_value_of_a_changed_room_is_a_question_too(folder: Path) -> None:
    (folder / "rooms/B002.yaml").write_text("charging_at: unknown\n")
    questions = load_project(folder).questions
    assert (("rooms", "B002", "layout", "charging_at"), Place("rooms/B002.yaml", 1, 14)) in [
        (question.path, question.place) for question in questions
    ]


def test_every_value_knows_its_file_line_and_column(folder: Path) -> None:
    project = load_project(folder)
    assert project.place("rooms", "B001", "storey") == Place("rooms.csv", 2, 29)
    assert project.place("building", "equipment_rooms", "ER1", "at", 1) == Place("building.yaml", 8, 16)
    assert project.place("rooms", "B002", "layout", "ceiling", "height") == Place("rooms/B002.yaml", 1, 19)
    assert project.place("rooms", "B002", "layout", "ceiling", "kind") == Place(
        "room_types/meeting.yaml", 4, 32
    )
    assert project.place("rooms", "B001", "layout", "seats") == Place("rooms.csv", 2, 1)
    assert project.place("nowhere") == Place("project.yaml")


def _charger(project: Project) -> tuple[str, str, str]:
    code, entry = next(iter(project.library.of_kind("charger").items()))
    return code, entry.layer, str(entry.cost)


def test_a_project_and_a_company_lay_their_libraries_over_the_shared_one(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    code, layer, _ = _charger(load_project(folder))
    assert layer == "shared"
    company = tmp_path / "company"
    company.mkdir()
    (company / "chargers.yaml").write_text(f"chargers:\n  {code}: {{cost: 111.00 EUR}}\n")
    assert _charger(load_project(folder, library=company)) == (code, "company", "111.00 EUR")
    monkeypatch.setenv(LIBRARY_VARIABLE, str(company))
    assert _charger(load_project(folder)) == (code, "company", "111.00 EUR")
    (folder / "library").mkdir()
    (folder / "library/chargers.yaml").write_text(f"chargers:\n  {code}: {{cost: 99.00 EUR}}\n")
    assert _charger(load_project(folder)) == (code, "project", "99.00 EUR")


def test_a_wrong_library_entry_is_told_with_its_place(folder: Path) -> None:
    code, _, _ = _charger(load_project(folder))
    (folder / "library").mkdir()
    (folder / "library/own.yaml").write_text(f"chargers:\n  {code}:\n    cost: 111\n    slot_power: many\n")
    assert messages_of(folder) == [
        f"library/own.yaml:3:11: chargers.{code}.cost: wanted an amount with its currency, such as "
        "1250.00 EUR; found 111",
        f"library/own.yaml:4:17: chargers.{code}.slot_power: wanted a power with its unit, "
        "such as 30 W or 1.2 kW; found many",
    ]


def test_a_misspelt_model_code_is_not_taken_for_a_new_entry(folder: Path) -> None:
    code, _, _ = _charger(load_project(folder))
    (folder / "library").mkdir()
    (folder / "library/own.yaml").write_text(f"chargers:\n  {code}X: {{cost: 1.00 EUR}}\n")
    assert messages_of(folder) == [
        "library/own.yaml:2:3: chargers: wanted the model code of an entry to change, or a whole entry; "
        f"found {code}X (did you mean {code}?)"
    ]


def test_a_model_code_under_two_kinds_is_refused(folder: Path) -> None:
    code, _, _ = _charger(load_project(folder))
    (folder / "library").mkdir()
    (folder / "library/own.yaml").write_text(f"mixers:\n  {code}: {{cost: 1.00 EUR}}\n")
    assert messages_of(folder) == [
        f"library/own.yaml:2:3: mixers: wanted a model code of one kind; found {code} under chargers too"
    ]


def test_a_company_library_that_is_not_there_is_told(folder: Path, tmp_path: Path) -> None:
    missing = tmp_path / "no-library"
    assert messages_of(folder, missing) == [
        f"{missing}: wanted a folder with library files (.yaml); found nothing"
    ]
    missing.mkdir()
    assert messages_of(folder, missing) == [
        f"{missing}: wanted a folder with library files (.yaml); found none in it"
    ]


def test_what_is_no_project_folder_is_told(tmp_path: Path) -> None:
    assert messages_of(tmp_path / "none") == [f"{tmp_path / 'none'}: wanted a project folder; found nothing"]
    (tmp_path / "file").write_text("x")
    assert messages_of(tmp_path / "file") == [f"{tmp_path / 'file'}: wanted a project folder; found a file"]
    (tmp_path / "empty").mkdir()
    assert messages_of(tmp_path / "empty") == [
        "building.yaml: wanted this file; found none",
        "project.yaml: wanted this file; found none",
        "room_types: wanted at least one room type, such as room_types/meeting_room.yaml; found none",
        "rooms.csv: wanted this file; found none",
    ]


LINK = "wanted something inside the project folder; found a link that leads out of it"


def test_links_out_of_the_folder_are_refused_and_not_read(folder: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret.yaml").write_text("a: [secret\n")
    (outside / "letter.md").write_text("secret")
    (folder / "fixed.yaml").unlink()
    (folder / "fixed.yaml").symlink_to(outside / "secret.yaml")
    (folder / "room_types/other.yaml").symlink_to("../../outside/secret.yaml")
    (folder / "wording/introduction.md").unlink()
    (folder / "wording").rmdir()
    (folder / "wording").symlink_to(outside)
    assert messages_of(folder) == [
        f"fixed.yaml: {LINK}",
        f"room_types/other.yaml: {LINK}",
        f"wording: {LINK}",
    ]


def test_links_inside_the_folder_are_followed(folder: Path) -> None:
    (folder / "room_types/board.yaml").symlink_to("meeting.yaml")
    assert set(load_project(folder).room_types) == {"board", "meeting"}


def test_links_to_nothing_and_in_a_circle_are_told(folder: Path) -> None:
    (folder / "room_types/nothing.yaml").symlink_to("nowhere.yaml")
    (folder / "room_types/round.yaml").symlink_to("round.yaml")
    messages = messages_of(folder)
    assert [message.split(":")[0] for message in messages] == [
        "room_types/nothing.yaml",
        "room_types/round.yaml",
    ]
    assert all("wanted a file that can be read; found an obstacle: " in message for message in messages)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no named pipes")
def test_a_pipe_is_not_waited_for(folder: Path) -> None:
    (folder / "fixed.yaml").unlink()
    os.mkfifo(folder / "fixed.yaml")
    assert messages_of(folder) == ["fixed.yaml: wanted a file; found something else"]


def test_a_folder_for_a_file_is_told(folder: Path) -> None:
    (folder / "fixed.yaml").unlink()
    (folder / "fixed.yaml").mkdir()
    assert messages_of(folder) == ["fixed.yaml: wanted a file; found a folder"]


def test_a_file_for_a_folder_is_told(folder: Path) -> None:
    (folder / "readings").write_text("x")
    assert messages_of(folder) == ["readings: wanted a folder; found a file"]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="other systems refuse such names themselves")
def test_names_that_cannot_be_printed_are_told_printably(folder: Path) -> None:
    (Path(os.fsdecode(os.fsencode(folder) + b"/room_types/\xff.yaml"))).write_text("name: x\n")
    (folder / "room_types/new\nline.yaml").write_text("name: x\n")
    assert messages_of(folder) == [
        "room_types/\\udcff.yaml: wanted a name of printable characters; found another",
        "room_types/new\\nline.yaml: wanted a name of printable characters; found another",
    ]


def test_hidden_files_copies_of_editors_and_other_papers_are_left_alone(folder: Path) -> None:
    for name in (".DS_Store", "room_types/.meeting.yaml.swp", "rooms/B002.yaml~", "brief.pdf", "notes.md"):
        (folder / name).write_bytes(b"\x00")
    (folder / "correspondence").mkdir()
    assert messages_of(folder) == []


def test_too_many_files_are_refused(folder: Path) -> None:
    for number in range(2001):
        (folder / f"wording/{number}.md").touch()
    assert messages_of(folder) == [f"{folder}: wanted at most 2000 files in a project folder; found 2009"]


def test_loading_twice_gives_equal_projects(folder: Path) -> None:
    assert load_project(folder) == load_project(folder)


@pytest.mark.parametrize(
    "path", ["example_project", "shared/starter", "tests/projects/minimal", "tests/projects/us_customary"]
)
def test_the_projects_that_come_with_the_program_are_good(path: str) -> None:
    try:
        load_project(ROOT / path)
    except InputError as error:
        pytest.fail(str(error))
