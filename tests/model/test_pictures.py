"""Pictures are what their names say, and drawings hold nothing that runs or asks the network."""

import pytest

from proposal.errors import Problem
from proposal.model.pictures import wrong_picture


def _messages(file: str, data: bytes) -> list[str]:
    problems: list[Problem] = []
    wrong_picture(file, data, problems)
    return [str(problem) for problem in problems]


@pytest.mark.parametrize(
    "inner",
    [
        '<path d="M0 0" fill="url(#g)"/><linearGradient id="g" xlink:href="#h"/>',
        "<rect style=\"fill: url( '#g' )\"/>",
        '<image href="data:image/png;base64,iVBORw0KGgo="/>',
        "<!-- made by hand --><title>One logo</title>",
    ],
)
def test_a_drawing_that_stays_inside_its_file_is_taken(inner: str) -> None:
    drawing = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">{inner}</svg>'
    )
    assert _messages("images/logo.svg", drawing.encode()) == []


@pytest.mark.parametrize(
    "inner",
    [
        "<script>alert(1)</script>",
        '<g onclick="x()"/>',
        '<g\nonload = "x()"/>',
        '<image href="https://example.org/x.png"/>',
        "<image xlink:href='x.png'/>",
        '<use href="other.svg#a"/>',
        '<a href="javascript:x()"/>',
        '<rect fill="url(https://example.org/x.svg#a)"/>',
        "<rect fill=\"url('x.svg#a')\"/>",
        "<style>@import 'x.css';</style>",
        "<foreignObject/>",
        '<image href="data:image/svg+xml;base64,PHN2Zz4="/>',
    ],
)
def test_a_drawing_that_runs_or_fetches_something_is_refused(inner: str) -> None:
    messages = _messages("images/logo.svg", f"<svg>{inner}</svg>".encode())
    assert len(messages) == 1
    assert (
        "wanted a drawing without scripts and without anything from outside the file; found " in messages[0]
    )


def test_an_entity_is_refused() -> None:
    drawing = b'<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>'
    assert _messages("images/logo.svg", drawing) == [
        "images/logo.svg:1:16: wanted a drawing without scripts and without anything from outside the file; "
        "found <!ENTITY"
    ]


@pytest.mark.parametrize(
    ("file", "data", "good"),
    [
        ("images/a.png", b"\x89PNG\r\n\x1a\n", True),
        ("images/a.png", b"\xff\xd8\xff\xe0", False),
        ("images/a.jpg", b"\xff\xd8\xff\xe0", True),
        ("images/a.JPEG", b"\xff\xd8\xff\xe0", True),
        ("images/a.jpeg", b"", False),
        ("images/a.svg", b"", False),
        ("images/a.svg", b"<html/>", False),
        ("images/a.svg", b"\xff\xfe<svg/>", False),
    ],
)
def test_a_picture_has_the_format_of_its_name(file: str, data: bytes, good: bool) -> None:
    assert (_messages(file, data) == []) is good
