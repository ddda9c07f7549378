"""How long packs last and how many are replaced, worked out by hand."""

import pytest

from proposal.design.charging.pack_life import replaced_over, spent
from proposal.document.making.document import document_of
from proposal.pipeline import compute
from tests.design.making import EXAMPLE, changed, project_of


@pytest.mark.independent
def test_a_day_spends_what_the_state_of_charge_falls_and_not_what_it_rises() -> None:
    """1.0 to 0.7, up to 0.9, down to 0.4 and full again: 0.3 and 0.5 are spent."""
    assert spent([(540, 1.0), (720, 0.7), (780, 0.9), (1020, 0.4), (1200, 1.0)]) == pytest.approx(0.8)
    assert spent([]) == 0


@pytest.mark.independent
@pytest.mark.parametrize(
    ("years", "a_year", "cycles", "replaced"),
    [(5, 100, 500, 0), (5, 101, 500, 1), (10, 100, 500, 1), (10, 150, 500, 2), (5, 0, 500, 0)],
)
def test_a_pack_is_replaced_when_it_is_worn_and_not_at_the_end(
    years: float, a_year: float, cycles: float, replaced: int
) -> None:
    """5 years at 100: 500 of 500, worn at the end. At 101: 505. 10 at 150: 1,500: two after the first."""
    assert replaced_over(years, a_year, cycles) == replaced


@pytest.mark.independent
def test_packs_of_a_kind_of_room_follow_from_its_days_drain_and_the_days_of_a_year() -> None:
    """Meeting rooms: the energy of a day from drains and hours, over the pack's, times the days of a year."""
    project = changed(project_of(EXAMPLE), "brief.rules.charging.years", 20)
    computed = compute(project)
    (life,) = [one for one in computed.design.pack_lives if one.key == "meeting_room"]
    day = next(one for one in computed.design.days["meeting_room"] if not one.name)
    battery, rules = life.battery, project.brief.rules.charging
    meeting_h = sum(end - start for start, end in day.sessions) / 60
    breaks_h = (day.sessions[-1][1] - day.sessions[0][0]) / 60 - meeting_h
    in_use_w = rules.in_use_share * battery.in_use + (1 - rules.in_use_share) * battery.idle
    # In a break it first lies idle, then stands in its slot.
    energy_wh = meeting_h * in_use_w + breaks_h * (1 - rules.docked_share) * battery.idle
    a_year = project.brief.mains.usual_days * energy_wh / battery.energy
    assert life.cycles_a_year == pytest.approx(a_year, rel=1e-6)
    rooms = [tag for tag, room in project.rooms.items() if room.type == "meeting_room"]
    assert life.packs == len(day.groups[0].in_use) * len(rooms)
    (row,) = [one for one in document_of(computed).pack_lives if one.kind == "meeting_room"]
    assert row.lasts_years == pytest.approx(battery.cycles / a_year)
    assert (row.run_time_h, row.changed_by) == (
        battery.run_time / 3600,
        "whoever looks after it, without the maker",
    )
    assert row.list_price is not None
    assert row.amount == row.replaced * row.list_price
    assert row.replaced == life.packs * (int(20 * a_year / battery.cycles - 1e-9))
