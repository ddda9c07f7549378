"""Ready HTML is stored, and its anchors are found, as the parsers of the site builder do it."""

import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from markdown import Markdown
from markdown.preprocessors import HtmlBlockPreprocessor
from mkdocs.structure.pages import _RawHTMLPreprocessor

from proposal.publish.ready_html import ready_html, ready_html_at_once

EXTENSIONS = ["admonition", "attr_list", "sane_lists", "tables", "toc"]
GOLDEN = sorted((Path(__file__).resolve().parents[1] / "pages" / "golden").rglob("*.md"))
PIECES = (
    "# Room {#room}\n",
    "Plain text with [a link](other.md#there), `a < b` and R&D.\n",
    'A word <span class="tag">in a span</span> and <br> a break.\n',
    '<div class="x" id="d1">\n<table>\n<tr id="r&#45;1"><td>1 &lt; 2</td></tr><tr><td><br></td></tr>\n'
    "</table>\n</div>\n",
    '<ul class="labels">\n<li><a name="n1" href="x.html">one</a>\n<li>two</li>\n</ul>\n',
    '<figure><img src="a.svg" alt="x &gt; y"><figcaption>It</figcaption></figure>\n',
    '<dl><div><dt id="t">a</dt><dd>b</dd></div></dl> and more behind it\n',
    '<div>\n\n<table><tr><td id="in">a</td></tr></table>\n\n</div>\n',
    "<div>never closed\n",
    "</div>\n",
    "<div title='in other quotes' id=\"o\">x</div>\n",
    "<div>AT&T and &unfinished</div>\n",
    "<!-- a comment\n",
    "-->\n",
    "<script>if (a < b) {}</script>\n",
    "<hr>\n",
    '<p title="goes\n\non"><div>x</div></p>\n',
    "    <div>code</div>\n",
    "<DIV>capitals</DIV>\n",
    "> <div>quoted</div>\n",
    '| a | b |\n| --- | --- |\n| <b id="x">1</b> | 2 |\n',
)


def read(source: str) -> tuple[list[str], list[str], set[str]]:
    """Return the text that is left, the blocks that are stored and the anchors that are found."""
    markdown = Markdown(extensions=EXTENSIONS)
    anchors, html = _RawHTMLPreprocessor(), HtmlBlockPreprocessor(markdown)
    lines = html.run(anchors.run(source.split("\n")))
    used = [
        block
        for number, block in enumerate(markdown.htmlStash.rawHtmlBlocks)
        if markdown.htmlStash.get_placeholder(number) in lines
    ]
    text = "\n".join(lines)
    for number in range(len(markdown.htmlStash.rawHtmlBlocks)):
        text = text.replace(markdown.htmlStash.get_placeholder(number), "BLOCK")
    return text.split("\n"), used, anchors.present_anchor_ids


def alike(source: str) -> bool:
    by_tags = read(source)
    with ready_html_at_once():
        return read(source) == by_tags


def sources(seed: int) -> Iterator[str]:
    """Yield forty pages made by chance."""
    chance = random.Random(seed)
    for _ in range(40):
        pieces = chance.choices(PIECES, k=chance.randrange(1, 6))
        yield "".join(piece + chance.choice(("\n", "\n", "\n\n", "")) for piece in pieces) + "\n\n"


@pytest.mark.parametrize("seed", range(8))
def test_any_page_is_read_as_the_site_builder_reads_it(seed: int) -> None:
    assert [source for source in sources(seed) if not alike(source)] == []


def test_some_of_these_pages_are_ready() -> None:
    ready = sum(ready_html(source) is not None for seed in range(8) for source in sources(seed))
    assert ready > 16


def test_pages_of_ours_are_found_to_be_ready() -> None:
    pages = [path.read_text("utf-8") + "\n\n" for path in GOLDEN]
    assert all(map(alike, pages))
    tables = [page for page in pages if "<table" in page]
    assert len([page for page in tables if ready_html(page)]) > 0.8 * len(tables) > 0


def test_the_parsers_are_themselves_again_afterwards() -> None:
    before = HtmlBlockPreprocessor.run, _RawHTMLPreprocessor.run
    with ready_html_at_once():
        assert before[0] != HtmlBlockPreprocessor.run
    assert (HtmlBlockPreprocessor.run, _RawHTMLPreprocessor.run) == before
