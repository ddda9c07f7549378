"""What a person typed never comes alive on a page, and what is meant to be seen is seen."""

from html.parser import HTMLParser
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown import Markdown

from proposal.pages.markdown import (
    Cell,
    Column,
    Html,
    anchor,
    facts,
    figure,
    html_text,
    join,
    link,
    plain,
    prose,
    safe_href,
    status,
    table,
    text,
)

ROOT = Path(__file__).resolve().parents[2]

# Pieces that Markdown, its extensions or a browser could take as their own.
HOSTILE = [
    "<script>leak()</script>",
    "<img src=x onerror=leak()>",
    "</div>",
    "</table>",
    "<!--",
    "-->",
    "<![CDATA[",
    "&lt;b&gt;",
    "&#60;b&#62;",
    "[a](javascript:leak())",
    "[a](&#106;avascript:leak())",
    "[a](JAVA\tSCRIPT:leak())",
    "[a](data:text/html,x)",
    "[a](vbscript:x)",
    "[a](//elsewhere.invalid/)",
    "![a](https://elsewhere.invalid/x.png)",
    "![a](data:image/svg+xml,x)",
    "<javascript:leak()>",
    "<https://elsewhere.invalid/>",
    "<a@b.invalid>",
    "[r]: javascript:leak()",
    "[r]",
    "{: onclick=leak() }",
    "{ onclick=leak() }",
    "# ",
    "- ",
    "1. ",
    "> ",
    "    ",
    "```",
    "~~~",
    "`",
    "``",
    "***",
    "---",
    "===",
    "|",
    "\\",
    "*",
    "_",
    "!!! note",
    "wzxhzdk:0",
    "klzzwxh:0001",
    "\x02wzxhzdk:0\x03",
    "\x00",
    "\u2028",
    "\r",
    "\n",
    "\n\n",
    "\ud800",
    "\u202e",
    "é",
    "Ω",
    "a",
    "javascript:",
]
pieces = st.one_of(st.sampled_from(HOSTILE), st.text(max_size=6))
typed = st.lists(pieces, max_size=8).map("".join)


class Page(HTMLParser):
    """What a browser would make of a page: its elements, in order, and its words."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data

    def handle_comment(self, data: str) -> None:
        self.elements.append(("comment", {}))

    def handle_decl(self, decl: str) -> None:
        self.elements.append(("declaration", {}))

    def unknown_decl(self, data: str) -> None:
        self.elements.append(("declaration", {}))

    def handle_pi(self, data: str) -> None:
        self.elements.append(("instruction", {}))

    @property
    def tags(self) -> list[str]:
        return [tag for tag, _ in self.elements]


def rendered(markdown: str) -> Page:
    """Return a page as the site builder makes it, with the same extensions."""
    extensions: list[str] = []
    settings_of: dict[str, dict[str, object]] = {}
    for entry in yaml.safe_load((ROOT / "mkdocs.yml").read_text("utf-8"))["markdown_extensions"]:
        if isinstance(entry, dict):
            settings_of.update(entry)
            extensions += entry
        else:
            extensions.append(entry)
    return Page(Markdown(extensions=extensions, extension_configs=settings_of).convert(markdown))


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


@pytest.mark.independent
@settings(max_examples=80, deadline=None)
@given(typed, typed)
def test_fields_in_a_table_stay_in_their_cells(value: str, caption: str) -> None:
    page = rendered(f"before\n\n{table(caption, ['A', value], [[value, Cell(value, value)]])}\n\nafter\n")
    assert page.tags == [
        "p",
        "div",
        "table",
        "caption",
        "thead",
        "tr",
        "th",
        "th",
        "tbody",
        "tr",
        "th",
        "td",
        "p",
    ]
    for tag, attributes in page.elements:
        assert set(attributes) <= {"class", "tabindex", "role", "aria-label", "scope", "data-sort"}, tag
    # Cells stand without a space between them in the words of a page.
    shown = plain(value)
    expected = f"before{plain(caption)}A{shown}{shown}{shown}after"
    assert "".join(page.words.split()) == "".join(expected.split())


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


def test_a_row_is_found_by_the_identity_of_its_cable() -> None:
    page = Page(table("Cables", ["Cable"], [["B101-AP1/N1/ER1-RK1"]], row_ids=["B101-AP1/N1/ER1-RK1"]))
    assert ("tr", {"id": "B101-AP1_N1_ER1-RK1"}) in page.elements


def test_a_table_names_columns_rows_and_itself() -> None:
    page = Page(
        table(
            "Lengths",
            ["Tag", Column("Length", numeric=True, unit="ft")],
            [["A-1", Cell("7 ft", 2.1)]],
            totals=[["Sum", 7]],
        )
    )
    assert (
        "div",
        {"class": "table-scroll", "tabindex": "0", "role": "region", "aria-label": "Lengths"},
    ) in page.elements
    assert ("th", {"scope": "row", "class": "tag"}) in page.elements
    assert ("td", {"class": "num", "data-sort": "2.1"}) in page.elements
    assert ("th", {"scope": "col", "class": "num", "data-sort-method": "number"}) in page.elements
    assert page.tags[-3:] == ["tr", "th", "td"]
    assert "tfoot" in page.tags


def test_a_table_refuses_rows_that_do_not_fit() -> None:
    with pytest.raises(ValueError, match="has 2 columns, a row has 1 cells"):
        table("A", ["B", "C"], [["d"]])
    with pytest.raises(ValueError, match="more rows than row ids"):
        table("A", ["B"], [["c"], ["d"]], row_ids=["c"])
    with pytest.raises(ValueError, match="more row ids than rows"):
        table("A", ["B"], [["c"]], row_ids=["c", "d"])


def test_a_ready_part_is_not_escaped_again() -> None:
    assert text(text("<")) == "&#60;"
    assert html_text(Html("<b>")) == "<b>"
    assert join([Html("<b>"), "<"]) == "<b>&#60;"
    assert "<b>x</b>" in facts("f", [("a", Html("<b>x</b>"))])


def test_lines_become_one_and_what_cannot_be_seen_goes() -> None:
    assert plain(" a\r\n\tb\u2028c\x07d\u202ee\x00 ") == "a b cde"


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


@pytest.mark.parametrize(
    "source", ["https://a.invalid/b.svg", "javascript:x", "data:image/png,x", "/a.svg", ""]
)
def test_a_figure_comes_from_the_site_itself(source: str) -> None:
    with pytest.raises(ValueError, match="must be a relative path"):
        figure(source, "a", "b")


def test_spaces_that_hold_an_amount_together_stay() -> None:
    assert plain("1\N{NARROW NO-BREAK SPACE}234,50\N{NO-BREAK SPACE}€  or \t less") == (
        "1\N{NARROW NO-BREAK SPACE}234,50\N{NO-BREAK SPACE}€ or less"
    )
