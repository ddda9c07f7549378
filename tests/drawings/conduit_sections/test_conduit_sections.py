"""Cross-sections of conduits: cables inside and apart, in scale, the same bytes."""

import math
import random
import re
from pathlib import Path

import pytest

from proposal.drawings.conduit_sections import Content, Section, SectionsSpec, alternative
from proposal.drawings.conduit_sections import spec_of as section_sheet
from proposal.drawings.conduit_sections.circles import packed
from proposal.drawings.conduit_sections.layout import KIND, render, scale_of
from proposal.drawings.sheet import TitleBlock
from proposal.editions import edition_of
from tests.drawings.shown import printed_pt, sheet_svg
from tests.whole_projects import whole_document

EXAMPLE = Path(__file__).resolve().parents[3] / "example_project"
STRIP = TitleBlock(
    number="C-01", title="Cross-sections", part="", project="A <project>", revision="A", purpose="for comment"
)


def section(tag: str, count: int, diameter_m: float = 0.006, inside_m: float = 0.0351) -> Section:
    return Section(
        tag=tag,
        kind="conduit",
        trade_size="1-1/4",
        internal_diameter_m=inside_m,
        contents=(Content("network", "CC-1", count, diameter_m),),
        fill=count * diameter_m**2 / inside_m**2,
        limit=0.4,
        spare=1,
        verdict="holds",
    )


def spec_of(*sections: Section) -> SectionsSpec:
    return SectionsSpec(strip=STRIP, units="metric", locale="en_GB", sections=sections)


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(10))
def test_packed_circles_lie_inside_and_do_not_overlap(seed: int) -> None:
    draw = random.Random(seed)
    radii = [draw.choice((0.0025, 0.003, 0.0036)) for _ in range(draw.randint(1, 40))]
    # filled to 40 %, as a conduit of three and more cables may be
    around = math.sqrt(sum(radius**2 for radius in radii) / 0.4)
    places = packed(radii, around)
    assert None not in places
    lying = [place for place in places if place is not None]
    assert [radius for _, _, radius in lying] == radii
    for n, (x, y, radius) in enumerate(lying):
        assert math.hypot(x, y) + radius <= around * (1 + 1e-8)
        for x2, y2, radius2 in lying[:n]:
            assert math.hypot(x - x2, y - y2) >= (radius + radius2) - 1e-8 * around


@pytest.mark.parametrize(("count", "share"), [(1, 0.53), (2, 0.31), (3, 0.4)])
def test_one_two_and_three_cables_find_room_at_their_permitted_fill(count: int, share: float) -> None:
    radius = 0.01 * math.sqrt(share / count)
    assert None not in packed([radius] * count, 0.01)


def test_a_circle_without_room_is_left_out() -> None:
    assert packed([0.02], 0.01) == (None,)
    assert packed([0.006, 0.006], 0.01)[1] is None


def test_what_lies_low_lies_on_something() -> None:
    places = [place for place in packed([0.003] * 7, 0.02) if place]
    for n, (x, y, radius) in enumerate(places):
        on_wall = math.isclose(math.hypot(x, y) + radius, 0.02, rel_tol=1e-6)
        touching = [
            other
            for m, other in enumerate(places)
            if m != n and math.isclose(math.dist((x, y), other[:2]), radius + other[2], rel_tol=1e-6)
        ]
        assert on_wall or len(touching) >= 2


def test_equal_specs_give_equal_bytes_and_an_svg_with_words() -> None:
    spec = spec_of(section("C1", 9), section("C2", 4))
    drawn = render(spec, "dx")
    assert drawn == render(spec, "dx")
    text = drawn.decode()
    assert "C1 · conduit, trade size 1-1/4, 35.1 mm inside" in text
    assert "9 cables" in alternative(spec)
    assert "A &lt;project&gt;" in sheet_svg(KIND, spec)
    assert printed_pt(text) >= 7


def test_every_cable_is_drawn() -> None:
    few, many = (render(spec_of(section("C1", count)), "dx").decode() for count in (3, 9))
    circles = [len(re.findall(r'<g id="dx-patch_', text)) for text in (few, many)]
    assert circles[1] - circles[0] == 6


def test_cables_without_room_are_counted_in_words() -> None:
    assert "more find no room" in render(spec_of(section("C1", 60)), "dx").decode()


@pytest.mark.parametrize("count", [1, 2, 4, 5, 12])
def test_the_largest_conduit_fits_its_place(count: int) -> None:
    spec = spec_of(*(section(f"C{n}", 9, inside_m=0.1101) for n in range(count)))
    assert 0.1101 * 1000 * scale_of(spec) <= 277
    assert render(spec, "dx")


def test_sleeves_in_floors_stand_among_the_fullest() -> None:
    """R12-F1: 5.0 mm, three of 6.1 mm and six of 5.2 mm fill 234.7 mm² of 607.0 mm² inside 27.8 mm: 38.7 %.

    Of 0.40 that is more than C01 has of its 0.31: 2 × 21.24 mm² of 196 mm² are 21.7 %.
    """
    edition = edition_of(whole_document(EXAMPLE), "installer")
    (sheet,) = (row for row in edition.document.detail_sheets if row.kind == "conduit sections")
    first, *others = section_sheet(edition, sheet).sections
    assert (first.tag, first.trade_size, first.count) == ("R12-F1", "32 mm", 10)
    assert first.fill == pytest.approx(0.387, rel=0, abs=0.0005)
    assert first.verdict == "holds"
    assert {"R01-F1", "C01", "C02", "S01", "S02"} <= {one.tag for one in others}
