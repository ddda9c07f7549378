"""The level map: levels by the published formula, to scale, its legend and weakest place, the same bytes."""

import math
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.drawings import level_map
from proposal.drawings.level_map import layout
from proposal.drawings.level_map.as_it_lies import as_it_lies
from proposal.editions import edition_of
from proposal.pipeline import Computed
from tests.drawings.shown import printed_pt, sheet_svg
from tests.whole_projects import whole_computed

ROOT = Path(__file__).parents[3]
SVG = "{http://www.w3.org/2000/svg}"
PT_MM = 72 / 25.4


@pytest.fixture(scope="module")
def computed() -> Computed:
    return whole_computed(ROOT / "example_project")


@pytest.fixture(scope="module")
def document(computed: Computed) -> Document:
    return document_of(computed)


def spec_of(document: Document, subject: str) -> level_map.LevelMapSpec:
    edition = edition_of(document, "client")
    sheet = next(row for row in edition.document.sheets if row.kind == "level map" and row.subject == subject)
    return level_map.spec_of(edition, sheet)


@pytest.fixture(scope="module")
def meeting(document: Document) -> level_map.LevelMapSpec:
    return spec_of(document, "meeting_room")


@pytest.fixture(scope="module")
def drawn(meeting: level_map.LevelMapSpec) -> str:
    return layout.render(meeting, "x").decode("utf-8")


def words(svg: str) -> list[str]:
    return ["".join(text.itertext()) for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.published
def test_the_level_at_every_corner_follows_from_p1238(
    computed: Computed, meeting: level_map.LevelMapSpec
) -> None:
    """ITU-R P.1238, site-general: L = 20 log f + N log d - 28, N = 30 in offices at 1.8 GHz to 2 GHz."""
    design = computed.design
    margin = next(one for one in design.radio.margins if one.microphone == f"{meeting.room}-{meeting.worst}")
    link = next(one for one in design.radio.planned if one.link.identity == margin.microphone).link
    ((east, north),) = [at for kind, _, at in meeting.marks if kind == "access point"]
    rise = link.access_point_at[2] - link.microphone_at[2]
    # What the weaker end gets of power and antennas, from the microphone's own known loss.
    budget = margin.received_dbm + margin.loss_db
    # The middle of ten carriers 1.728 MHz apart, from 1881.792 MHz to 1897.344 MHz (ETSI EN 300 175-2).
    frequency_mhz = (1881.792 + 1897.344) / 2
    for row, y in ((0, meeting.low[1]), (-1, meeting.high[1])):
        for column, x in ((0, meeting.low[0]), (-1, meeting.high[0])):
            distance = math.sqrt((x - east) ** 2 + (y - north) ** 2 + rise**2)
            loss = 20 * math.log10(frequency_mhz) + 30 * math.log10(distance) - 28
            assert meeting.levels_dbm[row][column] == pytest.approx(budget - loss, abs=0.051)


@pytest.mark.independent
def test_the_weakest_place_has_the_least_margin(document: Document) -> None:
    for room in document.room_sheets:
        made = room.level_map
        assert made is not None
        margins = {row.microphone: row.margin_db for row in document.margins if row.room == made.room}
        assert made.worst_margin_db == pytest.approx(min(margins.values()), abs=0.051)
        assert margins[f"{made.room}-{made.worst}"] == min(margins.values())
        assert made.worst_dbm - made.wanted_dbm == pytest.approx(made.worst_margin_db, abs=0.11)


@pytest.mark.independent
def test_more_access_points_never_weaken_a_place(document: Document, computed: Computed) -> None:
    """Under each access point of a large room the level is higher than midway between any two."""
    made = next(room.level_map for room in document.room_sheets if room.key == "chamber")
    assert made is not None
    rows, columns = len(made.levels_dbm), len(made.levels_dbm[0])

    def at(x: float, y: float) -> float:
        column = round((x - made.low[0]) / (made.high[0] - made.low[0]) * (columns - 1))
        row = round((y - made.low[1]) / (made.high[1] - made.low[1]) * (rows - 1))
        return made.levels_dbm[row][column]

    boxes = [place for kind, _, place in made.marks if kind == "access point"]
    assert len(boxes) > 1
    for x, y in boxes:
        for u, v in boxes:
            if (x, y) != (u, v):
                assert at(x, y) > at((x + u) / 2, (y + v) / 2)


def test_levels_are_rounded_before_they_are_drawn(document: Document) -> None:
    for room in document.room_sheets:
        assert room.level_map is not None
        assert all(level == round(level, 1) for row in room.level_map.levels_dbm for level in row)


def test_the_legend_has_every_band_and_the_limit(
    meeting: level_map.LevelMapSpec,
) -> None:
    shown = words(sheet_svg(layout.KIND, meeting))
    edges = level_map.contours(meeting)
    found = [level - meeting.wanted_dbm for row in meeting.levels_dbm for level in row]
    assert edges[0] <= min(found) <= edges[1]
    assert edges[-2] <= max(found) <= edges[-1]
    for low, high in pairwise(edges):
        assert f"{low} to {high} dB to spare" in shown
    assert f"Limit: −{-meeting.wanted_dbm:.1f} dBm received, reached nowhere in the room." in shown


def test_the_limit_is_drawn_where_too_little_is_received(meeting: level_map.LevelMapSpec) -> None:
    """With 35 dB more wanted, part of the room lacks: by hand, level less what is wanted is below 0 there."""
    weak = replace(meeting, wanted_dbm=meeting.wanted_dbm + 35)
    assert min(level - weak.wanted_dbm for row in weak.levels_dbm for level in row) < 0
    assert 0 in level_map.contours(weak)
    svg = sheet_svg(layout.KIND, weak)
    shown = words(svg)
    assert f"limit: −{-weak.wanted_dbm:.1f} dBm received" in shown
    assert any(word.endswith("dB too little") for word in shown)
    assert "stroke-dasharray: 7,3" in svg
    assert "stroke-dasharray: 7,3" not in sheet_svg(layout.KIND, meeting)
    assert "the limit is drawn there" in level_map.alternative(weak)


def test_the_weakest_place_is_marked_with_level_and_margin(
    meeting: level_map.LevelMapSpec, drawn: str
) -> None:
    level = f"−{-meeting.worst_dbm:.1f} dBm, {meeting.worst_margin_db:.1f} dB to spare"
    assert f"weakest: {meeting.worst}, by AP1, {level}" in words(drawn)
    assert meeting.worst in level_map.alternative(meeting)


def test_a_level_too_low_is_said(meeting: level_map.LevelMapSpec) -> None:
    weak = replace(meeting, worst_dbm=-75.0, worst_margin_db=-2.0)
    shown = words(layout.render(weak, "x").decode("utf-8"))
    assert f"weakest: {meeting.worst}, by AP1, −75.0 dBm, 2.0 dB too little" in shown


def test_the_room_is_to_scale(meeting: level_map.LevelMapSpec, drawn: str) -> None:
    """The outline, the heaviest line of the sheet, spans its metres at the scale that is printed."""
    (printed,) = [word for word in set(words(sheet_svg(layout.KIND, meeting))) if word.startswith("1:")]
    scale = int(re.findall(r"1:(\d+)", printed)[0])
    (path,) = re.findall(r'<path d="([^"]+)"[^>]*style="[^"]*stroke-width: 2;[^"]*stroke-linejoin', drawn)
    numbers = [float(one) for one in re.findall(r"-?[\d.]+", path)]
    width = max(numbers[::2]) - min(numbers[::2])
    height = max(numbers[1::2]) - min(numbers[1::2])
    xs, ys = [x for x, _ in meeting.outline], [y for _, y in meeting.outline]
    assert width == pytest.approx((max(xs) - min(xs)) * 1000 / scale * PT_MM, abs=0.05)
    assert height == pytest.approx((max(ys) - min(ys)) * 1000 / scale * PT_MM, abs=0.05)


def test_nothing_is_smaller_than_seven_points(document: Document) -> None:
    for room in document.room_sheets:
        drawing = layout.render(spec_of(document, room.key), "x").decode("utf-8")
        assert printed_pt(drawing) >= 7


def test_equal_specs_give_equal_bytes(meeting: level_map.LevelMapSpec, drawn: str) -> None:
    assert layout.render(meeting, "x").decode("utf-8") == drawn


def test_a_room_that_lies_turned_is_shown_as_it_lies(document: Document) -> None:
    """Committee Room 2 is turned by half: what is near one end in its own coordinates is near the other."""
    spec = spec_of(document, "A102")
    room = next(one for one in document.room_sheets if one.key == "A102")
    made = room.level_map
    assert made is not None
    (width, depth) = (max(axis) for axis in zip(*room.outline, strict=True))
    for (kind, code, own), (_, _, shown) in zip(made.marks, spec.marks, strict=True):
        assert shown == pytest.approx((width - own[0], depth - own[1])), f"{kind} {code}"
    assert spec.levels_dbm == tuple(tuple(reversed(row)) for row in reversed(made.levels_dbm))
    devices = {row.tag: row for row in document.devices if row.room == made.room}
    built = next(one.outline for one in document.rooms if one.tag == made.room)
    west, south = (min(axis) for axis in zip(*built, strict=True))
    for _, code, (x, y) in spec.marks:
        at = devices[f"{made.room}-{code}"].at
        assert at is not None
        assert (x, y) == pytest.approx((at[0] - west, at[1] - south))


OWN = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))


@pytest.mark.parametrize(
    ("built", "marked", "levels"),
    [
        (((10, 10), (14, 10), (14, 13), (10, 13)), (1, 0.5), ((1, 2), (3, 4))),
        # A quarter turn to the left: what lay east lies north, what lay north lies west.
        (((13, 10), (13, 14), (10, 14), (10, 10)), (2.5, 1), ((3, 1), (4, 2))),
        # Mirrored along x.
        (((14, 10), (10, 10), (10, 13), (14, 13)), (3, 0.5), ((2, 1), (4, 3))),
    ],
)
def test_quarter_turns_and_mirrors_turn_marks_and_levels_alike(
    meeting: level_map.LevelMapSpec,
    built: tuple[tuple[float, float], ...],
    marked: tuple[float, float],
    levels: tuple[tuple[float, ...], ...],
) -> None:
    plain = replace(
        meeting, as_on_plan=False, outline=OWN, low=(0.0, 0.0), high=(4.0, 3.0), levels_dbm=((1, 2), (3, 4)),
        marks=(("access point", "AP1", (1.0, 0.5)),), worst_at=(1.0, 0.5),
    )  # fmt: skip
    turned = as_it_lies(plain, built)
    assert turned.worst_at == pytest.approx(marked)
    assert turned.marks[0][2] == pytest.approx(marked)
    assert turned.levels_dbm == levels
    assert turned.low == (0, 0)


def test_a_room_that_lies_askew_keeps_its_own_axes(meeting: level_map.LevelMapSpec) -> None:
    askew = tuple((0.8 * x - 0.6 * y, 0.6 * x + 0.8 * y) for x, y in OWN)
    plain = replace(meeting, as_on_plan=False, outline=OWN)
    assert as_it_lies(plain, askew) is plain
    assert "at x and y of" in level_map.alternative(plain)
