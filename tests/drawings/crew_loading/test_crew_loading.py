"""The crew loading, read back from its SVG: areas as high as people, legible, told in words."""

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from proposal.drawings import crew_loading
from proposal.drawings.crew_loading import CrewLoadingSpec, layout
from proposal.drawings.figure import id_part
from proposal.editions import edition_of
from proposal.estimate.programme.programme_sheets import TRADES_A_SHEET
from tests.drawings.shown import printed_pt, texts
from tests.sample_document import sample_document

SVG = "{http://www.w3.org/2000/svg}"
POINTS_A_MM = 72 / 25.4


def loading() -> CrewLoadingSpec:
    edition = edition_of(sample_document(), "reviewer")
    (sheet,) = edition.document.check_sheets
    return crew_loading.spec_of(edition, sheet)


@pytest.fixture(scope="module")
def drawn() -> str:
    return layout.render(loading(), "x").decode("utf-8")


def steps(svg: str, trade: str) -> list[tuple[float, float]]:
    """Return the corners of a trade's area, mm from the left and from the bottom of the field."""
    found = re.search(rf'id="x-load-{re.escape(id_part(trade))}"[^>]*>.*? d="([^"]*)"', svg, flags=re.DOTALL)
    assert found, trade
    numbers = [float(number) / POINTS_A_MM for number in re.findall(r"-?[\d.]+", found[1])]
    return [(x, 241 - y) for x, y in zip(numbers[0::2], numbers[1::2], strict=True)]


def test_areas_are_as_high_as_people_and_stand_on_their_days(drawn: str) -> None:
    """Cable installers: 2.5 of 3 on the 8th and 9th day from Monday 16 March, 0.66 on the 17th."""
    corners = steps(drawn, "Cable installer")
    base = min(y for _, y in corners)
    full = (layout.panel_mm(loading()) - 7.0 - 1.5) / 3
    day_mm = (400.0 - 20.0 - 8.0) / 21
    heights = {
        round((x - 20.0) / day_mm, 3): round((y - base) / full, 2) for x, y in corners if y > base + 0.01
    }
    assert heights == {7.0: 2.5, 9.0: 2.5, 8.0: 2.5, 16.0: 0.66, 17.0: 0.66}


def test_days_that_want_too_many_people_have_a_sign_and_are_told(drawn: str) -> None:
    load = next(load for load in loading().trades if load.trade == "Installer")
    assert load.over == (16,)
    assert "Installer: 12.00 h, at most 1.5 of 1 person, over it on 1 day" in texts(drawn)


def test_words_tell_every_trade(drawn: str) -> None:
    words = crew_loading.alternative(loading())
    assert "People of each trade at work from 16 March 2026 to 1 April 2026." in words
    assert (
        "Design engineer: 36.50 h, at most 1.52 of 2 people. Between 16 March 2026 and 18 March 2026."
        in words
    )
    assert "Installer: 12.00 h, at most 1.5 of 1 person, over it on 1 day. On 1 April 2026." in words
    description = ElementTree.fromstring(drawn).find(f"{SVG}desc")
    assert description is not None
    assert description.text == words


def test_it_is_legible_and_the_same_every_time(drawn: str) -> None:
    assert printed_pt(drawn) >= 7.0 - 1e-6
    assert layout.render(loading(), "x").decode("utf-8") == drawn


def test_a_sheet_holds_as_many_trades_as_the_number_of_sheets_rests_on() -> None:
    spec = loading()
    many = tuple(replace(spec.trades[0], trade=f"Trade {n}") for n in range(TRADES_A_SHEET))
    svg = layout.render(replace(spec, trades=many), "x").decode("utf-8")
    assert printed_pt(svg) >= 7.0 - 1e-6
    with pytest.raises(ValueError, match="trades on a sheet"):
        layout.render(replace(spec, trades=(*many, spec.trades[0])), "x")


@pytest.mark.parametrize("reader", ["client", "installer"])
def test_who_may_not_read_hours_gets_no_drawing_of_them(reader: str) -> None:
    whole = sample_document()
    edition = edition_of(whole, "client" if reader == "client" else "installer")
    assert edition.document.check_sheets == ()
    with pytest.raises(ValueError, match="hours of trades"):
        crew_loading.spec_of(edition, whole.check_sheets[0])
