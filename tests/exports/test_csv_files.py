"""CSV files: RFC 4180, read back by Python's own reader."""

import csv
import io

import pytest

from proposal.document.document import Document
from proposal.editions import Edition, edition_of
from proposal.exports.csv_files import cell, csv_files
from proposal.exports.label_file import label_table
from proposal.exports.table import Column, Table, schedules


def read(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


@pytest.mark.independent
def test_every_file_reads_back_with_as_many_rows_and_columns(estimator: dict[str, Edition]) -> None:
    for edition in estimator.values():
        tables = schedules(edition)
        files = csv_files(tables)
        for table in tables:
            rows = read(files[f"{table.name}.csv"])
            assert len(rows) == len(table.rows) + 1
            assert {len(row) for row in rows} == {len(table.columns)}


def test_lines_end_with_carriage_return_and_line_feed_and_special_signs_are_quoted() -> None:
    table = Table(
        name="t", title="T", columns=(Column(name="a", heading="A, b"),), rows=(('say "x"\r\ny',), ("plain",))
    )
    assert csv_files([table])["t.csv"] == b'"A, b"\r\n"say ""x""\r\ny"\r\nplain\r\n'


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\tx", "\rx"])
def test_a_text_that_would_be_a_formula_begins_with_an_apostrophe(text: str) -> None:
    assert cell(text) == "'" + text


def test_a_negative_number_is_a_number() -> None:
    assert cell(-1.5) == "-1.5"
    assert cell(-0.00001) == "0"


@pytest.mark.independent
def test_the_lengths_of_the_cable_file_add_up_to_the_take_off_exactly(estimator: dict[str, Edition]) -> None:
    from decimal import Decimal

    for edition in estimator.values():
        document = edition.document
        scheduled = sum((Decimal(repr(round(row.length_m, 6))) for row in document.cables), Decimal(0))
        taken = sum((row.quantity for row in document.takeoff if row.section == "cable"), Decimal(0))
        assert taken == scheduled


def test_a_client_gets_no_cable_file_and_no_costs(documents: dict[str, Document]) -> None:
    edition = edition_of(documents["example"], "client")
    files = csv_files(schedules(edition))
    assert "cables.csv" not in files
    assert b"Cost" not in b"".join(files.values())


def test_labels_have_two_lines_a_cable_and_one_a_device(estimator: dict[str, Edition]) -> None:
    edition = estimator["example"]
    table = label_table(edition)
    assert len(table.rows) == 2 * len(edition.document.cables) + len(edition.document.devices)


@pytest.mark.independent
def test_the_lines_that_a_client_gets_add_up_to_the_price(documents: dict[str, Document]) -> None:
    from decimal import Decimal

    for document in documents.values():
        files = csv_files(schedules(edition_of(document, "client")))
        total = document.price
        assert total is not None
        head, *lines = read(files["offer.csv"])
        price, tax = (head.index(f"{name} ({total.currency})") for name in ("Before tax", "Tax"))
        assert sum(Decimal(row[price]) for row in lines) == total.price
        assert sum(Decimal(row[tax]) for row in lines) == total.tax
        for row in lines:
            quantity, each = (
                Decimal(row[head.index(name)]) for name in ("Quantity", f"Unit price ({total.currency})")
            )
            assert quantity * each == Decimal(row[price])


@pytest.mark.independent
def test_hours_of_the_labour_file_add_up_to_what_is_charged(estimator: dict[str, Edition]) -> None:
    from decimal import Decimal

    for edition in estimator.values():
        files = csv_files(schedules(edition))
        head, *lines = read(files["labour.csv"])
        charged = sum(Decimal(row[head.index("Charged (h)")]) for row in lines)
        head, *trips = read(files["travel.csv"])
        assert charged + sum(Decimal(row[head.index("Under way (h)")]) for row in trips) == (
            edition.document.labour_hours
        )


@pytest.mark.independent
def test_one_file_tells_the_network_people_all_of_each_device(documents: dict[str, Document]) -> None:
    for document in documents.values():
        files = csv_files(schedules(edition_of(document, "client")))
        heads, *rows = read(files["network-hosts.csv"])
        by_device = {row[0]: dict(zip(heads, row, strict=True)) for row in rows}
        model_heads, *models = read(files["network-models.csv"])
        of_model = {row[0]: dict(zip(model_heads, row, strict=True)) for row in models}
        _, *uses = read(files["network-uses.csv"])
        assert len(by_device) == len(document.network_hosts)
        for row in by_device.values():
            told = of_model.get(row["Model"], {})
            for head in (
                "How it is found",
                "How it is updated",
                "Time and clock",
                "Name servers",
                "Certificates",
            ):
                assert row[head] == told.get(head, "").replace("ask the maker", "")
            for use, protocol, way, *_ in uses:
                spoken = f"{use}: {protocol}, {way}" in row["Protocols"]
                assert spoken == (f"{use}: " in row["To be opened"])
        assert any(row["Groups sent"] and row["Switch port"] and row["Address"] for row in by_device.values())
