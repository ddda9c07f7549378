"""Drawings are taken where they only draw; what runs, fetches, hides or overwhelms is refused."""

import xml.etree.ElementTree as ElementTree

import pytest

from proposal.errors import Problem
from proposal.model.pictures.picture import published_picture, wrong_picture
from tests.model.pictures.drawings import GOOD, HOSTILE, SVG, drawing

FILE = "images/logo.svg"


def messages(data: str | bytes) -> list[str]:
    problems: list[Problem] = []
    wrong_picture(FILE, data.encode() if isinstance(data, str) else data, problems)
    return [str(problem) for problem in problems]


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_drawing_is_refused_where_it_is_hostile(name: str) -> None:
    data, message = HOSTILE[name]
    assert messages(data) == [f"{FILE}{message}"]


@pytest.mark.parametrize("name", GOOD)
def test_an_ordinary_drawing_is_taken(name: str) -> None:
    assert messages(GOOD[name]) == []


@pytest.mark.parametrize("name", [name for name in GOOD if name not in ("comment and title",)])
def test_a_good_drawing_turns_hostile_by_one_element(name: str) -> None:
    """The good drawings are read whole: what is added at their end is found."""
    assert len(messages(GOOD[name].replace("</svg>", "<script/></svg>"))) == 1


def test_every_problem_of_a_drawing_is_told_up_to_twenty() -> None:
    assert messages(drawing('<g onload=""><a/></g>\n<set/>')) == [
        f"{FILE}:2:4: wanted an attribute that only draws; found onload",
        f"{FILE}:2:14: wanted an element that only draws; found <a>",
        f"{FILE}:3:1: wanted an element that only draws; found <set>",
    ]
    assert len(messages(drawing("<a/>" * 1000))) == 20


def test_a_drawing_that_holds_nothing_else_is_published_as_it_is() -> None:
    data = drawing("<title>A</title><g style='fill:red'><path d='M0 0'/></g>").encode()
    assert published_picture(FILE, data) == data


@pytest.mark.parametrize("name", GOOD)
def test_what_is_published_is_taken_and_is_published_as_it_is(name: str) -> None:
    once = published_picture(FILE, GOOD[name].encode())
    assert messages(once) == []
    assert published_picture(FILE, once) == once


def test_notes_of_a_drawing_program_are_not_published() -> None:
    published = published_picture(FILE, GOOD["notes of a drawing program"].encode())
    assert b"secret" not in published
    assert b"own" not in published
    root = ElementTree.fromstring(published)
    drawn = [element.tag.rpartition("}")[2] for element in root.iter()]
    assert drawn == ["svg", "defs", "marker", "path", "filter", "feGaussianBlur", "g", "path"]
    (line,) = root.findall("./{http://www.w3.org/2000/svg}g/{http://www.w3.org/2000/svg}path")
    assert line.attrib == {
        "d": "m 1,2 c 3,4 5,-6 .7,8e1 z",
        "style": "fill:none;stroke:#000;marker-end:url(#m);stroke-dasharray:1, 2.5;filter:url(#f);"
        "font-size:12px!important",
    }


def test_what_is_published_says_what_was_drawn() -> None:
    text = published_picture(FILE, drawing("<!-- --><text>&lt;b&gt; &amp; ]]&gt;\n&#9;é</text>").encode())
    (element,) = ElementTree.fromstring(text)
    assert element.text == "<b> & ]]>\n\té"
    kept = published_picture(
        FILE,
        drawing("<!-- --><style>g>a.b{fill:url('#c')}</style><g aria-label='&quot;&lt;&#10;'/>").encode(),
    )
    style, group = ElementTree.fromstring(kept)
    assert style.text == "g>a.b{fill:url('#c')}"
    assert group.get("aria-label") == '"<\n'


def test_a_column_is_counted_in_characters() -> None:
    assert messages(f"<svg {SVG}>\n<title>漢𝄞</title><g id='é' onload=''/></svg>") == [
        f"{FILE}:2:28: wanted an attribute that only draws; found onload"
    ]
    assert messages(f"<svg {SVG}>\n<title>漢𝄞</title></g></svg>")[0].startswith(f"{FILE}:2:20: ")
