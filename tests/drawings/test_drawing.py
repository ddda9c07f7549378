"""A drawing is safe, accessible, the same bytes every time, and tells in words what it shows."""

import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.document.readers import READERS
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.drawing import Drawing
from proposal.drawings.kinds import drawing_of, kind_called
from proposal.drawings.lettering import plain
from proposal.editions import edition_of
from proposal.publish.graph_program import lay_out
from tests.drawings.shown import SVG, svg_of, texts
from tests.sample_document import HOSTILE, sample_document

DOCUMENT = sample_document()
SHEETS = [*DOCUMENT.sheets, *DOCUMENT.detail_sheets]
GOLDEN = Path(__file__).parent / "golden"

GRAPHS = [sheet for sheet in SHEETS if sheet.kind in ("riser overall", "riser detail", "signal flow")]
OF_A_GRAPH = {"svg", "title", "desc", "g", "polygon", "polyline", "path", "text", "ellipse", "rect", "circle"}
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
    # With another order of sets than here, whatever it is here.
    said = subprocess.run(
        [sys.executable, "-c", program],
        env={**os.environ, "PYTHONHASHSEED": "1"},
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    here = "".join(svg_of(DOCUMENT, sheet) for sheet in SHEETS)
    assert said.strip() == hashlib.sha256(here.encode()).hexdigest()


@pytest.mark.parametrize("sheet", DOCUMENT.sheets, ids=lambda sheet: sheet.number)
def test_a_drawing_for_everyone_is_one_drawing_for_all_readers(sheet: SheetRow) -> None:
    assert len({drawing_of(edition_of(DOCUMENT, reader), sheet) for reader in READERS}) == 1


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


def source_of(drawing: Drawing) -> str:
    """Return the DOT text that a drawing has laid out."""
    given: list[str] = []

    def lay_out(source: str) -> str:
        given.append(source)
        return '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>'

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


@pytest.mark.parametrize("name", ["", "rack plan", "graph", "../plan", "plan.layout", "gantt chart "])
def test_a_kind_that_nothing_draws_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="no drawing is known for sheets of kind"):
        kind_called(name)
