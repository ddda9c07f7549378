"""The SVG of a graph as it is published, with nothing of the layout engine's own left."""

from proposal.drawings.graph import svg

DRAWN = (
    '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "x" "y"><svg xmlns="http://www.w3.org/2000/svg" '
    'xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 100.0000 50.0000"><!-- made --><g id="edge1">'
    '<title>a:b</title><g id="a_edge1"><a xlink:title="AP1 to ER1: 3 cables"><path d="M1.0000,2.5000"/>'
    "</a></g>"
    '<text y="10.00" font-size="10.00" font-weight="bold">A</text><text y="10.00" font-size="9.00">b</text>'
    "</g></svg>"
)


def test_the_tip_of_a_line_is_all_that_stays_of_the_engines_names() -> None:
    shown = svg.finished(DRAWN, "Sheet", "All of it.", "d1").decode()
    assert "<title>AP1 to ER1: 3 cables</title>" in shown
    assert "a:b" not in shown
    assert "edge1" not in shown
    assert "made" not in shown
    assert 'd="M1,2.5"' in shown
    assert '<title id="d1-title">Sheet</title>' in shown


def test_lines_that_hold_bold_signs_are_lowered_to_the_level_of_others() -> None:
    # The engine sets them a tenth of their size and 1 pt too high: 10 + 1 + 1.
    assert svg.finished(DRAWN, "Sheet", "All of it.", "d1").decode().count('y="12"') == 2
