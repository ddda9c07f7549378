"""The author's Markdown is kept, and nothing in it runs or asks the network."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.pages.author_prose import prose
from proposal.pages.prose import ORDER, PLACED
from tests.pages.hostile_text import Page, pieces, rendered

ALLOWED = {
    "div",
    "p",
    "span",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "ul",
    "ol",
    "li",
    "em",
    "strong",
    "code",
    "pre",
    "hr",
}
ALLOWED |= {"blockquote", "br", "a", "img", "table", "thead", "tbody", "tr", "th", "td"}
ATTRIBUTES = {
    "class",
    "tabindex",
    "role",
    "aria-label",
    "scope",
    "href",
    "src",
    "alt",
    "title",
    "style",
    "start",
}


def opens(target: str) -> str:
    """Return where a browser would go: it drops control characters and tells schemes by the first colon."""
    target = "".join(sign for sign in target if sign > " ")
    head = target.split("/")[0].split("?")[0].split("#")[0]
    if target.startswith(("//", "/\\", "\\")):
        return "outside"
    return head.split(":")[0].lower() if ":" in head else ""


@pytest.mark.independent
@settings(max_examples=200, deadline=None)
@given(st.lists(pieces, max_size=12).map("".join))
def test_nothing_in_the_authors_prose_runs_or_asks_the_network(markdown: str) -> None:
    page = rendered(f"before\n\n{prose(markdown)}\n\nafter\n")
    for tag, attributes in page.elements:
        assert tag in ALLOWED
        assert set(attributes) <= ATTRIBUTES
        if tag == "a":
            assert opens(attributes["href"] or "") in ("", "http", "https", "mailto")
        if tag == "img":
            assert opens(attributes["src"] or "") == ""
        if "style" in attributes:
            assert attributes["style"] in ("text-align: left;", "text-align: right;", "text-align: center;")
    assert page.words.split()[0] == "before"
    assert page.words.split()[-1] == "after"


def test_prose_keeps_what_an_author_writes() -> None:
    page = Page(
        prose(
            "# Head\n\nA *b* **c** [d](https://e.invalid/f?g=1&h=2).\n\n- i\n\n> j\n\n|k|l|\n|-|-:|\n|m|n|\n"
        )
    )
    assert {"h2", "em", "strong", "a", "ul", "li", "blockquote", "table", "th", "td"} <= set(page.tags)
    assert ("a", {"href": "https://e.invalid/f?g=1&h=2"}) in page.elements
    assert page.words.split() == ["Head", "A", "b", "c", "d.", "i", "j", "k", "l", "m", "n"]


def test_prose_headings_start_at_the_level_that_the_page_gives_them() -> None:
    assert Page(prose("## A\n\n### B\n", level=3)).tags[1:] == ["h3", "h4"]


def test_prose_targets_are_taken_from_the_folder_of_the_page() -> None:
    page = Page(prose("[a](rooms/x.md#y) [b](#z) [c](https://d.invalid/) ![e](images/f.png)", base="../"))
    assert [a.get("href") or a.get("src") for tag, a in page.elements if tag in ("a", "img")] == [
        "../rooms/x.html#y",
        "#z",
        "https://d.invalid/",
        "../images/f.png",
    ]


@pytest.mark.parametrize(
    "markdown", ["> " * 3000 + "x", "".join("  " * depth + "- x\n" for depth in range(300))]
)
def test_prose_nested_beyond_sense_is_still_shown(markdown: str) -> None:
    assert "x" in Page(prose(markdown)).words


def test_the_manual_lists_every_file_that_has_a_place() -> None:
    manual = (Path(__file__).resolve().parents[2] / "docs" / "wording.md").read_text(encoding="utf-8")
    listed = set(re.findall(r"`([a-z]+)\.md`", manual))
    assert PLACED | {"price", *ORDER} <= listed
