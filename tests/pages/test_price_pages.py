"""Pages of labour and price: what stands on them for whom, and that what is shown adds up."""

import re
from decimal import Decimal

import pytest

from proposal.document.document import Document
from proposal.document.readers import READERS, Reader
from proposal.document.rows.mains import EnergyRow
from proposal.document.rows.terms import ContractTermRow
from proposal.editions import edition_of
from tests.pages.site import Read, browsed, page_of, pages_for, sample_pages
from tests.sample_document import sample_document

PRICE = {"price.md", "price-items.md", "unit-prices.md"}
HOUSE = {"price-build-up.md", "margin.md", "cash-flow.md", "disclosure.md"}
LABOUR = {"labour.md", "labour-lines.md"}
AMOUNT = re.compile(r"-?€[\d,]+\.\d{2}")


def page(path: str, reader: Reader = "estimator") -> Read:
    return browsed(sample_pages(reader).pages[path])


def amounts(html: str, caption: str) -> list[list[Decimal]]:
    """Return the amounts of each row of a table, its totals last, read from the page."""
    table = html[html.index(f"<caption>{caption}") :]
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", table[: table.index("</table>")], re.DOTALL)
    return [
        [Decimal(re.sub(r"[€,]", "", one)) for one in AMOUNT.findall(re.sub("<[^>]+>", " ", row))]
        for row in rows[1:]
    ]


@pytest.mark.parametrize("reader", READERS)
def test_pages_of_price_and_labour_are_those_of_their_readers(reader: Reader) -> None:
    held = set(sample_pages(reader).pages) & (PRICE | HOUSE | LABOUR)
    assert (
        held
        == {
            "client": PRICE,
            "reviewer": LABOUR,
            "estimator": PRICE | HOUSE | LABOUR,
            "installer": set(),
        }[reader]
    )
    chapters = [title for title, _ in sample_pages(reader).nav]
    wanted = {"client": "Price", "reviewer": "Labour", "estimator": "Price and labour"}
    assert [one for one in chapters if re.match("price|labour", one, re.IGNORECASE)] == (
        [wanted[reader]] if reader in wanted else []
    )


@pytest.mark.parametrize("reader", READERS)
def test_the_summary_tells_price_hours_and_margin_to_whom_they_are_for(reader: Reader) -> None:
    words = page("summary.md", reader).text
    told = {
        "€5,653.57": ("client", "estimator"),  # with tax
        "€4,757.34": ("client", "estimator"),
        "7.47 h": ("reviewer", "estimator"),
        "€890.52": ("estimator",),
        "18.72 %": ("estimator",),  # 890.52 of 4,757.34
    }
    for figure, readers in told.items():
        assert (figure in words) == (reader in readers), figure


@pytest.mark.parametrize("reader", ["client", "estimator"])
def test_the_table_of_rooms_adds_to_the_total(reader: Reader) -> None:
    *rows, total = amounts(sample_pages(reader).pages["price.md"], "Price by room")
    assert [sum(row[n] for row in rows) for n in range(3)] == total
    assert total == [Decimal("4757.34"), Decimal("896.23"), Decimal("5653.57")]


@pytest.mark.parametrize("reader", ["client", "estimator"])
def test_the_lines_of_a_room_add_to_its_sum(reader: Reader) -> None:
    html = sample_pages(reader).pages["price-items.md"]
    *rows, total = amounts(html, "Lines of B101")
    assert [sum(row[n] for row in rows) for n in (1, 2)] == total == [Decimal("4491.67"), Decimal("869.66")]
    *rows, total = amounts(html, "Lines of For the project")
    assert [sum(row[n] for row in rows) for n in (1, 2)] == total == [Decimal("265.67"), Decimal("26.57")]


def test_a_client_finds_payments_days_and_how_long_the_price_holds() -> None:
    words = page("price.md", "client").text
    for part in (
        "Valid until 14 June 2026",
        "€2,148.36",
        "30 March 2026",
        "5 % of each payment is kept",
        "27 February 2026",
        "VAT Goods 20 %",
        "What we offer is firm .".replace(" .", "."),
    ):
        assert part in words, part
    assert "Cost" not in words
    assert "argin" not in words


def test_prose_about_the_price_is_read_with_the_price_alone() -> None:
    for reader in READERS:
        words = " ".join(browsed(one).text for one in sample_pages(reader).pages.values())
        assert ("What we offer is" in words) == (reader in ("client", "estimator"))


def test_without_taxes_the_price_says_so_and_shows_no_empty_columns() -> None:
    made = sample_document().model_copy(update={"taxes": ()})
    words = browsed(pages_for(made, "client").pages["price.md"]).text
    assert "Tax not included" in words
    assert "With tax" not in words


def detailed(detail: str) -> str:
    """Return what a client reads on the page of the price of the sample, as finely as told."""
    document = sample_document()
    total = document.price
    assert total is not None
    price = total.model_copy(update={"client_detail": detail})
    pages = pages_for(document.model_copy(update={"price": price}), "client").pages
    assert ("price-items.md" in pages) == (detail != "room")
    return browsed(pages["price.md"]).text


@pytest.mark.parametrize(
    ("detail", "words"),
    [
        ("room", "A room has one price for equipment, materials and work together."),
        ("system", "A system of a room has one price for equipment, materials and work together."),
        ("line", "What has a price of its own is listed"),
    ],
)
def test_the_price_says_what_its_lumps_are(detail: str, words: str) -> None:
    said = detailed(detail)
    assert words in said
    assert "is not the amount by which the whole would fall if the room were left out" in said


def test_what_has_no_stated_price_is_on_request() -> None:
    client, house = (page("unit-prices.md", reader).text for reader in ("client", "estimator"))
    assert "€1,940.00" in client
    assert "€65.00" in client
    for figure in ("€1,922.50", "€72.50", "€58.00", "1.25", "€22.14"):
        assert figure not in client, figure
        assert figure in house, figure
    assert "€22.14 €22.14 on request" in house


def test_the_build_up_shows_how_each_price_is_made() -> None:
    words = page("price-build-up.md").text
    assert "P1 Access point, 4 channels 2 each €1,480.00 €2,960.00 stated €1,850.00 €1,850.00" in words
    assert "P2 Category 6A, screened, 23 AWG 2.975 m €1.10 €3.27 markup 50 % €1.65 €4.91" in words


def test_the_margin_of_every_view_is_that_of_the_whole() -> None:
    html = sample_pages("estimator").pages["margin.md"]
    for by in ("room", "system", "phase", "kind of cost"):
        *_, total = amounts(html, f"Margin by {by}")
        assert total[:3] == [Decimal("3866.82"), Decimal("4757.34"), Decimal("890.52")], by


def test_the_house_reads_what_a_client_can_work_out() -> None:
    words = page("disclosure.md").text
    assert "Margin of the whole price 18.72 % 3.1 % 27.44 %" in words
    assert "All hours 7.47 h 4.67 h 11.95 h" in words
    assert "They are sold by the piece (E. Estimator, 2026-03-10)" in words


def test_the_cash_flow_tells_the_lowest_balance_and_when() -> None:
    words = page("cash-flow.md").text
    assert "Lowest balance -€2,614.69 Day of the lowest balance 10 May 2026" in words
    assert "Balance at the end €890.52" in words


def test_labour_shows_hours_to_reviewers_and_rates_to_the_house() -> None:
    for reader in ("reviewer", "estimator"):
        words = page("labour.md", reader).text
        assert "7.47 h" in words
        assert "Long ways for people and material × 1.05" in words
        assert ("€54.00" in words) == (reader == "estimator")
    lines = page("labour-lines.md", "reviewer").text
    assert "height of the work +8 %, repeated room −15 %" in lines
    assert "€" not in lines


def test_lengths_of_labour_are_in_feet_where_the_project_is() -> None:
    document: Document = sample_document()
    cover = document.cover.model_copy(update={"units": "us_customary", "locale": "en_US"})
    pages = pages_for(document.model_copy(update={"cover": cover}), "reviewer").pages
    # 42.5 m are 139.4 ft; 0.03609 h/m × 0.3048 m/ft are 0.011 h/ft.
    assert "139.4 ft 0.011 h" in browsed(pages["labour-lines.md"]).text


def energy(place: str, cost: str | None) -> EnergyRow:
    watts = dict.fromkeys(
        ("rest_w", "idle_w", "typical_w", "heat_w", "hourly_heat_btu", "hourly_air_m3"), 1.0
    )
    row = {"place": place, "in_use_h": 100.0, "idle_h": 10.0, "yearly_wh": 1000.0, **watts}
    return EnergyRow.model_validate({**row, "yearly_cost": cost and Decimal(cost)})


def test_electricity_of_a_year_is_told_beside_the_price_where_its_cost_is_known() -> None:
    """100.10 and 200.25 are 300.35; of a place without a cost nothing is said."""
    for last, told in (("200.25", True), (None, False)):
        rows = (energy("A1", "100.10"), energy("A2", last))
        document = sample_document().model_copy(update={"energy": rows})
        words = browsed(page_of(edition_of(document, "client"), "price.md")).text
        assert ("€300.35" in words) == told
        assert ("Electricity" in words) == told


def test_that_no_tax_is_charged_stands_beside_the_price_with_its_reason() -> None:
    exempt = ContractTermRow(what="tax exemption", words="a public body")
    document = sample_document().model_copy(update={"taxes": (), "contract_terms": (exempt,)})
    shown = page_of(edition_of(document, "client"), "price.md")
    assert "no tax is charged: a public body" in shown
    assert "not included" not in shown
