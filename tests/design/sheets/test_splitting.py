"""Sheets into which a drawing is split show everything once, in order."""

from hypothesis import given
from hypothesis import strategies as st

from proposal.design.sheets import splitting as sheets


def test_a_drawing_that_fits_is_one_sheet() -> None:
    assert sheets.overall_parts([("L1", [("A", 2), ("B", 1)]), ("L0", [])]) == sheets.WHOLE
    assert sheets.detail_parts([("A", 12, 2), ("B", 0, 0)]) == sheets.WHOLE
    assert sheets.flow_parts(["AP1"], [["CH1"], ["CH2"]]) == sheets.WHOLE


ROOM_SIZES = st.lists(st.tuples(st.integers(0, 200), st.integers(0, 20)), min_size=1, max_size=30)


@given(ROOM_SIZES)
def test_detail_sheets_show_every_cable_of_every_room_once(sizes: list[tuple[int, int]]) -> None:
    rooms = [(f"R{number}", cables, others) for number, (cables, others) in enumerate(sizes)]
    cables = {tag: count for tag, count, _ in rooms}
    shown: list[tuple[str, int]] = []
    parts = sheets.detail_parts(rooms)
    for part in parts:
        members = part.members or tuple(cables)
        for place, tag in enumerate(members):
            first = part.first if place == 0 else 1
            last = part.last if place == len(members) - 1 and part.last else cables[tag]
            shown += [(tag, number) for number in range(first, last + 1)]
    assert shown == [(tag, number) for tag, count, _ in rooms for number in range(1, count + 1)]
    assert {tag for part in parts for tag in part.members} in (set(), set(cables))


@given(st.lists(st.lists(st.integers(0, 8), max_size=40), max_size=6))
def test_overall_sheets_show_every_room_once_and_in_order(storeys: list[list[int]]) -> None:
    listed = [
        (f"L{level}", [(f"L{level}-{number}", lines) for number, lines in enumerate(rooms)])
        for level, rooms in enumerate(storeys)
    ]
    parts = sheets.overall_parts(listed)
    every = [tag for _, rooms in listed for tag, _ in rooms]
    shown = [tag for part in parts for tag in part.members]
    assert shown == (every if len(parts) > 1 else [])


@given(st.integers(0, 30), st.integers(0, 30), st.integers(1, 4))
def test_flow_sheets_show_every_access_point_and_charger_once(
    access_points: int, chargers: int, groups: int
) -> None:
    first = [f"AP{number}" for number in range(access_points)]
    second = [f"CH{number}" for number in range(chargers)]
    parts = sheets.flow_parts(first, [[code] for code in second], dict.fromkeys(first, groups))
    shown = [code for part in parts for code in part.members]
    assert shown == ([*first, *second] if len(parts) > 1 else [])
