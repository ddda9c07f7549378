"""What pages show of money: tables add to their totals, and no locale adds or drops a decimal."""

import html
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from proposal.document.document import Document
from proposal.editions import edition_of
from proposal.pages.site_pages import pages_of
from tests.long_form import LONG
from tests.money.conftest import Priced
from tests.money.views import NOTHING, reference
from tests.pages.site import drawings_for, templates

# Where prices of one unit stand, which may be finer than amounts.
OF_ONE = {"Unit list", "Unit cost", "Unit price", "List price", "Cost per hour", "Price per hour"}
OF_ONE |= {"Cost of each", "Price of one per year", "By"}
# A thousand and a half in each locale, by currency, as a reader expects it.
SHOWN = {
    ("EUR", "en_US"): "€1,000.50",
    ("EUR", "de_DE"): "1.000,50\N{NO-BREAK SPACE}€",
    ("EUR", "ja_JP"): "€1,000.50",
    ("EUR", "ar_KW"): "\N{RIGHT-TO-LEFT MARK}1,000.50\N{NO-BREAK SPACE}€",
    ("JPY", "en_US"): "¥1,001",
    ("JPY", "de_DE"): "1.001\N{NO-BREAK SPACE}¥",
    ("JPY", "ja_JP"): "\N{FULLWIDTH YEN SIGN}1,001",
    ("JPY", "ar_KW"): "\N{RIGHT-TO-LEFT MARK}1,001\N{NO-BREAK SPACE}JP¥",
    ("KWD", "en_US"): "KWD\N{NO-BREAK SPACE}1,000.500",
    ("KWD", "de_DE"): "1.000,500\N{NO-BREAK SPACE}KWD",
    ("KWD", "ja_JP"): "KWD\N{NO-BREAK SPACE}1,000.500",
    ("KWD", "ar_KW"): "\N{RIGHT-TO-LEFT MARK}1,000.500\N{NO-BREAK SPACE}د.ك.\N{RIGHT-TO-LEFT MARK}",
}
AT_HOME = {"EUR": "de_DE", "JPY": "ja_JP", "KWD": "ar_KW"}
"""The locale of each currency whose pages are read besides those in English; in the long form, every one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A table of a page: its caption, headings, and cells by row with what they sort by."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[tuple[str, str], ...], ...]
    foot: tuple[tuple[str, str], ...]


def words(markup: str) -> str:
    return html.unescape(re.sub(r"<[^>]+>", "", markup)).strip()


def cells(row: str) -> tuple[tuple[str, str], ...]:
    """Return the text of each cell of a row and the number it sorts by, empty where it has none."""
    found = re.findall(r"<t[hd]([^>]*)>(.*?)</t[hd]>", row, re.DOTALL)
    sorts = (re.search(r'data-sort="([^"]*)"', attributes) for attributes, _ in found)
    return tuple((words(text), sort[1] if sort else "") for (_, text), sort in zip(found, sorts, strict=True))


def tables(page: str) -> Iterator[Shown]:
    for table in re.findall(r"<table.*?</table>", page, re.DOTALL):
        head, _, body = table.partition("</thead>")
        above, is_above, below = body.partition('<tbody class="totals">')
        foot, _, body = below.partition("</tbody>") if is_above else ("", "", above)
        if not is_above:
            body, _, foot = body.partition("<tfoot>")
        rows = re.findall(r"<tr.*?</tr>", body, re.DOTALL)
        yield Shown(
            caption=words(head.partition("<caption>")[2].partition("</caption>")[0]),
            heads=tuple(map(words, re.findall(r'<th scope="col".*?</th>', head, re.DOTALL))),
            rows=tuple(map(cells, rows)),
            foot=cells(foot) if foot else (),
        )


PAGES: dict[tuple[str, str], Mapping[str, str]] = {}


def pages_in(document: Document, locale: str) -> Mapping[str, str]:
    """Return the estimator's pages of one of the projects in a locale, made once."""
    key = (document.cover.currency, locale)
    if key not in PAGES:
        PAGES[key] = made_in(document, locale)
    return PAGES[key]


def made_in(document: Document, locale: str) -> Mapping[str, str]:
    cover = document.cover.model_copy(update={"locale": locale})
    edition = edition_of(document.model_copy(update={"cover": cover}), "estimator")
    return pages_of(edition, drawings_for(edition.document), templates()).pages


def mark(currency: str, locale: str) -> re.Pattern[str]:
    """Return what an amount of the currency looks like: its sign before or after digits in groups."""
    one = SHOWN[currency, locale]
    digits = re.search(r"\d.*\d", one)
    assert digits is not None
    before, after = one[: digits.start()], one[digits.end() :]
    return re.compile(rf"{re.escape(before)}([\d.,]*\d){re.escape(after)}")


def test_amounts_have_the_places_of_the_currency_on_every_page(priced: Priced) -> None:
    locales = [
        locale
        for currency, locale in SHOWN
        if currency == priced.currency and (LONG or locale in ("en_US", AT_HOME[currency]))
    ]
    for locale in locales:
        assert_amounts_have_the_places_of_the_currency(priced, locale)


def assert_amounts_have_the_places_of_the_currency(priced: Priced, locale: str) -> None:
    decimal_sign = "," if locale == "de_DE" else "."
    like = mark(priced.currency, locale)
    digits = rf"\d{{1,3}}(?:[{'.' if locale == 'de_DE' else ','}]\d{{3}})*"
    exact = re.compile(digits + (rf"\{decimal_sign}\d{{{priced.places}}}" if priced.places else ""))
    finer = re.compile(rf"{digits}(?:\{decimal_sign}\d+)?")
    seen = {True: 0, False: 0}
    for path, page in pages_in(priced.document, locale).items():
        for table in tables(page):
            for row in (*table.rows, table.foot):
                for head, (text, _) in zip(table.heads, row, strict=False):
                    for amount in like.findall(text):
                        of_one = head in OF_ONE
                        wanted = finer if of_one else exact
                        assert wanted.fullmatch(amount), f"{path}, {table.caption}, {head}: {text}"
                        seen[of_one] += 1
        prose = words(re.sub(r"<table.*?</table>", "", page, flags=re.DOTALL))
        for amount in like.findall(prose):
            assert exact.fullmatch(amount), f"{path}: {amount}"
    assert seen[True] > 100
    assert seen[False] > 500


def test_every_table_of_a_page_adds_to_its_foot(priced: Priced) -> None:
    compared = 0
    for path, page in pages_in(priced.document, "en_US").items():
        if path == "cash-flow.md":
            continue  # its last column is a balance
        for table in tables(page):
            for n, (text, total) in enumerate(table.foot):
                if not mark(priced.currency, "en_US").search(text):
                    continue
                column = [Decimal(row[n][1]) for row in table.rows if row[n][1]]
                assert sum(column, NOTHING) == Decimal(total), f"{path}, {table.caption}, {table.heads[n]}"
                compared += 1
    assert compared > 60


def test_pages_show_the_totals_of_the_document(priced: Priced) -> None:
    pages = pages_in(priced.document, "en_US")
    whole = reference(priced.document)
    wanted = {
        ("price.md", "Price by room"): ("price", "tax", "total"),
        ("price.md", "Price by system"): ("price", "tax", "total"),
        ("price.md", "Payments: by when, and how much"): ("total",),
        ("price.md", "What each sum is made of"): ("price", "tax"),
        ("margin.md", "Margin by room"): ("cost", "price", "margin"),
        ("margin.md", "Margin by system"): ("cost", "price", "margin"),
        ("margin.md", "Margin by phase"): ("cost", "price", "margin"),
        ("cash-flow.md", "Money in and out, in order of days"): ("total", "paid out", "margin"),
        ("equipment.md", "Quantities by model, and the rooms they are for"): ("equipment",),
    }
    like = mark(priced.currency, "en_US")
    for (path, caption), names in wanted.items():
        (table,) = (one for one in tables(pages[path]) if one.caption == caption)
        shown = [like.search(text) for text, _ in table.foot]
        amounts = [Decimal(one[1].replace(",", "")) for one in shown if one]
        known = [(name, amount) for name, amount in zip(names, amounts, strict=False) if name in whole]
        assert len(known) >= min(len(names), 3) or names == ("equipment",)
        assert [amount for _, amount in known] == [whole[name] for name, _ in known], (path, caption)
    parts = [
        Decimal(table.foot[table.heads.index("Cost")][1])
        for path, page in pages.items()
        if path.startswith("takeoff")  # a long one has pages of its own
        for table in tables(page)
        # As the place spells it. What adds the lines up once more has no sum of its own.
        if table.caption.startswith(("Take-off", "Takeoff")) and not table.caption.endswith("added up")
    ]
    assert sum(parts) == whole["materials"]
