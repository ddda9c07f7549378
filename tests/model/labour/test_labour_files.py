"""Labour data: the shared files, a company's over them, and what is wrong said with its place."""

from decimal import Decimal

import pytest

from proposal.model.equipment.library import FIELD_OF_KIND
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.labour.labour_files import unknown_names
from tests.estimate.labour_data import over_shared, shared_labour


@pytest.mark.published
def test_shared_hours_lie_within_the_figures_the_trade_states() -> None:
    """Ranges as trade articles print them (memory); height steps likewise."""
    labour = shared_labour()
    ranges = {
        "pull data cable": (9, 13),
        "terminate data cable": (0.25, 0.4),
        "install a loudspeaker": (1.0, 1.5),
        "install an access point": (1.0, 1.5),
        "install a charger": (0.5, 0.75),
        "pair a microphone": (0.1, 0.2),
        "mount in a rack": (0.5, 1.0),
        "configure a switch": (1.5, 3),
        "configure a mixer": (6, 12),
        "tune a room": (3, 6),
        "survey radio on a storey": (1, 2),
    }
    for key, (least, greatest) in ranges.items():
        hours = labour.tasks[key].hours
        assert hours is not None
        assert least <= hours <= greatest
    assert labour.tasks["label a cable end"].hours == Decimal("0.04")
    assert labour.tasks["pull data cable"].length == pytest.approx(304.8)
    steps = {round(one.above / 0.3048): one.addition for one in labour.heights.values()}
    assert steps == {12: 0.03, 14: 0.08, 16: 0.13, 18: 0.19, 20: 0.25}


def test_every_part_of_the_shared_data_has_a_source_and_every_trade_a_task() -> None:
    labour = shared_labour()
    parts = [
        part
        for section in (labour.trades, labour.tasks, labour.conditions, labour.heights, labour.pull_groups)
        for part in section.values()
    ]
    for part in parts:
        assert part.source.startswith(("editable default", "common practice", "published"))
        assert part.layer == "shared"
    assert {task.trade for task in labour.tasks.values()} == set(labour.trades)
    assert unknown_names(LabourChoices(), labour, {}, {}) == ()


def test_a_company_names_only_what_differs() -> None:
    found = over_shared(
        "source: our own records\n"
        "tasks:\n"
        "  tune a room: {hours: 2.5}\n"
        "  pair a microphone: null\n"
        "  polish: {name: Polish, trade: installer, phase: second fix, to: room, hours: 0.1}\n"
    )
    labour, before = found.labour, shared_labour()
    assert labour is not None
    assert labour.tasks["tune a room"].hours == Decimal("2.5")
    assert labour.tasks["tune a room"].trade == before.tasks["tune a room"].trade
    assert labour.tasks["tune a room"].layer == "company"
    assert labour.tasks["tune a room"].source == before.tasks["tune a room"].source
    assert labour.tasks["polish"].source == "our own records"
    assert "pair a microphone" not in labour.tasks
    assert labour.tasks["test a room"] == before.tasks["test a room"]


@pytest.mark.parametrize(
    ("text", "place", "message"),
    [
        (
            "tasks:\n  tune a room: {hours: long}\n",
            "ours/labour.yaml:2",
            "wanted a number, such as 2 or 1.5; found long",
        ),
        ("tasks:\n  tune a room: {hourz: 3}\n", "ours/labour.yaml:2", "did you mean hours"),
        ("tasks:\n  tune a room: {share: 3 %}\n", "ours/labour.yaml:2", "either hours or a share"),
        ("tasks:\n  tune a room: {trade: instaler}\n", "", "did you mean installer"),
        ("tasks: 5\n", "ours/labour.yaml:1", "wanted names with values"),
        ("conditions:\n  x: {name: X, addition: -5 %}\n", "ours/labour.yaml:2", "wanted at least 0 %"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(text: str, place: str, message: str) -> None:
    found = over_shared(text)
    assert found.labour is None
    said = [f"{problem.place}: {problem.message}" for problem in found.problems]
    assert any(place in one and message in one for one in said), said


def test_names_that_name_nothing_are_found() -> None:
    choices = LabourChoices(
        conditions=("congestd",),
        room_conditions={"A1": ("occupied",), "A9": ("no such",)},
        project_conditions=("night",),
        crews={"instaler": 2},
    )
    found = dict(unknown_names(choices, shared_labour(), {"A1": "meeting"}, {"ZZ-1": "tune a rom"}))
    assert "did you mean congested?" in found["conditions", 0]
    assert ("room_conditions", "A9") in found
    assert ("room_conditions", "A9", 0) in found
    assert ("room_conditions", "A1", 0) not in found
    assert ("project_conditions", 0) in found
    assert "did you mean installer?" in found["crews", "instaler"]
    assert "did you mean tune a room?" in found["library", "ZZ-1", "labour_task"]
    assert "microphone" in FIELD_OF_KIND
