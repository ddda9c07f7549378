"""What switches of microphones do: as asked where the model can, and nobody holds a button unasked."""

from decimal import Decimal
from typing import Any

import pytest

from proposal.document.making.document import document_of
from proposal.model.microphone_positions import Form, Switch
from proposal.model.project import FixedDevice, Project
from proposal.pages.how_it_works import _switches
from proposal.pages.what_people_do import what_people_do
from proposal.pipeline import compute
from proposal.quantities.money import Money
from proposal.review.microphone_systems import switches
from tests.design.making import changed, designed, minimal, with_layout, with_microphones


def model_of(project: Project) -> str:
    return designed(project).kinds[0].sizing.microphones["M1"]


def room(
    delivered: str, others: tuple[str, ...], asked: str | None = None, own: str | None = None
) -> Project:
    """Return a room whose microphones can do so much; `asked` of the room type, `own` of its first one."""
    project = minimal()
    model = model_of(project)
    able: dict[str, Any] = {"mute_switch": delivered, "mute_switches": others}
    form = project.library.microphones[model].form
    entries = {
        code: one.model_copy(update=able) if one.form == form else one
        for code, one in project.library.microphones.items()
    }
    project = changed(project, "library.microphones", entries)
    places = dict(project.room_types["meeting"].microphones)
    places["M1"] = places["M1"].model_copy(update={"switch": own})
    return with_layout(project, "meeting", switch=asked, microphones=places)


def told(project: Project) -> dict[str, str]:
    """Return what each switch does, as the channel list has it, spare microphones included."""
    return {one.code: one.switch for one in designed(project).channels.channels}


@pytest.mark.parametrize(
    ("delivered", "others", "asked", "own", "expected"),
    [
        # Nobody says: a press where the model can, else what lets people speak without holding, else held.
        ("toggle", (), None, None, ("toggle", "toggle")),
        ("push to talk", ("toggle", "push to mute"), None, None, ("toggle", "toggle")),
        ("push to talk", ("push to mute",), None, None, ("push to mute", "push to mute")),
        ("none", ("push to talk",), None, None, ("none", "none")),
        ("push to talk", (), None, None, ("push to talk", "push to talk")),
        # The room type says, and one microphone says otherwise.
        ("toggle", ("push to talk",), "push to talk", None, ("push to talk", "push to talk")),
        ("toggle", ("push to talk",), "push to talk", "toggle", ("toggle", "push to talk")),
        # What a press turns on and off may begin muted, too.
        ("toggle", (), "press to speak", None, ("press to speak", "press to speak")),
        # What cannot be stays as it is delivered.
        ("toggle", (), "push to talk", None, ("toggle", "toggle")),
    ],
)
def test_a_switch_does_what_is_asked_or_what_makes_nobody_hold_a_button(
    delivered: str, others: tuple[str, ...], asked: str | None, own: str | None, expected: tuple[str, str]
) -> None:
    project = room(delivered, others, asked, own)
    found = told(project)
    assert (found["M1"], found["M2"]) == expected
    # A spare one is set as the room type says; the schedule and the table of muting say the same.
    assert found["MS1"] == expected[1]
    document = document_of(compute(project))
    (sheet,) = document.room_sheets
    assert [row.switch for row in sheet.microphones] == list(expected)
    rows = {row.microphone: row.switch for row in document.channels}
    assert [rows[f"B001-{code}"] for code in ("M1", "M2")] == list(expected)


@pytest.mark.parametrize(
    ("asked", "own", "words", "plain"),
    [
        (
            None,
            None,
            ("People press the switch once to mute and once more to speak.",),
            (
                "Whoever wants to be silent presses the switch of the microphone once, "
                "and once more to speak.",
            ),
        ),
        (
            "press to speak",
            None,
            ("Muted at first: people press the switch once to speak and once more to mute.",),
            (
                "Whoever wants to speak presses the switch of the microphone once, and once more to be "
                "silent; it is muted when a meeting begins.",
            ),
        ),
        (
            "push to talk",
            None,
            ("People hold the switch down for as long as they speak.",),
            ("Whoever wants to speak holds the switch of the microphone down.",),
        ),
        (
            "push to talk",
            "none",
            (
                "People have no switch at M1.",
                "People hold the switch down for as long as they speak at M2.",
            ),
            (
                "1 microphone has no switch.",
                "At 1 microphone, whoever wants to speak holds the switch of the microphone down.",
            ),
        ),
    ],
)
def test_the_page_says_what_people_do(
    asked: str | None, own: str | None, words: tuple[str, ...], plain: tuple[str, ...]
) -> None:
    project = room("toggle", ("push to talk", "none"), asked, own)
    (sheet,) = document_of(compute(project)).room_sheets
    assert _switches(sheet) == words
    silent = next(part for part in what_people_do(sheet) if part.heading == "Being silent")
    assert silent.sentences[: len(plain)] == plain
    assert not any("the switch of the microphone" in one for one in silent.sentences[len(plain) :])


def test_a_client_reads_which_microphones_have_which_switch() -> None:
    """Two sorts of switch in a room: each is told with the groups of the microphones that have it."""
    project = room("toggle", ("push to mute",), "push to mute", "toggle")
    places = {
        code: one.model_copy(update={"mute_group": "witness" if code == "M1" else "bench"})
        for code, one in project.room_types["meeting"].microphones.items()
    }
    project = with_layout(project, "meeting", microphones=places)
    (sheet,) = document_of(compute(project)).room_sheets
    silent = next(part for part in what_people_do(sheet) if part.heading == "Being silent")
    assert silent.sentences[:2] == (
        "At 1 microphone (witness), whoever wants to be silent presses the switch of the microphone once, "
        "and once more to speak.",
        "At 1 microphone (bench), whoever wants to be silent holds the switch of the microphone down.",
    )


def test_a_remedy_names_models_that_would_do_and_trying_one_ends_the_finding() -> None:
    project = room("toggle", (), "push to talk")
    model = model_of(project)
    (alone,) = switches(project, designed(project))
    assert alone.rule == "switch-not-possible"
    assert alone.remedy == "Ask for toggle or press to speak."
    able = project.library.microphones[model].model_copy(
        update={"model": "T-1", "mute_switch": "push to talk", "list_price": dear(), "cost": dear()}
    )
    other = able.model_copy(update={"model": "T-2", "system": "another system"})
    project = changed(
        project, "library.microphones", {**project.library.microphones, "T-1": able, "T-2": other}
    )
    # Left to the program, it is the one that can, however dear it is.
    chosen = designed(project)
    assert list(switches(project, chosen)) == []
    assert {one.switch for one in chosen.channels.channels} == {"push to talk"}
    # Chosen by hand, one that cannot is told, and which of its system could.
    by_hand = {f"B001-{code}": FixedDevice(model=model) for code in ("M1", "M2")}
    fixed = changed(project, "fixed.devices", by_hand)
    (found,) = switches(fixed, designed(fixed))
    assert found.remedy == "Choose T-1 for each of them in fixed.yaml, or ask for toggle or press to speak."
    devices = {f"B001-{code}": FixedDevice(model="T-1") for code in ("M1", "M2")}
    tried = changed(project, "fixed.devices", devices)
    assert list(switches(tried, designed(tried))) == []
    asked = with_layout(fixed, "meeting", switch="toggle")
    assert list(switches(asked, designed(asked))) == []


def dear() -> Money:
    """Return a price at which nothing is chosen by cost."""
    return Money(Decimal(9999), "EUR")


@pytest.mark.parametrize("asked", ["toggle", "push to talk", "push to mute", "none"])
@pytest.mark.parametrize("form", ["gooseneck", "boundary", "handheld"])
def test_a_system_whose_switches_can_do_what_is_asked_is_chosen_where_there_is_one(
    asked: Switch, form: Form
) -> None:
    library = minimal().library
    project = with_microphones(minimal(), "meeting", {form: 3}, switch=asked)
    position = project.room_types["meeting"].microphones["M1"]
    able = {
        entry.works_with
        for entry in library.microphones.values()
        if (entry.form, entry.pattern) == (form, position.pattern)
        and entry.works_in(project.brief.region)
        and (entry.hears_return or not position.return_audio)
        and asked in (entry.mute_switch, *entry.mute_switches)
    }
    (kind,) = designed(project).kinds
    chosen = library.microphones[kind.sizing.microphones["M1"]]
    assert (kind.sizing.system in able) == bool(able), (kind.sizing.system, able)
    assert (asked in (chosen.mute_switch, *chosen.mute_switches)) == bool(able)
