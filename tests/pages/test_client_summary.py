"""The client's summary answers in one page: what, price, date, choices, and what is needed by when."""

import datetime
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from proposal.editions import edition_of
from proposal.pages.client_answers import choose_by, days_chosen
from proposal.pages.site_pages import pages_of
from tests.pages.site import drawings_for, sample_pages, templates
from tests.sample_document import sample_document

HEADS = ("What you get", "What we need from you", "What is still open")


def test_the_client_reads_what_it_asks_for_in_this_order() -> None:
    summary = sample_pages("client").pages["summary.md"]
    places = [summary.index(f"\n## {head}\n") for head in HEADS]
    assert places == sorted(places)
    # Price and day of acceptance stand before all words.
    assert summary.index("Price before tax") < summary.index("Acceptance") < places[0]
    assert "Outcome in figures" not in summary
    assert "Outcome in figures" in sample_pages("reviewer").pages["summary.md"]


def test_every_need_stands_on_the_page_with_its_day() -> None:
    document = sample_document()
    summary = sample_pages("client").pages["summary.md"]
    assert document.client_steps
    for one in document.client_steps:
        assert one.what in summary
        assert one.by is None or f'data-sort="{one.by.isoformat()}"' in summary


def test_without_alternates_nothing_is_said_of_choosing() -> None:
    edition = replace(edition_of(sample_document(), "client"), alternates=())
    pages = pages_of(edition, drawings_for(edition.document), templates()).pages
    assert "What you can choose" not in pages["summary.md"]
    assert "which alternates you choose" not in pages["summary.md"]


def test_what_is_not_included_is_listed_as_the_author_wrote_it_or_line_by_line() -> None:
    document = sample_document()
    written = {**document.wording, "exclusions": "- the furniture\n"}
    nobody = {name: words for name, words in document.wording.items() if name != "exclusions"}
    for wording, told in ((written, ("the furniture",)), (nobody, ("the carpets", "the curtains"))):
        changed = document.model_copy(
            update={"wording": wording, "exclusions": ("the carpets", "the curtains")}
        )
        pages = pages_of(edition_of(changed, "client"), drawings_for(changed), templates()).pages
        part = pages["summary.md"].split("\n## What is not included\n")[1].split("\n## ")[0]
        assert all(one in part for one in told)
        assert ("the carpets" in part) == (wording is nobody)


def test_alternates_are_chosen_with_the_order_while_the_price_holds() -> None:
    """An order that is planned after the last day of the price is to be given by that day."""

    def here(order: datetime.date) -> Any:
        asked = datetime.date(2031, 9, 30)
        programme = SimpleNamespace(start=order, asked_by=asked)
        cover = SimpleNamespace(valid_until=datetime.date(2031, 7, 14), locale="en_GB")
        return SimpleNamespace(document=SimpleNamespace(programme=programme, activities=(1,)), cover=cover)

    chosen = "Choose with the order; the days hold for an order"
    assert choose_by(here(datetime.date(2031, 5, 19))) == f"{chosen} by 19 May 2031."
    assert choose_by(here(datetime.date(2031, 8, 1))) == f"{chosen} by 14 July 2031."
    said = days_chosen(here(datetime.date(2031, 5, 19)))
    assert "hold for an order by 19 May 2031" in said
    assert "accepted by 30 September 2031, as you asked" in said
