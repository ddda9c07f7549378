"""An edition on paper: what other libraries read in the PDF."""

import re
from importlib import import_module
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from proposal.document.readers import READERS, Reader
from proposal.paper.column_widths import LEAST_PT
from proposal.paper.paper_edition import paper_data
from proposal.paper.signs import Fonts
from tests.pages.site import browsed
from tests.paper.printed import Printed, destinations, of_one_page, printed, source_of, squeezed, table
from tests.sample_document import HOSTILE, sample_document

FONTS = {"Arimo", "Arimo-Regular", "Arimo-Bold", "DejaVuSans", "DejaVuSans-Bold"}
ANY_SIGN = dict.fromkeys(range(0x20, 0x3000), 0.5)
pytestmark = pytest.mark.independent


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    source, pages = source_of(sample_document(), "client")
    return printed(source, tmp_path_factory.mktemp("client"), pages)


@pytest.fixture(scope="module")
def estimator(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    source, pages = source_of(sample_document(), "estimator")
    return printed(source, tmp_path_factory.mktemp("estimator"), pages)


@pytest.fixture(scope="module")
def long_table(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """A schedule of many rows and of more columns than an upright page holds."""
    head = [f"Heading{n}" for n in range(14)]
    rows = [[f"row{m}column{n}" for n in range(14)] for m in range(150)]
    return printed(of_one_page(f"<h1>Long</h1>{table(head, rows)}"), tmp_path_factory.mktemp("long"))


def test_it_is_tagged_and_says_so(client: Printed) -> None:
    root = client.reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or bool(root["/MarkInfo"]["/Marked"])
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    metadata = client.reader.trailer["/Root"]["/Metadata"].get_object().get_data().decode()
    assert re.search(r"pdfuaid:part\W+1\b|<pdfuaid:part>1<", metadata)
    tags = client.tags()
    wanted = "H1 H2 Table TH TD Caption Figure L LI Link TOC P"
    assert {f"/{kind}" for kind in wanted.split()} - set(tags) == set()


def test_a_checker_of_pdf_ua_finds_nothing(client: Printed, tmp_path: Path) -> None:
    """It checks 16 rules of PDF/UA-1: content tagged or left out, alternatives, tables, title, language."""
    paper = tmp_path / "client.pdf"
    paper.write_bytes(client.data)
    checker: Any = import_module("pdfua")
    report = checker.validate(str(paper))
    assert [(one.rule_id, one.message) for one in report.findings] == []
    spoilt = client.data.replace(b"/Lang", b"/Lung")
    assert spoilt != client.data
    paper.write_bytes(spoilt)
    assert "UA-06-001" in {one.rule_id for one in checker.validate(str(paper)).findings}


def test_headings_are_in_order_and_whatever_is_pictured_or_linked_is_told(client: Printed) -> None:
    levels = [int(tag[2:]) for tag in client.tags() if re.fullmatch(r"/H[1-6]", tag)]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert all(one.strip() for one in client.alternatives())
    links = 0
    for page in client.reader.pages:
        annotations = [one.get_object() for one in page.get("/Annots", [])]
        if annotations:
            assert page["/Tabs"] == "/S"  # the keyboard goes by the order of the tags
        for one in annotations:
            assert one["/Subtype"] == "/Link"
            assert "/StructParent" in one
            assert str(one["/Contents"]).strip()
            links += 1
        for font in page["/Resources"].get("/Font", {}).values():
            assert "/ToUnicode" in font.get_object()
    assert links > 50


@pytest.mark.parametrize("edition", ["client", "estimator"])
def test_every_link_leads_somewhere(edition: str, request: pytest.FixtureRequest) -> None:
    made: Printed = request.getfixturevalue(edition)
    found = list(destinations(made.reader))
    assert sum(kind == "page" for _, kind, _ in found) > 50
    addresses = {target for _, kind, target in found if kind == "address"}
    assert [one for one in addresses if not re.match(r"(https?|mailto):", one)] == []


def test_a_link_leads_to_the_page_on_which_its_row_stands(tmp_path: Path) -> None:
    rows = "".join(f'<tr id="r{n}"><td>row number {n}</td></tr>' for n in range(200))
    html = f'<h1>Page</h1><p><a href="#r150">lead</a></p><table class="data"><tbody>{rows}</tbody></table>'
    made = printed(of_one_page(html), tmp_path)
    (target,) = {target for _, kind, target in destinations(made.reader) if kind == "page"} - {2, 3}
    assert "row number 150" in made.words[target - 1]


@pytest.mark.parametrize("edition", ["client", "estimator"])
def test_every_page_of_the_site_has_a_bookmark_that_leads_to_it(
    edition: str, request: pytest.FixtureRequest
) -> None:
    made: Printed = request.getfixturevalue(edition)
    assert made.site is not None
    titles = {squeezed(title): number for title, number in made.bookmarks}
    for path, page in made.site.pages.items():
        title = re.search(r"(?m)^# (.*)$", page)
        if title is None:
            assert path == "index.md"
            continue
        shown = squeezed(browsed(title[1]).text)
        assert shown in titles, f"{path} has no part"
        assert shown in squeezed(made.words[titles[shown] - 1])


@pytest.mark.parametrize("edition", ["client", "estimator"])
def test_every_word_of_every_page_of_the_site_is_printed(
    edition: str, request: pytest.FixtureRequest
) -> None:
    made: Printed = request.getfixturevalue(edition)
    assert made.site is not None
    said = squeezed("".join(made.words))
    missing: list[tuple[str, str]] = []
    for path, page in made.site.pages.items():
        if path.startswith("drawings/") or path == "index.md":
            continue  # a sheet holds its drawing alone; the list of drawings tells the rest
        kept = re.sub(
            r"(?s)<form.*?</form>|<(summary|title)>.*?</\1>|<details>.*?</details>|"
            r"<a class=\"full-size\".*?</a>",
            "",
            page,
        )
        kept = re.sub(r"(?m)^.*\n\{: \.on-screen \}$", "", kept)
        for words in browsed(kept).words:
            missing += [(path, one) for one in words.split() if squeezed(one) not in said]
    assert missing == []


@pytest.mark.parametrize("edition", ["client", "estimator"])
def test_the_contents_tell_the_true_pages(edition: str, request: pytest.FixtureRequest) -> None:
    made: Printed = request.getfixturevalue(edition)
    entries = [
        (found[1], int(found[2]))
        for page in made.words[1:4]
        for line in page.splitlines()
        if (found := re.match(r"(.+?)(?:\s*\.\s*){3,}\s*(\d+)$", line.strip()))
    ]
    assert len(entries) > 20
    for title, number in entries:
        assert squeezed(title) in squeezed(made.words[number - 1]), f"{title} is not on page {number}"


@pytest.mark.parametrize("edition", ["client", "estimator", "long_table"])
def test_every_page_says_which_of_how_many_it_is(edition: str, request: pytest.FixtureRequest) -> None:
    made: Printed = request.getfixturevalue(edition)
    count = len(made.words)
    assert made.reader.page_labels == [str(n) for n in range(1, count + 1)]
    for n, words in enumerate(made.words, 1):
        assert f"Page {n} of {count}" in words
        assert "Revision" in words


@pytest.mark.parametrize("edition", ["client", "long_table"])
def test_no_text_is_smaller_than_the_smallest_nor_beyond_the_page(
    edition: str, request: pytest.FixtureRequest
) -> None:
    made: Printed = request.getfixturevalue(edition)
    for page, letters in zip(made.reader.pages, made.letters, strict=True):
        width = float(page.mediabox.width)
        for one in letters:
            if one.text.strip():
                # The library tells the height of a font's box, never less than its size.
                assert one.size >= LEAST_PT - 0.05, one
                assert one.left >= 0
                assert one.right <= width - 20, one


def test_only_the_fonts_that_ship_are_used_and_all_are_within(client: Printed) -> None:
    used: set[str] = set()
    for page in client.reader.pages:
        for font in page["/Resources"].get("/Font", {}).values():
            held = font.get_object()
            used.add(str(held["/BaseFont"]).removeprefix("/").partition("+")[2].partition("-Identity")[0])
            inner = held["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            assert any(f"/FontFile{n}" in inner for n in ("", "2", "3"))
    assert used
    assert used <= FONTS


def test_the_headings_of_a_long_schedule_stand_on_every_page(long_table: Printed) -> None:
    pages = [words for words in long_table.words if "column0" in words]
    assert len(pages) > 2
    for words in pages:
        assert all(f"Heading{n}\n" in words or f"Heading{n} " in words for n in range(14))


def test_a_folded_text_of_a_schedule_is_printed_whole_and_once(tmp_path: Path) -> None:
    folded = '<details class="fold"><summary>tray first</summary>tray first and second</details>'
    made = printed(of_one_page(f"<h1>Page</h1>{table(['Cable', 'Route'], [['one', folded]])}"), tmp_path)
    assert "".join(made.words).count("tray first") == 1
    assert "tray first and second" in " ".join("".join(made.words).split())


def test_a_wide_schedule_stands_on_a_turned_page_and_loses_no_cell(long_table: Printed) -> None:
    said = squeezed("".join(long_table.words))
    assert all(f"row{m}column{n}" in said for m in range(150) for n in range(14))
    sizes = [page.mediabox for page in long_table.reader.pages]
    assert sizes[0].width < sizes[0].height
    assert sizes[-1].width > sizes[-1].height


def test_drawings_stand_on_sheets_of_their_own_as_vectors_with_words(client: Printed) -> None:
    sheets = [page for page in client.reader.pages if round(float(page.mediabox.width)) == 1191]
    assert client.site is not None
    number = len([path for path in client.site.pages if path.startswith("drawings/")])
    assert len(sheets) == number > 0
    assert all("what is drawn" in page.extract_text() for page in sheets)
    assert not any(page.images for page in sheets)
    told = [one for one in client.alternatives() if "what it shows in a sentence" in one]
    assert len(told) == number
    assert all("Everything that stands on" in one for one in told)


def test_paper_of_the_project_is_letter_and_ansi_b_where_its_locale_has_them(tmp_path: Path) -> None:
    document = sample_document()
    cover = document.cover.model_copy(update={"locale": "en_US"})
    source, _ = source_of(document.model_copy(update={"cover": cover}), "client")
    sizes = {
        tuple(sorted(round(float(one)) for one in (page.mediabox.width, page.mediabox.height)))
        for page in printed(source, tmp_path).reader.pages
    }
    assert sizes == {(612, 792), (792, 1224)}


def test_two_builds_are_the_same_bytes(client: Printed, tmp_path: Path) -> None:
    source, _ = source_of(sample_document(), "client")
    assert printed(source, tmp_path).data == client.data


@pytest.mark.parametrize("reader", READERS)
def test_costs_are_on_no_paper_but_the_estimators(
    reader: Reader, client: Printed, estimator: Printed
) -> None:
    secrets = ("€3,120.50", "€6,241.00", "€21,667.25")
    if reader in ("client", "estimator"):
        said = "".join((client if reader == "client" else estimator).words)
    else:  # all that is printed is in what the template gets
        source, _ = source_of(sample_document(), reader)
        said = paper_data(source, Fonts(ANY_SIGN, ANY_SIGN))
    assert [one for one in secrets if one in said] == (list(secrets) if reader == "estimator" else [])


def test_hostile_text_is_printed_as_it_was_typed(estimator: Printed) -> None:
    said = squeezed("".join(estimator.words))
    for one in HOSTILE:
        # Links and pictures are told by their words where the author's own Markdown is read.
        assert squeezed(one) in said, one
