"""Ticks at the edges of a plan: each stands where its distance from the building's origin is on paper."""

import pytest

from proposal.drawings.plan.coordinates import ASIDE_PT, note_on_ticks, origin_on_paper, ticks
from proposal.drawings.plan.field import FIELD, HEIGHT, Scaled, scaled

# A wing of 60 m by 20 m and a room of 24 ft by 30 ft, each in the middle of the field.
WING = scaled(((5.0, 3.0), (65.0, 23.0)), FIELD, 200)
ROOM = scaled(((-6.096, 12.192), (1.2192, 21.336)), FIELD, 48)


@pytest.mark.parametrize(
    ("scale", "units", "metres"), [(WING, "metric", 1.0), (ROOM, "us_customary", 0.3048)]
)
def test_a_tick_stands_where_its_text_says(scale: Scaled, units: str, metres: float) -> None:
    shown = ticks(scale, units, "en_GB")
    assert {one.words[-1] for one in shown} >= {"E", "N"}
    for one in shown:
        number, _, way = one.words.split()
        value = float(number) * metres * (-1 if way in "WS" else 1)
        x, y = one.line[0]
        if way in "EW":
            # By hand: paper is 1/scale of the building, 72/25.4 pt a millimetre.
            assert x == pytest.approx(scale.left + (value - scale.west) * 1000 / scale.scale * 72 / 25.4)
            assert y == HEIGHT
        else:
            assert y == pytest.approx(scale.bottom - (value - scale.south) * 1000 / scale.scale * 72 / 25.4)
            assert x == 0


def test_texts_of_ticks_do_not_meet_and_stay_beside_the_plan() -> None:
    boxes = [one.box for one in ticks(WING, "metric", "en_GB")]
    for n, (left, top, right, bottom) in enumerate(boxes):
        assert right <= FIELD[0] + ASIDE_PT[0] or top >= FIELD[3] - ASIDE_PT[1]
        for other in boxes[n + 1 :]:
            assert right < other[0] or other[2] < left or bottom < other[1] or other[3] < top


def test_the_origin_is_marked_where_the_sheet_reaches_it() -> None:
    assert origin_on_paper(scaled(((0.4, 3.4), (66.0, 21.0)), FIELD, 200)) is not None
    assert origin_on_paper(scaled(((58.0, 3.0), (87.0, 21.0)), FIELD, 100)) is None


def test_an_origin_that_is_not_described_is_to_be_asked_for() -> None:
    assert "the outer south-west corner" in note_on_ticks("the outer south-west corner")
    assert "ask" in note_on_ticks("")
