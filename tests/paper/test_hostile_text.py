"""Whatever can be typed ends in a PDF, or in a message; none of it is read as markup."""

import re
from collections.abc import Sequence
from pathlib import Path

import pytest

from proposal.errors import BuildError
from proposal.paper.paper_edition import PaperPage
from proposal.paper.signs import MISSING
from proposal.publish import paper_file
from proposal.publish.cache import Cache
from proposal.publish.program_folders import own_folders
from tests.pages.hostile_text import HOSTILE
from tests.paper.printed import DRAWN, Printed, of_one_page, printed, source_of, squeezed, table
from tests.sample_document import sample_document

MARKUP = (
    '#panic("read")',
    '#import "@preview/cetz:0.3.4"',
    "$x^2$",
    "<label> @label",
    "#sys.inputs",
    '"); panic("',
    "\\u{0} \\ // /* ",
    "= Heading",
    "*strong* _emphasis_ `code`",
    '#read("/etc/passwd")',
    "{{ 7 * 7 }} {% raw %}",
)
STRANGE = (
    "שלום עולם",
    "مرحبا بالعالم",
    "中文 日本語 한국어",
    "😀 🏛️ 👩‍🚀",
    "क्षि ไทย",
    "e\u0301\u0301\u0301\u0301 Z̷̢̛a̶l̵g̸o",
    "\u202egnp.exe\u202c \u2066x\u2069",
    "a\u0000b\u0007c\u001b[31m",
    "\ufeff\u00ad\u200b\u2060",
    "\U000e0041 \ue000 \u0378 \ufffe",
    "½ ¾ № ™ ≤ ≥ → ✓ ✕ ▲ ● ○ Δ Ω µ",
)


def escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;")


def page_with(texts: Sequence[str]) -> str:
    shown = [escaped(one) for one in texts]
    parts = "".join(f"<h2>{one}</h2><p>{one}</p><pre><code>{one}</code></pre>" for one in shown)
    facts = "".join(f"<div><dt>{one}</dt><dd>{one}</dd></div>" for one in shown)
    rows = [[one, f"<strong>{one}</strong>", f"<code>{one}</code>"] for one in shown]
    listed = "".join(f"<li>{one}</li>" for one in shown)
    return f"<h1>Page</h1>{parts}<dl>{facts}</dl>{table(shown[:3], rows, shown[0])}<ul>{listed}</ul>"


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """Every hostile text at every place, in the head and the foot of the pages too."""
    everywhere = " ".join((*MARKUP, *STRANGE))
    told = {"title": everywhere, "short_title": everywhere, "author": everywhere, "foot": (everywhere, "x")}
    html = page_with([*MARKUP, *STRANGE, *HOSTILE])
    return printed(of_one_page(html, **told), tmp_path_factory.mktemp("hostile"))


@pytest.mark.parametrize("text", MARKUP)
def test_markup_is_printed_as_it_was_typed(text: str, hostile: Printed) -> None:
    assert squeezed("".join(hostile.words)).count(squeezed(text)) >= 8


def test_a_sign_that_no_font_has_leaves_a_mark(hostile: Printed) -> None:
    said = "".join(hostile.words)
    assert MISSING in said
    assert "中" not in said
    assert "✓" in said


def test_words_that_run_from_right_to_left_are_printed(hostile: Printed) -> None:
    said = "".join(hostile.words)
    assert "שלום" in said or "םולש" in said


@pytest.mark.parametrize(
    "html",
    [
        "",
        "<h1></h1>",
        "<h1>One</h1><h4>Four</h4><h2></h2><h6>Six</h6>",
        "<p>no heading</p>",
        "<h1>A</h1>" + "<blockquote>" * 60 + "deep" + "</blockquote>" * 60,
        "<h1>A</h1>" + "<ul><li>" * 60 + "deep" + "</li></ul>" * 60,
        "<h1>A</h1>" + "<em><strong>" * 150 + "deep",
        "<h1>A</h1><table></table><table><tr></tr></table><table><thead></thead><tbody></tbody></table>",
        "<h1>A</h1><table><thead><tr><th>a</th></tr></thead><tbody><tr><td>1</td><td>2</td></tr></tbody></table>",
        "<h1>A</h1><ul></ul><ol></ol><dl></dl><pre></pre><p></p><figure></figure><svg></svg>",
        '<h1>A</h1><p id="x">a</p><p id="x">b</p><a href="#x">c</a><a href="http://[">d</a><a href="">e</a>',
        "</p></div><p>a</td>b<!-- <p> --><![CDATA[c]]><?d?>",
    ],
)
def test_pages_of_any_form_are_printed(html: str, tmp_path: Path) -> None:
    assert printed(of_one_page(html), tmp_path).data.startswith(b"%PDF")


def test_no_word_is_too_long_for_the_page(tmp_path: Path) -> None:
    word = "w" * 600
    html = f"<h1>{word}</h1><p>{word}</p>{table([word, 'b'], [[word, 'c'], ['d', 'x' * 500]], word)}"
    made = printed(of_one_page(html, short_title=word, foot=(word, word)), tmp_path)
    for page, letters in zip(made.reader.pages, made.letters, strict=True):
        assert all(one.right <= float(page.mediabox.width) - 20 for one in letters if one.text.strip())
    assert "".join(made.words).count("x") >= 500


def test_a_schedule_of_many_columns_keeps_them_all(tmp_path: Path) -> None:
    head = [f"heading{n}" for n in range(60)]
    made = printed(of_one_page(f"<h1>A</h1>{table(head, [[f'cell{n}' for n in range(60)]])}"), tmp_path)
    said = squeezed("".join(made.words))
    assert all(f"cell{n}" in said and f"heading{n}" in said for n in range(60))
    for page, letters in zip(made.reader.pages, made.letters, strict=True):
        assert all(one.right <= float(page.mediabox.width) - 20 for one in letters if one.text.strip())


def test_a_row_that_is_taller_than_a_page_is_printed_whole(tmp_path: Path) -> None:
    words = [f"word{n}" for n in range(4000)]
    made = printed(of_one_page(f"<h1>A</h1>{table(['a', 'b'], [['1', ' '.join(words)]])}"), tmp_path)
    said = squeezed("".join(made.words))
    assert all(one in said for one in words)


def test_a_schedule_of_many_rows_is_printed(tmp_path: Path) -> None:
    made = printed(of_one_page(f"<h1>A</h1>{table(['a'], [[f'row{n}'] for n in range(1500)])}"), tmp_path)
    assert "row1499" in made.words[-1]


def test_pictures_and_drawings_are_printed_with_their_words(tmp_path: Path) -> None:
    shown = '<p><img src="images/a.svg" alt="What it shows"></p><p><img src="images/none.png" alt="gone"></p>'
    made = printed(of_one_page(f"<h1>A</h1>{shown}", pictures={"images/a.svg": DRAWN.decode()}), tmp_path)
    assert "what is drawn" in made.words[-1]
    assert "gone" in made.words[-1]
    assert made.alternatives() == ["What it shows"]


def test_each_line_of_a_label_stands_on_its_own(tmp_path: Path) -> None:
    label = (
        '<ul class="labels"><li class="label">'
        '<svg class="code" viewBox="0 0 25 25"><path d="M2 2h7v1h-7z"/></svg>'
        "<div><strong>A1/N1</strong><span>here A1</span><span>to ER1</span></div></li></ul>"
    )
    made = printed(of_one_page(f"<h1>A</h1>{label}"), tmp_path)
    wanted = ["A1/N1", "here A1", "to ER1"]
    assert [line.strip() for line in made.words[-1].splitlines() if line.strip() in wanted] == wanted


def test_bars_of_a_page_are_drawn_as_the_style_sheet_of_the_site_has_them(tmp_path: Path) -> None:
    bars = (
        '<svg class="bars" role="img" viewBox="0 0 640 40" width="640" height="40"><title>What moves</title>'
        '<text x="9" y="14">a bar</text><rect class="more" x="9" y="20" width="50" height="16"/></svg>'
    )
    source, _ = source_of(sample_document(), "client")
    made = printed(of_one_page(f"<h1>A</h1>{bars}", bars=source.bars), tmp_path)
    assert "a bar" in made.words[-1]
    assert made.alternatives() == ["What moves"]
    contents = made.reader.pages[-1].get_contents()
    assert contents is not None
    colours = re.findall(rb"([\d.]+) ([\d.]+) ([\d.]+) (?:rg|scn)", contents.get_data())
    drawn = {tuple(round(float(share) * 255) for share in colour) for colour in colours}
    assert (0xB5, 0x65, 0x1D) in drawn


def test_what_the_typesetting_program_refuses_is_a_message(tmp_path: Path) -> None:
    cache = Cache(own_folders(tmp_path).build / "cache")
    with pytest.raises(BuildError, match="the PDF could not be made: "):
        paper_file.paper_file(
            of_one_page(
                "<p>a</p>",
                pictures={"a": "<svg"},
                pages=(PaperPage("index.md", 1, (), '<h1>A</h1><img src="a" alt="b">'),),
            ),
            cache,
        )
