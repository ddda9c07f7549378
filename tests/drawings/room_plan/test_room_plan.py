"""Plans of rooms: to scale, turned as built, with what the reader may see."""

import math
import re
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.drawings import room_plan
from proposal.drawings.plan.plan_marks import shortened
from proposal.drawings.plan.turning import turned
from proposal.drawings.room_plan import layout
from proposal.editions import edition_of
from tests.drawings.shown import sheet_svg, svg_of, texts
from tests.whole_projects import whole_document

ROOT = Path(__file__).resolve().parents[3]
MM_A_POINT = 25.4 / 72


@pytest.fixture(scope="module")
def document() -> Document:
    return whole_document(ROOT / "tests" / "projects" / "us_customary")


def spec(document: Document, number: str, reader: Reader = "installer") -> room_plan.RoomPlanSpec:
    edition = edition_of(document, reader)
    (sheet,) = (sheet for sheet in edition.document.sheets if sheet.number == number)
    return room_plan.spec_of(edition, sheet)


@pytest.mark.independent
def test_a_room_is_drawn_to_the_scale_that_its_sheet_states(document: Document) -> None:
    svg = sheet_svg(layout.KIND, spec(document, "M-01"))
    scale = int(re.search(r">1:(\d+)<", svg)[1])  # type: ignore[index]
    outline = re.search(r'<polygon points="([^"]*)" fill="#ffffff" stroke="#1c2530" stroke-width="2"', svg)
    assert outline
    xs, ys = zip(*(map(float, point.split(",")) for point in outline[1].split()), strict=True)
    feet = [(max(one) - min(one)) * MM_A_POINT * scale / 304.8 for one in (xs, ys)]
    assert feet == pytest.approx([46, 36], abs=0.02)


def test_a_client_sees_devices_and_heights_and_no_cables(document: Document) -> None:
    seen, whole = spec(document, "M-01", "client"), spec(document, "M-01")
    assert seen.marks == tuple(mark for mark in whole.marks if mark.kind != "data outlet")
    cabled = [line for line in whole.lines if line.what == "data outlet"]
    assert {line.codes for line in cabled} == {"BO1/N1", "CH1/N1", "CH2/N1"}
    assert [line.height for line in seen.lines] == [line.height for line in whole.lines if line not in cabled]
    assert any(line.cables for line in whole.lines)
    assert not any(line.cables for line in seen.lines)
    svg = layout.render(seen, "p").decode()
    assert "Cables" not in svg
    assert ">Height<" in svg


def test_equal_specs_give_equal_bytes(document: Document) -> None:
    one = spec(document, "M-04")
    assert layout.render(one, "p") == layout.render(one, "p")


def test_a_room_that_is_turned_shows_its_devices_where_they_are_built(document: Document) -> None:
    for sheet in document.sheets:
        if sheet.kind == "room plan":
            shown = spec(document, sheet.number)
            xs, ys = [x for x, _ in shown.outline], [y for _, y in shown.outline]
            assert min(xs) == min(ys) == 0
            for mark in shown.marks:
                assert -0.01 <= mark.at[0] <= max(xs) + 0.01
                assert -0.01 <= mark.at[1] <= max(ys) + 0.01


def test_a_mirrored_and_turned_room_turns_its_furniture_too() -> None:
    own = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
    # Mirrored along x, then turned by 90 degrees counter-clockwise, then moved by (10, 20).
    built = tuple((10 - y, 20 - x) for x, y in own)
    assert turned(((1.0, 2.0), (3.5, 0.5)), own, built) == ((8.0, 19.0), (9.5, 16.5))
    half = math.sqrt(0.5)
    (east,) = turned(((1.0, 0.0),), own, tuple(((x - y) * half, (x + y) * half) for x, y in own))
    assert east == pytest.approx((half, half), abs=1e-4)


def test_runs_of_codes_are_shortened_and_others_written_out() -> None:
    assert shortened(["CH1", "CH2", "CH3", "MS1", "MS2", "OE1"]) == "CH1–CH3, MS1, MS2, OE1"
    assert shortened(["AP1", "AP3"]) == "AP1, AP3"


def test_the_words_tell_where_each_device_is_and_where_its_cable_ends(document: Document) -> None:
    words = room_plan.alternative(spec(document, "M-01"))
    assert "Loudspeaker Q39136 LS1: ceiling, 8 ft from the west and 7 ft from the south, 11 ft above" in words
    (tap,) = {one.tap_w for one in document.line_loudspeakers if one.loudspeaker == "C101-LS1"}
    assert f"above the floor, tap {tap:g} W on 70.7 V. Cables: LS1/L1 to LS4 L1." in words
    assert "Cables: LS6/L1 to ER1-RK1 C101-AM1/L2." in words


def test_each_microphone_on_a_table_is_placed_by_number(document: Document) -> None:
    edition = edition_of(document, "client")
    for sheet in (one for one in edition.document.sheets if one.kind == "room plan"):
        drawn = room_plan.spec_of(edition, sheet)
        room = sheet.members[0]
        standing = {
            device.tag.removeprefix(f"{room}-")
            for device in document.devices
            if device.room == room and device.kind == "microphone" and device.location != "charger"
        }
        assert {code for code, _, _ in drawn.places} == standing
        assert standing <= set(texts(svg_of(document, sheet, "client")))
        assert bool(drawn.grid) == bool(drawn.tile)


def test_the_grid_of_a_ceiling_is_drawn_and_dimensioned() -> None:
    """A101 is 12 m by 7 m in tiles of 600 mm: 19 lines and 11 lines, the first 600 mm from the corner."""
    document = whole_document(ROOT / "example_project")
    edition = edition_of(document, "client")
    (sheet,) = (one for one in edition.document.sheets if one.kind == "room plan" and "A101" in one.members)
    drawn = room_plan.spec_of(edition, sheet)
    assert len(drawn.grid) == 30
    said = " ".join(texts(svg_of(document, sheet, "client")))
    assert "tiles 600 mm × 600 mm" in said
    assert "The first lines of the ceiling's grid are 0.6 m from the west and 0.6 m from the south." in said


@pytest.fixture(scope="module")
def example() -> Document:
    return whole_document(ROOT / "example_project")


def plans(document: Document, reader: Reader = "installer") -> dict[str, room_plan.RoomPlanSpec]:
    edition = edition_of(document, reader)
    sheets = (sheet for sheet in edition.document.sheets if sheet.kind == "room plan")
    return {sheet.number: room_plan.spec_of(edition, sheet) for sheet in sheets}


def test_each_loudspeaker_has_the_tap_that_is_set_and_clients_see_none(example: Document) -> None:
    set_w = {one.loudspeaker: one.tap_w for one in example.line_loudspeakers}
    assert set(set_w.values()) == {2.5, 5.0}
    for shown in plans(example).values():
        told = {line.codes: line.tap for line in shown.lines if line.what.startswith("loudspeaker")}
        assert told == {
            code: f"{set_w[f'{shown.rooms[0][0]}-{code}']:g} W on 100 V" for code in told
        }  # fmt: skip
    assert not any(line.tap for shown in plans(example, "client").values() for line in shown.lines)


def test_every_data_outlet_stands_in_the_table_of_its_room(example: Document) -> None:
    for shown in plans(example).values():
        wanted = {code for mark in shown.marks if mark.kind == "data outlet" for code in mark.codes}
        own = {code for line in shown.lines if line.what == "data outlet" for code in line.codes.split(", ")}
        beside = {
            line.codes.removesuffix(", outlet") for line in shown.lines if line.codes.endswith(", outlet")
        }
        assert wanted
        assert own | {code for code in wanted if code.partition("/")[0] in beside} == wanted
        assert not own or not beside


def test_every_piece_of_furniture_is_named_on_the_plan_of_its_room(example: Document) -> None:
    for number, shown in plans(example).items():
        drawn = set(texts(sheet_svg(layout.KIND, shown)))
        assert {name for name, _ in shown.furniture} <= drawn, number


def test_the_legend_says_who_sits_on_seats_with_codes(example: Document) -> None:
    entries = [one.meaning for one in layout.plan_foot(plans(example)["M-03"]).entries]
    (seats,) = (words for words in entries if words.startswith("seat"))
    names: dict[str, list[str]] = {}
    for tag, name, _ in plans(example)["M-03"].seats:
        names.setdefault(name, []).append(tag)
    assert {"member", "chair", "clerk", "witness"} <= set(names)
    for name, tags in names.items():
        assert not name or f"{shortened(tags)}: {name}" in seats


def test_rooms_built_alike_say_which_port_is_each_rooms_own(example: Document) -> None:
    lines = [line for one in plans(example)["M-05"].lines for line in one.cables]
    assert "LS4/L1 to L1 of the room's AM1 in ER2-RK1" in lines
    assert "BO1/N1 to ER2-RK1, a port for each room" in lines
