"""Random price books in currencies with no, two and three decimals: every view adds, whatever the rules.

More books: `PROPOSAL_LONG_TESTS=10 python -m pytest tests/money/test_random_price_books.py`.
"""

from decimal import Decimal
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.exports.csv_files import csv_files
from proposal.exports.table import schedules
from proposal.model.design_rules import Terms
from proposal.model.loading import load_project
from proposal.model.price.commercial import Price
from proposal.pipeline import Computed, compute
from tests.long_form import cases
from tests.money.projects import BUILDING, PLACES
from tests.money.test_every_view_adds import places_written
from tests.money.views import amounts_in, csv_views, document_views, labour_views, reference

CURRENCIES = ("EUR", "JPY", "KWD", "KRW", "OMR", "HUF")
PERCENT = st.integers(0, 600).map(lambda tenths: f"{tenths / 10:.1f} %")
RULE = st.tuples(st.sampled_from(["margin", "markup", "discount"]), PERCENT).map(
    lambda pair: {pair[0]: pair[1]}
)
GROUPS = ["equipment", "materials", "labour", "travel"]
RATE = st.decimals("0.00001", 2000, places=6).map(str)


def sums_of(currency: str) -> st.SearchStrategy[str]:
    """Return sums of a currency, credits among them, in whole steps."""
    places = PLACES.get(currency, {"KRW": 0, "OMR": 3}.get(currency, 2))
    return st.integers(-(10**7), 10**7).map(
        lambda steps: f"{Decimal(steps).scaleb(-places):.{places}f} {currency}"
    )


def shares(parts: list[int]) -> list[str]:
    """Return shares in per cent, to a tenth, that add up to 100."""
    whole = sum(parts)
    tenths = [1000 * part // whole for part in parts]
    tenths[0] += 1000 - sum(tenths)
    return [f"{one / 10:.1f} %" for one in tenths]


PAYMENTS = st.lists(st.integers(1, 50), min_size=1, max_size=6).map(
    lambda parts: {
        str(n): {"name": f"Payment {n}", "share": share, "event": "order"}
        for n, share in enumerate(shares(parts))
    }
)


@st.composite
def books(draw: st.DrawFn) -> tuple[str, dict[str, Any], dict[str, str]]:
    """Return a currency, a price book in it, and rates of the other currencies of the library."""
    currency = draw(st.sampled_from(CURRENCIES))
    allowances = draw(st.lists(sums_of(currency), max_size=3))
    rooms = st.sampled_from(["", "C101", "C102", "C201"])
    place = st.fixed_dictionaries({"name": st.just("Tax"), "goods": PERCENT, "services": PERCENT})
    book = {
        "client_detail": "system",
        "rules": {
            "rest": draw(RULE),
            "groups": draw(st.dictionaries(st.sampled_from(GROUPS), RULE, max_size=3)),
            "kinds": draw(st.dictionaries(st.sampled_from(["microphone", "charger", "cable"]), RULE)),
        },
        "surcharges": {
            "freight": {"name": "Freight", "share": draw(PERCENT), "of": ["equipment", "materials"]},
            "permits": {"name": "Permits", "amount": draw(sums_of(currency))},
        },
        "allowances": {
            str(n): {"name": f"Sum {n}", "price": one, "room": draw(rooms)}
            for n, one in enumerate(allowances)
        },
        "taxes": {"here": draw(place), "there": draw(place)},
        "place": "here",
        "places": {"C102": "there"},
        "shared_items": draw(st.sampled_from(["shared out", "building group"])),
        "payments": draw(PAYMENTS),
        "retention": f"{draw(st.integers(0, 99)) / 10:.1f} %",
    }
    rates = {code: draw(RATE) for code in ("EUR", "USD") if code != currency}
    return currency, book, rates


@cache
def base() -> Computed:
    return compute(load_project(BUILDING))


def document_in(currency: str, book: dict[str, Any], rates: dict[str, str]) -> Document:
    """Return the document of the building priced by a book; its design is chosen by its own prices."""
    brief = base().project.brief
    exchange = {
        code: {"rate": rate, "date": "2031-05-30", "source": "invented"} for code, rate in rates.items()
    }
    brief = brief.model_copy(
        update={
            "currency": currency,
            "price": Price.model_validate(book),
            "terms": Terms.model_validate({"exchange": exchange}),
        }
    )
    project = base().project.model_copy(update={"brief": brief})
    return document_of(Computed(project=project, design=base().design))


@pytest.mark.independent
@settings(max_examples=cases(12))
@given(books())
def test_every_view_adds_to_the_same_totals(
    drawn: tuple[str, dict[str, Any], dict[str, str]],
) -> None:
    currency, book, rates = drawn
    document = document_in(currency, book, rates)
    places = {"KRW": 0, "OMR": 3, "HUF": 2, **PLACES}[currency]
    whole = reference(document)
    for view, sums in document_views(document).items():
        for name, amount in sums.items():
            assert amount == whole[name], f"{name} of {view}"
    for view, (sums, lines) in labour_views(document).items():
        assert sums == lines, view
    wrong = {
        name: amount for name, amount in amounts_in(document, "money") if places_written(amount) != places
    }
    assert not wrong
    for table, columns in csv_views(
        csv_files(schedules(edition_of(document, "estimator"))), currency
    ).items():
        for name, cells in columns.items():
            assert sum(Decimal(cell) for cell in cells if cell) == whole[name], f"{name} of {table}.csv"
