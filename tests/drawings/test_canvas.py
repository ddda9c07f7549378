"""What is drawn straight as SVG."""

from xml.etree import ElementTree

from proposal.drawings.canvas import Canvas


def test_texts_are_escaped_and_control_signs_left_out() -> None:
    canvas = Canvas(100, 50)
    canvas.text((1, 2), 'a<b & "c"\x00', 8)
    root = ElementTree.fromstring(canvas.finished("T<", "D&", "p"))
    assert [element.text for element in root] == ["T<", "D&", 'a<b & "c"']
    assert root.attrib["aria-labelledby"] == "p-title p-desc"


def test_numbers_are_rounded_to_a_hundredth_of_a_point() -> None:
    canvas = Canvas(100, 50)
    canvas.line(((1 / 3, -0.0001), (2.0, 10.0)))
    assert b'points="0.33,0 2,10"' in canvas.finished("", "", "p")
