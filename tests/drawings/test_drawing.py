"""A drawing is safe, accessible, the same bytes every time, and tells in words what it shows."""

import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import matplotlib
import pytest

from proposal.document.readers import READERS
from proposal.document.rows.sheets import SheetRow
from proposal.drawings import riser_detail
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER, stroke
from proposal.drawings.drawing import Drawing
from proposal.drawings.kinds import drawing_of, kind_called
from proposal.drawings.lettering import plain, width_pt, wrapped, wrapped_list
from proposal.editions import edition_of
from proposal.publish.engine import lay_out
from tests.drawings.buildings import building
from tests.drawings.shown import SVG, svg_of, texts
from tests.sample_document import HOSTILE, sample_document

DOCUMENT = sample_document()
SHEETS = [*DOCUMENT.sheets, *DOCUMENT.detail_sheets]
GOLDEN = Path(__file__).parent / "golden"

GRAPHS = [sheet for sheet in SHEETS if sheet.kind in ("riser overall", "riser detail", "signal flow")]
OF_A_GRAPH = {"svg", "title", "desc", "g", "polygon", "polyline", "path", "text", "ellipse"}
OF_A_FIGURE = OF_A_GRAPH | {"defs", "style", "use", "clipPath", "rect", "pattern"}

sheets = pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.number)

UNKIND = (
    *HOSTILE,
    'back\\slash \\N \\G "quoted" {a|b} <B>x</B> &amp; &#60;',
    "Zürich Łódź Δ Ж",
    "a\x00b\x1bc\nd",
)


def unkind_document():
    """Return the sample with every name that a drawing shows replaced by what nobody should type."""
    names = iter(UNKIND * 20)
    shortened = [next(names)[:28] for _ in range(60)]
    texts_left = iter(shortened)
    return DOCUMENT.model_copy(
        update={
            "cover": DOCUMENT.cover.model_copy(update={"name": UNKIND[0][:28]}),
            "rooms": tuple(room.model_copy(update={"name": next(texts_left)}) for room in DOCUMENT.rooms),
            "storeys": tuple(
                storey.model_copy(update={"name": next(texts_left)}) for storey in DOCUMENT.storeys
            ),
            "room_sheets": tuple(
                room.model_copy(
                    update={
                        "flow_nodes": tuple(
                            node.model_copy(update={"title": next(texts_left)}) for node in room.flow_nodes
                        ),
                        "flow_edges": tuple(
                            edge.model_copy(update={"label": next(texts_left)}) for edge in room.flow_edges
                        ),
                    }
                )
                for room in DOCUMENT.room_sheets
            ),
            "cables": tuple(
                cable.model_copy(update={"type": UNKIND[number % len(UNKIND)][:14]})
                for number, cable in enumerate(DOCUMENT.cables)
            ),
        }
    )


@sheets
def test_nothing_that_was_typed_comes_alive(sheet: SheetRow) -> None:
    root = ElementTree.fromstring(svg_of(unkind_document(), sheet))
    names = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert names <= (OF_A_GRAPH if sheet in GRAPHS else OF_A_FIGURE)
    for element in root.iter():
        for name, value in element.attrib.items():
            assert not name.startswith("on")
            # Marks of a figure are drawn once and used again; nothing else may be pointed at.
            assert "href" not in name or (sheet not in GRAPHS and value.startswith("#"))


BACKSLASHES = ('back\\slash \\N "q" {a|b} &amp;', "\\\\N \\G \\E \\T \\L \\", "a\\lb\\nc\\r", "&#92;N <BR/>")


@pytest.mark.parametrize("name", [*(text[:24] for text in HOSTILE), *BACKSLASHES])
def test_what_was_typed_is_shown_as_it_was_typed(name: str) -> None:
    assert f"L0 {name}".strip() in texts(svg_of(with_storey_name(name), SHEETS[0]))
    document = DOCUMENT.model_copy(update={"cover": DOCUMENT.cover.model_copy(update={"name": name})})
    for sheet in SHEETS:
        assert name.strip() in texts(svg_of(document, sheet))


def with_storey_name(name: str):
    return DOCUMENT.model_copy(
        update={"storeys": tuple(storey.model_copy(update={"name": name}) for storey in DOCUMENT.storeys)}
    )


@sheets
def test_equal_specs_give_equal_bytes(sheet: SheetRow) -> None:
    first = drawing_of(edition_of(DOCUMENT, "reviewer"), sheet)
    second = drawing_of(edition_of(sample_document(), "estimator"), sheet)
    assert first == second
    assert first.fingerprint == second.fingerprint
    assert first.render(lay_out) == second.render(lay_out)


def test_a_fresh_process_draws_the_same_bytes() -> None:
    program = (
        "import hashlib; from tests.drawings.test_drawing import SHEETS, DOCUMENT;"
        "from tests.drawings.shown import svg_of;"
        "print(hashlib.sha256(''.join(svg_of(DOCUMENT, s) for s in SHEETS).encode()).hexdigest())"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=Path(__file__).parents[2],
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(said) == 1


@pytest.mark.parametrize("sheet", DOCUMENT.sheets, ids=lambda sheet: sheet.number)
def test_a_drawing_for_everyone_is_one_drawing_for_all_readers(sheet: SheetRow) -> None:
    assert len({drawing_of(edition_of(DOCUMENT, reader), sheet) for reader in READERS}) == 1


def test_a_client_sees_no_identity_even_of_a_sheet_that_is_not_theirs() -> None:
    spec = drawing_of(edition_of(DOCUMENT, "client"), DOCUMENT.detail_sheets[0]).spec
    assert isinstance(spec, riser_detail.DetailSpec)
    assert [cable for room in spec.rooms for cable in room.cables] == []


@sheets
def test_a_drawing_has_a_name_and_a_description(sheet: SheetRow) -> None:
    root = ElementTree.fromstring(svg_of(DOCUMENT, sheet))
    assert root.get("role") == "img"
    ids = {element.get("id"): element for element in root.iter() if element.get("id")}
    named = [ids[name] for name in root.get("aria-labelledby", "").split()]
    assert [element.tag for element in named] == [f"{SVG}title", f"{SVG}desc"]
    assert sheet.title in (named[0].text or "")
    drawing = drawing_of(edition_of(DOCUMENT, "installer"), sheet)
    assert plain(drawing.alternative) == named[1].text


def test_no_two_drawings_share_an_id() -> None:
    ids = [name for sheet in SHEETS for name in re.findall(r' id="([^"]+)"', svg_of(DOCUMENT, sheet))]
    assert len(ids) == len(set(ids)) >= 2 * len(SHEETS)


def test_the_description_names_every_cable_and_every_box() -> None:
    words = " ".join(drawing_of(edition_of(DOCUMENT, "installer"), sheet).alternative for sheet in SHEETS)
    for cable in DOCUMENT.cables:
        assert cable.identity in words
    for room in DOCUMENT.rooms:
        assert room.tag in words
    for kind in DOCUMENT.room_sheets:
        for node in kind.flow_nodes:
            assert node.title in words


def dashes(svg: str, colour: str) -> set[str | None]:
    """Return how the paths of a colour are dashed."""
    return {
        path.get("stroke-dasharray")
        for path in ElementTree.fromstring(svg).iter(f"{SVG}path")
        if path.get("stroke") == colour
    }


def test_return_audio_and_radio_have_line_styles_of_their_own() -> None:
    chamber = svg_of(DOCUMENT, DOCUMENT.sheets[1])
    network = stroke("networked audio").colour
    solid_and_dashed = dashes(chamber, network)
    assert None in solid_and_dashed
    assert len(solid_and_dashed) == 2
    radio = dashes(chamber, stroke("radio").colour)
    assert None not in radio
    assert radio.isdisjoint(solid_and_dashed)
    assert "return audio, networked audio" in texts(chamber)


def luminance(colour: str) -> float:
    """Return relative luminance, WCAG 2.2."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: str, second: str) -> float:
    light, dark = sorted((luminance(first), luminance(second)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.published
def test_colours_stand_out_from_paper_and_bands() -> None:
    # WCAG 2.2: 4.5:1 for text (1.4.3), 3:1 for graphical objects (1.4.11).
    signals = ("network", "radio", "analogue", "USB", "loudspeaker line", "anything else")
    for colour in (INK, MUTED, *(stroke(signal).colour for signal in signals)):
        assert contrast(colour, PAPER) >= 4.5
        assert contrast(colour, BAND) >= 4.5
    assert contrast(FRAME, PAPER) >= 3
    assert contrast(FRAME, BAND) >= 3


def test_storeys_are_level_across_the_overall_riser() -> None:
    document = building(12, (3, 8, 45), storeys=3)
    root = ElementTree.fromstring(svg_of(document, document.sheets[0]))
    floors = [path.get("d", "") for path in root.iter(f"{SVG}path") if path.get("stroke") == FRAME]
    # Two gaps between three columns, on each of three storeys.
    assert len(floors) == 6
    for floor in floors:
        heights = [float(y) for y in re.findall(r",(-?[\d.]+)", floor)]
        assert max(heights) - min(heights) < 0.5


def test_the_highest_storey_is_drawn_on_top() -> None:
    svg = svg_of(DOCUMENT, DOCUMENT.sheets[0])
    heights = {
        element.text.split()[0]: float(element.get("y", "0"))
        for element in ElementTree.fromstring(svg).iter(f"{SVG}text")
        if element.text and re.match(r"L\d ", element.text)
    }
    assert heights["L1"] < heights["L0"]


@pytest.mark.independent
def test_widths_of_signs_are_those_of_the_published_metrics() -> None:
    # Adobe's metrics of Helvetica, as matplotlib ships them.
    path = Path(matplotlib.get_data_path()) / "fonts" / "pdfcorefonts" / "Helvetica.afm"
    metrics = re.findall(r"^C (\d+) ; WX (\d+) ;", path.read_text(encoding="latin-1"), re.MULTILINE)
    published = {int(code): int(width) for code, width in metrics}
    # Two signs stand elsewhere in the old encoding of that file: ' and ` are curly there.
    for code in {*range(32, 127)} - {ord("'"), ord("`")}:
        assert width_pt(chr(code), 1000) == published[code], chr(code)


def test_lines_break_where_they_must_and_are_cut_with_an_ellipsis() -> None:
    assert wrapped("one two", 1000, 2) == ("one two",)
    lines = wrapped("several words that will not fit on a single line of this width", 90, 2)
    assert len(lines) == 2
    assert lines[1].endswith("…")
    assert all(width_pt(line) <= 90 for line in lines)
    assert wrapped_list(("1 access point", "2 chargers"), 66, 3) == ("1 access point,", "2 chargers")


def source_of(drawing: Drawing) -> str:
    """Return the DOT text that a drawing has laid out."""
    given: list[str] = []

    def lay_out(source: str) -> str:
        given.append(source)
        return '<svg xmlns="http://www.w3.org/2000/svg"/>'

    drawing.render(lay_out)
    return given[0]


@pytest.mark.parametrize("sheet", GRAPHS, ids=lambda sheet: sheet.number)
def test_the_graph_is_the_one_that_was_looked_at(sheet: SheetRow) -> None:
    source = source_of(drawing_of(edition_of(DOCUMENT, "installer"), sheet))
    path = GOLDEN / f"{sheet.number}.dot"
    if os.environ.get("UPDATE_GOLDEN"):
        path.parent.mkdir(exist_ok=True)
        path.write_text(source, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == source, (
        "look at the drawing, then: UPDATE_GOLDEN=1 pytest tests/drawings/test_drawing.py"
    )


@pytest.mark.parametrize("name", ["", "rack elevation", "graph", "../plan", "plan.layout", "gantt chart "])
def test_a_kind_that_nothing_draws_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="no drawing is known for sheets of kind"):
        kind_called(name)
