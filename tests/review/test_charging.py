"""Findings about the meeting day and the way of sound: their severity, numbers and remedies."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from proposal.design.charging.room_days import room_days
from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.model.rooms import Session
from proposal.review.charging import nights_too_short, reserve_not_kept, slots_missing
from proposal.review.sound import outputs_shared, ports_missing
from tests.catalogue import CHARGER, SMALL_CHARGER, microphone, with_round_catalogue
from tests.design.charging.test_charge_slots import room

ROOT = Path(__file__).resolve().parents[2]


@cache
def example() -> tuple[Project, Design]:
    project = load_project(ROOT / "example_project")
    return project, design(project)


def with_day(
    sessions: dict[str, tuple[int, int]],
    chargers: list[str],
    microphones: list[str],
    spares: list[str],
    catalogue: Project | None = None,
) -> tuple[Project, Design]:
    """Return the example with another day in its chamber, of the small catalogue or one that is given."""
    project, found = example()
    written = {name: Session(start=start, end=end) for name, (start, end) in sessions.items()}
    layout = project.room_types["chamber"].model_copy(update={"sessions": written})
    days = room_days(
        catalogue or with_round_catalogue(project), "chamber", layout, room(chargers, microphones, spares)
    )
    changed = replace(found)
    # A day is computed when it is first asked for; this one is known.
    changed.__dict__["days"] = {"chamber": days}
    return project, changed


COUNCIL = {"council": (540, 1080)}


def test_the_example_lasts_its_days() -> None:
    project, found = example()
    for rule in (reserve_not_kept, slots_missing, nights_too_short, ports_missing, outputs_shared):
        assert list(rule(project, found)) == []


def test_too_few_spares_are_an_error_that_sizes_the_pool() -> None:
    found = list(reserve_not_kept(*with_day(COUNCIL, [CHARGER] * 2, [microphone("gooseneck")] * 6, [])))
    assert [one.severity for one in found] == ["error"]
    assert (found[0].rule, found[0].where, found[0].limit) == ("battery-below-reserve", "chamber", 20)
    assert "without swaps: 0%" in found[0].message
    assert "No spare is held." in found[0].message
    assert "spare gooseneck microphone" in found[0].remedy
    assert found[0].remedy.startswith("Hold ")


def test_spares_that_do_make_it_a_warning_with_the_swaps() -> None:
    found = list(
        reserve_not_kept(
            *with_day(COUNCIL, [CHARGER] * 4, [microphone("gooseneck")] * 6, [microphone("gooseneck")] * 4)
        )
    )
    assert [(one.rule, one.severity) for one in found] == [("battery-needs-swaps", "warning")]
    assert "Swapping 4 spares keeps them at" in found[0].message
    # 10.0 Wh keep 8.0 aged. Nine hours at 1 W leave a fifth of an aged pack of 9 ÷ 0.8 Wh, new 9 ÷ 0.64.
    assert found[0].remedy == (
        "Agree who makes the 30 swaps of the day (the first at 10:37, the last at 17:59); or take packs that "
        "hold 14.1 Wh new instead of 10.0 Wh, at the same drains."
    )


@pytest.mark.independent
def test_packs_as_large_as_is_said_need_no_swaps_and_smaller_ones_do() -> None:
    for energy_wh, needs in ((14.1, False), (14.0, True)):
        project, _ = example()
        library = with_round_catalogue(project).library
        microphones = {
            code: one.model_copy(update={"battery": one.battery.model_copy(update={"energy": energy_wh})})
            for code, one in library.microphones.items()
        }
        larger = project.model_copy(
            update={"library": library.model_copy(update={"microphones": microphones})}
        )
        spares = [microphone("gooseneck")] * 4
        found = with_day(COUNCIL, [CHARGER] * 4, [microphone("gooseneck")] * 6, spares, larger)
        assert [one.rule for one in reserve_not_kept(*found)] == ["battery-needs-swaps"] * needs


def test_longer_breaks_and_faster_charging_are_offered_where_they_help() -> None:
    sessions = {"morning": (540, 780), "afternoon": (795, 1065)}
    found = list(reserve_not_kept(*with_day(sessions, [CHARGER], [microphone("gooseneck")] * 4, [])))
    assert len(found) == 1
    assert "make each break" in found[0].remedy
    assert "so that the day ends at" in found[0].remedy


def test_microphones_without_slots_are_an_error_that_names_them() -> None:
    found = list(slots_missing(*with_day(COUNCIL, [SMALL_CHARGER], [microphone("handheld")] * 3, [])))
    assert [(one.rule, one.severity, one.value, one.limit) for one in found] == [
        ("no-charge-slot", "error", 2.0, 3.0)
    ]
    assert "M3" in found[0].message
    assert found[0].remedy == "Add chargers with 1 slot for this form."


def test_a_night_that_is_too_short_is_a_warning() -> None:
    found = list(nights_too_short(*with_day({"a": (0, 1320)}, [CHARGER], [microphone("gooseneck")] * 2, [])))
    assert [one.rule for one in found] == ["night-too-short"]
    assert found[0].limit == 100
    assert found[0].value is not None
    assert 0 < found[0].value < 100
    assert "hold 2 spare gooseneck microphones: as many as are in use." in found[0].remedy


def test_findings_name_the_kind_of_day_and_the_line_of_its_sessions() -> None:
    project = load_project(ROOT / "tests" / "projects" / "states")
    found = design(project)
    (one,) = reserve_not_kept(project, found)
    assert (one.rule, one.severity, one.where) == ("battery-needs-swaps", "warning", "meeting")
    assert "do not last the day budget of rooms B001 and B002 without swaps" in one.message
    text = (ROOT / "tests" / "projects" / "states" / "room_types" / "meeting.yaml").read_text()
    assert text.splitlines()[one.place.line - 1].strip() == "budget:"


@pytest.mark.parametrize("wanted", ["mix for recorder", "loudspeakers, zone room"])
def test_a_port_that_is_missing_is_an_error(wanted: str) -> None:
    project, found = example()
    end = replace(found.ends[0], port="", name=wanted)
    broken = list(ports_missing(project, replace(found, ends=(end, *found.ends[1:]))))
    assert [(one.rule, one.severity, one.where) for one in broken] == [("port-missing", "error", end.device)]
    assert wanted in broken[0].message


def test_an_output_with_a_microphone_and_an_amplifier_is_a_warning() -> None:
    project, found = example()
    taken = found.channels.of_room("A201")[0]
    end = replace(found.ends[0], device=taken.mixing, port=taken.input, direction="output")
    shared = list(outputs_shared(project, replace(found, ends=(*found.ends, end))))
    assert [(one.rule, one.severity, one.where) for one in shared] == [("output-shared", "warning", "A201")]
    assert "with 1 more output in all" in shared[0].remedy
