"""Where a change comes from: said for certain only where one change of the inputs can be meant."""

import json

import pytest

from proposal.differences.causes import Causes
from proposal.differences.changes import State
from proposal.differences.difference import Path
from proposal.differences.inputs import HOUSE_KEYS, OPEN_KEYS, InputRow, Inputs, inputs_of
from proposal.document.readers import READERS
from proposal.editions import changes_for
from proposal.exports.comparison import comparison_json, comparison_text
from proposal.model.project import Brief
from tests.sample_document import sample_document

SAMPLE = sample_document()
ROOM = SAMPLE.rooms[0]
TYPE = next(sheet.key for sheet in SAMPLE.room_sheets if ROOM.tag in sheet.rooms)
OTHER = next(
    room.tag
    for room in SAMPLE.rooms
    if room.tag not in next(sheet.rooms for sheet in SAMPLE.room_sheets if sheet.key == TYPE)
)


def row(*path: str) -> InputRow:
    return InputRow(path=path, before="1", after="2", file="a.yaml", line=len(path), kind="changed")


def cause(path: Path, *inputs: InputRow, elsewhere: tuple[str, ...] = ()) -> tuple[list[str], bool] | None:
    found = Causes(inputs_of(inputs, elsewhere), SAMPLE, SAMPLE).of(path)
    return None if found is None else ([one.name for one in found.inputs], found.certain)


def test_without_changes_of_the_inputs_nothing_is_said() -> None:
    assert cause(("rooms", (ROOM.tag,))) is None


def test_the_same_path_is_certain_whatever_else_changed() -> None:
    name = row("rooms", ROOM.tag, "name")
    found = cause(("rooms", (ROOM.tag,), "name"), name, row("project", "rules", "power", "headroom"))
    assert found == ([name.name], True)


def test_of_two_lines_of_one_row_neither_is_certain() -> None:
    name, place = row("rooms", ROOM.tag, "name"), row("rooms", ROOM.tag, "x")
    assert cause(("rooms", (ROOM.tag,)), name, place) == ([name.name, place.name], False)
    assert cause(("rooms", (ROOM.tag,)), name) == ([name.name], True)


def test_of_two_changes_of_rules_neither_is_certain() -> None:
    rules = row("project", "rules", "power", "headroom"), row("project", "rules", "cabling", "rack_slack")
    device = ("devices", (f"{ROOM.tag}-AP1",))
    assert cause(device, *rules) == ([one.name for one in rules], False)
    assert cause(device, rules[0]) == ([rules[0].name], True)


def test_an_uncertain_cause_is_told_as_what_it_may_be() -> None:
    """The words beside a row, and the keys of JSON, tell certain causes from others."""
    seats = SAMPLE.rooms[0].model_copy(update={"seats": 99})
    after = SAMPLE.model_copy(update={"rooms": (seats, *SAMPLE.rooms[1:])})
    states = [State(label="x", document=one, date=SAMPLE.cover.revision.date) for one in (SAMPLE, after)]
    one, two = row("rooms", ROOM.tag, "x"), row("rooms", ROOM.tag, "y")
    for inputs, elsewhere, words, key, places in (
        ((one,), (), "(from 1)", "follows_from", [0]),
        ((one, two), (), "(from 1 or 2)", "may_follow_from", [0, 1]),
        ((row("project", "rules", "x"),), ("another version",), "(from 1 or others)", "may_follow_from", [0]),
    ):
        changes = changes_for("reviewer", *states, inputs_of(inputs, elsewhere))
        (line,) = [line for line in comparison_text(changes, "reviewer").splitlines() if "→ 99" in line]
        assert line.endswith(words)
        (change,) = json.loads(comparison_json(changes, "reviewer"))["difference"]["changes"]
        assert {name: change[name] for name in change if "follow" in name} == {key: places}


def test_a_microphone_of_a_kind_of_room_follows_from_its_line() -> None:
    at = row("room_types", TYPE, "microphones", "M1", "at")
    assert cause(("room_sheets", (TYPE,), "microphones", ("M1",)), at, row("rooms", OTHER)) == (
        [at.name],
        True,
    )


def test_a_device_may_follow_from_its_room_and_from_its_kind_of_room() -> None:
    own, kind, elsewhere = (
        row("rooms", ROOM.tag, "x"),
        row("room_types", TYPE, "ceiling"),
        row("rooms", OTHER),
    )
    found = cause(("devices", (f"{ROOM.tag}-AP1",)), own, kind, elsewhere)
    assert found is not None
    assert sorted(found[0]) == sorted([own.name, kind.name])
    assert not found[1]


def test_what_is_fixed_by_hand_is_found_by_tag_and_identity() -> None:
    device, cable = (
        row("fixed", "devices", f"{ROOM.tag}-AP1", "at"),
        row("fixed", "cables", "X/1/Y", "length"),
    )
    assert cause(("devices", (f"{ROOM.tag}-AP1",)), device, cable) == ([device.name], True)
    assert cause(("cables", ("X/1/Y",)), device, cable) == ([cable.name], True)


def test_a_rule_of_the_project_comes_into_question_everywhere() -> None:
    own, rule = row("rooms", ROOM.tag, "x"), row("project", "rules", "cabling", "rack_slack")
    found = cause(("devices", (f"{ROOM.tag}-AP1",)), own, rule)
    assert found is not None
    assert set(found[0]) == {own.name, rule.name}
    assert not found[1]


def test_a_total_may_follow_from_anything_but_the_cover() -> None:
    rooms = (row("rooms", ROOM.tag, "x"), row("rooms", OTHER, "x"))
    found = cause(
        ("cable_totals", ("NC",)),
        *rooms,
        *(row("project", "revision", "date"), row("project", "name"), row("wording", "scope")),
    )
    assert found == ([one.name for one in rooms], False)


def test_nothing_is_certain_of_figures_where_the_program_changed_too() -> None:
    only = row("rooms", ROOM.tag, "x")
    assert cause(("devices", (f"{ROOM.tag}-AP1",)), only) == ([only.name], True)
    assert cause(("devices", (f"{ROOM.tag}-AP1",)), only, elsewhere=("another version",)) == (
        [only.name],
        False,
    )


def test_it_is_decided_of_every_key_of_project_yaml_who_sees_its_changes() -> None:
    decided_elsewhere = set(Brief.model_fields) - OPEN_KEYS - HOUSE_KEYS
    assert decided_elsewhere == set()
    assert not OPEN_KEYS & HOUSE_KEYS
    assert {"price", "terms", "internal_note"} <= HOUSE_KEYS


HIDDEN = (
    row("project", "price", "rules", "rest", "margin"),
    row("project", "internal_note"),
    row("rooms", ROOM.tag, "internal_note"),
    row("library", "own", "access_points", "X", "cost"),
    row("alternates", "cheaper", "project", "price", "place"),
    row("wording", "price"),
    row("labour", "trades"),
)
OPEN = (
    row("project", "rules", "power", "headroom"),
    row("building", "storeys", "L1"),
    row("rooms", ROOM.tag, "type"),
    row("alternates", "cheaper", "rooms", ROOM.tag, "type"),
    row("wording", "scope"),
)


@pytest.mark.parametrize("reader", READERS)
def test_changes_of_prices_and_notes_are_the_houses_alone(reader: str) -> None:
    state = State(label="x", document=SAMPLE, date=SAMPLE.cover.revision.date)
    changes = changes_for(reader, state, state, inputs_of((*HIDDEN, *OPEN), ("another version",)))  # type: ignore[arg-type]
    seen = {one.name for one in changes.inputs.all}
    wanted = {
        "client": set(),
        "installer": set(),
        "reviewer": {one.name for one in OPEN},
        "estimator": {one.name for one in (*HIDDEN, *OPEN)},
    }
    assert seen == wanted[reader]
    assert bool(changes.inputs.elsewhere) == (reader in ("reviewer", "estimator"))


def test_nothing_is_withheld_where_nothing_changed() -> None:
    assert inputs_of(()) == Inputs()


def test_what_has_a_part_in_a_room_may_follow_from_that_room_and_from_no_other() -> None:
    here, there = row("rooms", ROOM.tag, "x"), row("rooms", OTHER, "x")
    assert cause(("devices", (f"{ROOM.tag}-AP9", "radio")), here, there) == ([here.name], True)
