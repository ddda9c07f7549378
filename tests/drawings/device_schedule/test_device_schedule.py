"""The schedule of devices of a storey: every device, every cable to where it ends, each on one sheet."""

from collections import Counter
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.drawings.device_schedule import (
    COLUMNS,
    DeviceScheduleSpec,
    alternative,
    spec_of,
)
from proposal.drawings.device_schedule.layout import KIND, render
from proposal.drawings.device_schedule.notes import TILE_NOTE
from proposal.drawings.plan.tubing_beside_tubing import centre_aside, steps_from_racks
from proposal.editions import edition_of
from tests.drawings.collisions import collisions
from tests.drawings.shown import sheet_svg, texts
from tests.whole_projects import whole_document

EXAMPLE = Path(__file__).resolve().parents[3] / "example_project"
PLACE = {heading: n for n, (heading, _) in enumerate(COLUMNS)}


def sheets(document: Document, storey: str = "") -> list[DeviceScheduleSpec]:
    edition = edition_of(document, "installer")
    return [
        spec_of(edition, sheet)
        for sheet in edition.document.detail_sheets
        if sheet.kind == "device schedule" and storey in ("", sheet.subject)
    ]


def said(spec: DeviceScheduleSpec, identity: str) -> dict[str, str]:
    """Return what the line of a cable says, by heading."""
    (line,) = (one for one in spec.lines if one.identity == identity and not one.heading)
    return {heading: " ".join(line.cells[n]) for heading, n in PLACE.items() if line.cells[n]}


@pytest.fixture(scope="module")
def document() -> Document:
    return whole_document(EXAMPLE)


def test_every_cable_outside_racks_stands_on_one_sheet_with_its_end(document: Document) -> None:
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    devices = {row.tag: row for row in document.devices}
    wanted = {
        cable.identity
        for cable in document.cables
        if cable.from_panel or devices[cable.from_tag].location not in racks
    }
    begins = {cable.identity: cable.from_storey for cable in document.cables}
    found = Counter(
        line.identity
        for storey in document.storeys
        for spec in sheets(document, storey.tag)
        for line in spec.lines
        if begins.get(line.identity) == storey.tag
    )
    assert found == Counter(wanted)


def test_every_device_outside_racks_stands_on_the_sheets_of_its_storey(document: Document) -> None:
    racks = {rack for place in document.equipment_rooms for rack in place.racks}
    for storey in document.storeys:
        words = " ".join(alternative(spec) for spec in sheets(document, storey.tag))
        for row in document.devices:
            if row.storey == storey.tag and row.location not in racks and row.kind != "microphone":
                assert f"Device {row.tag};" in words


def test_a_line_tells_place_height_fixing_way_and_end(document: Document) -> None:
    """Checked by hand against device, cable and patch schedules of the example."""
    spec, *_ = sheets(document, "L1")
    assert said(spec, "A101-CH1/N1/ER2-RK1") == {
        "Device": "A101-CH1",
        "What": "charger 56376V, mains A101/C1/1, cord DR-MW14",
        "From west": "6 m",
        "From south": "6.7 m",
        "Height": "0.75 m",
        "Fixed": "table: sideboard",
        "Cable": "A101-CH1/N1/ER2-RK1",
        "Type": "CC-5U-L",
        "Length": "33.05 m",
        "Spare in it": "1.5 + 3 + 0.3 m",
        "At the device": "N1, outlet, cord CC-PC5-24-2",
        "By way of": "0.3 m along its furniture, up the wall at 6 m and 7 m in conduit 16 mm, at 3.7 m into "
        "T11, T12, R12, H23",
        "Ends at": "ER2-RK1 PP1/2 (U13), L2",
        "Patched to": "ER2-SW1 port 7, cord CC-PC5-24-2",
    }


def test_a_cable_below_the_ceiling_says_where_it_enters_the_floor_and_none_where_it_needs_no_way(
    document: Document,
) -> None:
    # The room's corner lies 69.0 m east and 4.0 m north of the origin, floor box FB1 at 71.2 m and 19.2 m.
    # Its charger stands at 71.5 m and 19.6 m.
    ways = {
        line.identity: " ".join(line.cells[PLACE["By way of"]])
        for spec in sheets(document)
        for line in spec.lines
        if line.cells
    }
    assert ways["A001-CH1/N1/ER1-RK1"] == "0.7 m aside, box FB1 at 2.2 m and 15.2 m, C01, T02, S01, T01"
    # It stands beside the breakout whose switch serves it.
    assert ways["A201-CH1/N1/A201-BO1"] == "no pathway: side by side"


def test_a_cable_to_a_tray_outside_its_room_says_at_which_wall_it_goes_up(document: Document) -> None:
    # A101 lies 45.5 m to 57.5 m east and 3.4 m to 10.4 m north; its charger at 51.5 m and 10.1 m, tray T11
    # at 12.0 m north.
    lines = {
        line.identity: " ".join(line.cells[PLACE["By way of"]])
        for spec in sheets(document)
        for line in spec.lines
        if line.cells
    }
    told = "0.3 m along its furniture, up the wall at 6 m and 7 m in conduit 16 mm, at 3.7 m into T11, "
    assert lines["A101-CH1/N1/ER2-RK1"].startswith(told)
    # A length that was measured holds what is spare; cables between loudspeakers lie above the ceiling.
    spare = {
        line.identity: line.cells[PLACE["Spare in it"]]
        for spec in sheets(document)
        for line in spec.lines
        if line.cells
    }
    assert spare["A102-AP1/N1/ER2-RK1"] == ("measured on site,", "spare in it")
    assert lines["A101-LS1/L1/A101-LS2"] == "on hooks above the ceiling"


def test_a_length_near_the_limit_of_its_link_tells_that(document: Document) -> None:
    """The permanent link may have 90 m at 20 °C; at 30 °C of the corridors' ceilings it is 86.9 m."""
    lengths = {
        line.identity: " ".join(line.cells[PLACE["Length"]])
        for spec in sheets(document)
        for line in spec.lines
        if line.cells and not line.names
    }
    assert lengths["A110-CH1/N1/ER2-RK1"] == "85.25 m, at most 86.9 m"
    assert lengths["A101-CH1/N1/ER2-RK1"] == "33.05 m"


def test_a_loudspeaker_tells_its_tap(document: Document) -> None:
    taps = {row.loudspeaker: row.tap_w for row in document.line_loudspeakers}
    assert taps["A101-LS3"] == 5.0
    spec, *_ = sheets(document, "L1")
    assert said(spec, "A101-LS3/L1/A101-LS6")["At the device"] == "L1, terminals, tap 5 W"


def test_ports_are_those_of_the_patch_table(document: Document) -> None:
    patches = {row.identity: row for row in document.patches}
    lines = {
        line.identity: " ".join(line.cells[PLACE["Patched to"]])
        for spec in sheets(document)
        for line in spec.lines
        if line.identity in patches and line.cells[PLACE["Patched to"]]
    }
    assert len(lines) > 20
    for identity, words in lines.items():
        assert words.startswith(f"{patches[identity].switch} port {patches[identity].switch_port}")
    # Each port tells the one at the other end, a breakout's too that leads on to a switch in a rack.
    ports = {(row.switch, row.port): (row.device, row.device_port) for row in document.ports if row.device}
    for row in document.patches:
        ends = (row.switch, row.switch_port), (row.device, row.device_port)
        assert ports.get(ends[0], ends[1]) == ends[1]
        assert ports.get(ends[1], ends[0]) == ends[0]
    assert any((row.device, row.device_port) in ports for row in document.patches)


def test_sheets_hold_their_lines_and_no_sheet_is_empty(document: Document) -> None:
    for spec in sheets(document):
        svg = render(spec, "p").decode()
        assert collisions(svg) == []
        assert sum(line.lines for line in spec.lines) > 4
        assert spec.lines[0].heading
        assert {line.heading for line in spec.lines if line.heading} <= set(texts(svg))
        assert not [words for words in texts(svg) if words.endswith("…")]


def test_the_middle_of_a_ceiling_tile_is_told_where_there_is_a_grid(document: Document) -> None:
    """A201-LS1 is 2.1 m from the corner, in the middle of the tile from 1.8 m to 2.4 m both ways."""
    spec = sheets(document, "L2")[0]
    lines = {line.identity: line.cells for line in spec.lines if line.cells}
    found = [" ".join(cells[PLACE["Fixed"]]) for name, cells in lines.items() if name.startswith("A201-LS1/")]
    assert found == ["middle of tile, mount DR-MT-B"]
    assert TILE_NOTE in " ".join(KIND.foot(spec).notes)
    for ground in sheets(document, "L0"):
        assert not ground.tiled


def rows_of(document: Document, storey: str) -> dict[str, tuple[str, ...]]:
    """Return the cells of each line of a storey that names a pathway or an opening, without empty ones."""
    found = {}
    for spec in sheets(document, storey):
        for line in spec.lines:
            if line.cells and line.identity == " ".join(line.cells[0]):
                found[line.identity] = tuple(" ".join(cell) for cell in line.cells if cell)
    return found


def test_pathways_stand_there_with_height_place_and_ends(document: Document) -> None:
    """By hand: T11 runs at y = 12 m, 1.6 m north of rooms that end at 10.4 m; pathways lie at 3.7 m.

    Through the floor of L2 pass a fibre cable of 5 mm, three of 6.1 mm and six of 5.2 mm: 234.7 mm², over
    0.40 × 359.7 of conduit of 25 mm. Three lines of 7 mm, 115.5 mm², could jam in it (21.4 / 7 = 3.06).
    """
    rows = rows_of(document, "L1")
    assert rows["T11"] == (
        "T11",
        "tray 200 × 54 mm held every 1.5 m, wire mesh DR-TY200",
        "3.7 m",
        "1.6 m N of north wall of A101",
        "2 × loudspeaker line, 9 × network",
        "58.5 m",
        "speaker lines N of it",
        "2 m E, 12 m N",
        "60.5 m E, 12 m N",
    )
    assert rows["R12"][-4:] == (
        "L1: 60.5 m E, 16 m N",
        "L2: 60.5 m E, 16 m N",
        "R12-F1 EI 90",
        "32 mm for 10 cables, 32 mm for 3 loudspeaker lines",
    )


def test_openings_in_walls_are_listed_with_place_height_and_size(document: Document) -> None:
    """By hand: A101-LS6 hangs 9.3 m from the west; its cable goes north through the wall at 10.4 m.

    A102-LS4 is fed along y = 15.5 m, through the room's wall and that of the core, which begins at y = 3 m.
    """
    rows = rows_of(document, "L1")
    # The codec stands 0.72 m beyond the charger, too far to share the opening of that and the access point:
    # this is where the charger's cable passes, as both go on to the east.
    assert rows["A101-WO1"][2] == "6 m"
    assert rows["A101-WO3"][:4] == ("A101-WO3", "north wall of A101", "9.3 m", "3.7 m")
    # One line of 7 mm: 38.5 of 0.53 × 132.7 mm² of conduit of 16 mm, 13.0 mm inside; 6 mm free on each side.
    assert rows["A101-WO3"][-4:] == (
        "1 × loudspeaker line", "A101-LS6", "not stated", "16 mm for 1 loudspeaker line in a hole of 28 mm",
    )  # fmt: skip
    # 6.1 mm and 5.2 mm: 50.5 of 0.31 × 224.3 = 69.5 mm² of conduit of 20 mm, 16.9 mm inside; 41.1 of 16 mm.
    assert rows["A101-WO1"][-1] == "20 mm for 2 cables in a hole of 32 mm"
    assert rows["A102-WO2"][1:4] == ("east wall of A102", "1.9 m", "3.7 m")
    assert rows["core-w-1-WO2"][1:4] == ("core-w-1, concrete, from 58 m E, 3 m N", "12.5 m", "3.7 m")
    # A tray of 200 × 54 mm, 25 mm free on each side.
    assert rows["core-w-1-WO1"][-3:] == ("T11", "not stated", "hole 250 × 104 mm for T11")
    (notes,) = {
        " ".join(KIND.foot(spec).notes) for spec in sheets(document, "L1") if "WO1" in alternative(spec)
    }
    assert "Fire rating not stated: General contractor states it for each such wall by 9 June 2031" in notes


def test_sleeves_between_the_same_ends_lie_side_by_side_each_in_a_hole_of_its_own(document: Document) -> None:
    """Trade sizes 1-1/4 and 1 are 38.4 mm and 29.5 mm outside, with 6 mm free on each side."""
    rows = rows_of(document, "L0")
    assert rows["core-e-0-WO1"][-1] == "hole of 51 mm for S01, hole of 42 mm for S02"
    assert "beside S02, 50 mm between" in rows["S01"]
    assert "beside S01, 50 mm between" in rows["S02"]


def test_every_code_of_a_model_on_the_sheets_of_a_storey_is_explained_there(document: Document) -> None:
    """Cords of the library: category 5e, 24 AWG, 2 m; the mains cord of a charger."""
    for storey in document.storeys:
        pages = sheets(document, storey.tag)
        (codes,) = (line for spec in pages for line in spec.lines if line.told)
        explained = " ".join(codes.told)
        words = " ".join(part for spec in pages for one in spec.lines for cell in one.cells for part in cell)
        models = {row.item for row in document.takeoff if row.item != row.description}
        named = {word for word in words.replace(",", " ").split() if word in models}
        assert {"CC-PC5-24-2", "CC-5U-L"} <= named
        assert all(f"{code} " in explained for code in named)


def test_the_notes_of_a_sheet_are_printed_to_their_end(document: Document) -> None:
    for spec in sheets(document):
        assert not [text for text in texts(sheet_svg(KIND, spec)) if text.endswith("…")]


def test_a_cable_that_passes_a_storey_stands_on_its_sheets(document: Document) -> None:
    words = " ".join(alternative(spec) for spec in sheets(document, "L1"))
    assert "Cable ER2-SW1/U1/ER1-RK1; Type CC-FOM4-4-L;" in words


def test_loudspeaker_lines_keep_their_side_of_a_divider_round_corners(document: Document) -> None:
    """Seen from the racks they lie at the right hand: T12 leads south from R12, T11 on to the west."""
    sides = {
        line.identity: " ".join(line.cells[PLACE["Spare in it"]])
        for spec in sheets(document)
        for line in spec.lines
        if line.identity in ("T01", "T02", "T03", "T04", "T11", "T12", "T21", "T22")
    }
    assert {tag: told.split()[2] for tag, told in sides.items() if told} == {
        "T01": "S", "T02": "S", "T04": "W", "T11": "N", "T12": "W", "T21": "N", "T22": "W",
    }  # fmt: skip


def test_loudspeaker_lines_that_share_hooks_are_kept_apart(document: Document) -> None:
    (hooks,) = (line for spec in sheets(document, "L2") for line in spec.lines if line.identity == "H23")
    assert " ".join(hooks.cells[PLACE["Spare in it"]]) == "speaker lines strapped alone"
    (trays,) = (line for spec in sheets(document, "L0") for line in spec.lines if line.identity == "T03")
    assert trays.cells[PLACE["Spare in it"]] == ()


def test_the_sheet_with_the_pathways_tells_what_others_have_ready_and_when(document: Document) -> None:
    words = " ".join(KIND.foot(sheets(document, "L1")[-1]).notes)
    assert "ready for first fix by 1 July 2031" in words
    assert "Electrical contractor: Conduit, boxes and pull strings, Cable trays" in words
    assert "Others have ready" not in " ".join(KIND.foot(sheets(document, "L1")[0]).notes)


def test_a_cable_ends_at_a_unit_of_its_rack_and_a_rack_has_its_place(document: Document) -> None:
    units = {place.name: place.unit for place in document.rack_places if place.rack == "ER2-RK1"}
    lines = [line for spec in sheets(document) for line in spec.lines]
    ends = {line.identity: " ".join(line.cells[PLACE["Ends at"]]) for line in lines if line.cells}
    assert ends["A101-AP1/N1/ER2-RK1"] == f"ER2-RK1 PP1/1 (U{units['ER2-RK1/PP1']}), L2"
    assert ends["A201-LS4/L1/ER2-RK1"] == f"ER2-RK1 A201-AM1/L1 (U{units['A201-AM1']})"
    (rack,) = (line for line in lines if line.cells and line.cells[0] == ("ER2-RK1",))
    assert (rack.cells[PLACE["From west"]], rack.cells[PLACE["From south"]]) == (("62.5 m E",), ("17.5 m N",))


def test_what_waits_for_an_answer_stands_on_the_sheets_of_its_storey(document: Document) -> None:
    (asked,) = (row for row in document.questions if row.subject == "L2")
    hold = {
        "L2": f"Hold until question {asked.number} is answered by",
        "L1": "Hold cables in H23 on L2 until",
    }
    for storey in document.storeys:
        for spec in sheets(document, storey.tag):
            assert bool(spec.holds) == (storey.tag in hold)
            drawn = " ".join(texts(render(spec, "p").decode()))
            for tag, words in hold.items():
                assert (words in drawn) == (storey.tag == tag)
    # Cables of the first floor go on to the racks above, at heights that are asked for.
    for spec in sheets(document, "L1"):
        told = f"H23 on L2: T-06 to T-10, heights there as taken until question {asked.number} is answered."
        assert told in spec.fixings
    words = alternative(sheets(document, "L2")[-1])
    told = f"floor to floor 4.2 m; heights as taken until question {asked.number} is answered."
    assert told in words


def test_devices_in_racks_stand_below_their_rack_with_unit_and_switch_port(document: Document) -> None:
    racks = {row.tag for row in document.devices if row.kind == "rack"}
    inside = {row.tag: row for row in document.devices if row.location in racks and row.kind != "rack"}
    lines = [line for spec in sheets(document) for line in spec.lines if line.cells]
    found = Counter(" ".join(line.cells[0]) for line in lines)
    assert {tag: found[tag] for tag in inside} == dict.fromkeys(inside, 1)
    amplifier, fed = (line for line in lines if line.identity == "A202-AM1")
    # In at I1 from the breakout, out at L1 to the loudspeakers.
    told = [
        [" ".join(one.cells[PLACE[name]]) for name in ("Cable", "At the device")] for one in (amplifier, fed)
    ]
    assert told == [
        ["A202-BO1/A1/ER2-RK1", "I1, 3-pin terminal block, 3.81 mm"],
        ["A202-LS4/L1/ER2-RK1", "L1, terminals"],
    ]
    (switch,) = (line for line in lines if line.identity == "ER2-SW2")
    assert switch.cells[PLACE["Ends at"]] == ("ER2-SW1/U2",)
    assert amplifier.cells[PLACE["Fixed"]] == ("ER2-RK1 U5 left",)
    assert amplifier.cells[PLACE["What"]] == ("amplifier Q60929, mains PS1/3",)
    (supply,) = (line for line in lines if line.identity == "ER2-UP1")
    assert " ".join(supply.cells[PLACE["What"]]) == "standby supply BN-UP1500, mains ER2/C2/1, cord DR-MW14"
    assert supply.cells[PLACE["Fixed"]] == ("ER2-RK1 U1–2",)
    # The owner's cord goes from the jack of the codec to that of the mixer, as building and library declare.
    cord = ("ER2-OE1/U1/A110-MX1",)
    mixer, codec = (line.cells for line in lines if line.cells and line.cells[PLACE["Cable"]] == cord)
    assert codec[PLACE["At the device"]] == ("U1, USB type A",)
    assert " ".join(codec[PLACE["Ends at"]]) == "A110-MX1/U1, USB type B"
    assert mixer[PLACE["At the device"]] == ("U1, USB type B",)
    charger = next(line for line in lines if line.cells[0] == ("A204-CH2",))
    assert charger.cells[PLACE["What"]] == ("charger 94222V, PoE from BO1",)
    # Each port is named at both ends of its cord; both are declared as N in the library.
    for line in (amplifier, supply):
        port = inside[line.identity].switch_port.replace("/", " port ")
        assert " ".join(line.cells[PLACE["Patched to"]]) == f"N1 to {port}"


def test_sleeves_side_by_side_have_each_their_own_middle_by_the_side_of_the_tray(document: Document) -> None:
    """Worked out by hand: S01 (1-1/4, 38.4 mm outside) and S02 (1, 29.5 mm) at 16 m north, 50 mm between.

    Together they are 117.9 mm wide; the divided trays on both sides have loudspeaker lines in the south, as
    S02 has. So S01 reaches from 58.95 to 20.55 mm north of the line, its middle 39.75 mm; S02's lies 44.2 mm
    south.
    """
    rows = {row.tag: row for row in document.pathways}
    steps = steps_from_racks(document)
    first, second = (centre_aside(document, rows[tag], steps) for tag in ("S01", "S02"))
    assert first == pytest.approx((0.0, 0.03975))
    assert second == pytest.approx((0.0, -0.0442))
    assert first[1] - second[1] == pytest.approx(0.0384 / 2 + 0.05 + 0.0295 / 2)
    assert centre_aside(document, rows["T02"], steps) == (0.0, 0.0)
    lines = {line.identity: line for spec in sheets(document, "L0") for line in spec.lines}
    assert " ".join(lines["S01"].cells[PLACE["By way of"]]).endswith("16.04 m N")
    assert " ".join(lines["S02"].cells[PLACE["By way of"]]).endswith("15.96 m N")
