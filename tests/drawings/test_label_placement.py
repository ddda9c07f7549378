"""Labels: beside what they name, moved where another needs the place, led where nothing is free."""

import pytest
from shapely.geometry import LineString, box

from proposal.drawings.label_ground import Ground, broken_line, crosses
from proposal.drawings.label_placement import Label, Placed, placed_labels

FRAME = (0.0, 0.0, 400.0, 300.0)


def ground(*symbols: tuple[float, float]) -> Ground:
    empty = Ground(FRAME)
    for x, y in symbols:
        empty.fill((x - 4, y - 4, x + 4, y + 4))
    return empty


def label(words: str, at: tuple[float, float]) -> Label:
    return Label((words,), at, (4.0, 4.0))


def apart(placed: tuple[Placed, ...]) -> bool:
    boxes = [box(*one.box) for one in placed]
    return not any(one.intersects(two) for n, one in enumerate(boxes) for two in boxes[:n])


def test_a_label_alone_stands_at_the_right_of_its_mark() -> None:
    (one,), left = placed_labels([label("AP1", (100, 100))], ground((100, 100)))
    assert left == ()
    assert one.leader == ()
    assert one.box[0] == pytest.approx(106)
    assert (one.box[1] + one.box[3]) / 2 == pytest.approx(100)


def test_a_label_keeps_off_a_line_that_passes_at_the_right() -> None:
    around = ground((100, 100))
    around.rule(((108, 0), (108, 300)))
    (one,), _ = placed_labels([label("AP1", (100, 100))], around)
    assert one.box[2] < 100


def test_marks_in_a_crowd_get_labels_that_touch_nothing() -> None:
    places = [(100.0 + 12 * column, 100.0 + 12 * row) for column in range(7) for row in range(3)]
    around = ground(*places)
    placed, left = placed_labels([label(f"M{n}", at) for n, at in enumerate(places)], around)
    assert apart(placed)
    assert len(placed) + len(left) == len(places)
    assert len(placed) >= 14  # those of the two outer rows
    marks = [box(x - 4, y - 4, x + 4, y + 4) for x, y in places]
    assert not any(box(*one.box).intersects(mark) for one in placed for mark in marks)


def test_among_lines_labels_go_out_on_leaders_that_do_not_cross() -> None:
    places = [(100.0, 100.0), (100.0, 130.0), (130.0, 100.0), (130.0, 130.0)]
    around = ground(*places)
    lines = [((x, 80.0), (x, 150.0)) for x in range(80, 155, 5)]
    for line in lines:
        around.rule(line)
    placed, left = placed_labels([label(f"AP{n}", at) for n, at in enumerate(places)], around)
    assert left == ()
    leaders = [LineString(one.leader) for one in placed]
    assert not any(one.crosses(two) for n, one in enumerate(leaders) for two in leaders[:n])
    assert apart(placed)
    for one, leader in zip(placed, leaders, strict=True):
        # It ends short of its text, so that it does not read as a sign of it.
        assert 1 < leader.distance(box(*one.box)) < 2.4
        assert not any(box(*one.box).intersects(LineString(line)) for line in lines)


def test_a_label_that_another_mark_is_as_near_to_stands_on_a_leader() -> None:
    # A mark 14 pt above and one 14 pt below: between them a text would be as near to either.
    column = [(100.0, 100.0 + 14 * n) for n in range(3)]
    around = ground(*column)
    for x in (92.0, 108.0):
        around.rule(((x, 0), (x, 300)))
    placed, left = placed_labels([label(f"CH{n}", at) for n, at in enumerate(column)], around)
    assert left == ()
    (middle,) = (one for one in placed if one.label.lines == ("CH1",))
    assert middle.leader
    for one in placed:
        if not one.leader:
            gaps = [box(*one.box).distance(box(x - 4, y - 4, x + 4, y + 4)) for x, y in column]
            own = gaps.pop(column.index(one.label.at))
            assert own + 1 < min(gaps)


def test_a_label_stands_on_the_side_of_a_wall_where_its_mark_is() -> None:
    around = ground((100, 100))
    around.wall(((105, 0), (105, 300)), 1.0)
    around.rule(((80, 0), (80, 300)))
    (one,), _ = placed_labels([label("AP1", (100, 100))], around)
    assert one.box[2] < 105


def test_a_leader_crosses_no_line_where_a_way_is_free() -> None:
    around = ground((100, 100))
    around.fill((60, 60, 95, 140))
    around.fill((105, 60, 140, 140))
    line = ((0, 120), (300, 120))
    around.rule(line)
    (one,), _ = placed_labels([label("down to CH1, CH2", (100, 100))], around)
    assert one.leader
    assert not LineString(one.leader).crosses(LineString(line))
    assert one.box[3] < 60


def test_what_fits_nowhere_is_handed_back() -> None:
    full = Ground((0.0, 0.0, 20.0, 12.0))
    full.fill((6.0, 2.0, 14.0, 10.0))
    placed, left = placed_labels([label("CH1–CH8", (10, 6))], full)
    assert placed == ()
    assert [one.lines for one in left] == [("CH1–CH8",)]


def test_a_label_in_the_way_moves_for_one_that_has_no_other_place() -> None:
    # The second may stand in one place only, which is the first one's best.
    one = Label(("AP1",), (50, 50), where=((60, 46), (20, 46)), led=0)
    two = Label(("AP2",), (90, 50), where=((62, 46),), led=0)
    placed, left = placed_labels([one, two], ground())
    assert left == ()
    assert [round(at.box[0]) for at in placed] == [20, 62]


@pytest.mark.independent
@pytest.mark.parametrize(
    ("start", "end"),
    [((0, 0), (10, 10)), ((0, 5), (10, 5)), ((5, 0), (5, 1.9)), ((0, 3), (3, 9)), ((4, 4), (5, 5))],
)
def test_a_line_crosses_a_box_where_shapely_says_so(
    start: tuple[float, float], end: tuple[float, float]
) -> None:
    inside = LineString([start, end]).intersection(box(2, 2, 6, 6)).length > 0
    assert crosses(start, end, (2, 2, 6, 6)) == inside


@pytest.mark.independent
def test_a_line_is_broken_where_shapely_breaks_it() -> None:
    boxes = [(1.0, -1.0, 2.0, 1.0), (1.5, -1.0, 3.0, 1.0), (5.0, 1.0, 6.0, 2.0), (8.0, -2.0, 12.0, 2.0)]
    pieces = [LineString(piece) for piece in broken_line((0.0, 0.0), (10.0, 0.0), boxes)]
    wanted = LineString([(0, 0), (10, 0)])
    for one in boxes:
        wanted = wanted.difference(box(*one))
    assert sum(piece.length for piece in pieces) == pytest.approx(wanted.length) == pytest.approx(6)
    assert all(wanted.buffer(1e-9).contains(piece) for piece in pieces)
