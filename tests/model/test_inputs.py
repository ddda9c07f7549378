"""What changed between two states of a project folder, with the line where it stands."""

import pytest

from proposal.model.inputs import InputChange, input_changes

PROJECT = b"name: House\nrules:\n  power: {headroom: 10 %}\n  cabling:\n    rack_slack: 3 m\n"
ROOMS = b"tag,name,room type\nA1,Hall,hall\nA2,Den,den\n"


def told(before: dict[str, bytes], after: dict[str, bytes]) -> list[tuple[str, str, str, str]]:
    """Return name, place, kind and values of each change in a line."""
    return [
        (one.name, f"{one.place.file}:{one.place.line}", one.kind, f"{one.before} → {one.after}")
        for one in input_changes(before, after)
    ]


def test_equal_states_differ_in_nothing_and_comments_say_nothing() -> None:
    assert input_changes({"project.yaml": PROJECT}, {"project.yaml": PROJECT}) == ()
    assert input_changes({"project.yaml": PROJECT}, {"project.yaml": b"# words\n" + PROJECT}) == ()


def test_a_value_is_told_with_its_line_in_the_later_state() -> None:
    after = b"# one line more\n" + PROJECT.replace(b"3 m", b"5 m")
    assert told({"project.yaml": PROJECT}, {"project.yaml": after}) == [
        ("project.rules.cabling.rack_slack", "project.yaml:6", "changed", "3 m → 5 m")
    ]


def test_what_is_gone_is_told_with_its_line_in_the_earlier_state() -> None:
    after = PROJECT.replace(b"    rack_slack: 3 m\n", b"    table_slack: 1 m\n")
    assert told({"project.yaml": PROJECT}, {"project.yaml": after}) == [
        ("project.rules.cabling.rack_slack", "project.yaml:5", "removed", "3 m → "),
        ("project.rules.cabling.table_slack", "project.yaml:5", "added", " → 1 m"),
    ]


def test_a_row_of_the_schedule_is_one_change_and_a_cell_another() -> None:
    after = ROOMS.replace(b"A2,Den,den", b"A2,Den,hall\nA3,Nook,den")
    assert told({"rooms.csv": ROOMS}, {"rooms.csv": after}) == [
        ("rooms.A2.type", "rooms.csv:3", "changed", "den → hall"),
        ("rooms.A3", "rooms.csv:4", "added", " → "),
    ]


def test_rows_in_another_order_are_reordered() -> None:
    after = b"tag,name,room type\nA2,Den,den\nA1,Hall,hall\n"
    assert told({"rooms.csv": ROOMS}, {"rooms.csv": after}) == [
        ("rooms", "rooms.csv:2", "reordered", "A1, A2 → A2, A1")
    ]


@pytest.mark.parametrize(
    ("file", "name"),
    [
        ("room_types/hall.yaml", "room_types.hall"),
        ("rooms/A1.yaml", "rooms.A1.layout"),
        ("alternates/more.yaml", "alternates.more"),
        ("fixed.yaml", "fixed"),
    ],
)
def test_a_file_that_comes_or_goes_is_one_change(file: str, name: str) -> None:
    content = b"name: x\nuse: y\n"
    assert told({}, {file: content}) == [(name, f"{file}:1", "added", " → ")]
    assert told({file: content}, {}) == [(name, f"{file}:1", "removed", " → ")]


def test_prose_is_told_at_its_first_line_that_differs() -> None:
    before, after = b"# Scope\n\nOne.\nTwo.\n", b"# Scope\n\nOne.\nThree.\n"
    assert told({"wording/scope.md": before}, {"wording/scope.md": after}) == [
        ("wording.scope", "wording/scope.md:4", "changed", "Two. → Three.")
    ]


def test_what_cannot_be_understood_counts_as_a_whole() -> None:
    for file, broken in (("project.yaml", b"name: [\n"), ("images/logo.svg", b"\xff\xfe")):
        (change,) = input_changes({file: broken}, {file: broken + b"x"})
        assert (change.kind, change.before, change.after) == ("changed", "", "")
        assert change.place.file == file


def test_what_stands_inside_a_new_entry_is_not_told_with_it() -> None:
    """It may be for fewer readers than the entry: a note of the house in a new room."""
    after = ROOMS + b"A3,Nook,den\n"
    (change,) = input_changes({"rooms.csv": ROOMS}, {"rooms.csv": after})
    assert isinstance(change, InputChange)
    assert change.after == ""
