"""Figures, verdicts and lists of facts can be read without colour and without a picture."""

import pytest

from proposal.pages.page_elements import figure, status
from tests.pages.hostile_text import Page


@pytest.mark.parametrize(
    ("word", "kind"),
    [("pass", "good"), ("Fail", "bad"), ("warning", "care"), ("note", "info"), ("not tested", "open")],
)
def test_a_verdict_has_a_sign_beside_its_word(word: str, kind: str) -> None:
    page = Page(status(word))
    assert page.elements == [("span", {"class": f"status {kind}"}), ("span", {"aria-hidden": "true"})]
    sign, shown = page.words.split(" ", 1)
    assert shown == word
    assert not sign.isalnum()


def test_the_signs_of_verdicts_differ() -> None:
    assert len({Page(status("x", kind)).words for kind in ("good", "bad", "care", "info", "open")}) == 5


def test_a_figure_has_its_text_and_opens_in_full_size() -> None:
    page = Page(figure("../drawings/a.svg", 'The "riser"', "Sheet 1", "Two boxes & a line", size=(10, 20)))
    image = next(attributes for tag, attributes in page.elements if tag == "img")
    assert (image["src"], image["alt"], image["width"], image["height"]) == (
        "../drawings/a.svg",
        'The "riser"',
        "10",
        "20",
    )
    assert ("a", {"class": "full-size", "href": "../drawings/a.svg"}) in page.elements
    assert "Two boxes & a line" in page.words


def test_a_chart_has_a_file_for_each_width_and_opens_as_the_sheet() -> None:
    """A telephone finds its own before that of every screen; paper and the full size take the sheet."""
    charts = {"page": (800, 900), "narrow": (270, 950)}
    page = Page(figure("../drawings/G-01.svg", "Chart", "Sheet", size=(10, 20), charts=charts))
    sources = [attributes for tag, attributes in page.elements if tag == "source"]
    assert [(one["srcset"], one["width"], one["height"]) for one in sources] == [
        ("../drawings/G-01-narrow.svg", "270", "950"),
        ("../drawings/G-01-page.svg", "800", "900"),
    ]
    assert all("screen" in (one["media"] or "") for one in sources)
    image = next(attributes for tag, attributes in page.elements if tag == "img")
    assert image["src"] == "../drawings/G-01.svg"


@pytest.mark.parametrize(
    "source", ["https://a.invalid/b.svg", "javascript:x", "data:image/png,x", "/a.svg", ""]
)
def test_a_figure_comes_from_the_site_itself(source: str) -> None:
    with pytest.raises(ValueError, match="must be a relative path"):
        figure(source, "a", "b")
