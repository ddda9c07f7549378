"""Floor plans and ceiling plans of storeys: to scale, complete, each device on one of them."""

import re
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.document.wall_passages import openings_on
from proposal.drawings.figure.to_scale import extent
from proposal.drawings.kinds import kind_called
from proposal.drawings.plan.field import FIELD, scaled
from proposal.drawings.plan.marking import symbols_on_paper
from proposal.drawings.plan.plan_marks import PlanMark
from proposal.drawings.plan.storey_drawing import draw_storey, scale_of, storey_foot
from proposal.drawings.plan.storey_plan import storey_words
from proposal.drawings.plan.storey_spec import PlanRoom, StoreyPlanSpec
from proposal.drawings.plan.symbols import reach_of
from proposal.editions import edition_of
from tests.drawings.collisions import collisions
from tests.drawings.painted import painted
from tests.drawings.shown import sheet_svg
from tests.whole_projects import whole_document

ROOT = Path(__file__).resolve().parents[3]
PT_MM = 25.4 / 72
LEVELS = ("floor plan", "ceiling plan")


@pytest.fixture(scope="module")
def documents() -> dict[str, Document]:
    folders = {"metric": ROOT / "example_project", "us": ROOT / "tests" / "projects" / "us_customary"}
    return {name: whole_document(folder) for name, folder in folders.items()}


def specs(
    document: Document, reader: Reader = "installer", kinds: tuple[str, ...] = LEVELS
) -> list[StoreyPlanSpec]:
    edition = edition_of(document, reader)
    return [
        kind_called(sheet.kind).spec(edition, sheet)
        for sheet in edition.document.sheets
        if sheet.kind in kinds
    ]


def texts(svg: str) -> list[str]:
    return [
        "".join(one.itertext())
        for one in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")
    ]


@pytest.mark.independent
@pytest.mark.parametrize("name", ["metric", "us"])
def test_rooms_are_drawn_to_the_scale_that_the_sheet_states(
    name: str, documents: dict[str, Document]
) -> None:
    for spec in specs(documents[name]):
        svg = draw_storey(spec, "p").decode()
        scale = int(re.search(r">1:(\d+)<", sheet_svg(kind_called("floor plan"), spec))[1])  # type: ignore[index]
        assert scale == scale_of(spec)
        outlines = re.findall(
            r'<polygon points="([^"]*)" fill="#ffffff" stroke="#1c2530" stroke-width="1.6"', svg
        )
        drawn = []
        for outline in outlines:
            xs, ys = zip(*(map(float, point.split(",")) for point in outline.split()), strict=True)
            drawn.append([(max(one) - min(one)) * PT_MM * scale / 1000 for one in (xs, ys)])
        built = []
        for room in spec.rooms:
            xs, ys = zip(*room.outline, strict=True)
            built.append([max(xs) - min(xs), max(ys) - min(ys)])
        assert drawn == [pytest.approx(size, abs=0.02) for size in built]


def test_equal_specs_give_equal_bytes(documents: dict[str, Document]) -> None:
    spec = specs(documents["metric"])[0]
    assert draw_storey(spec, "p") == draw_storey(spec, "p")


@pytest.mark.parametrize("reader", ["installer", "client"])
def test_every_device_outside_racks_is_marked_on_one_plan_of_its_storey(
    reader: Reader, documents: dict[str, Document]
) -> None:
    for document in documents.values():
        marked = sorted(
            f"{room.tag}-{code}"
            for spec in specs(document, reader)
            for room in spec.rooms
            for mark in room.marks
            if mark.kind != "data outlet"
            for code in mark.codes
        )
        racks = {device.tag for device in document.devices if device.kind == "rack"}
        rooms = {room.tag for room in document.rooms}
        assert marked == sorted(
            device.tag for device in document.devices if device.room in rooms and device.location not in racks
        )
        shown = {rack for spec in specs(document, reader) for place in spec.places for rack in place.racks}
        assert shown == racks


def test_access_points_and_loudspeakers_of_the_example_hang_on_ceiling_plans(
    documents: dict[str, Document],
) -> None:
    for kind, held in (
        ("floor plan", {"microphone", "charger", "breakout", "owner's device", "data outlet"}),
        ("ceiling plan", {"access point", "loudspeaker"}),
    ):
        found = specs(documents["metric"], kinds=(kind,))
        assert {mark.kind for spec in found for room in spec.rooms for mark in room.marks} == held


def test_data_outlets_are_marked_where_their_cables_begin(documents: dict[str, Document]) -> None:
    """Six cables of the first floor end in an outlet: those of four chargers and two codecs."""
    document = documents["metric"]
    found = specs(document, kinds=("floor plan",))[1]
    outlets = {
        (room.tag, code): mark.at
        for room in found.rooms
        for mark in room.marks
        if mark.kind == "data outlet"
        for code in mark.codes
    }
    assert sorted(outlets) == [
        ("A101", "CH1/N1"),
        ("A101", "OE1/N1"),
        ("A102", "CH1/N1"),
        ("A102", "OE1/N1"),
        ("A110", "CH1/N1"),
        ("A110", "CH2/N1"),
    ]
    devices = {device.tag: device for device in document.devices}
    for (room, code), at in outlets.items():
        assert at == pytest.approx(devices[f"{room}-{code.split('/')[0]}"].at)
    assert not any(
        mark.kind == "data outlet"
        for spec in specs(document, "client")
        for room in spec.rooms
        for mark in room.marks
    )


def test_every_label_of_the_example_finds_a_place(documents: dict[str, Document]) -> None:
    for spec in specs(documents["metric"]):
        svg = draw_storey(spec, "p").decode()
        assert "Too close" not in svg
        assert "devices labelled on" not in svg


def test_pathways_stand_there_with_size_and_cables_by_signal(documents: dict[str, Document]) -> None:
    document = documents["metric"]
    ground = specs(document, kinds=("ceiling plan",))[0]
    (tray,) = (one for one in ground.pathways if one.lines[0].startswith("T01 "))
    inside: Counter[str] = Counter()
    for row in document.pathway_contents:
        if row.pathway == "T01":
            inside[row.signal] += row.count
    assert tray.lines[0] == "T01 tray 200 × 54 mm"
    assert tray.lines[1] == "at 4.4 m"
    assert sorted(tray.lines[2:]) == sorted(f"{count} × {signal}" for signal, count in inside.items())
    assert {row.tag for row in document.pathways} == {
        one.lines[0].split()[0] for spec in specs(document) for one in spec.pathways
    }
    shown = texts(draw_storey(ground, "p").decode())
    assert set(tray.lines) <= set(shown)
    (riser,) = (one for one in ground.pathways if len(one.points) == 1)
    assert riser.lines[:2] == ("R01 riser shaft", "up to L1 First floor")


def test_a_run_that_leaves_the_plan_says_where_it_goes_on(documents: dict[str, Document]) -> None:
    floor, ceiling = (specs(documents["metric"], kinds=(kind,))[-1] for kind in LEVELS)
    assert {run.goes_on for run in floor.runs} == {"up to T21"}
    assert {run.goes_on for run in ceiling.runs} == {"", "down to BO1"}


def test_a_run_through_a_floor_without_a_pathway_says_so_on_both_storeys(
    documents: dict[str, Document],
) -> None:
    """The boardroom on storey 2 of the county annex is joined to the rack on storey 1 by no given pathway."""
    plans = {(spec.storey, spec.level): spec for spec in specs(documents["us"])}
    assert not plans["2", "floor"].runs
    (up,) = [run for run in plans["1", "ceiling"].runs if run.goes_on == "up to storey 2"]
    ends = {run.goes_on: run.ends[-1] for run in plans["2", "ceiling"].runs}
    down = ends["down to storey 1"]
    assert up.ends[-1] == down
    rising = [
        cable for cable in documents["us"].cables if cable.from_storey == "2" and cable.to_storey == "1"
    ]
    assert sum(cables for _, cables in up.signals) == len(rising) == 4


def test_no_mark_stands_on_the_wall_of_its_room(documents: dict[str, Document]) -> None:
    """Five devices stand together 0.9 m before the eastern wall of the hearing room."""
    spec = next(one for one in specs(documents["us"]) if (one.storey, one.level) == ("1", "floor"))
    for room in spec.rooms:
        scale = scaled(extent(room.outline), FIELD, scale_of(spec))
        east = max(scale.on_paper(point)[0] for point in room.outline)
        for together in symbols_on_paper(room.marks, scale, room.outline):
            assert all(x + reach_of(kind) < east for kind, (x, _), _ in together)


def test_a_breakout_among_marks_side_by_side_stands_where_its_cables_go_up(
    documents: dict[str, Document],
) -> None:
    outline = ((0.0, 0.0), (8.0, 0.0), (8.0, 7.0), (0.0, 7.0))
    places = (("charger", 3.9), ("charger", 4.0), ("breakout", 4.1))
    marks = [PlanMark(kind, (x, 6.5), (str(x),), str(x)) for kind, x in places]
    spec = next(iter(specs(documents["metric"])))
    scale = scaled(extent(outline), FIELD, scale_of(spec))
    (together,) = symbols_on_paper(marks, scale, outline)
    assert [label for _, _, label in together] == ["3.9", "4.0", "4.1"]
    assert together[-1][1] == pytest.approx(scale.on_paper((4.1, 6.5)))
    # Close to a wall there is no room for the others.
    near = [PlanMark(kind, (x - 3.8, 6.5), (str(x),), str(x)) for kind, x in places]
    (together,) = symbols_on_paper(near, scale, outline)
    assert together[0][1] == pytest.approx(scale.on_paper(near[0].at))


def test_a_client_sees_rooms_and_devices_without_pathways_or_cables(documents: dict[str, Document]) -> None:
    for spec in specs(documents["metric"], "client"):
        assert any(room.marks for room in spec.rooms)
        assert spec.pathways == ()
        assert spec.runs == ()
        assert spec.nodes == ()


@cache
def crowded_floor() -> StoreyPlanSpec:
    """Return the floor of the failing project with the 45 microphones of its crowd room, 14 m by 9 m."""
    document = whole_document(ROOT / "tests" / "projects" / "failing")
    return specs(document)[0]


def test_devices_of_a_crowded_room_are_labelled_on_its_own_plan() -> None:
    spec = crowded_floor()
    (crowd,) = (room for room in spec.rooms if room.tag == "F003")
    x, y = crowd.outline[0]
    near = tuple(
        replace(mark, at=(x + (mark.at[0] - x) / 2, y + (mark.at[1] - y) / 2)) for mark in crowd.marks
    )
    crowd = replace(crowd, marks=near)
    far = PlanRoom("F9", "Shed", (), ((x + 80, y), (x + 81, y), (x + 81, y + 1)), (), (), (), (), (), "")
    spec = replace(spec, rooms=(crowd, far), places=(), pathways=(), runs=(), nodes=(), walls=(), pieces=())
    shown = texts(draw_storey(spec, "p").decode())
    assert scale_of(spec) == 250
    assert f"devices labelled on {crowd.enlarged}" in shown
    assert "M45" not in shown


def test_on_a_small_scale_rooms_show_what_is_in_them_on_their_own_plans_alone() -> None:
    spec = crowded_floor()
    assert scale_of(spec) == 400
    shown = texts(draw_storey(spec, "p").decode())
    assert {room.enlarged for room in spec.rooms} <= set(shown)
    assert "M1" not in shown
    assert [entry.meaning for entry in storey_foot(spec).entries if entry.meaning == "microphone"] == []


def test_the_words_tell_rooms_devices_and_pathways(documents: dict[str, Document]) -> None:
    document = documents["metric"]
    words = storey_words(specs(document, kinds=("ceiling plan",))[0])
    assert "Room A001 Assembly Chamber, 18.0 m by 16.0 m" in words
    assert "In it: access point AP1; access point AP2; access point AP3; loudspeaker LS1;" in words
    assert "Pathway T03 tray 100 × 54 mm: at 4.4 m, 4 m S of north wall of A001, 2 × network." in words


def test_openings_in_rated_floors_stand_at_their_pathway_with_their_rating(
    documents: dict[str, Document],
) -> None:
    """The riser shafts of the example pass two floors of EI 90; the note tells who closes the openings."""
    first = specs(documents["metric"], kinds=("ceiling plan",))[1]
    lines = {one.lines[0].split()[0]: one.lines for one in first.pathways}
    assert "R01-F1: floor EI 90" in lines["R01"]
    assert "R12-F1: floor EI 90" in lines["R12"]
    assert first.openings
    assert any("firestop system listed for its rating" in note for note in storey_foot(first).notes)
    # No pathway of the county annex passes a rated floor or wall.
    assert not any(spec.openings for spec in specs(documents["us"]))


def test_openings_in_walls_are_marked_where_what_passes_is_drawn(documents: dict[str, Document]) -> None:
    floor, ceiling = (specs(documents["metric"], kinds=(kind,))[1] for kind in LEVELS)
    marked = {(tag, at) for tag, at, _ in ceiling.passages}
    # A110 begins at x = 0.4 m: its access point hangs 5.1 m east of that, its chargers at 6 and 6.72 m.
    # Their cables go on to the east: those of both chargers through one opening, where the second goes north.
    assert {("WO1", (5.5, 10.4)), ("WO2", (7.12, 10.4))} <= marked
    assert ("core-w-1-WO1", (58.0, 12.0)) in marked
    # Those of chargers' cables too: they go up in their rooms, and pass the walls above the ceiling.
    assert {at for _, at, _ in ceiling.passages} >= {(51.5, 10.4), (51.5, 13.6)}
    # Three each of A101 and A110, two of A102, two of the core; those of the codec of A101 and of the
    # chargers of A110 are too far from the access point's.
    assert len(ceiling.passages) == 10
    assert floor.passages == ()
    assert {one.way for one in ceiling.pathways if len(one.points) == 1} == {"up", "down"}
    drawn = texts(draw_storey(ceiling, "p").decode())
    assert {tag for tag, _ in marked} <= set(drawn)
    for spec in specs(documents["metric"], "client"):
        assert spec.passages == ()


def test_openings_stand_at_the_height_of_the_run_that_passes_them(documents: dict[str, Document]) -> None:
    """Cables of C101 lie at 12 ft, those of C201 half a metre below the floor 13 ft above theirs."""
    found = {one.tag: one for storey in ("1", "2") for one in openings_on(documents["us"], storey)}
    assert found["C101-WO2"].height_m == pytest.approx(12 * 0.3048)
    assert {"C101-BO1/A1/ER1-RK1", "C101-LS9/L1/ER1-RK1"} <= set(found["C101-WO2"].names)
    for tag in ("C201-WO1", "C201-WO2"):
        assert found[tag].height_m == pytest.approx(13 * 0.3048 - 0.5)
    # What goes over the floor to a floor box passes its wall there.
    assert found["C102-WO1"].height_m == 0


def test_walls_doors_and_grids_that_are_given_are_drawn(documents: dict[str, Document]) -> None:
    floor, ceiling = (specs(documents["metric"], kinds=(kind,))[1] for kind in LEVELS)
    assert [construction for _, construction, _ in floor.walls] == ["concrete", "concrete"]
    assert {len(room.doors) for room in floor.rooms} == {1}
    assert not any(room.grid for room in floor.rooms)
    (room,) = (room for room in ceiling.rooms if room.tag == "A101")
    # 12 m by 7 m in tiles of 600 mm: 19 lines across and 11 along.
    assert len(room.grid) == 30
    assert {round(abs(x2 - x1) + abs(y2 - y1), 3) for (x1, y1), (x2, y2) in room.grid} == {7.0, 12.0}
    for spec in (floor, ceiling):
        svg = draw_storey(spec, "p").decode()
        assert svg.count('stroke-width="3.6"') == 2


def test_what_is_not_given_is_not_drawn(documents: dict[str, Document]) -> None:
    for spec in specs(documents["us"]):
        assert spec.walls == ()
        assert not any(room.doors or room.grid for room in spec.rooms)


def line_of(points: tuple[tuple[float, float], ...]) -> BaseGeometry:
    return LineString(points) if len(points) > 1 else Point(points[0])


@pytest.mark.parametrize("name", ["metric", "us"])
def test_a_contractor_follows_every_cable_from_its_device_to_where_it_ends(
    name: str, documents: dict[str, Document]
) -> None:
    document = documents[name]
    plans = specs(document)
    lines = {
        (spec.storey, pathway.lines[0].split()[0]): line_of(pathway.points)
        for spec in plans
        for pathway in spec.pathways
    }
    devices = {device.tag: device for device in document.devices}
    racks = {device.tag: device for device in document.devices if device.kind == "rack"}
    followed = 0
    for cable in document.cables:
        # A lead to equipment of others that has no place ends where nobody has said.
        device, end = devices[cable.from_tag], devices.get(cable.to_tag)
        if device.location in racks or not cable.pathways or end is None:
            continue
        followed += 1
        runs = [
            run for spec in plans if spec.storey == device.storey for run in spec.runs
            if cable.signal in dict(run.signals) and run.ends[0] == pytest.approx(device.at, abs=2e-3)
        ]  # fmt: skip
        enters = lines[device.storey, cable.pathways[0]]
        # A device under its pathway has a drop and no run.
        near = enters.distance(Point(device.at)) < 2e-3
        found = [run for run in runs if enters.distance(Point(run.ends[-1])) < 2e-3]
        # What goes up at a wall goes on from there on the ceiling plan.
        risen = [
            run for spec in plans if (spec.storey, spec.level) == (device.storey, "ceiling")
            for run in spec.runs
            if enters.distance(Point(run.ends[0])) < 2e-3 and cable.signal in dict(run.signals)
            and any(below.ends[-1] == pytest.approx(run.ends[-1], abs=2e-3) for below in runs)
        ]  # fmt: skip
        assert found or near or risen, cable.identity
        for one, two in pairwise(cable.pathways):
            shared = [
                storey for storey, tag in lines if tag == one and (storey, two) in lines
                if lines[storey, one].distance(lines[storey, two]) < 2e-3
            ]  # fmt: skip
            assert shared, cable.identity
        leaves = lines[end.storey, cable.pathways[-1]]
        ends = [
            run for spec in plans if spec.storey == end.storey for run in spec.runs
            if run.ends[-1] == pytest.approx(end.at, abs=2e-3)
            and leaves.distance(Point(run.ends[0])) < 2e-3
        ]  # fmt: skip
        assert ends or leaves.distance(Point(end.at)) < 2e-3, cable.identity
    assert followed > 5


def test_the_foot_of_a_new_sheet_holds_its_whole_legend(documents: dict[str, Document]) -> None:
    """The sentence on what is new takes a line of the foot; the legend was cut for it once."""
    document = documents["metric"]
    (sheet,) = (row for row in document.sheets if (row.kind, row.subject) == ("ceiling plan", "L1"))
    spec = kind_called(sheet.kind).spec(edition_of(document, "installer"), sheet)
    drawn = sheet_svg(kind_called(sheet.kind), replace(spec, strip=replace(spec.strip, new=True)))
    assert "nothing on it is marked" in " ".join(texts(drawn))
    assert not [words for words in texts(drawn) if "…" in words]
    assert collisions(drawn) == []


def test_leaders_cross_no_other_leader_and_end_short_of_one_text(documents: dict[str, Document]) -> None:
    found = 0
    for document in documents.values():
        for spec in specs(document):
            svg = draw_storey(spec, "p").decode()
            sheet = painted(svg)
            drawn = re.findall(r'<polyline class="leader" points="([^"]*)"', svg)
            leaders = [LineString([tuple(map(float, at.split(","))) for at in one.split()]) for one in drawn]
            found += len(leaders)
            for n, leader in enumerate(leaders):
                assert not any(leader.crosses(other) for other in leaders[:n])
                near = [text.words for text in sheet.texts if text.box.distance(leader) < 0.8]
                assert near == [], (spec.strip.number, near)
                assert min(text.box.distance(Point(leader.coords[-1])) for text in sheet.texts) < 3
    assert found > 10


def test_things_of_one_code_in_several_rooms_are_told_with_their_room(documents: dict[str, Document]) -> None:
    """On the first floor two rooms have a codec at OE1 and three a charger at CH1."""
    (spec,) = (one for one in specs(documents["metric"], kinds=("ceiling plan",)) if one.storey == "L1")
    drawn = texts(draw_storey(spec, "p").decode())
    downs = sorted(words for words in drawn if words.startswith("down to A"))
    assert downs == [
        *("down to A101-CH1", "down to A101-OE1", "down to A102-CH1", "down to A102-OE1"),
        *("down to A110-CH1", "down to A110-CH2"),
    ]


def test_the_legend_shows_no_line_that_marks_hide(documents: dict[str, Document]) -> None:
    """On the first floor cables go up the wall behind the marks of their devices."""
    (spec,) = (one for one in specs(documents["metric"], kinds=("floor plan",)) if one.storey == "L1")
    assert any(signal == "network" for run in spec.runs for signal, _ in run.signals)
    assert not any("no pathway" in one.meaning for one in storey_foot(spec).entries)


def test_the_heading_says_what_tags_of_walls_are(documents: dict[str, Document]) -> None:
    for spec in specs(documents["metric"]):
        drawn = " ".join(texts(draw_storey(spec, "p").decode()))
        (told,) = re.findall(r"The tag of a wall stands beside it, as (core-[we]-\d)\.", drawn)
        assert drawn.count(told) > 1
