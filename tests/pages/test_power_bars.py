"""Power budgets as bars: lengths by hand, limits, the worst port, and the same in words."""

import re

from proposal.document.rows.power import SwitchRow
from proposal.editions import edition_of
from proposal.pages.page_context import PageContext
from proposal.pages.power_bars import MOST_BARS, budget_bars, fullest_first
from tests.sample_document import sample_document

HERE = PageContext("power.md", edition_of(sample_document(), "reviewer"), {})


def switch(tag: str, budget_w: float, allocated_w: float, **values: object) -> SwitchRow:
    return SwitchRow.model_validate(
        {
            "tag": tag,
            "budget_w": budget_w,
            "usable_w": 0.8 * budget_w,
            "allocated_w": allocated_w,
            "drawn_w": allocated_w / 2,
            "verdict": "holds",
            **values,
        }
    )


def test_the_fullest_switches_come_first_and_those_that_power_nothing_never() -> None:
    rows = [
        switch("A", 100, 40),
        switch("B", 50, 45),
        switch("C", 100, 0),
        switch("D", 0, 5),
        switch("E", 200, 80),
    ]
    assert [row.tag for row in fullest_first(rows)] == ["D", "B", "A", "E"]
    many = [switch(f"S{n:02}", 100, 1 + n) for n in range(40)]
    assert [row.tag for row in fullest_first(many)] == [f"S{n}" for n in range(39, 39 - MOST_BARS, -1)]


def test_bars_have_the_length_of_their_watts_and_lines_stand_at_the_limits() -> None:
    drawn = budget_bars(HERE, [switch("A", 200, 100, worst_port="A/3", worst_spare_v=4.0)])
    # 704 units of drawing are 200 W, from 8 on.
    aside, given = re.findall(r'<rect class="(?:aside|less)" x="8" y="\d+" width="([\d.]+)"', drawn)
    usable, budget = re.findall(r'<line class="(?:usable|limit)" x1="([\d.]+)"', drawn)
    assert [float(one) for one in (aside, given, usable, budget)] == [352, 176, 8 + 563.2, 712]


def test_what_is_drawn_is_told_in_words_too() -> None:
    first = switch("A", 200, 100, worst_port="A/3", worst_spare_v=4.0)
    drawn = budget_bars(HERE, [first, switch("B", 9, 10)])
    title = re.findall("<title>(.*)</title>", drawn)
    assert title == [
        "Power budgets of switches. A: 50.0 W drawn, 100.0 W allocated, limits 160.0 W with headroom and "
        "200.0 W in all, worst port A/3: 4.0 V to spare at the device; B: 5.0 W drawn, 10.0 W allocated, "
        "limits 7.2 W with headroom and 9.0 W in all, no worst port."
    ]
    assert 'role="img"' in drawn
