"""The mute truth table, written out by hand for small rooms."""

from pathlib import Path
from typing import Literal

import pytest

from proposal.design.sound.muting import MuteState, mute_states
from proposal.model.loading import load_project
from proposal.model.microphone_positions import MicrophonePosition
from proposal.model.project import Project
from proposal.model.rooms import Destination, RoomType
from tests.catalogue import model_of, shipped

ROOT = Path(__file__).resolve().parents[3]


HELD = model_of(shipped(), "microphone", mute_switch="push to talk")
TOGGLING = model_of(shipped(), "microphone", mute_switch="toggle")
MIXER = model_of(shipped(), "mixer")


@pytest.fixture(scope="module")
def project() -> Project:
    return load_project(ROOT / "example_project")


def room(project: Project, groups: dict[str, str], *, far_end: bool) -> RoomType:
    """Return a room with a microphone in each group, by code."""
    codec = {"far-end": Destination(name="codec", signal="networked audio")}
    return project.room_types["chamber"].model_copy(
        update={
            "microphones": {
                code: MicrophonePosition(form="boundary", pattern="cardioid", at=(1.0, 1.0), mute_group=group)
                for code, group in groups.items()
            },
            "destinations": codec,
            "mute_operators": {},
            "returns": codec if far_end else {},
        }
    )


def lines(states: tuple[MuteState, ...]) -> list[tuple[str, str, str, str, str]]:
    return [
        (one.trigger, " ".join(one.microphones), one.indicator, one.local_mix, one.far_end) for one in states
    ]


@pytest.mark.independent
def test_a_room_with_two_groups_and_two_sorts_of_switch(project: Project) -> None:
    # One toggles; the other is live while its switch is held.
    layout = room(project, {"M1": "chair", "M2": "members"}, far_end=True)
    held = layout.microphones["M1"].model_copy(update={"switch": "push to talk"})
    layout = layout.model_copy(update={"microphones": {**layout.microphones, "M1": held}})
    found = mute_states(project, layout, {"M1": HELD, "M2": TOGGLING}, [MIXER])
    own = "as its own switch says"
    # A breakout mutes all alone.
    alone = mute_states(project, layout, {"M1": HELD, "M2": TOGGLING}, [model_of(shipped(), "breakout")])
    assert [one.trigger for one in alone if one.trigger.startswith("Mute of")] == [
        "Mute of all set",
        "Mute of all released",
    ]
    assert lines(found) == [
        ("Switch held", "M1", "live", "live", "live"),
        ("Switch not held", "M1", "muted", "muted", "muted"),
        ("Switch pressed while live", "M2", "muted", "muted", "muted"),
        ("Switch pressed while muted", "M2", "live", "live", "live"),
        ("Mute of group chair set", "M1", "muted", "muted", "muted"),
        ("Mute of group chair released", "M1", own, own, own),
        ("Mute of group members set", "M2", "muted", "muted", "muted"),
        ("Mute of group members released", "M2", own, own, own),
        ("Mute of all set", "", "muted", "muted", "muted"),
        ("Mute of all released", "", own, own, own),
        ("Microphone put into its charger", "", "charging", "muted", "muted"),
        ("Microphone taken from its charger, nothing muted", "M2", "live", "live", "live"),
        ("Microphone taken from its charger, nothing muted", "M1", "muted", "muted", "muted"),
        ("Microphone taken from its charger, its group or all muted", "", "muted", "muted", "muted"),
        (
            "Mute set in the conferencing system, which sets the mute of all with it",
            "",
            "muted",
            "muted",
            "muted",
        ),
        ("Contact of the fire alarm closed (emergency mute)", "", "muted", "muted", "muted"),
    ]


@pytest.mark.independent
def test_a_room_that_nobody_hears_from_outside(project: Project) -> None:
    layout = room(project, {"M1": "all"}, far_end=False)
    found = mute_states(project, layout, {"M1": TOGGLING}, [])
    assert lines(found) == [
        ("Switch pressed while live", "M1", "muted", "muted", "no far end"),
        ("Switch pressed while muted", "M1", "live", "live", "no far end"),
        ("Mute of all set", "", "muted", "muted", "no far end"),
        ("Mute of all released", "", "as its own switch says", "as its own switch says", "no far end"),
        ("Microphone put into its charger", "", "charging", "muted", "no far end"),
        ("Microphone taken from its charger, nothing muted", "M1", "live", "live", "no far end"),
        ("Microphone taken from its charger, its group or all muted", "", "muted", "muted", "no far end"),
    ]


@pytest.mark.independent
@pytest.mark.parametrize(
    ("switch", "expected"),
    [
        ("push to mute", [("Switch held", "muted"), ("Switch not held", "live")]),
        ("none", [("No switch", "live")]),
    ],
)
def test_other_switches(project: Project, switch: str, expected: list[tuple[str, str]]) -> None:
    entry = project.library.microphones[TOGGLING].model_copy(
        update={"mute_switch": switch, "mute_switches": ()}
    )
    library = project.library.model_copy(
        update={"microphones": {**project.library.microphones, TOGGLING: entry}}
    )
    changed = project.model_copy(update={"library": library})
    found = mute_states(changed, room(project, {"M1": "all"}, far_end=True), {"M1": TOGGLING}, [])
    switched = [(one.trigger, one.local_mix) for one in found if one.trigger.lower().find("switch") >= 0]
    assert switched == expected


@pytest.mark.independent
def test_a_switch_that_is_pressed_to_speak_begins_muted(project: Project) -> None:
    layout = room(project, {"M1": "all"}, far_end=True).model_copy(update={"switch": "press to speak"})
    found = mute_states(project, layout, {"M1": TOGGLING}, [])
    assert [(one.trigger, one.local_mix) for one in found[:3]] == [
        ("Meeting begins", "muted"),
        ("Switch pressed while live", "muted"),
        ("Switch pressed while muted", "live"),
    ]


@pytest.mark.parametrize("key", ["chamber", "committee_room", "meeting_room", "training_room"])
def test_indicator_room_and_far_end_never_disagree(project: Project, key: str) -> None:
    layout = project.room_types[key]
    models = {
        code: model_of(project.library, "microphone", form=at.form) for code, at in layout.microphones.items()
    }
    for one in mute_states(project, layout, models, [MIXER]):
        assert one.indicator in (one.local_mix, "charging")
        # A codec on a cable or a USB cord, in two of these rooms, can silence itself alone.
        if not one.trigger.endswith("which mutes nothing in the room"):
            assert one.far_end in (one.local_mix, "no far end")


@pytest.mark.independent
@pytest.mark.parametrize(
    ("signal", "said", "own"),
    [
        # Mutes are set over the network: a codec on it reaches them, one on a cable or a USB cord does not.
        ("networked audio", None, "muted"),
        ("analogue", None, "as its own switch says"),
        ("USB", None, "as its own switch says"),
        ("analogue", True, "muted"),
        ("networked audio", False, "as its own switch says"),
    ],
)
def test_a_mute_in_the_conferencing_system_reaches_the_room_where_its_command_can(
    project: Project, signal: Literal["networked audio", "analogue", "USB"], said: bool | None, own: str
) -> None:
    layout = room(project, {"M1": "all"}, far_end=True)
    codec = {"far-end": Destination(name="codec", signal=signal, mutes_room=said)}
    layout = layout.model_copy(update={"destinations": codec, "returns": codec})
    (found,) = (
        one
        for one in mute_states(project, layout, {"M1": TOGGLING}, [])
        if one.trigger.startswith("Mute set in the conferencing system")
    )
    assert (found.indicator, found.local_mix, found.far_end) == (own, own, "muted")


@pytest.mark.independent
@pytest.mark.parametrize(("contact", "rows"), [(True, 1), (None, 1), (False, 0)])
def test_a_building_without_a_contact_of_the_fire_alarm_mutes_nothing_by_it(
    project: Project, contact: bool | None, rows: int
) -> None:
    building = project.building.model_copy(update={"fire_alarm_contact": contact})
    made = project.model_copy(update={"building": building})
    found = mute_states(made, room(project, {"M1": "all"}, far_end=False), {"M1": TOGGLING}, [MIXER])
    assert sum("fire alarm" in one.trigger for one in found) == rows
