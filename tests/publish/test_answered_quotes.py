"""Answered requests that lie in a folder stand beside each other in the workbook."""

import csv
import io
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.editions import Edition, edition_of
from proposal.errors import InputError
from proposal.exports.quote_files import PRICE, SUPPLIER, quote_files
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.links import WANTED
from proposal.exports.workbook.quotes_sheet import QUOTES, Quoted
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from proposal.publish.answered_quotes import Answers, answered_quotes
from tests.exports.workbook.test_book import Cells, cells, needs_office, recalculated, without_results

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
DEARER, CHEAPER = "Anytown Wholesale (invented)", "Otherville Audio (invented)"


@cache
def computed() -> Computed:
    return compute(load_project(MINIMAL))


@cache
def edition() -> Edition:
    return edition_of(document_of(computed()), "estimator")


def answer(supplier: str, prices: dict[int, str], currency: str = "EUR") -> bytes:
    """Return a request as a supplier answers it: prices by the number of the line, the others left empty."""
    requests = [one for name, one in quote_files(edition()).items() if name.endswith(".csv")]
    request = max(requests, key=lambda one: one.count(b"\n"))
    rows = list(csv.DictReader(io.StringIO(request.decode("utf-8-sig"))))
    for n, price in prices.items():
        rows[n] |= {SUPPLIER: supplier, PRICE: price, "Currency": currency, "Quoted on": "2031-03-28"}
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, list(rows[0]))
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue().encode("utf-8-sig")


def read(folder: Path, **files: bytes) -> tuple[Quoted, ...]:
    for name, data in files.items():
        (folder / f"{name}.csv").write_bytes(data)
    return answers_in(folder).quotes


def answers_in(folder: Path) -> Answers:
    return answered_quotes(folder, computed().project, edition().document.cover)


def book_with(quotes: tuple[Quoted, ...]) -> bytes:
    tables = [one for one in schedules(edition()) if one.name in (*WANTED, "equipment")]
    return workbook(edition(), tables, quotes)


def test_only_what_is_answered_is_read(tmp_path: Path) -> None:
    (tmp_path / "letter.pdf").write_bytes(b"%PDF")
    found = read(tmp_path, one=answer(DEARER, {0: "1234.50"}), two=answer(CHEAPER, {0: "1000.00"}))
    assert [(one.supplier, one.price) for one in found] == [
        (DEARER, Decimal("1234.50")),
        (CHEAPER, Decimal("1000.00")),
    ]


def test_delivery_is_in_no_quote_and_is_told(tmp_path: Path) -> None:
    heads, row = answer(DEARER, {0: "1234.50"}).splitlines()[:2]
    of_article = next(csv.DictReader([heads.decode("utf-8-sig"), row.decode()]))["Model"].encode()
    (tmp_path / "one.csv").write_bytes(b"\r\n".join([heads, row, row.replace(of_article, b"", 1)]))
    found = answers_in(tmp_path)
    assert [one.item for one in found.quotes] == [of_article.decode()]
    assert [one.amount for one in found.charges] == [Decimal("1234.50")]


@needs_office
@pytest.mark.independent
def test_each_supplier_has_a_column_and_the_sums_are_those_that_libreoffice_computes(tmp_path: Path) -> None:
    quotes = read(
        tmp_path, one=answer(DEARER, {0: "1234.50", 1: "7.00"}), two=answer(CHEAPER, {0: "1000.00"})
    )
    book = book_with(quotes)
    ours: Cells = cells(book)
    theirs = cells(recalculated(without_results(book), tmp_path))
    sheet = theirs[QUOTES]
    assert [sheet[f"{column}1"][0] for column in "GHIJ"] == [DEARER, CHEAPER, "Quote 3", "Quote 4"]
    row = next(at[1:] for at, (text, _) in sheet.items() if at[0] == "A" and text == quotes[0].item)
    assert [Decimal(sheet[f"{column}{row}"][0]) for column in "GH"] == [Decimal("1234.5"), Decimal(1000)]
    assert (Decimal(sheet[f"K{row}"][0]), sheet[f"L{row}"][0]) == (Decimal(1000), CHEAPER)
    count, awarded = Decimal(sheet[f"D{row}"][0]), Decimal(sheet[f"F{row}"][0])
    assert Decimal(sheet[f"M{row}"][0]) == (Decimal(1000) - awarded) * count
    for at, (value, formula) in ours[QUOTES].items():
        if formula:
            other = sheet.get(at, ("", ""))[0]
            assert value == other or abs(Decimal(value) - Decimal(other)) < Decimal("1e-6"), (at, formula)


def test_what_is_no_answer_to_this_project_is_refused_all_at_once(tmp_path: Path) -> None:
    good = answer(DEARER, {0: "1.00"})
    other = good.replace(b"revision ", b"revision Z", 1)
    with pytest.raises(InputError) as refused:
        read(
            tmp_path,
            a=good,
            b=other,
            c=b"Code;Net\n1;2\n",
            d=answer(DEARER, {0: "2.00"}),
            e=answer(CHEAPER, {0: "2.00"}, currency="JPY"),
        )
    told = [str(one) for one in refused.value.problems]
    wanted = ("b.csv", "wanted an answered request", "wanted one price of", "found JPY")
    assert len(told) == 4
    assert all(any(part in line for line in told) for part in wanted), told
    with pytest.raises(InputError, match="wanted a folder of answered requests"):
        answered_quotes(tmp_path / "nowhere", computed().project, edition().document.cover)


def test_a_price_that_the_project_took_from_a_quote_stands_there_without_any_folder() -> None:
    seen = edition()
    first = next(row for row in seen.document.equipment if row.unit_cost)
    priced = first.model_copy(update={"priced": "quote 7, 2031-03-28", "supplier": DEARER})
    rows = tuple(priced if row is first else row for row in seen.document.equipment)
    document = seen.document.model_copy(update={"equipment": rows})
    edited = edition_of(document, "estimator")
    tables = [one for one in schedules(edited) if one.name in (*WANTED, "equipment")]
    sheet = cells(workbook(edited, tables))[QUOTES]
    assert sheet["G1"][0] == DEARER
    row = next(at[1:] for at, (text, _) in sheet.items() if at[0] == "A" and text == first.model)
    assert Decimal(sheet[f"G{row}"][0]) == first.unit_cost
