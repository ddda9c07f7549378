"""What a person typed is shown as it was typed, and only harmless links are links."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.pages.markdown import Html, anchor, html_text, join, link, plain, safe_href, text
from proposal.pages.page_elements import facts
from tests.pages.hostile_text import Page, rendered, typed


@pytest.mark.independent  # Python-Markdown makes the page, the standard library's HTML parser reads it
@settings(max_examples=150, deadline=None)
@given(typed)
def test_a_field_in_a_paragraph_is_shown_as_it_was_typed(value: str) -> None:
    page = rendered(f"before {text(value)} after\n")
    assert page.tags == ["p"]
    assert page.words.split() == ["before", *plain(value).split(), "after"]


@pytest.mark.independent
@settings(max_examples=80, deadline=None)
@given(typed)
def test_a_field_alone_in_a_paragraph_starts_no_list_heading_or_code(value: str) -> None:
    page = rendered(f"{text(value)}\n")
    assert page.tags in (["p"], [])
    assert page.words.split() == plain(value).split()


@pytest.mark.independent
@settings(max_examples=80, deadline=None)
@given(typed)
def test_a_field_in_a_heading_stays_in_it(value: str) -> None:
    page = rendered(f"# a {text(value)}\n")
    assert page.tags == ["h1"]
    assert page.words.split() == ["a", *plain(value).split()]


@pytest.mark.parametrize(
    ("href", "expected"),
    [
        ("a/b.html", "a/b.html"),
        ("a.md", "a.html"),
        ("../a/b.md#R101-M1", "../a/b.html#R101-M1"),
        ("a.md.md?x#a.md", "a.md.html?x#a.md"),
        ("#top", "#top"),
        ("http://a.invalid/", "http://a.invalid/"),
        ("HTTPS://a.invalid/?b=1&c=2", "HTTPS://a.invalid/?b=1&c=2"),
        ("https://a.invalid/b.md", "https://a.invalid/b.md"),
        ("mailto:a@b.invalid", "mailto:a@b.invalid"),
        ("a b", "ab"),
        ("a`(b)[c]", "a%60%28b%29%5Bc%5D"),
        ("javascript:x", None),
        (" \x01java\nscript:x", None),
        ("&#x6a;avascript&colon;x", None),
        ("&amp;#106;avascript:x", None),
        ("data:text/html,x", None),
        ("vbscript:x", None),
        ("file:///etc/passwd", None),
        ("ftp://a.invalid/", None),
        ("//a.invalid/", None),
        ("/a", None),
        ("\\\\a\\b", None),
        ("http:a", None),
        ("http://[", None),
        ("", None),
    ],
)
def test_only_harmless_targets_pass(href: str, expected: str | None) -> None:
    assert safe_href(href) == expected


def test_a_refused_link_is_its_label() -> None:
    assert link("a_b", "javascript:x") == "a&#95;b"
    assert Page(link("a_b", "c.md")).elements == [("a", {"href": "c.html"})]


@settings(max_examples=150, deadline=None)
@given(st.lists(st.text(st.sampled_from("aA1-_/. :é"), max_size=5), min_size=2, max_size=2, unique_by=plain))
def test_different_identities_have_different_ids(identities: list[str]) -> None:
    one, other = map(anchor, identities)
    assert one != other
    assert not set(one) & set(" \"'<>&")


def test_a_ready_part_is_not_escaped_again() -> None:
    assert text(text("<")) == "&#60;"
    assert html_text(Html("<b>")) == "<b>"
    assert join([Html("<b>"), "<"]) == "<b>&#60;"
    assert "<b>x</b>" in facts("f", [("a", Html("<b>x</b>"))])


def test_lines_become_one_and_what_cannot_be_seen_goes() -> None:
    assert plain(" a\r\n\tb\u2028c\x07d\u202ee\x00 ") == "a b cde"


def test_spaces_that_hold_an_amount_together_stay() -> None:
    assert plain("1\N{NARROW NO-BREAK SPACE}234,50\N{NO-BREAK SPACE}€  or \t less") == (
        "1\N{NARROW NO-BREAK SPACE}234,50\N{NO-BREAK SPACE}€ or less"
    )
