"""Sheets of the cut plan, read back from their SVG."""

import random
import re
from decimal import Decimal
from xml.etree import ElementTree

import pytest

from proposal.drawings.cut_plan import CutPlanCable, CutPlanCut, CutPlanReel, CutPlanSpec, alternative
from proposal.drawings.cut_plan.layout import LEFT_MM, WIDTH_MM, columns_of, render
from proposal.drawings.sheet import TitleBlock
from proposal.estimate.reels.cut_plan import CutPlan, Run, Stock, cut_plan
from proposal.estimate.reels.reel_sheets import cut_plan_parts

STRIP = TitleBlock(
    number="E-501",
    title="Cut plan",
    part="",
    project="Invented hall",
    revision="Revision P1",
    purpose="For tender",
)
STOCKS = [Stock("305 m box", 305.0, Decimal(148)), Stock("152 m box", 152.4, Decimal(79))]
SVG = "{http://www.w3.org/2000/svg}"
POINTS_A_MM = 72 / 25.4


def plan_of(count: int, shortest_m: float = 9.0) -> CutPlan:
    chance = random.Random(count)
    return cut_plan(
        [
            Run(f"B{n % 40 + 101}-AP{n}/N1/ER1-RK1", chance.uniform(shortest_m, 80.0), f"1 L0{n % 3 + 1}")
            for n in range(count)
        ],
        STOCKS,
    )


def cable_of(code: str, plan: CutPlan, first: int = 1, last: int = 0) -> CutPlanCable:
    reels = tuple(
        CutPlanReel(
            number=number,
            stock=reel.stock,
            length_m=float(reel.length_m),
            cuts=tuple(CutPlanCut(cut.identity, float(cut.length_m), cut.group) for cut in reel.cuts),
            remnant_m=float(reel.remnant_m),
        )
        for number, reel in enumerate(plan.reels, 1)
        if number >= first and (not last or number <= last)
    )
    return CutPlanCable(cable=f"{code} <screened> & more", summary="as bought", reels=reels)


def spec_of(*cables: CutPlanCable, units: str = "metric") -> CutPlanSpec:
    return CutPlanSpec(strip=STRIP, units=units, locale="en_GB", cables=cables)


def texts(svg: str) -> list[str]:
    return ["".join(element.itertext()).strip() for element in ElementTree.fromstring(svg).iter(f"{SVG}text")]


@pytest.fixture(scope="module")
def small() -> CutPlanSpec:
    return spec_of(cable_of("C6", plan_of(30)))


@pytest.fixture(scope="module")
def drawn(small: CutPlanSpec) -> str:
    return render(small, "d1").decode()


def test_every_cable_stands_on_its_reel_with_its_length(small: CutPlanSpec, drawn: str) -> None:
    found = texts(drawn)
    for reel in small.cables[0].reels:
        assert f"Reel {reel.number}" in found
        for number, cut in enumerate(reel.cuts, 1):
            assert f"{number} · {cut.identity} · {cut.length_m:.1f}" in found


def test_equal_specs_are_equal_bytes_and_tell_nothing_of_the_run(small: CutPlanSpec, drawn: str) -> None:
    assert render(small, "d1").decode() == drawn
    assert "<metadata" not in drawn
    assert all(name.startswith("d1-") for name in re.findall(r'\bid="([^"]*)"', drawn))


def test_a_sheet_is_named_for_readers_who_cannot_see_it(small: CutPlanSpec, drawn: str) -> None:
    root = ElementTree.fromstring(drawn)
    assert root.get("role") == "img"
    description = root.find(f"{SVG}desc")
    assert description is not None
    assert description.text == alternative(small)
    for reel in small.cables[0].reels:
        for cut in reel.cuts:
            assert f"{cut.identity} {cut.length_m:.1f} m" in alternative(small)


def test_the_smallest_text_is_7_pt_on_a3(drawn: str) -> None:
    root = ElementTree.fromstring(drawn)
    width_pt = float((root.get("viewBox") or "").split()[2])
    assert width_pt == pytest.approx(400 * POINTS_A_MM, rel=0, abs=0.1)
    sizes = [float(size) for size in re.findall(r"font(?:-size)?: ?(?:[a-z0-9]+ )*([0-9.]+)px", drawn)]
    assert len(sizes) == len(texts(drawn))
    assert min(sizes) >= 7.0


@pytest.mark.independent
def test_bars_are_to_scale(small: CutPlanSpec, drawn: str) -> None:
    """The segments of a reel, as drawn, are as long to each other as its cuts and its remnant."""
    boxes = [
        [float(value) for value in re.findall(r"-?[\d.]+", path)]
        for path in re.findall(r'<path d="([^"]*)" clip-path="[^"]*" style="[^"]*stroke-width: 0.7', drawn)
    ]
    widths = [max(values[0::2]) - min(values[0::2]) for values in boxes]
    lengths = [
        length
        for reel in small.cables[0].reels
        for length in [*(cut.length_m for cut in reel.cuts), reel.remnant_m]
        if length > 0
    ]
    assert len(widths) == len(lengths)
    longest = max(reel.length_m for reel in small.cables[0].reels)
    for width, length in zip(widths, lengths, strict=True):
        expected = length / longest * WIDTH_MM * POINTS_A_MM
        assert width == pytest.approx(expected, rel=0, abs=0.01)


@pytest.mark.independent
@pytest.mark.parametrize("units", ["metric", "us_customary"])
def test_lists_keep_to_their_columns(units: str) -> None:
    """Widths are those that the font itself has, by matplotlib's own layout of text."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    spec = spec_of(cable_of("C6", plan_of(60)), units=units)
    svg = render(spec, "d1").decode()
    column_pt = WIDTH_MM / columns_of(spec.cables[0], spec) * POINTS_A_MM
    listed = [text for text in texts(svg) if "/N1/" in text]
    assert len(listed) == 60
    font = FontProperties(family="DejaVu Sans")
    for text in listed:
        assert TextPath((0, 0), text, size=7.0, prop=font).get_extents().width < column_pt - 2
    assert LEFT_MM + WIDTH_MM < 400


@pytest.mark.parametrize("units", ["metric", "us_customary"])
def test_the_sheets_hold_every_cable_once(units: str) -> None:
    plans = {"C6": plan_of(400), "C5": plan_of(31, 4.0), "L2": plan_of(3)}
    parts = cut_plan_parts([(code, plan.reels) for code, plan in plans.items()])
    assert len(parts) > 2
    found = []
    for part in parts:
        cables = []
        for code in part.members:
            first = part.first if code == part.members[0] else 1
            last = part.last if code == part.members[-1] else 0
            cables.append(cable_of(code, plans[code], first, last))
        svg = render(spec_of(*cables, units=units), "d1").decode()
        found += [text.split(" · ")[1] for text in texts(svg) if "/N1/" in text]
    wanted = [cut.identity for plan in plans.values() for reel in plan.reels for cut in reel.cuts]
    assert sorted(found) == sorted(wanted)


def test_more_reels_than_a_sheet_holds_are_refused() -> None:
    with pytest.raises(ValueError, match="mm high; a sheet holds"):
        render(spec_of(cable_of("C6", plan_of(400))), "d1")
