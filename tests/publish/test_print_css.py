"""What stands on every printed page is a text, whatever a project is called."""

import re

import pytest

from proposal.publish.print_css import print_css


def heads(css: str) -> dict[str, str]:
    """Return the first text of each margin box as a browser would read it (CSS Syntax Level 3, 4.3.5)."""
    found: dict[str, str] = {}
    for box, quoted in re.findall(r'@(top-left|top-right) \{ content: "((?:[^"\\\n]|\\[0-9a-f]+ )*)";', css):
        text = re.sub(r"\\([0-9a-f]+) ", lambda code: chr(int(code[1], 16)), quoted)
        found.setdefault(box, text)
    return found


@pytest.mark.parametrize(
    "title", ["Council House", 'A "B" \\ C', "x</style>", "Zoë; } body { display: none", "火 100 %"]
)
def test_the_title_and_the_revision_stand_on_every_page_as_they_are(title: str) -> None:
    css = print_css(title, 'B"', "15 April 2031", "A4")
    assert heads(css) == {"top-left": title, "top-right": 'Revision B", 15 April 2031'}
    assert "<" not in css


def test_a_project_in_us_units_is_printed_on_letter_and_its_drawings_on_ansi_b() -> None:
    css = print_css("A", "B", "April 15, 2031", "letter")
    assert "size: letter;" in css
    assert "size: 17in 11in;" in css
    assert "A4" not in css
