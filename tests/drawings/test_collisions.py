"""The reader that looks for texts on other things sees each kind of fault, and none where there is none."""

import pytest

from tests.drawings.collisions import collisions

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100">'
WORDS = '<text x="50" y="50" font-size="8" fill="#000000">words</text>'
# 8 pt letters from (50, 50): at most 21.8 pt wide, from 44.2 to 51.7 pt.
FAULTS = {
    "another text": '<text x="60" y="52" font-size="8" fill="#000000">more</text>',
    "a moved text": '<g transform="translate(50 40) scale(2)"><text x="2" y="6" font-size="4">x</text></g>',
    "a turned text": '<text transform="rotate(90 60 20)" x="60" y="20" font-size="8">a long text here</text>',
    "a line": '<polyline points="40,48 90,48" fill="none" stroke="#0000ff" stroke-width="1"/>',
    "a curve": '<path d="M40,30 C50,65 60,65 70,30" style="fill: none; stroke: #0000ff"/>',
    "an edge": '<rect x="60" y="30" width="90" height="40" fill="#ffffff" stroke="#000000"/>',
    "a dark mark": '<circle cx="55" cy="47" r="4" fill="#222222"/>',
    "a hatch": '<rect x="40" y="30" width="90" height="40" fill="url(#h)"/>',
    "small letters": '<text x="10" y="90" font-size="6.9">small</text>',
    "outside": '<text x="190" y="90" font-size="8">outside</text>',
}
FINE = {
    "a line beside it": '<polyline points="40,52.5 90,52.5" fill="none" stroke="#0000ff"/>',
    "a light ground": '<rect x="40" y="30" width="90" height="40" fill="#eef2f6"/>',
    "a line that is covered": '<polyline points="40,48 90,48" fill="none" stroke="#0000ff"/>'
    '<rect x="45" y="40" width="40" height="15" fill="#ffffff"/>',
    "a mark cut away": '<clipPath id="c"><rect x="0" y="0" width="40" height="100"/></clipPath>'
    '<g style="clip-path: url(#c)"><path d="M0 48 L100 48" stroke="#0000ff"/></g>',
}


@pytest.mark.parametrize("fault", FAULTS)
def test_each_kind_of_fault_is_seen(fault: str) -> None:
    assert len(collisions(f"{HEAD}{FAULTS[fault]}{WORDS}</svg>")) == 1


@pytest.mark.parametrize("drawn", FINE)
def test_what_touches_nothing_is_no_fault(drawn: str) -> None:
    assert collisions(f"{HEAD}{FINE[drawn]}{WORDS}</svg>") == []


def test_what_is_drawn_over_a_text_hides_it() -> None:
    assert (
        len(collisions(f'{HEAD}{WORDS}<rect x="40" y="30" width="90" height="40" fill="#ffffff"/></svg>'))
        == 1
    )
