"""Graphs are laid out by the program that ships, and drawings carry their font."""

import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.errors import BuildError, PartError
from proposal.publish import graph_program
from proposal.publish.graph_program import embed_font, executable, lay_out

GRAPH = 'digraph { node [fontname="Arimo"]; a [label="B101-AP1 Ω ü"]; b; a -> b [label="N1"] }'


def test_a_graph_becomes_a_drawing_with_its_labels() -> None:
    drawing = ElementTree.fromstring(lay_out(GRAPH))
    assert {element.text for element in drawing.iter("{http://www.w3.org/2000/svg}text")} == {
        "B101-AP1 Ω ü",
        "b",
        "N1",
    }


def test_the_program_beside_the_interpreter_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("PROPOSAL_DOT", raising=False)
    assert executable().parent == Path(sys.executable).parent
    assert executable().stem == "graphviz-pure"


def test_a_missing_program_is_said(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("PROPOSAL_DOT", raising=False)
    monkeypatch.setattr(sys, "executable", str(tmp_path / "python"))
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(BuildError, match="the graph program graphviz-pure is missing"):
        lay_out(GRAPH)


def test_another_program_may_be_chosen(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.write_text("#!/bin/sh\ncat >/dev/null\necho '<svg>other</svg>'\n")
    other.chmod(0o755)
    monkeypatch.setenv("PROPOSAL_DOT", str(other))
    assert lay_out(GRAPH) == "<svg>other</svg>\n"
    monkeypatch.setenv("PROPOSAL_DOT", str(tmp_path / "none"))
    with pytest.raises(BuildError, match="PROPOSAL_DOT names a graph program that is not there"):
        lay_out(GRAPH)


@pytest.mark.parametrize("graph", ["digraph {", "", 'digraph { a [shape=record label="{a"] }'])
def test_a_graph_that_is_not_taken_is_a_failure_of_the_program(graph: str) -> None:
    with pytest.raises(PartError, match="graph program"):
        lay_out(graph)


@pytest.mark.parametrize(
    ("script", "said"),
    [("exit 3", "did not take a drawing: it ended with status 3"), ("echo none", "gave no drawing: ")],
)
def test_a_program_that_was_chosen_and_makes_no_drawing_is_said(
    script: str, said: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    other = tmp_path / "other"
    other.write_text(f"#!/bin/sh\ncat >/dev/null\n{script}\n")
    other.chmod(0o755)
    monkeypatch.setenv("PROPOSAL_DOT", str(other))
    with pytest.raises(BuildError) as failure:
        lay_out(GRAPH)
    assert str(failure.value) == f"the graph program {other} {said}"


def test_a_drawing_is_still_xml_and_has_no_comment() -> None:
    drawing = embed_font(lay_out(GRAPH))
    ElementTree.fromstring(drawing)
    assert "<!--" not in drawing
    assert drawing == embed_font(lay_out(GRAPH))


def test_only_the_signs_that_are_shown_bring_their_font() -> None:
    def fonts(graph: str) -> int:
        return embed_font(lay_out(graph)).count("@font-face")

    assert fonts('digraph { a [fontname="Arimo" label="B101"] }') == 1
    assert fonts('digraph { a [fontname="Arimo" label="B101 Ω"] }') == 2
    assert fonts('digraph { a [fontname="Arimo" label="B101 &Omega; ř"] }') == 3
    assert fonts('digraph { a [fontname="Arimo" label=<<b>B101</b>>] }') == 2


def test_metadata_is_taken_out() -> None:
    assert "secret" not in embed_font(
        "<svg><metadata><x>secret</x></metadata><!-- secret --><text>a</text></svg>"
    )


def test_what_is_no_drawing_is_refused() -> None:
    with pytest.raises(BuildError, match="not SVG"):
        embed_font("<html/>")


@pytest.mark.independent  # the width of the bundled font's own glyphs, read by fontTools
def test_the_engine_measures_with_the_font_that_is_put_in() -> None:
    from fontTools.ttLib import TTFont

    font = TTFont(graph_program.resource("shared") / "site" / "fonts" / "Arimo-Regular.ttf")
    words = "B101-AP1 Access point WWW iii 97.4 m"
    width = (
        sum(font["hmtx"][font.getBestCmap()[ord(sign)]][0] for sign in words) / font["head"].unitsPerEm * 14
    )

    def box(margin: float) -> float:
        svg = lay_out(
            f'digraph {{ a [shape=box fontname="Arimo" fontsize=14 margin={margin} label="{words}"] }}'
        )
        points = next(
            e
            for e in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}polygon")
            if e.get("fill") == "none"
        )
        across = [float(point.split(",")[0]) for point in points.attrib["points"].split()]
        return max(across) - min(across)

    assert box(0) == pytest.approx(width, abs=1)
