"""The timeline of the meeting day: legible, told apart without colour, told in words, the same bytes."""

import re

import pytest

from proposal.document.rows.sheets import SheetRow
from proposal.drawings import charge_timeline
from proposal.drawings.charge_timeline import layout
from proposal.editions import edition_of
from tests.drawings.shown import printed_pt, sheet_svg, texts
from tests.sample_document import sample_document

SVG = "{http://www.w3.org/2000/svg}"


def timeline() -> charge_timeline.TimelineSpec:
    edition = edition_of(sample_document(), "client")
    sheet = next(row for row in edition.document.sheets if row.kind == "charge timeline")
    return charge_timeline.spec_of(edition, sheet)


@pytest.fixture(scope="module")
def drawn() -> str:
    return layout.render(timeline(), "x").decode("utf-8")


def test_nothing_is_smaller_than_seven_points(drawn: str) -> None:
    assert printed_pt(drawn) >= 7


def test_equal_specs_give_equal_bytes(drawn: str) -> None:
    assert layout.render(timeline(), "x").decode("utf-8") == drawn


def test_every_line_has_a_style_of_its_own(drawn: str) -> None:
    dashes = {
        colour: set(re.findall(rf"stroke-dasharray: ([^;]+);[^\"]*stroke: {colour}", drawn))
        for colour in ("#a33d00", "#7b3f8c", "#1c2530")
    }
    assert all(len(found) == 1 for found in dashes.values()), dashes
    assert len(set().union(*dashes.values())) == 3
    assert "stroke: #0a5a9c" in drawn
    assert not re.search(r"stroke-dasharray: [^;]+;[^\"]*stroke: #0a5a9c", drawn)


def test_a_panel_tells_what_it_shows() -> None:
    words = " ".join(texts(sheet_svg(layout.KIND, timeline())))
    for title in (
        "1 bodypack in use: no swaps needed",
        "6 gooseneck in use, 2 spare: swaps needed",
        "2 handheld in use, 1 spare: more spares needed",
        "2 boundary in use: more charge slots needed",
        "lowest 11 % at 16:30",
        "without a charge slot",
        "reserve",
    ):
        assert title in words


def test_words_tell_sessions_reserve_and_every_form(drawn: str) -> None:
    words = charge_timeline.alternative(timeline())
    assert "Sessions 09:00 to 16:30. The reserve is 20 %." in words
    assert (
        "6 gooseneck in use, 2 spare: swaps needed. Lowest with new batteries 61 %, with batteries at the "
        "end of their life 11 % at 16:30." in words
    )
    assert words in drawn


def test_the_night_is_shown_to_the_next_day_where_it_is_too_short() -> None:
    # The handheld's pack is not full by morning: sessions end at 16:30, the night lasts 16.5 h.
    assert timeline().until == 990 + 16.5 * 60


def test_many_forms_stand_in_two_columns(drawn: str) -> None:
    spec = timeline()
    many = charge_timeline.TimelineSpec(
        strip=spec.strip,
        locale=spec.locale,
        sessions=spec.sessions,
        reserve=spec.reserve,
        until=spec.until,
        lines=spec.lines * 2,
    )
    assert printed_pt(layout.render(many, "x").decode("utf-8")) >= 7


def test_a_kind_of_room_without_sessions_is_refused() -> None:
    edition = edition_of(sample_document(), "client")
    sheet = next(row for row in edition.document.sheets if row.kind == "charge timeline")
    wrong = SheetRow.model_validate({**sheet.model_dump(), "subject": "meeting"})
    with pytest.raises(ValueError, match="sessions"):
        charge_timeline.spec_of(edition, wrong)
