"""One building in euros, yen and dinars: every view adds to the same totals, in the currency's places."""

import json
import re
from decimal import Decimal

from proposal.differences.changes import State, changes_between
from proposal.differences.consequences import consequences
from proposal.differences.inputs import Inputs
from proposal.estimate.price.takeoff_labour import labour_costs
from proposal.exports.comparison import comparison_json, comparison_text
from proposal.exports.csv_files import csv_files
from proposal.exports.document_json import document_json
from proposal.exports.table import schedules
from proposal.quantities.currencies import smallest_unit
from tests.money.conftest import Priced
from tests.money.views import (
    added,
    amounts_in,
    csv_views,
    document_views,
    labour_views,
    reference,
)

D = Decimal


def places_written(amount: Decimal) -> int:
    exponent = amount.as_tuple().exponent
    assert isinstance(exponent, int)
    return -exponent


def test_every_view_of_the_document_adds_to_the_same_totals(priced: Priced) -> None:
    for document in (priced.document, *(one.document for one in priced.proposal.alternates)):
        whole = reference(document)
        assert whole["price"] + whole["tax"] == whole["total"]
        assert whole["price"] - whole["cost"] == whole["margin"]
        for view, sums in document_views(document).items():
            for name, amount in sums.items():
                assert amount == whole[name], f"{priced.currency}: {name} of {view}"
        for view, (sums, lines) in labour_views(document).items():
            assert sums == lines, f"{priced.currency}: {view}"


def test_every_amount_is_written_with_the_places_of_its_currency(priced: Priced) -> None:
    parts = (
        priced.document,
        *(one.document for one in priced.proposal.alternates),
        *priced.proposal.combinations,
    )
    found = [pair for part in parts for pair in amounts_in(part, "money")]
    assert len(found) > 1000
    wrong = {name: amount for name, amount in found if places_written(amount) != priced.places}
    assert not wrong


def test_credits_and_what_is_left_out_are_there_to_be_added(priced: Priced) -> None:
    """The projects hold what the other tests are for: credits, conversions, prices finer than amounts."""
    document = priced.document
    assert min(line.price for line in document.price_lines) < 0
    assert {row.currency for row in document.exchange_rates} == {"SEK"}
    assert len(document.taxes) > 3
    assert document.yearly
    assert reference(document)["reserve"] > 0
    units = [value for _, value in amounts_in(document, "price by unit")]
    step = D(1).scaleb(-priced.places)
    assert any(value != value.quantize(step) for value in units)


def test_labour_of_the_take_off_costs_what_the_price_has_for_it(priced: Priced) -> None:
    """Amounts of the price are shared out to lines of labour, and from those to lines of the take-off."""
    computed = priced.computed
    costs = labour_costs(computed.price.lines, computed.labour.lines, smallest_unit(priced.currency))
    hours = [line for line in computed.price.lines if (line.group, line.kind) == ("labour", "hours")]
    assert sum(costs) == sum(line.cost for line in hours)
    named = {cause for row in priced.document.takeoff for cause in row.causes if row.section in CAUSING}
    bound = [
        cost for work, cost in zip(computed.labour.lines, costs, strict=True) if named.issuperset(work.causes)
    ]
    assert sum(row.labour_cost or 0 for row in priced.document.takeoff) == sum(bound)
    assert 0 < len(bound) < len(costs)


CAUSING = ("equipment", "cable")


def test_what_recurs_each_year_and_unit_prices_are_products_and_sums_in_whole_steps(priced: Priced) -> None:
    for row in priced.document.yearly:
        if row.unit_price is not None:
            assert row.price == row.unit_price * row.quantity
    for one in priced.document.unit_costs:
        assert one.computed == one.supply + one.work
    step = D(1).scaleb(-priced.places)
    assert all(one.computed % step == 0 for one in priced.document.unit_costs)
    assert {one.to for one in priced.document.unit_prices} == {"device", "hour"}
    assert all(one.price % step == 0 for one in priced.document.unit_prices)


def test_retention_changes_the_days_of_payments_only(priced: Priced) -> None:
    *parts, last = priced.document.payments
    assert last.number == "retention"
    assert last.due == added(parts, "retained")["retained"] > 0
    assert all(one.price + one.tax - one.retained == one.due for one in parts)


def test_alternates_alone_and_their_combinations_come_to_the_same(priced: Priced) -> None:
    prices = {row.chosen: row for row in priced.proposal.combinations}
    documents = {(): priced.document} | {(one.row.key,): one.document for one in priced.proposal.alternates}
    assert len(documents) == 3
    for chosen, document in documents.items():
        whole, row = reference(document), prices[chosen]
        assert (row.price, row.tax, row.total, row.cost) == (
            whole["price"],
            whole["tax"],
            whole["total"],
            whole["cost"],
        )
    less = prices["one_room_less",].price
    assert less is not None
    assert less < reference(priced.document)["price"]
    assert all(row.price is not None for row in prices.values())
    assert all(row.price + row.tax == row.total for row in prices.values())  # type: ignore[operator]  # just seen


def test_a_comparison_tells_the_difference_of_the_totals(priced: Priced) -> None:
    for one in priced.proposal.alternates:
        before, after = reference(priced.document), reference(one.document)
        told = {row.title: row.by for row in consequences(priced.document, one.document)}
        for name, total in (
            ("price before tax", "price"),
            ("tax", "tax"),
            ("price with tax", "total"),
            ("cost", "cost"),
            ("margin", "margin"),
            ("cost of equipment", "equipment"),
            ("cost of equipment and materials", "materials"),
        ):
            assert told[name] == after[total] - before[total]


def test_a_comparison_is_told_in_the_places_of_the_currency(priced: Priced) -> None:
    """In words and as JSON: what the price before tax was, is, and differs by."""
    locale = {"locale": "en_US"}
    before, after = (
        document.model_copy(update={"cover": document.cover.model_copy(update=locale)})
        for document in (priced.document, priced.proposal.alternates[0].document)
    )
    day = before.cover.revision.date
    changes = changes_between(
        State(label="base", document=before, date=day),
        State(label="alternate", document=after, date=day),
        Inputs(),
    )
    (line,) = (
        one
        for one in comparison_text(changes, "estimator").splitlines()
        if one.strip().startswith("Price: price before tax")
    )
    prices = [reference(before)["price"], reference(after)["price"]]
    prices.append(abs(prices[1] - prices[0]))
    figures = r"\d[\d,]*" + (rf"\.\d{{{priced.places}}}" if priced.places else "") + r"(?![\d.])"
    assert [D(one.replace(",", "")) for one in re.findall(figures, line)] == prices
    told = json.loads(comparison_json(changes, "estimator"))
    (row,) = (one for one in told["consequences"] if one["name"] == "price before tax")
    assert [D(row["before"]), D(row["after"])] == prices[:2]
    assert {places_written(D(row[side])) for side in ("before", "after")} == {priced.places}


def test_csv_files_add_up_in_the_places_of_the_currency(priced: Priced) -> None:
    files = csv_files(schedules(priced.edition))
    whole = reference(priced.document)
    for table, columns in csv_views(files, priced.currency).items():
        for name, cells in columns.items():
            amounts = [D(cell) for cell in cells if cell]
            assert sum(amounts) == whole[name], f"{priced.currency}: {name} of {table}.csv"
            assert {places_written(one) for one in amounts} == {priced.places}, f"{table}.csv"


def test_json_adds_up_in_the_places_of_the_currency(priced: Priced) -> None:
    found = json.loads(document_json(priced.edition))
    whole = reference(priced.document)
    for field in ("price_lines", "room_prices", "system_prices", "phase_prices", "group_prices", "payments"):
        for name in ("price", "tax"):
            texts = [row[name] for row in found[field]]
            assert sum(map(D, texts)) == whole[name], field
            assert {places_written(D(text)) for text in texts} == {priced.places}, field
    assert {name: D(found["price"][name]) for name in ("price", "tax", "total")} == {
        name: whole[name] for name in ("price", "tax", "total")
    }
    assert sum(D(row["cost"]) for row in found["takeoff"]) == whole["materials"]
