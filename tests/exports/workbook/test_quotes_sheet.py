"""Quotes laid side by side: lowest, whose it is, and how far it is from what is awarded."""

import re
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from proposal.exports.workbook.quotes_sheet import QUOTES
from tests.exports.workbook.test_book import cells, needs_office, recalculated, without_results
from tests.exports.workbook.test_spare_allowances import book, document
from tests.imports.spoilt_books import edited

QUOTES_FILE = "xl/worksheets/sheet4.xml"


def with_quotes(quotes: Mapping[str, str]) -> bytes:
    """Return the workbook with prices or names in cells of the sheet of quotes."""

    def typed(text: str) -> str:
        for cell, value in quotes.items():
            content = f"<v>{value}</v>" if re.fullmatch(r"[0-9.]+", value) else f"<is><t>{value}</t></is>"
            sort = "" if content.startswith("<v>") else ' t="inlineStr"'
            found = re.subn(
                rf'<c r="{cell}"( s="[0-9]+")[^>]*?(?:/>|>.*?</c>)',
                rf'<c r="{cell}"\1{sort}>{content}</c>',
                text,
                count=1,
            )
            assert found[1] == 1, cell
            text = found[0]
        return text

    return edited(book(), QUOTES_FILE, typed)


def test_every_article_that_we_buy_stands_once_with_what_it_costs_as_awarded() -> None:
    found = cells(book())[QUOTES]
    items = [found[f"A{n}"][0] for n in range(2, 200) if found.get(f"C{n}", ("", ""))[0]]
    sold = [(found[f"A{n}"][0], found[f"C{n}"][0]) for n in range(2, len(items) + 2)]
    assert len(set(sold)) == len(sold)
    devices = {row.model for row in document().equipment if row.unit_cost}
    others = {row.item for row in document().purchases if row.unit_cost and row.bought}
    assert set(items) == devices | others
    # An amount is rounded once, in its line: 135 at 2.3210 are 313.335, thus 313.34.
    awarded = sum(
        (Decimal(found[f"D{n}"][0]) * Decimal(found[f"F{n}"][0])).quantize(Decimal("0.01"), ROUND_HALF_UP)
        for n in range(2, len(items) + 2)
    )
    ours = [
        *(row.cost or 0 for row in document().equipment),
        *(row.cost or 0 for row in document().purchases),
    ]
    assert awarded == sum(ours)


@needs_office
@pytest.mark.independent
def test_quotes_typed_in_are_compared_with_what_is_awarded(tmp_path: Path) -> None:
    before = cells(book())[QUOTES]
    count, cost = (float(before[f"{column}2"][0]) for column in "DF")
    quotes = {"G1": "Anytown Wholesale", "H1": "Otherville Audio"}
    quotes |= {"G2": f"{cost + 5:.2f}", "H2": f"{cost - 10:.2f}", "G3": "1.00"}
    found = cells(recalculated(without_results(with_quotes(quotes)), tmp_path))[QUOTES]
    assert float(found["J2"][0]) == pytest.approx(cost - 10)
    assert found["K2"][0] == "Otherville Audio"
    assert float(found["L2"][0]) == pytest.approx(-10 * count)
    assert found["K3"][0] == "Anytown Wholesale"
    assert found.get("J4", ("", ""))[0] == ""
    (sums,) = (int(name[1:]) for name, (text, _) in found.items() if text == "Articles quoted")
    assert [float(found[f"{column}{sums}"][0]) for column in "GHI"] == [2, 1, 0]
    assert float(found[f"H{sums + 1}"][0]) == pytest.approx((cost - 10) * count)
    assert float(found[f"H{sums + 2}"][0]) == pytest.approx(cost * count)
    assert float(found[f"H{sums + 3}"][0]) == pytest.approx(-10 * count)
