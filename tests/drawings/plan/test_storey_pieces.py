"""A storey too large for one sheet: a key to its pieces, and each piece at a legible scale, nothing lost."""

import math
import re
from itertools import pairwise

import pytest

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.floor_plan.layout import KIND
from proposal.drawings.plan.match_lines import match_lines
from proposal.drawings.plan.plan_marks import PlanMark
from proposal.drawings.plan.storey_drawing import draw_storey, scale_of
from proposal.drawings.plan.storey_pieces import parted
from proposal.drawings.plan.storey_plan import storey_words
from proposal.drawings.plan.storey_spec import PlanPathway, PlanPlace, PlanRoom, PlanRun, StoreyPlanSpec
from proposal.drawings.sheet import TitleBlock
from proposal.quantities.plan_pieces import pieces_of
from tests.drawings.collisions import collisions
from tests.drawings.shown import printed_pt, sheet_svg, texts
from tests.sample_document import sample_document

ROOMS_A_SIDE = 16
STRIP = TitleBlock(number="P-01", title="Plan", part="", project="Hall", revision="A", purpose="for comment")


def large_storey() -> StoreyPlanSpec:
    """Return a storey of 160 m: 32 rooms on both sides of a corridor with a tray, and a rack at its end."""
    rooms, runs = [], []
    for side, y in (("A", 0.0), ("B", 12.0)):
        for n in range(ROOMS_A_SIDE):
            x = 10.0 * n
            at = (x + 4.5, y + 4.0)
            outline = ((x, y), (x + 9, y), (x + 9, y + 8), (x, y + 8))
            marks = (PlanMark("charger", at, ("CH1",), "CH1"),)
            rooms.append(PlanRoom(f"{side}{n:02d}", f"Room {n}", (), outline, (), (), (), (), marks, "M-01"))
            runs.append(PlanRun((at, (at[0], 10.0)), (("network", 2),), "up to T01"))
    # One run that lies in no pathway and crosses the whole storey.
    runs.append(PlanRun(((154.5, 4.0), (2.0, 22.0)), (("analogue", 1),), ""))
    return StoreyPlanSpec(
        strip=STRIP,
        units="metric",
        locale="en_GB",
        level="floor",
        storey="L0",
        name="Ground floor",
        walls=(),
        rooms=tuple(rooms),
        places=(PlanPlace("ER1", "Equipment room", (2.0, 22.0), ("ER1-RK1",)),),
        nodes=(),
        pathways=(PlanPathway("tray", ((0.0, 10.0), (159.0, 10.0)), ("T01 tray", "64 × network")),),
        runs=tuple(runs),
    )


def sheets_of_storey(spec: StoreyPlanSpec) -> list[StoreyPlanSpec]:
    boxes = pieces_of(
        [
            (min(x for x, _ in room.outline), min(y for _, y in room.outline),
             max(x for x, _ in room.outline), max(y for _, y in room.outline))
            for room in spec.rooms
        ],
        [place.at for place in spec.places],
    )  # fmt: skip
    parts = len(boxes) + 1
    rows = tuple(
        SheetRow(
            number=f"P-{n:02d}", title="Floor plan", kind="floor plan", subject="L0", part=n, parts=parts,
            members=(), first=1, last=0,
        )
        for n in range(1, parts + 1)
    )  # fmt: skip
    document = sample_document().model_copy(update={"sheets": rows})
    return [parted(spec, document, row) for row in rows]


@pytest.fixture(scope="module")
def sheets() -> list[StoreyPlanSpec]:
    return sheets_of_storey(large_storey())


def test_pieces_are_drawn_at_1_to_200_or_larger_and_the_whole_as_a_key(sheets: list[StoreyPlanSpec]) -> None:
    key, *pieces = sheets
    assert len(pieces) == 3
    # 159 m on the 387 mm between labels and frame are 1:411 at the largest.
    assert scale_of(key) == 500
    assert all(scale_of(piece) <= 200 for piece in pieces)
    shown = texts(draw_storey(key, "p").decode())
    assert {f"piece P-{n:02d}" for n in (2, 3, 4)} <= set(shown)
    assert "CH1" not in shown


def test_every_room_and_device_stands_on_one_piece(sheets: list[StoreyPlanSpec]) -> None:
    tags = [room.tag for piece in sheets[1:] for room in piece.rooms]
    assert sorted(tags) == sorted(room.tag for room in large_storey().rooms)
    for piece in sheets[1:]:
        shown = texts(draw_storey(piece, "p").decode())
        assert {room.tag for room in piece.rooms} <= set(shown)
        assert shown.count("CH1") == len(piece.rooms)


def test_a_pathway_is_cut_at_match_lines_and_nothing_of_it_is_lost(sheets: list[StoreyPlanSpec]) -> None:
    parts = [pathway for piece in sheets[1:] for pathway in piece.pathways]
    assert {part.lines for part in parts} == {("T01 tray", "64 × network")}
    assert sum(math.dist(*part.points) for part in parts) == pytest.approx(159.0)


def test_a_run_that_goes_on_names_the_sheet_beyond_and_arrives_there(sheets: list[StoreyPlanSpec]) -> None:
    first, _, last = sheets[1:]
    (leaving,) = [run for run in last.runs if dict(run.signals) == {"analogue": 1}]
    assert leaving.goes_on == "on to P-02"
    (arriving,) = [run for run in first.runs if dict(run.signals) == {"analogue": 1}]
    assert arriving.ends[1] == (2.0, 22.0)
    assert arriving.goes_on == ""


def test_match_lines_are_the_same_on_both_sides_and_name_each_other(sheets: list[StoreyPlanSpec]) -> None:
    pieces = sheets[1:]
    for one, two in pairwise(pieces):
        here = dict(match_lines(one))
        shared = [line for line in here if line in dict(match_lines(two))]
        assert len(shared) == 1
        assert here[shared[0]] == two.pieces[two.here].number
        assert f"match line, {here[shared[0]]} beyond" in texts(draw_storey(one, "p").decode())


def test_no_text_of_the_sheets_is_small_or_touches_anything(sheets: list[StoreyPlanSpec]) -> None:
    for sheet in sheets:
        svg = sheet_svg(KIND, sheet)
        assert printed_pt(svg) >= 7 - 1e-6
        assert collisions(svg) == []
        assert "Key plan" in texts(svg)
        assert re.search(r"pieces? on P-02, P-03 and P-04", storey_words(sheet))


def test_a_storey_of_one_sheet_has_neither_match_lines_nor_a_key(sheets: list[StoreyPlanSpec]) -> None:
    whole = large_storey()
    assert match_lines(whole) == ()
    assert "Key plan" not in texts(draw_storey(whole, "p").decode())
