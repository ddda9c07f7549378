"""The Gantt chart, read back from its SVG: bars lie where dates say, nothing is too small or missing."""

import datetime
import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from proposal.document.document import Document
from proposal.document.rows.sheets import SheetRow
from proposal.drawings import gantt_chart
from proposal.drawings.figure import id_part, time_axis
from proposal.drawings.gantt_chart import Bar, GanttSpec, layout
from proposal.editions import edition_of
from proposal.estimate.programme.programme_sheets import ROWS_A_SHEET
from tests.drawings.shown import printed_pt, texts
from tests.sample_document import sample_document

SVG = "{http://www.w3.org/2000/svg}"
POINTS_A_MM = 72 / 25.4
DAY = datetime.timedelta(days=1)


def sheet_of(document: Document) -> SheetRow:
    return next(row for row in document.sheets if row.kind == "gantt chart")


def chart(document: Document | None = None) -> GanttSpec:
    edition = edition_of(document or sample_document(), "client")
    return gantt_chart.spec_of(edition, sheet_of(edition.document))


@pytest.fixture(scope="module")
def drawn() -> str:
    return layout.render(chart(), "x").decode("utf-8")


def marks(svg: str) -> dict[str, tuple[float, float]]:
    """Return left and right edge of everything that is marked as a bar or milestone, mm on the sheet."""
    found = {}
    for element in ElementTree.fromstring(svg).iter():
        name = element.get("id", "").removeprefix("x-")
        if name.startswith("bar-"):
            path = element if element.get("d") else next(iter(element.iter(f"{SVG}path")))
            xs = [float(x) for x in re.findall(r"[ML] ?(-?[\d.]+)", path.get("d", ""))]
            found[name.removeprefix("bar-")] = (min(xs) / POINTS_A_MM, max(xs) / POINTS_A_MM)
        elif name.startswith("milestone-"):
            use = next(iter(element.iter(f"{SVG}use")))
            x = float(use.get("x", "nan")) / POINTS_A_MM
            found[name.removeprefix("milestone-")] = (x, x)
    return found


def test_bars_and_milestones_lie_where_their_days_say(drawn: str) -> None:
    """A day has the width of the chart over three weeks: 16 March is a Monday, 1 April lies in the third."""
    day_mm = (400.0 - 112.0 - 6.0) / 21
    monday = datetime.date(2026, 3, 16)
    found = marks(drawn)
    rows = sample_document().activities
    assert set(found) == {id_part(row.key) for row in rows}
    for row in rows:
        begins = 112.0 + (row.start - monday).days * day_mm
        ends = 112.0 + ((row.finish - monday).days + 1) * day_mm
        left, right = found[id_part(row.key)]
        if row.kind == "milestone":
            begins = ends = (begins + ends) / 2
        assert left == pytest.approx(begins, rel=0, abs=0.01), row.key
        assert right == pytest.approx(ends, rel=0, abs=0.01), row.key


def test_nothing_is_smaller_than_seven_points_on_a3(drawn: str) -> None:
    assert printed_pt(drawn) >= 7.0 - 1e-6


def test_equal_specs_give_equal_bytes(drawn: str) -> None:
    assert layout.render(chart(), "x").decode("utf-8") == drawn
    assert "<metadata" not in drawn


def test_names_days_floats_and_dates_stand_in_the_rows(drawn: str) -> None:
    words = texts(drawn)
    for wanted in (
        "Design <b>and</b> drawings",
        "First fix, ground floor",
        "10 c",
        "2 s",
        "21 Mar – 30 Mar, critical",
        "23 Mar – 24 Mar",
        "1 Apr, critical",
        "16 Mar",
        "30 Mar",
        "2026",
    ):
        assert wanted in words, wanted


def test_critical_is_told_by_word_sign_and_outline(drawn: str) -> None:
    critical = [row for row in sample_document().activities if row.critical]
    said = [text for text in texts(drawn) if text.endswith(", critical")]
    assert len(said) == len(critical) == 9
    outlined = re.findall(r'id="x-bar-([^"]*)"[^>]*>(.*?)</g>', drawn, flags=re.DOTALL)
    heavy = {name for name, body in outlined if "stroke-width: 1.6" in body}
    assert heavy == {id_part(row.key) for row in critical if row.kind != "milestone"}


def test_phases_are_told_apart_by_pattern(drawn: str) -> None:
    """Every kind of bar has a shade and pattern of its own."""
    assert len(set(layout.STYLES.values())) == len(layout.STYLES)
    hatched = {
        name: re.search(r"fill: (url\([^)]*\)|#\w+)", body)
        for name, body in re.findall(r'id="x-bar-([^"]*)"[^>]*>(.*?)</g>', drawn, flags=re.DOTALL)
    }
    fills = {name: found[1] for name, found in hatched.items() if found}
    assert fills["design"].startswith("url")
    assert fills["design"] != fills["approval"]
    assert fills[id_part("first fix L0")] != fills[id_part("second fix L0")]


def test_words_tell_of_every_activity_and_day_off(drawn: str) -> None:
    words = gantt_chart.alternative(chart())
    assert "Programme from 16 March 2026 to 1 April 2026." in words
    assert "Design <b>and</b> drawings: 3 working days, 16 March 2026 to 18 March 2026, critical." in words
    assert "Lead time: charger: 10 calendar days, 21 March 2026 to 30 March 2026, critical." in words
    assert (
        "First fix, ground floor: 2 days on site, 23 March 2026 to 24 March 2026, float 3 days on site."
        in words
    )
    assert "First fix complete: milestone on 24 March 2026, float 4 working days." in words
    assert "Holiday, Charter Day | invented: 25 March 2026." in words
    assert "Site closure, Count of votes: 31 March 2026." in words
    description = ElementTree.fromstring(drawn).find(f"{SVG}desc")
    assert description is not None
    assert description.text == words


@pytest.mark.parametrize("days", [10, 100, 700, 3000])
@pytest.mark.parametrize("locale", ["en_IE", "de_CH", "en_US", "sv_SE"])
def test_charts_of_any_length_stay_legible_and_their_dates_apart(days: int, locale: str) -> None:
    spec = chart()
    bars = tuple(replace(bar, finish=bar.start, latest=bar.start) for bar in spec.bars)
    long = replace(spec, locale=locale, bars=bars, last=spec.first + days * DAY)
    svg = layout.render(long, "x").decode("utf-8")
    assert printed_pt(svg) >= 7.0 - 1e-6
    axis = time_axis.time_axis(long.first, long.last, layout.LEFT_MM, 400 - layout.LEFT_MM - layout.RIGHT_MM)
    labelled = list(time_axis.mondays(axis))
    assert labelled
    assert all(day.weekday() == 0 for day in labelled)
    apart = [(b - a).days * axis.day_mm for a, b in pairwise(labelled)]
    assert min(apart, default=99.0) >= 13.0


def test_names_of_any_length_keep_to_their_column() -> None:
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    spec = chart()
    long = replace(spec, bars=tuple(replace(bar, name="Commissioning, west wing " * 9) for bar in spec.bars))
    svg = layout.render(long, "x").decode("utf-8")
    names = [text for text in texts(svg) if text.startswith("Commissioning")]
    assert len(names) == len(spec.bars)
    font = FontProperties(family="DejaVu Sans", weight="bold")
    for name in names:
        assert name.endswith("…")
        width_mm = TextPath((0, 0), name, size=7.0, prop=font).get_extents().width / POINTS_A_MM
        assert 6.0 + width_mm < 93.0


def bars(count: int) -> tuple[Bar, ...]:
    spec = chart()
    return tuple(
        replace(spec.bars[n % len(spec.bars)], key=f"activity {n}", name=f"Activity {n}")
        for n in range(count)
    )


def test_a_sheet_holds_as_many_rows_as_the_number_of_sheets_rests_on() -> None:
    assert layout.ROWS >= ROWS_A_SHEET
    full = replace(chart(), bars=bars(ROWS_A_SHEET), driving=())
    svg = layout.render(full, "x").decode("utf-8")
    assert printed_pt(svg) >= 7.0 - 1e-6
    heights = [float(y) for y in re.findall(r'<text [^>]*transform="translate\([\d.]+ ([\d.]+)\)', svg)]
    assert max(heights, default=0.0) <= 277 * POINTS_A_MM
    with pytest.raises(ValueError, match="activities on a sheet"):
        layout.render(replace(full, bars=bars(layout.ROWS + 1)), "x")


def test_a_sheet_shows_its_members_alone() -> None:
    document = sample_document()
    part = sheet_of(document).model_copy(update={"members": ("order", "design"), "part": 1, "parts": 2})
    spec = gantt_chart.spec_of(edition_of(document, "client"), part)
    assert [bar.key for bar in spec.bars] == ["order", "design"]
    assert (spec.first, spec.last) == (chart().first, chart().last)


def test_an_edition_without_a_programme_is_refused() -> None:
    document = sample_document().model_copy(update={"activities": ()})
    with pytest.raises(ValueError, match="programme"):
        gantt_chart.spec_of(edition_of(document, "client"), sheet_of(document))
