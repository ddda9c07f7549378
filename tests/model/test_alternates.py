"""Alternates: merge patches over the project, applied before room types reach their rooms."""

from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.model.loading import load_project, load_source
from proposal.model.source import ProjectSource
from tests.bad_input.projects import Edits, write_project

HEAD = "name: Alternate\ndescription: Why somebody might want it.\nchanges:\n"
GOOSENECKS = HEAD + "  room_types: {meeting: {microphones: {M1: {form: gooseneck}}}}\n"
ONE_ROOM_LESS = HEAD + "  rooms: {B002: null}\n"


def source(folder: Path, alternates: dict[str, str], edits: Edits | None = None) -> ProjectSource:
    files = {f"alternates/{key}.yaml": text for key, text in alternates.items()}
    return load_source(write_project(folder / "project", edits={**files, **(edits or {})}))


def forms(chosen: tuple[str, ...], made: ProjectSource) -> dict[str, str]:
    return {tag: room.layout.microphones["M1"].form for tag, room in made.project(chosen).rooms.items()}


def test_a_change_of_a_room_type_reaches_every_room_of_it(tmp_path: Path) -> None:
    made = source(tmp_path, {"goose": GOOSENECKS})
    # B002 has a file of its own, which is merged over the changed type.
    assert forms(("goose",), made) == {"B001": "gooseneck", "B002": "gooseneck"}
    assert made.project(("goose",)).rooms["B002"].layout.ceiling.height == 2.5
    assert forms((), made) == {"B001": "boundary", "B002": "boundary"}
    assert made.base == made.project(())


def test_the_base_is_as_if_open_alternates_were_not_there(tmp_path: Path) -> None:
    made = source(tmp_path, {"goose": GOOSENECKS})
    without = load_project(write_project(tmp_path / "without"))
    assert made.base.model_copy(update={"alternates": {}}) == without
    assert (made.open, made.accepted) == (("goose",), ())


def test_a_room_is_changed_added_and_taken_away(tmp_path: Path) -> None:
    row = "{name: Third, type: meeting, storey: L0, x: 9 m, y: 1 m}"
    changes = f"  rooms: {{B002: null, B003: {row}, B001: {{layout: {{output: mixer}}}}}}\n"
    project = source(tmp_path, {"rooms": HEAD + changes}).project(("rooms",))
    assert set(project.rooms) == {"B001", "B003"}
    assert project.rooms["B001"].layout.output == "mixer"
    assert project.rooms["B003"].layout.output == "breakout"
    assert project.rooms["B001"].changed


def test_accepted_alternates_are_applied_in_the_order_that_is_written(tmp_path: Path) -> None:
    two = {
        "one": HEAD + "  project: {site: First}\n",
        "two": HEAD + "  project: {site: Second}\n",
        "open": HEAD + "  project: {site: Third}\n",
    }
    line = "region: europe\naccepted_alternates: [two, one]"
    made = source(tmp_path, two, {"project.yaml": ("region: europe", line)})
    assert made.base.brief.site == "First"
    assert (made.accepted, made.open) == (("two", "one"), ("open",))
    assert made.project(("open",)).brief.site == "Third"


def test_alternates_that_decide_one_thing_differently_exclude_each_other(tmp_path: Path) -> None:
    handhelds = GOOSENECKS.replace("gooseneck", "handheld")
    made = source(tmp_path, {"goose": GOOSENECKS, "hand": handhelds, "less": ONE_ROOM_LESS})
    with pytest.raises(InputError) as raised:
        made.project(("hand", "goose"))
    assert str(raised.value) == (
        "alternates/hand.yaml:4:51: changes.room_types.meeting.microphones.M1.form: "
        "wanted what no other chosen alternate decides; found it decided in alternates/goose.yaml too"
    )
    assert set(made.project(("goose", "less")).rooms) == {"B001"}


def test_alternates_that_decide_alike_may_stand_together(tmp_path: Path) -> None:
    made = source(tmp_path, {"one": GOOSENECKS, "two": GOOSENECKS})
    assert forms(("one", "two"), made) == forms(("one",), made)


def test_a_combination_that_makes_no_good_project_names_one_of_its_files(tmp_path: Path) -> None:
    seat = HEAD + "  room_types: {meeting: {microphones: {M2: {seat: S2}}}}\n"
    no_seat = HEAD + "  room_types: {meeting: {seats: {S2: null}}}\n"
    made = source(tmp_path, {"seat": seat, "noseat": no_seat})
    with pytest.raises(InputError) as raised:
        made.project(("seat", "noseat"))
    assert str(raised.value) == (
        "alternates/seat.yaml:4:51: changes.room_types.meeting.microphones.M2.seat: "
        "wanted a seat of this room type: S1; found S2"
    )


def test_one_value_is_varied_and_checked(tmp_path: Path) -> None:
    made = source(tmp_path, {})
    path = ("project", "rules", "cabling", "rack_slack")
    assert made.varied(path, "2.4 m").brief.rules.cabling.rack_slack == 2.4
    with pytest.raises(InputError, match=r"rules\.cabling\.rack_slack: wanted"):
        made.varied(path, "long")


def test_a_fingerprint_changes_with_every_input(tmp_path: Path) -> None:
    first = source(tmp_path / "a", {"goose": GOOSENECKS}).fingerprint()
    assert source(tmp_path / "b", {"goose": GOOSENECKS}).fingerprint() == first
    others = [
        source(tmp_path / "c", {}),
        source(tmp_path / "d", {"goose": GOOSENECKS.replace("gooseneck", "handheld")}),
        source(tmp_path / "e", {"goose": GOOSENECKS}, {"rooms.csv": ("Room 2", "Room Two")}),
        source(tmp_path / "f", {"goose": GOOSENECKS}, {"wording/introduction.md": "Thanks.\n"}),
        source(
            tmp_path / "g",
            {"goose": GOOSENECKS},
            {"images/logo.svg": "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'/>"},
        ),
    ]
    prints = [one.fingerprint() for one in others]
    assert len({first, *prints}) == len(prints) + 1


def test_what_an_alternate_gives_up_is_asked_for_no_more_with_it(tmp_path: Path) -> None:
    said = "document: Brief\n  text: Every seat has one.\n  answers: [{count: seats, at_least: 1}]\n"
    asked = "R-001:\n  " + said + "R-002:\n  " + said
    giving_up = ONE_ROOM_LESS.replace("changes:", "gives_up: [R-002]\nchanges:")
    made = source(tmp_path, {"less": giving_up}, {"requirements.yaml": asked})
    assert set(made.base.requirements) == {"R-001", "R-002"}
    assert set(made.project(("less",)).requirements) == {"R-001"}
    unknown = giving_up.replace("R-002", "R-003")
    with pytest.raises(InputError) as raised:
        source(tmp_path / "unknown", {"less": unknown}, {"requirements.yaml": asked})
    assert str(raised.value) == (
        "alternates/less.yaml:3:12: gives_up: wanted something to take away: one of R-001, R-002; "
        "found R-003 (did you mean R-002?)"
    )
