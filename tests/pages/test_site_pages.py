import os
import re
from itertools import pairwise
from pathlib import Path
from posixpath import dirname, join, normpath

import pytest

from proposal.document.readers import READERS, Reader
from proposal.editions import edition_of
from proposal.pages.site_pages import Navigation, pages_of
from tests.pages.site import browsed, drawings_for, pages_for, sample_pages, templates
from tests.sample_document import HOSTILE, UNIT_COST, sample_document

GOLDEN = Path(__file__).parent / "golden"
COMMAND = "PROPOSAL_UPDATE_GOLDEN=1 python -m pytest tests/pages/test_site_pages.py -k golden"

pytestmark = pytest.mark.pinned


def _paths(nav: Navigation) -> list[str]:
    return [path for _, entry in nav for path in ([entry] if isinstance(entry, str) else _paths(entry))]


def test_pages_of_the_sample_are_the_golden_ones() -> None:
    # The strokes of QR codes are another library's; what they say stands beside them.
    pages = {
        path: re.sub(r'<path d="[^"]*"/>', '<path d="…"/>', words)
        for path, words in sample_pages("estimator").pages.items()
    }
    if os.environ.get("PROPOSAL_UPDATE_GOLDEN"):
        for stale in GOLDEN.rglob("*.md"):
            stale.unlink()
        for path, words in pages.items():
            (GOLDEN / path).parent.mkdir(parents=True, exist_ok=True)
            (GOLDEN / path).write_text(words, "utf-8", newline="\n")
    kept = {
        str(path.relative_to(GOLDEN).as_posix()): path.read_text("utf-8") for path in GOLDEN.rglob("*.md")
    }
    assert sorted(pages) == sorted(kept), f"other pages than before; if they are right: {COMMAND}"
    changed = [path for path in pages if pages[path] != kept[path]]
    assert not changed, (
        f"{', '.join(changed)} changed; if that is right, look at the difference of: {COMMAND}"
    )


def test_pages_are_the_same_every_time() -> None:
    assert pages_for(sample_document(), "estimator") == sample_pages("estimator")


@pytest.mark.parametrize("reader", READERS)
def test_the_navigation_names_every_page_once(reader: Reader) -> None:
    site = sample_pages(reader)
    assert sorted(_paths(site.nav)) == sorted(site.pages)


@pytest.mark.parametrize("reader", READERS)
def test_every_link_leads_to_a_page_or_a_place_on_it(reader: Reader) -> None:
    site = sample_pages(reader)
    read = {path: browsed(words) for path, words in site.pages.items()}
    files = {
        f"drawings/{row.file}"
        for row in drawings_for(edition_of(sample_document(), reader).document).values()
    } | {"programme.ics"}
    followed = 0
    for path, page in read.items():
        for _, attributes in page.elements:
            for target in (attributes.get("href"), attributes.get("src")):
                if target is None or re.match(r"https?:|mailto:", target):
                    continue
                followed += 1
                to, _, fragment = target.partition("#")
                wanted = normpath(join(dirname(path), to)) if to else path
                if wanted in files:
                    continue
                wanted = re.sub(r"\.html$", ".md", wanted)
                assert wanted in read, f"{path} links to {target}"
                if fragment:
                    assert fragment in read[wanted].ids, f"{path} links to {target}"
    assert followed > 100


@pytest.mark.parametrize("reader", READERS)
def test_no_page_uses_an_id_twice_and_every_element_closes(reader: Reader) -> None:
    for path, words in sample_pages(reader).pages.items():
        page = browsed(words)
        assert len(page.ids) == len(set(page.ids)), path
        assert page.unbalanced == [], path
        assert page.open == [], path


ELEMENTS = {"a", "aside", "b", "br", "caption", "code", "dd", "details", "div", "dl", "dt", "em"}
ELEMENTS |= {
    "figcaption",
    "figure",
    "h1",
    "h2",
    "h3",
    "h4",
    "img",
    "li",
    "ol",
    "p",
    "section",
    "span",
    "strong",
}
ELEMENTS |= {"summary", "table", "tbody", "td", "tfoot", "th", "thead", "tr", "ul", "svg", "path"}
ELEMENTS |= {"line", "rect", "text", "title"}
ATTRIBUTES = {"alt", "aria-hidden", "aria-label", "class", "data-sort", "data-sort-method", "height", "href"}
ATTRIBUTES |= {"id", "loading", "role", "scope", "src", "tabindex", "width", "viewbox", "d", "focusable"}
ATTRIBUTES |= {"x", "x1", "x2", "y", "y1", "y2", "data-views", "data-opens"}


@pytest.mark.parametrize("reader", READERS)
def test_what_an_unkind_author_wrote_is_shown_and_does_nothing(reader: Reader) -> None:
    shown = set()
    for path, words in sample_pages(reader).pages.items():
        page = browsed(words)
        for tag, attributes in page.elements:
            assert tag in ELEMENTS, (path, tag)
            assert set(attributes) <= ATTRIBUTES, (path, tag, attributes)
            for name in ("href", "src"):
                assert not re.match(r"\s*(javascript|vbscript|data):", attributes.get(name, ""), re.I), path
            if tag == "img":
                assert attributes["src"].endswith(".svg"), path
        shown |= {hostile for hostile in HOSTILE if hostile in page.text}
    assert shown == set(HOSTILE)


@pytest.mark.parametrize("reader", READERS)
def test_verdicts_stand_among_the_first_columns_and_are_never_blank(reader: Reader) -> None:
    seen = 0
    for path, words in sample_pages(reader).pages.items():
        for heads, rows in re.findall(r"(?s)<thead><tr>(.*?)</tr></thead>\n<tbody>(.*?)</tbody>", words):
            titles = re.findall(r"(?s)<th[^>]*>(.*?)</th>", heads)
            if "Verdict" not in titles:
                continue
            place = titles.index("Verdict")
            lines = re.findall(r"(?m)^<tr.*</tr>$", rows)
            assert place <= max(2, lines[0].count('scope="row"')), (path, titles)
            for row in lines:
                seen += 1
                assert re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row)[place], (path, row)
    assert seen > (2 if reader == "client" else 20)


@pytest.mark.parametrize("reader", READERS)
def test_a_page_has_one_first_heading_and_no_level_is_skipped(reader: Reader) -> None:
    for path, words in sample_pages(reader).pages.items():
        levels = [int(tag[1]) for tag, _ in browsed(words).elements if re.fullmatch(r"h[1-6]", tag)]
        assert levels.count(1) == 1, path
        assert levels[0] == 1, path
        assert all(after <= before + 1 for before, after in pairwise(levels)), path


def test_pages_follow_from_what_an_edition_holds() -> None:
    pages = {reader: set(sample_pages(reader).pages) for reader in READERS}
    inside = {"cable-schedule.md", "power.md", "drawings/R-11.md"}
    checking = {"calculations.md", "calculations/room-B103.md"}
    assert not (inside | checking) & pages["client"]
    assert inside | checking <= pages["reviewer"]
    assert inside | checking <= pages["estimator"]
    assert inside <= pages["installer"]
    assert not (checking | {"findings.md"}) & pages["installer"]
    assert "findings.md" in pages["client"]


def test_costs_and_notes_of_the_house_stand_in_its_own_edition_alone() -> None:
    secrets = (
        "Council asked for a price below",
        "Chairman dislikes",
        "Glass wall arrives late",
        "Second hand",
        "Ask for the project rate",
        "€3,120.50",
        "€6,241.00",
        "€21,667.25",
    )
    assert "3120.50" in UNIT_COST.values()
    for reader in READERS:
        words = " ".join(browsed(page).text for page in sample_pages(reader).pages.values())
        found = [secret for secret in secrets if secret in words]
        assert found == (list(secrets) if reader == "estimator" else []), reader


def test_every_tag_identity_and_number_stands_where_links_expect_it() -> None:
    document = sample_document()
    site = sample_pages("estimator")
    assert {row.tag for row in document.devices} <= set(browsed(site.pages["devices.md"]).ids)
    assert len(
        set(browsed(site.pages["cable-schedule.md"]).ids)
        & {row.identity.replace("/", "_") for row in document.cables}
    ) == len(document.cables)
    workings = [page for path, page in site.pages.items() if path.startswith("calculations/")]
    ids = {name for page in workings for name in browsed(page).ids}
    assert {row.number for row in document.workings} <= ids


def test_a_finding_shows_its_place_value_limit_source_and_remedy() -> None:
    words = browsed(sample_pages("reviewer").pages["findings.md"]).text
    for part in (
        "rooms.csv:5",
        "91.25 m",
        "88 m",
        "ANSI/TIA-568.2-D, 6.4 (memory)",
        "Move the equipment room",
    ):
        assert part in words
    assert words.index("F1 The cable") < words.index("F3 No channel") < words.index("F2 More power")
    assert "(B. Checker, 12 March 2026)" in words


def test_a_reader_without_findings_gets_their_count_alone() -> None:
    page = sample_pages("client").pages["findings.md"]
    assert "rooms.csv" not in page
    assert "✕ 1" in browsed(page).text


def test_us_customary_units_are_shown_throughout() -> None:
    document = sample_document()
    cover = document.cover.model_copy(update={"units": "us_customary", "locale": "en_US", "currency": "USD"})
    site = pages_for(document.model_copy(update={"cover": cover}), "estimator")
    heads = re.findall(r'<span class="unit">([^<]+)</span>', "".join(site.pages.values()))
    assert {"ft", "ft²", "lb", "°F"} <= set(heads)
    assert not {"m", "m²", "kg", "°C"} & set(heads)
    assert "299 ft" in browsed(site.pages["findings.md"]).text
    assert "91.25 m" not in browsed(site.pages["findings.md"]).text
    assert "$3,120.50" in browsed(site.pages["equipment.md"]).text


def test_a_change_to_one_room_leaves_the_pages_of_the_others_alone() -> None:
    document = sample_document()
    cables = tuple(
        row.model_copy(update={"length_m": 43.0}) if row.identity == "B101-BO1/N1/ER2-RK1" else row
        for row in document.cables
    )
    workings = tuple(
        row.model_copy(update={"result": 36.0}) if row.subject == "B101-CH1/N1/ER2-RK1" else row
        for row in document.workings
    )
    before = sample_pages("estimator").pages
    after = pages_for(document.model_copy(update={"cables": cables, "workings": workings}), "estimator").pages
    changed = {path for path in before if before[path] != after[path]}
    assert changed == {"cable-schedule.md", "calculations/room-B101.md"}


def test_nothing_that_the_author_wrote_is_left_out() -> None:
    document = sample_document()
    names = (
        "clarifications",
        "responsibilities",
        "summary",
        "rooms",
        "room-chamber",
        "system",
        "drawings",
        "equipment",
        "cables",
        "exclusions",
        "assumptions",
        "cautions",
        "scope",
        "warranty",
        "anything-else",
        "room-of-no-kind",
    )
    wording = {name: f"Words about {name} by the author." for name in names}
    site = pages_for(document.model_copy(update={"wording": wording}), "client")
    for name, words in wording.items():
        # What is not included stands on the client's summary too.
        wanted = 2 if name == "exclusions" else 1
        assert sum(browsed(page).text.count(words) for page in site.pages.values()) == wanted, name


def test_a_sheet_without_a_drawing_is_an_error() -> None:
    edition = edition_of(sample_document(), "client")
    with pytest.raises(ValueError, match="S-02"):
        pages_of(
            edition, {k: v for k, v in drawings_for(edition.document).items() if k != "S-02"}, templates()
        )


def test_standing_wording_stands_where_the_author_wrote_none() -> None:
    document = sample_document()
    standing = (*document.scope, *document.exclusions, *document.standing_assumptions)
    for wording, shown in (({}, 1), ({"scope": "S.", "exclusions": "E.", "assumptions": "A."}, 0)):
        site = pages_for(document.model_copy(update={"wording": wording}), "client")
        words = " ".join(browsed(page).text for page in site.pages.values())
        wanted = [2 * shown if line in document.exclusions else shown for line in standing]
        assert [words.count(line) for line in standing] == wanted


def test_the_logo_stands_on_the_cover() -> None:
    document = sample_document()
    cover = document.cover.model_copy(update={"logo": "house mark.svg"})
    page = browsed(pages_for(document.model_copy(update={"cover": cover}), "client").pages["index.md"])
    assert [attributes["src"] for tag, attributes in page.elements if tag == "img"] == [
        "images/house%20mark.svg"
    ]


def test_neighbouring_numbers_are_joined_and_both_ends_linked() -> None:
    page = sample_pages("reviewer").pages["calculations/room-B101.md"]
    assert "A1 to A3" in browsed(page).text
    assert '<a href="../assumptions.html#A1">A1</a> to <a href="../assumptions.html#A3">A3</a>' in page


def test_what_is_said_of_a_port_stands_with_the_device_on_it() -> None:
    site = sample_pages("reviewer")
    assert "Voltage at the device" in site.pages["calculations/room-B101.md"]
    assert 'href="../power.html#ER2-SW1_3"' in site.pages["calculations/room-B101.md"]
    assert "ER2-SW1_3" in browsed(site.pages["power.md"]).ids
