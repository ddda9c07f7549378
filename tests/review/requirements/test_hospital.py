"""A hospital's board rooms: rooms that only listen, a hearing that is recorded, channels of a recorder.

The breaks stand in one copy of the project, so that two designs are computed.
"""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.errors import InputError
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from tests.review.editing import PROJECTS, Edit, edited
from tests.whole_projects import whole_computed

FOLDER = PROJECTS / "hospital"
CARRIES = "carries: [mix, group panel, group witness]"
BROKEN: dict[str, Edit] = {
    "building.yaml": [
        # 3: the overflow room hears private meetings, too.
        ("  private: {}\n", "  private: {hear: {H202: [H201]}}\n"),
    ],
    "room_types/board.yaml": [
        # 1: one microphone fewer.  8: an access point under the ceiling.
        ("  M8: {form: boundary, pattern: cardioid, at: [7.75 m, 3.7 m], seat: S8}\n", ""),
        ("*end*", "access_points_at: {AP1: [5 m, 3 m]}\naccess_points_on: ceiling\n"),
    ],
    "room_types/overflow.yaml": [
        # 2: no loudspeaker.  7: infrared is allowed.
        ("assistive_devices: {not_allowed: {infrared: the sun stands in the windows}}\n", ""),
        ("loudspeakers:\n  LS1: {at: [2 m, 3 m]}\n  LS2: {at: [6 m, 3 m]}\n", ""),
    ],
    # 4: nothing comes into the lobby.
    "room_types/lobby.yaml": [
        ("returns:\n  announcements: {name: announcements of the house, signal: networked audio}\n", ""),
    ],
    # 5: the recorder is not excepted.  6: all channels carry the mix.
    "room_types/hearing.yaml": [("sound_may_reach: [recorder]\n", ""), (CARRIES, "carries: [mix, mix, mix]")],
    # 9: Wednesdays are worked.  10: a shorter warranty.
    "project.yaml": [
        (
            "    board: {days: Wed, reason: the board sits}\n",
            "    board: {days: Tue, reason: the board sits}\n",
        ),
        ("warranty_months: 24", "warranty_months: 12"),
    ],
    "requirements.yaml": [("at_most: 65000.00 EUR", "at_most: 6500.00 EUR")],
}


@cache
def broken() -> Computed:
    with TemporaryDirectory() as folder:
        return compute(load_project(edited(Path(folder) / "hospital", "hospital", BROKEN)))


@cache
def document() -> Document:
    return document_of(whole_computed(FOLDER))


def test_all_is_met() -> None:
    """The access point's cable lies along a wall of the board room, under the listed ceiling nowhere."""
    verdicts = {one.tag: one.verdict for one in whole_computed(FOLDER).answered}
    assert verdicts == {f"R-{number:02}": "met" for number in range(1, 12)}


def test_breaking_the_design_turns_each_clause() -> None:
    verdicts = {one.tag: one.verdict for one in broken().answered}
    # R-02 asks for two things; R-04 names what is there no more, and so is open.
    assert {tag: one for tag, one in verdicts.items() if one != "not met"} == {"R-04": "open"}


def test_a_closed_hearing_reaches_its_recorder_and_nothing_else() -> None:
    (found,) = whole_computed(FOLDER).design.contained_sound
    assert (found.room, found.way, found.may_reach) == ("H204", (), ("recorder of hearings",))
    assert "H204-OE1" in found.reached
    (leaves,) = (one for one in broken().errors if one.rule == "sound-leaves-room")
    assert "H204-OE1 keeps it" in leaves.message
    assert "sound_may_reach" in leaves.remedy


@pytest.mark.independent
def test_each_channel_of_the_recorder_has_an_output_that_says_what_it_carries() -> None:
    ends = [one for one in whole_computed(FOLDER).design.ends if "recorder" in one.joined]
    assert [(one.port, one.name) for one in ends] == [
        ("O1", "mix for recorder of hearings"),
        ("O2", "group panel for recorder of hearings"),
        ("O3", "group witness for recorder of hearings"),
    ]
    settings = {
        one.name: one.value for one in whole_computed(FOLDER).design.settings if one.device == "H204-MX1"
    }
    assert settings["Output O2"] == "group panel for recorder of hearings, 1 channel"


@pytest.mark.independent
def test_where_infrared_is_not_allowed_radio_carries_assistive_listening() -> None:
    (row,) = (row for sheet in document().room_sheets for row in sheet.assistive)
    assert (row.carrier, row.not_allowed) == ("radio", (("infrared", "the sun stands in the windows"),))
    library = whole_computed(FOLDER).project.library.assistive_devices
    of_room = [one.model for one in whole_computed(FOLDER).design.devices if one.room == "H202"]
    carriers = {library[model].carrier for model in of_room if model in library}
    assert carriers == {"radio", None}


def test_a_radio_transmitter_for_listeners_lets_sound_out_of_a_closed_room(tmp_path: Path) -> None:
    edits: dict[str, Edit] = {
        "room_types/hearing.yaml": [
            (
                "output: mixer",
                "assistive_listening: yes\nassistive_devices: {not_allowed: {infrared: sun}}\noutput: mixer",
            ),
            (", channels: 3, " + CARRIES, ""),
        ],
        "requirements.yaml": "{}\n",
    }
    found = compute(load_project(edited(tmp_path / "radio", "hospital", edits)))
    # A recorder of hearings is no system for people who hear badly.
    (leaves,) = (one for one in found.errors if one.rule == "sound-leaves-room")
    assert "the radio of H204-AT1 can be received outside the room" in leaves.message


def test_what_no_room_has_is_refused_with_what_could_be_meant(tmp_path: Path) -> None:
    edits: dict[str, Edit] = {
        "room_types/hearing.yaml": [
            (CARRIES, "carries: [mix, group pannel]"),
            ("sound_may_reach: [recorder]", "sound_may_reach: [recoder]"),
        ],
        "building.yaml": [("{H202: [H201]}", "{H202: [H202, H209]}")],
    }
    with pytest.raises(InputError) as caught:
        load_project(edited(tmp_path / "wrong", "hospital", edits))
    said = str(caught.value)
    assert "found group pannel (did you mean group panel?)" in said
    assert "found recoder" in said
    assert "wanted another room; found H202 itself" in said
    assert "wanted the tag of a room" in said


def test_channels_without_a_source_each_are_refused(tmp_path: Path) -> None:
    edits: dict[str, Edit] = {"room_types/hearing.yaml": [(CARRIES, "carries: [mix]")]}
    with pytest.raises(InputError, match=r"one source for each of 3 channels, such as .*; found 1"):
        load_project(edited(tmp_path / "few", "hospital", edits))


def test_a_breakout_cannot_choose_what_a_channel_carries(tmp_path: Path) -> None:
    edits: dict[str, Edit] = {"room_types/hearing.yaml": [("output: mixer", "output: breakout")]}
    found = compute(load_project(edited(tmp_path / "breakout", "hospital", edits)))
    assert "channel-source-not-possible" in {one.rule for one in found.errors}
