"""A picture that the author's prose shows is one of the project's, or is told where it is named."""

import pytest

from proposal.errors import Problem
from proposal.model.pictures.in_prose import wrong_pictures_in_prose

FILE = "wording/introduction.md"


def messages(text: str) -> list[str]:
    problems: list[Problem] = []
    wrong_pictures_in_prose(text, FILE, ["hall.jpg", "old plan.png"], problems)
    return [str(problem) for problem in problems]


@pytest.mark.parametrize(
    "text",
    [
        "![The hall](images/hall.jpg)",
        'Before ![The \\] hall](<images/hall.jpg> "From the door") after',
        "![Plan](images/old%20plan.png)",
        "![](https://example.org/x.png) and ![](//example.org/x.png)",
        "[A link](hall.png), and `![code](hall.png)` and ``![`](x.png)``\n\n```\n![x](y.png)\n```\n",
        "![not a picture] (hall.png)",
    ],
)
def test_a_picture_of_the_project_is_taken(text: str) -> None:
    assert messages(text) == []


@pytest.mark.parametrize(
    ("text", "place", "found"),
    [
        ("![The hall](hall.jpg)", "1:13", "hall.jpg (did you mean images/hall.jpg?)"),
        ("é\n\n![a](images/hal.jpg 'x')", "3:6", "images/hal.jpg (did you mean images/hall.jpg?)"),
        ("![a](../images/hall.jpg)", "1:6", "../images/hall.jpg (did you mean images/hall.jpg?)"),
        ("`x` ![a](images/none.svg)", "1:10", "images/none.svg"),
    ],
)
def test_a_picture_that_is_not_there_is_told(text: str, place: str, found: str) -> None:
    wanted = "wanted a picture in images/, written as images/name.png"
    assert messages(text) == [f"{FILE}:{place}: {wanted}; found {found}"]
