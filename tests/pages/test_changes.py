"""What changed since the issue before, on its own page, on the schedules and on the cover."""

import datetime
import re
from decimal import Decimal
from functools import lru_cache
from html import unescape
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from proposal.differences.changes import State
from proposal.differences.details import Detail
from proposal.differences.inputs import InputRow, Inputs, inputs_of
from proposal.differences.told_changes import ToldChange
from proposal.document.document import Document
from proposal.document.figures import settled
from proposal.document.making.disclosure import all_disclosure_parts
from proposal.document.making.document import document_of
from proposal.document.making.history import with_issued
from proposal.document.readers import READERS, Reader
from proposal.document.rows.price import ExchangeRow
from proposal.document.rows.price_movers import price_movers
from proposal.document.rows.terms import RevisionRow
from proposal.document.values import values_of
from proposal.editions import Edition, edition_of, with_changes
from proposal.exports.comparison import comparison_json, comparison_text
from proposal.pages.changes import marks_of
from proposal.pages.client_answers import rates_followed
from proposal.pages.client_summary import most_of_it
from proposal.pages.site_pages import pages_of, planned_pages
from proposal.publish.edition_site import templates
from proposal.publish.prices_in_records import received_before
from tests.canaries import Planter, Scan
from tests.pages.site import drawings_for, page_of
from tests.sample_document import sample_document
from tests.whole_projects import whole_computed

ROOT = Path(__file__).parent.parent.parent
AFTER = settled(sample_document())
GONE = AFTER.rooms[0].model_copy(update={"tag": "B199", "name": "Gone <b>Room</b>"})
NEW = AFTER.rooms[0].tag
BEFORE = AFTER.model_copy(
    update={
        "rooms": (
            GONE,
            AFTER.rooms[1].model_copy(update={"seats": AFTER.rooms[1].seats + 3}),
            *AFTER.rooms[2:],
        )
    }
)
INPUTS = inputs_of(
    (
        InputRow(path=("rooms", NEW), file="rooms.csv", line=2, kind="added"),
        InputRow(path=("rooms", GONE.tag), file="rooms.csv", line=9, kind="removed"),
        InputRow(
            path=("project", "price", "place"), before="a", after="qzx-b", file="project.yaml", kind="changed"
        ),
    )
)


def changed_edition(reader: Reader, inputs: Inputs = INPUTS) -> Edition:
    """Return what a reader sees of the later document and of its changes."""
    earlier = State(label="revision A", document=BEFORE, date=datetime.date(2026, 1, 5))
    return with_changes(edition_of(AFTER, reader), earlier, inputs)


def changed_page(reader: Reader, path: str = "changes.md") -> str:
    return page_of(changed_edition(reader), path)


def words(html: str) -> str:
    """Return what a reader of a line reads."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", html)).split())


def row_of(page: str, name: str) -> str:
    return next(words(line) for line in page.splitlines() if line.startswith("<tr") and name in words(line))


def test_without_an_earlier_issue_there_is_no_page_and_no_mark() -> None:
    edition = edition_of(AFTER, "estimator")
    pages = pages_of(edition, drawings_for(edition.document), templates()).pages
    assert "changes.md" not in pages
    assert not any("row-mark" in page for page in pages.values())


ROW_BY_ROW = tuple(reader for reader in READERS if reader != "client")


@pytest.mark.parametrize("reader", ROW_BY_ROW)
def test_totals_come_before_rows(reader: Reader) -> None:
    page = changed_page(reader)
    assert "revision A of 5 January 2026" in unescape(page)
    assert page.index("## Consequences") < page.index("## Rooms")
    assert row_of(page, "Seats").startswith("Seats Rooms")


@pytest.mark.parametrize("reader", ROW_BY_ROW)
def test_new_changed_and_removed_rows_are_told_by_their_words(reader: Reader) -> None:
    page = changed_page(reader)
    assert "✓ new" in row_of(page, f"Room {NEW}")
    assert "✕ removed" in row_of(page, f"Room {GONE.tag}")
    changed = AFTER.rooms[1]
    assert f"Seats: {changed.seats + 3} → {changed.seats}" in row_of(page, f"Room {changed.tag}")


def test_the_client_reads_price_and_sentences_and_no_keys_of_rows() -> None:
    page = words(changed_page("client"))
    assert "revision A of 5 January 2026" in page
    assert page.index("Price and date") < page.index("Changes to rooms and building")
    assert "This room is new: " in page
    assert "This room is no longer part of the proposal." in page
    changed = AFTER.rooms[1]
    assert f"It has {changed.seats} seats; before, {changed.seats + 3}." in page
    assert "rows that differ" not in page
    assert "→" not in page


@pytest.mark.parametrize("reader", ROW_BY_ROW)
def test_who_reads_rows_reads_the_sentences_too(reader: Reader) -> None:
    page = words(changed_page(reader))
    assert page.index("This room is new: ") < page.index("Rooms: rows that differ")


def test_a_removed_row_is_no_link_and_what_people_wrote_is_escaped() -> None:
    page = changed_page("estimator")
    assert "rooms.html#B199" not in page
    assert "<b>Room" not in page


def test_rows_of_the_schedule_carry_sign_and_word() -> None:
    page = changed_page("client", "rooms.md")
    assert "+ new" in row_of(page, NEW)
    assert "Δ changed" in row_of(page, AFTER.rooms[1].tag)
    assert page.count("row-mark") == 2


@pytest.mark.parametrize("reader", READERS)
def test_files_and_lines_are_for_checkers_and_prices_for_the_house(reader: Reader) -> None:
    edition = changed_edition(reader)
    pages = "\n".join(pages_of(edition, drawings_for(edition.document), templates()).pages.values())
    assert ("rooms.csv:2" in unescape(pages)) == (reader in ("reviewer", "estimator"))
    assert ("qzx" in pages) == (reader == "estimator")


def test_a_row_leads_to_the_line_that_it_follows_from() -> None:
    page = changed_page("reviewer")
    line = next(one for one in page.splitlines() if one.startswith("<tr") and f"Room {NEW}" in words(one))
    assert 'href="#input-1"' in line
    assert 'id="input-1"' in page


@pytest.mark.parametrize(
    ("inputs", "told"),
    [
        (inputs_of((InputRow(path=("rooms", NEW), file="rooms.csv", line=2, kind="added"),)), "1"),
        (
            inputs_of(
                (InputRow(path=("project", "rules", "x"), file="project.yaml", line=2, kind="changed"),),
                ("another version",),
            ),
            "1 or others",
        ),
        (
            inputs_of(
                tuple(
                    InputRow(path=("rooms", NEW, name), file="rooms.csv", line=2, kind="changed")
                    for name in ("x", "y")
                )
            ),
            "1 or 2",
        ),
    ],
)
def test_a_row_follows_from_one_line_only_where_that_is_certain(inputs: Inputs, told: str) -> None:
    page = page_of(changed_edition("reviewer", inputs), "changes.md")
    assert row_of(page, f"Room {NEW}").endswith(f" {told}")


def test_many_rows_stand_on_pages_of_their_subjects(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = changed_page("reviewer")
    rows = {words(one) for one in whole.partition("## Rooms")[2].splitlines() if one.startswith("<tr><th")}
    monkeypatch.setattr("proposal.pages.changes._MOST_ROWS", 2)
    edition = changed_edition("reviewer")
    planned = planned_pages(edition, drawings_for(edition.document), templates())
    parts = {path: planned.page(path) for path in planned.views if path.startswith("changes/")}
    overview = planned.page("changes.md")
    assert "rows that differ" not in overview
    assert "changes/rooms/1.md" in parts
    for path, page in parts.items():
        assert path.replace(".md", ".html") in overview
        assert page.count('<tr><th scope="row"') <= 2
    assert {words(one) for page in parts.values() for one in page.splitlines() if "<tr><th" in one} >= rows
    assert 'href="../../changes.html#input-1"' in "".join(parts.values())


@lru_cache(maxsize=1)
def planted() -> tuple[Document, Document, Planter]:
    """Return the example, the same with a canary in every restricted field, and who planted them."""
    computed = whole_computed(ROOT / "example_project")
    told = all_disclosure_parts(computed, received_before(ROOT / "example_project"))
    example = document_of(computed).model_copy(update=told)
    planter = Planter()
    return example, planter.planted(example), planter


@pytest.mark.parametrize("reader", READERS)
def test_nothing_of_the_earlier_issue_reaches_a_reader_who_may_not_see_it(reader: Reader) -> None:
    """Every restricted field of the earlier document is a canary, so that each of them has changed."""
    example, earlier, planter = planted()
    state = State(label="revision A", document=earlier, date=datetime.date(2026, 1, 5))
    edition = with_changes(edition_of(example, reader), state, INPUTS)
    assert edition.changes is not None
    told = comparison_text(edition.changes, reader) + comparison_json(edition.changes, reader)
    planned = planned_pages(edition, drawings_for(edition.document), templates())
    page = "".join(planned.page(path) for path in planned.views if path.startswith("changes"))
    scan = Scan(planter.canaries).content("told.md", (told + page).encode())
    assert scan.leaks(reader) == []
    if reader == "estimator":
        assert len(scan.paths(".md")) > 90


def revision(identity: str, day: int, purpose: str = "for comment") -> RevisionRow:
    return RevisionRow(
        identity=identity,
        date=datetime.date(2026, 1, day),
        purpose=purpose,
        prepared_by="",
        checked_by="",
        changes="",
    )


def covered(identity: str, day: int, *history: RevisionRow) -> Document:
    cover = AFTER.cover.model_copy(update={"revision": revision(identity, day), "history": history})
    return AFTER.model_copy(update={"cover": cover})


def test_the_cover_names_every_issue_once() -> None:
    first = covered("A", 1, revision("0", 1))
    second = with_issued(covered("B", 5, revision("A", 1, "as project.yaml says")), first)
    third = with_issued(covered("C", 9), second)
    found = [(row.identity, row.purpose, row.issued) for row in third.cover.history]
    assert found == [("A", "as project.yaml says", True), ("B", "for comment", True)]
    assert [row.identity for row in second.cover.history] == ["A"]


def test_a_revision_that_is_built_again_after_its_issue_is_not_its_own_past() -> None:
    assert with_issued(covered("A", 2), covered("A", 1)).cover.history == ()


def test_a_list_that_is_new_as_a_whole_or_nearly_so_has_no_marks() -> None:
    """Of ten streets eight are new, of four rooms all; there were no bridges before."""
    before = SimpleNamespace(streets=(1, 2), rooms=(1,), bridges=())
    after = SimpleNamespace(streets=tuple(range(10)), rooms=tuple(range(4)), bridges=(1,))
    edition: Any = SimpleNamespace(
        changes=SimpleNamespace(before=SimpleNamespace(document=before)), document=after
    )
    rows = {"streets": 8, "rooms": 4, "bridges": 1}
    details = [one_new(name, key) for name, count in rows.items() for key in range(count)]
    assert {collection for collection, _ in marks_of(details, edition)} == {"rooms"}
    seven = [one for one in details if one.path[1] != ("7",)]
    assert {collection for collection, _ in marks_of(seven, edition)} == {"rooms", "streets"}


def one_new(collection: str, key: int) -> Detail:
    return Detail(subject="rooms", sign="new", name="one", about="", facts=(), path=(collection, (str(key),)))


def test_the_summary_names_what_moved_the_price_most() -> None:
    """Of three parts the two that moved it most are named, whichever way; one alone is told by the total."""
    here: Any = SimpleNamespace(document=AFTER, values=values_of(AFTER))
    parts = [
        ToldChange(cause="follows", about=name, price_before=Decimal(100), price_now=Decimal(now))
        for name, now in (("Hall", "101"), ("Office", "60"), ("Attic", "120"))
    ]
    (said,) = (unescape(one) for one in most_of_it(here, parts))
    assert said.index("Office") < said.index("Attic")
    assert "Hall" not in said
    assert "40.00" in said
    assert "20.00" in said
    assert not list(most_of_it(here, parts[:1]))


def test_it_is_told_which_sums_follow_an_exchange_rate_and_how_long() -> None:
    def said(*rates: ExchangeRow) -> str:
        movers = price_movers((), rates, (), 0, 0, (), 1, rises=False)
        here: Any = SimpleNamespace(document=SimpleNamespace(price_movers=movers))
        return rates_followed(here)

    assert said() == ""
    assert said(ExchangeRow(currency="SEK")) == "Sums in SEK follow the rate until the order."
    # A sum set aside is settled by an invoice that comes after the order.
    aside = "The sum set aside in SEK is paid at the rate of the day of its invoice."
    assert said(ExchangeRow(currency="SEK", only_set_aside=True)) == aside
    both = said(ExchangeRow(currency="NOK"), ExchangeRow(currency="SEK", only_set_aside=True))
    assert both == f"Sums in NOK follow the rate until the order. {aside}"
