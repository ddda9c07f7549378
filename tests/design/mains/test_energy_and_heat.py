"""Energy in a year and heat of each place, by hand and by what is conserved."""

import pytest

from proposal.design.design import Design
from proposal.design.mains.energy_and_heat import hours_of_sessions
from proposal.design.whole_design import design
from proposal.model.equipment.sound_devices import Amplifier
from proposal.model.mains import Mains
from proposal.model.rooms import Session
from tests.design.making import EXAMPLE, changed, project_of


@pytest.fixture(scope="module")
def made() -> Design:
    return design(project_of(EXAMPLE))


def session(start: str, end: str) -> Session:
    return Session.model_validate({"start": start, "end": end})


def test_hours_of_a_year_by_kind_of_day() -> None:
    # Usual: 9 to 12 and 13:30 to 15:30 are 5 h of meetings in 6.5 h; budget: 10 h without a break.
    usual = {"a": session("09:00", "12:00"), "b": session("13:30", "15:30")}
    found = hours_of_sessions([(200, usual), (10, {"a": session("08:00", "18:00")}), (50, {})])
    assert found.in_use_h == 200 * 5 + 10 * 10
    assert found.idle_h == 200 * 1.5
    assert found.rest_h == 8760 - 1100 - 300


def test_meetings_at_the_same_time_are_hours_of_use_once() -> None:
    # 9 to 12, within it 10 to 11, and 11:30 to 13: in use from 9 to 13, four hours, never idle.
    day = {"a": session("09:00", "12:00"), "b": session("10:00", "11:00"), "c": session("11:30", "13:00")}
    found = hours_of_sessions([(100, day)])
    assert (found.in_use_h, found.idle_h) == (400, 0)


def test_all_that_is_taken_from_the_mains_is_heat_somewhere(made: Design) -> None:
    taken_w = sum(load.typical_w for load in made.mains_loads)
    assert sum(one.heat_w for one in made.energy) == pytest.approx(taken_w)
    # What is fed over network cables is heat where it arrives: the training room has nothing on the mains.
    training = next(one for one in made.energy if one.place == "A110")
    drawn_w = sum(
        port.drawn_w
        for port in made.ports
        if port.attached.poe_class is not None and port.attached.tag.startswith("A110-")
    )
    assert training.typical_w == 0
    assert training.heat_w == pytest.approx(drawn_w)
    assert training.heat.result == pytest.approx(drawn_w * 3600 / 1055.05585262, rel=1e-4)


def test_the_energy_of_a_room_by_hand(made: Design) -> None:
    # The chamber meets 5 h in a span of 6.5 h on 220 days.
    hours = (220 * 5, 220 * 1.5, 8760 - 220 * 6.5)
    chamber = next(one for one in made.energy if one.place == "A001")
    loads = [load for load in made.mains_loads if load.place == "A001"]
    assert {load.name for load in loads} == {"A001-CH1", "A001-CH2", "A001-CH3", "A001-OE1"}
    by_hand = 0.0
    for tag in ("A001-CH1", "A001-CH2", "A001-CH3"):
        mains = made.entries[tag].mains
        assert mains is not None
        by_hand += mains.typical * (hours[0] + hours[1]) + mains.standby * hours[2]
    by_hand += 40 * 8760
    assert chamber.energy.result == pytest.approx(by_hand)


def test_amplifiers_idle_between_meetings(made: Design) -> None:
    found = [
        (load, entry)
        for load in made.mains_loads
        if isinstance(entry := made.entries.get(load.name), Amplifier)
    ]
    assert found
    assert all(load.idle_w == entry.idle for load, entry in found)


def test_more_days_take_more_energy() -> None:
    project = project_of(EXAMPLE)
    few, many = (
        sum(
            one.energy.result
            for one in design(
                changed(project, "brief.mains", Mains.model_validate({"usual_days": days}))
            ).energy
        )
        for days in (100, 200)
    )
    none = sum(
        load.rest_w * 8760
        for load in design(
            changed(project, "brief.mains", Mains.model_validate({"usual_days": 0}))
        ).mains_loads
    )
    # Linear in the days.
    assert many - few == pytest.approx(few - none)
    assert many > few
