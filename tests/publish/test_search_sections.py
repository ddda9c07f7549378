"""The search divides a page into the same sections, found at once or by the theme's parser."""

import random
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from markdown import Markdown
from material.plugins.search.plugin import Parser

from proposal.publish import search_sections
from proposal.publish.search_sections import adding_at_once, rows_apart, sections_of

GOLDEN = sorted((Path(__file__).resolve().parents[1] / "pages" / "golden").rglob("*.md"))
PIECES = (
    "Words before any heading, R&amp;D &lt;1&gt; and a bare & too. ",
    '<h1 id="top">Top <code>x</code><a class="headerlink" href="#top" title="Link">&para;</a></h1>',
    '<h2 id="a&#45;b">A <em>part</em></h2>\n',
    "<h2>Without a name</h2>",
    '<section><h3 id="in">Inside</h3><p>Text\nof it</p></section>',
    "<table><tr><td>1</td> <td></td>\n<td><code>c</code><br/>d</td></tr></table>",
    "<p> </p><ul><li>one</li><li><p>two</p></li><li></li></ul>",
    "<pre><code>a\n\n  b</code></pre>",
    '<svg viewBox="0 0 1 1"><path d="M0 0"/></svg><img src="x.svg" alt=""><hr>',
    "</p></div>",
    "<div><p>never closed",
    "<p>H<sub>2</sub>O<sup></sup></p>",
    "<!-- a comment -->",
    "<script>var a = '<p>';</script>",
    "<p title='in other quotes'>x</p>",
    "<P>capitals</P>",
    '<div data-search-exclude="">hidden</div>',
)


def told(sections: list[Any]) -> list[tuple[object, ...]]:
    return [(one.el.tag, one.id, one.title, one.text, one.is_excluded()) for one in sections]


def by_theme(content: str) -> list[tuple[object, ...]] | str:
    parser = Parser()
    try:
        parser.feed(content)
        parser.close()
    except (
        AttributeError,
        ValueError,
    ) as error:  # an end before any beginning
        return type(error).__name__
    return told(parser.data)


def at_once(content: str) -> list[tuple[object, ...]] | str | None:
    try:
        sections = sections_of(content)
    except (AttributeError, ValueError) as error:
        return type(error).__name__
    return None if sections is None else told(sections)


@pytest.mark.parametrize("seed", range(8))
def test_sections_are_those_of_the_theme(seed: int) -> None:
    chance = random.Random(seed)
    found = 0
    for _ in range(200):
        content = "".join(chance.choices(PIECES, k=chance.randrange(1, 7)))
        sections = at_once(content)
        if sections is not None:
            found += 1
            assert sections == by_theme(content), content
    assert found > 20


def test_pages_of_ours_are_divided_at_once() -> None:
    contents = [
        Markdown(extensions=["attr_list", "tables", "toc"]).convert(path.read_text("utf-8"))
        for path in GOLDEN
    ]
    assert [at_once(one) for one in contents if sections_of(one) is not None] == [
        by_theme(one) for one in contents if sections_of(one) is not None
    ]
    assert len([one for one in contents if sections_of(one) is not None]) > 0.8 * len(contents) > 0


def test_each_row_of_a_table_is_a_paragraph_of_its_own_where_they_are_many(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    page = (
        '<h1 id="a">Rooms</h1><table class="data"><caption>All</caption><thead><tr><th>Tag</th></tr></thead>'
        '<tbody><tr id="B1"><th>B1</th> <td>Hall</td></tr>\n<tr><td>B2</td></tr></tbody></table><track>'
    )
    assert rows_apart(page) == page
    monkeypatch.setattr(search_sections, "MANY_ROWS", 3)
    apart = rows_apart(page)
    assert told(sections_of(apart) or [])[0][2:4] == (
        ["Rooms"],
        ["All", "<p>", "Tag", "</p>", "<p>", "B1", " ", "Hall", "</p>", " ", "<p>", "B2", "</p>"],
    )
    assert apart.endswith("<track>")


def test_the_theme_adds_entries_itself_where_its_parser_is_another(monkeypatch: pytest.MonkeyPatch) -> None:
    given: list[str] = []
    page = SimpleNamespace(content="<table><tr><td>a</td></tr></table>", meta={})
    monkeypatch.setattr(search_sections, "MANY_ROWS", 1)
    monkeypatch.setattr(Parser, "feed", lambda parser, content: None)
    adding_at_once(lambda _, page: given.append(page.content))(None, page)
    # It is given rows as paragraphs too, and the page stays as it was.
    assert given == ["<table><p><td>a</td></p></table>"]
    assert page.content == "<table><tr><td>a</td></tr></table>"
