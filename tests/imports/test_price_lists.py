"""Price lists of suppliers in the forms in which they come, five hundred lines each."""

import csv
import datetime
import io
import shutil
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.imports.list_rows import CellPlace
from proposal.imports.new_findings import told_findings
from proposal.imports.price_list_mapping import read_mapping
from proposal.imports.price_lists import read_price_list
from proposal.model.equipment.library import Library
from proposal.model.equipment.materials import Cable
from proposal.model.equipment.price_origins import origin_of
from proposal.model.loading import load_project
from proposal.model.price.price_list import PriceListMapping
from proposal.publish.importing import Import, price_list_import, write_import
from proposal.quantities.money import Money

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
SUPPLIER = "Anytown Wholesale (invented)"
LINES = 500
DAY, LAST = datetime.date(2031, 3, 28), datetime.date(2031, 12, 31)
FACTOR = Decimal("1.07")


@cache
def library() -> Library:
    return load_project(MINIMAL).library


def wanted_prices() -> Mapping[tuple[str, str], Money]:
    """Return a new price of every entry and reel of the library: 7 % more, to the cent."""
    found: dict[tuple[str, str], Money] = {}
    for entry in library().entries():
        sold: dict[tuple[str, str], Money] = {(entry.model, ""): entry.cost}
        if isinstance(entry, Cable):
            sold |= {(entry.model, name): reel.cost for name, reel in entry.reels.items()}
        for key, cost in sold.items():
            found[key] = Money((cost.amount * FACTOR).quantize(Decimal("0.01")), cost.currency)
    return found


def strangers() -> range:
    return range(LINES - len(wanted_prices()))


def plain_csv() -> tuple[bytes, str]:
    """Commas, decimal points, our model codes; reels have a column of their own."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(["Code", "Text", "Sold as", "Net", "Currency", "From", "Until"])
    for (model, reel), price in wanted_prices().items():
        writer.writerow([model, "x", reel, f"{price.amount:,}", price.currency, DAY, LAST])
    for n in strangers():
        writer.writerow([f"ZZ-{n}", "another", "", "1.00", "EUR", DAY, LAST])
    mapping = f"""\
supplier: {SUPPLIER}
source: spring list
columns:
  {{model: Code, sold_as: Sold as, price: Net, currency: Currency, priced_on: From, valid_until: Until}}
"""
    return text.getvalue().encode(), mapping


def continental_csv() -> tuple[bytes, str]:
    """Semicolons, decimal commas, days before months, prices of a hundred, numbers of the supplier's own."""
    lines = ["\ufeffArt.-Nr.;Text;Preis;je;Stand"]
    articles = {}
    for n, ((model, reel), price) in enumerate(wanted_prices().items()):
        articles[f"4711.{n:04}"] = ", ".join(part for part in (model, reel) if part)
        entry = library().entry(model)
        pieces = entry.pack_quantity if entry.unit == "pack" else 1
        hundred = not reel and 100 % pieces == 0
        amount = price.amount * 100 / pieces if hundred else price.amount
        pack = 100 if hundred else 1 if reel else pieces
        written = f"{amount:,.2f}".replace(",", " ").replace(".", ",").replace(" ", ".")
        lines.append(f"4711.{n:04};x;{written};{pack};28.03.2031")
    lines += [f"9999.{n:04};y;1,00;1;28.03.2031" for n in strangers()]
    mapping = f"""\
supplier: {SUPPLIER}
source: spring list
columns: {{article: Art.-Nr., price: Preis, pack: je, priced_on: Stand}}
currency: EUR
decimal_mark: ","
dates: DD.MM.YYYY
valid_until: {LAST}
articles:
""" + "".join(f'  "{number}": "{what}"\n' for number, what in articles.items())
    return "\r\n".join(lines).encode(), mapping


def workbook() -> tuple[bytes, str]:
    """A sheet of a workbook with numbers and days as such, below a line of heads."""
    import xlsxwriter

    made = io.BytesIO()
    with xlsxwriter.Workbook(made, {"in_memory": True}) as book:
        book.add_worksheet("About").write_string(0, 0, "Prices of spring")
        sheet, day = book.add_worksheet("Prices"), book.add_format({"num_format": "dd.mm.yyyy"})
        for n, head in enumerate(("Item", "Reel", "Price", "Valid to")):
            sheet.write_string(0, n, head)
        row = 0
        for row, ((model, reel), price) in enumerate(wanted_prices().items(), 1):
            sheet.write_string(row, 0, model)
            sheet.write_string(row, 1, reel)
            sheet.write_number(row, 2, float(price.amount))
            sheet.write_datetime(row, 3, datetime.datetime.combine(LAST, datetime.time()), day)
        for n in strangers():
            sheet.write_string(row + 1 + n, 0, f"ZZ-{n}")
            sheet.write_number(row + 1 + n, 2, 1)
    mapping = f"""\
supplier: {SUPPLIER}
source: spring list
sheet: Prices
columns: {{model: Item, sold_as: Reel, price: Price, valid_until: Valid to}}
currency: EUR
priced_on: {DAY}
"""
    return made.getvalue(), mapping


FORMS: Mapping[str, Callable[[], tuple[bytes, str]]] = {
    "list.csv": plain_csv,
    "liste.csv": continental_csv,
    "list.xlsx": workbook,
}


def taken(folder: Path, name: str, data: bytes, mapping: str) -> Import:
    (folder / name).write_bytes(data)
    (folder / "mapping.yaml").write_text(mapping, encoding="utf-8")
    project = folder / "project"
    if not project.exists():
        shutil.copytree(MINIMAL, project)
    return price_list_import(folder / name, folder / "mapping.yaml", project, None, "project")


@pytest.mark.independent
@pytest.mark.parametrize("name", FORMS)
def test_five_hundred_lines_are_read_and_every_price_is_that_of_the_list(name: str, tmp_path: Path) -> None:
    data, mapping = FORMS[name]()
    found = taken(tmp_path, name, data, mapping)
    assert found.told[0] == f"500 lines read: {len(wanted_prices())} prices change, 0 stay as they are"
    assert found.told[1].startswith("not in the library: ")
    write_import(found, tmp_path / "project")
    project = load_project(tmp_path / "project")
    for (model, reel), price in wanted_prices().items():
        entry = project.library.entry(model)
        assert isinstance(entry, Cable) or not reel
        cost = entry.reels[reel].cost if isinstance(entry, Cable) and reel else entry.cost
        assert (cost.amount, cost.currency) == (price.amount, price.currency), (model, reel)
        origin = origin_of(entry, reel)
        assert (origin.supplier, origin.told) == (SUPPLIER, f"spring list, {DAY}")
        assert origin.holds_until == LAST
        assert project.layer("library", model, "cost") == "project"
    again = taken(tmp_path, name, data, mapping)
    assert again.changes == ()
    assert again.told[0] == f"500 lines read: 0 prices change, {len(wanted_prices())} stay as they are"


HEADS = "Code;Net;Pack;Currency;From;Until\n"
MAPPING = PriceListMapping(
    supplier=SUPPLIER,
    columns={
        "model": "Code", "price": "Net", "pack": "Pack", "currency": "Currency", "priced_on": "From",
        "valid_until": "Until",
    },
    decimal_mark=".",
    dates="YYYY-MM-DD",
)  # fmt: skip


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("A;=1+1;1;EUR;2031-04-01;", "list.csv:2:3: Net: wanted a number such as 1234.50; found =1+1"),
        ("A;12,50;1;EUR;2031-04-01;", "Net: wanted a number such as 1234.50; found 12,50"),
        ("A;-1;1;EUR;2031-04-01;", "Net: wanted a price that is not below 0; found -1"),
        ("A;1e9;1;EUR;2031-04-01;", "Net: wanted a number such as"),
        ("A;99999999999;1;EUR;2031-04-01;", "Net: wanted a number from 0 to 1000000000"),
        ("A;1;0;EUR;2031-04-01;", "Pack: wanted a number from 0.001 to"),
        ("A;1;1;EURO;2031-04-01;", "Currency: wanted a currency by its three letters"),
        ("A;1;1;EUR;01.04.2031;", "From: wanted a day as YYYY-MM-DD; found 01.04.2031"),
        ("A;1;1;EUR;2031-02-30;", "From: wanted a day as YYYY-MM-DD; found 2031-02-30"),
        ('"A;""B""";  x;1;EUR;2031-04-01;', "list.csv:2:13: Net: wanted a number such as"),
        ('"A\nB";1;0;EUR;2031-04-01;', "list.csv:3:6: Pack: wanted a number from 0.001 to"),
        ("A;1;1;EUR;;", "priced_on"),
        ("", "wanted a column Code; found none (did you mean Kode?)"),
    ],
)
def test_a_line_that_cannot_be_read_is_said_with_its_line(lines: str, said: str) -> None:
    heads = HEADS if lines else HEADS.replace("Code", "Kode")
    told = [str(one) for one in read_price_list((heads + lines).encode(), "list.csv", MAPPING).problems]
    assert len(told) == 1
    assert said.replace("priced_on", "From: wanted the day of the price; found nothing") in told[0]


LINE = "Gehäuse;12.50;1;EUR;2031-04-01;\n"


@pytest.mark.parametrize(
    ("data", "encoding"),
    [
        ((HEADS + LINE).encode(), "UTF-8"),
        (("sep=;\r\n" + HEADS + LINE).encode("utf-8-sig"), "UTF-8"),
        ((HEADS + LINE).encode("cp1252"), "Windows-1252"),
        ((HEADS + LINE).encode("utf-16"), "UTF-16"),
    ],
)
def test_lists_come_as_the_programs_of_suppliers_save_them(data: bytes, encoding: str) -> None:
    mapping = MAPPING.model_copy(update={"encoding": encoding})
    (line,) = read_price_list(data, "list.csv", mapping).lines
    assert (line.model, line.price) == ("Gehäuse", Decimal("12.50"))


@pytest.mark.parametrize(
    ("data", "encoding", "said"),
    [
        (
            (HEADS + LINE).encode("cp1252"),
            "UTF-8",
            "0xE4, which is not UTF-8 (save it again as CSV in UTF-8, or answer in",
        ),
        ((HEADS + LINE).encode("utf-16"), "UTF-8", "may say `encoding:` UTF-16 or"),
        (b"\x81", "Windows-1252", "wanted a text in Windows-1252, as the mapping says"),
        ((HEADS + '"A;1;1;EUR;2031-04-01;\n').encode(), "UTF-8", "wanted correct CSV; found unexpected end"),
        ((HEADS + "A\0;1;1;EUR;2031-04-01;\n").encode(), "UTF-8", "wanted a text of printable characters"),
    ],
)
def test_a_list_in_other_signs_than_said_is_refused(data: bytes, encoding: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        read_price_list(data, "list.csv", MAPPING.model_copy(update={"encoding": encoding}))
    assert said in str(refused.value.problems[0])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("columns: {price: Net}\n", "m.yaml:1:1: wanted a column article or model, such as `columns: "),
        ("supplier: x\ncurrency: EUR\ncolumns: {model: A, price: B}\n", "wanted priced_on"),
        ("supplier: x\ncolumns: {model: A, cost: B}\n", "columns: wanted one of article, model, price"),
        ("- a\n", "wanted names with values"),
        (
            "supplier: x\ncurrency: EUR\npriced_on: 3/2031\ncolumns: {model: A}\n",
            "m.yaml:3:12: priced_on",
        ),
        ("supplier: x\ncolumns: {model: A}\ndecimal_mark: x\n", "m.yaml:3:15: decimal_mark"),
        (
            "supplier: x\nsuplier: y\ncolumns: {model: A}\n",
            "m.yaml:2:1: wanted one of supplier, source",
        ),
    ],
)
def test_a_mapping_that_tells_too_little_is_refused(text: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        read_mapping(text.encode(), "m.yaml")
    assert any(said in str(problem) for problem in refused.value.problems), refused.value


def test_what_a_mapping_says_wrongly_of_list_and_library_is_told_at_its_line(tmp_path: Path) -> None:
    """Heads that the list does not have, and articles that are of nothing in the library: all at once."""
    cable = next(one for one in library().entries() if isinstance(one, Cable) and one.reels)
    said = f"supplier: {SUPPLIER}\ncurrency: EUR\npriced_on: {DAY}\n"
    heads = said + "columns:\n  article: No.\n  price: Nett\n  list_price: List\n"
    data = b"No.;Net\n1;2.00\n"
    with pytest.raises(InputError) as refused:
        taken(tmp_path, "list.csv", data, heads)
    assert [str(one).replace(f"{tmp_path}/", "") for one in refused.value.problems] == [
        "mapping.yaml:6:10: columns.price: wanted a head of list.csv:1:1; found Nett (did you mean Net?)",
        "mapping.yaml:7:15: columns.list_price: wanted a head of list.csv:1:1 (No., Net); found List",
    ]
    articles = f"articles:\n  '1': {cable.model}\n  '2': no such thing\n  '3': {cable.model}, a barrel\n"
    with pytest.raises(InputError) as refused:
        taken(tmp_path, "list.csv", data, said + "columns: {article: No., price: Net}\n" + articles)
    told = [str(one).removeprefix(str(tmp_path)) for one in refused.value.problems]
    assert [one.partition("; found")[0] for one in told] == [
        "/mapping.yaml:7:8: articles.2: wanted a model code",
        f"/mapping.yaml:8:8: articles.3: wanted a reel of {cable.model} ({', '.join(cable.reels)})",
    ]


def test_each_price_that_should_not_be_relied_on_is_a_finding(tmp_path: Path) -> None:
    """Zero, above the list, past its day, awaited, missing and given twice: each by its own line."""
    project = tmp_path / "project"
    shutil.copytree(MINIMAL, project)
    bought = [line.model for line in _bought(project)]
    zero, above, past, awaited, missing, twice = bought[:6]
    fields = {model: _field(model) for model in bought}
    (project / "library").mkdir()
    (project / "library" / "anytown.yaml").write_text(
        "".join(f"{fields[model]}: {{{model}: {{supplier: {SUPPLIER}}}}}\n" for model in [missing])
        + "source: who sells it\n"
    )
    (project / "library" / "zz-ours.yaml").write_text(
        f"{fields[twice]}: {{{twice}: {{cost: {_times(twice, 1)} EUR}}}}\n"
    )
    lines = [
        f"{zero};0;1;EUR;2031-04-01;2039-01-01",
        f"{above};{_times(above, 4)};1;EUR;2031-04-01;2039-01-01",
        f"{past};{_times(past, 0.9)};1;EUR;2029-04-01;2029-05-01",
        f"{awaited};unknown;1;EUR;2031-04-01;2039-01-01",
        f"{twice};{_times(twice, 1.1)};1;EUR;2031-04-01;2039-01-01",
        f"{missing};;1;EUR;;",
    ]
    mapping = f"supplier: {SUPPLIER}\ncolumns: {{model: Code, price: Net, pack: Pack, currency: Currency, "
    mapping += "priced_on: From, valid_until: Until}\n"
    found = taken(tmp_path, "list.csv", (HEADS + "\n".join(lines)).encode(), mapping)
    lines = list(told_findings(found.findings, found.after))
    told = {rule: line.strip() for rule in RULES for line in lines if f" {rule}: " in line}
    wanted = {
        "price-zero": zero, "cost-above-list": above, "price-expired": past, "price-awaited": awaited,
        "price-missing": missing, "price-given-twice": twice,
    }  # fmt: skip
    assert {rule: model for rule, model in wanted.items() if f": {model}: " in told.get(rule, "")} == wanted
    assert told["price-zero"].startswith("library/anytown-wholesale-invented.yaml:")
    assert f"without a price: {missing} (line 7)" in found.told


RULES = (
    "price-zero", "cost-above-list", "price-expired", "price-awaited", "price-missing", "price-given-twice",
)  # fmt: skip


def _bought(project: Path) -> list:  # type: ignore[type-arg]
    from proposal.pipeline import compute

    computed = compute(load_project(project))
    # Things sold one by one, of which there is no other to choose, whatever they cost.
    kinds = [computed.project.library.entry(one.model).kind for one in computed.estimate.purchases]
    alone = [
        one
        for one, kind in zip(computed.estimate.purchases, kinds, strict=True)
        if one.section not in ("reels", "cable") and kind != "outlet"
        if computed.project.library.entry(one.model).pack_quantity == 1
    ]
    return list({one.model: one for one in alone}.values())


def _times(model: str, factor: float) -> Decimal:
    """Return the price of what an entry is sold as, so many times as high, to the tenth of a cent."""
    return (library().entry(model).cost.amount * Decimal(repr(factor))).quantize(Decimal("0.001"))


def _field(model: str) -> str:
    from proposal.model.equipment.library import FIELD_OF_KIND

    return FIELD_OF_KIND[library().entry(model).kind]


def test_one_article_with_two_prices_is_refused_and_with_the_same_taken_once(tmp_path: Path) -> None:
    model = next(library().entries()).model
    mapping = f"supplier: {SUPPLIER}\ncurrency: EUR\npriced_on: {DAY}\ncolumns: {{model: Code, price: Net}}\n"
    same = f"Code;Net\n{model};430.00\n{model};430.00\n".encode()
    assert len([one for one in taken(tmp_path, "list.csv", same, mapping).changes if one.is_figure]) == 1
    with pytest.raises(InputError, match="found another one, first in line 2"):
        taken(tmp_path, "list.csv", same.replace(b"430.00\n", b"430.01\n", 1), mapping)


def test_an_older_list_does_not_take_the_place_of_a_newer_one(tmp_path: Path) -> None:
    model = next(library().entries()).model
    mapping = f"supplier: {SUPPLIER}\ncurrency: EUR\npriced_on: {DAY}\ncolumns: {{model: Code, price: Net}}\n"
    write_import(
        taken(tmp_path, "list.csv", f"Code;Net\n{model};440.00\n".encode(), mapping), tmp_path / "project"
    )
    older = mapping.replace(str(DAY), "2031-03-01")
    found = taken(tmp_path, "list.csv", f"Code;Net\n{model};430.00\n".encode(), older)
    assert found.changes == ()
    assert f"priced on a later day already: {model} (line 2)" in found.told


ONE = f"supplier: {SUPPLIER}\ncurrency: EUR\npriced_on: {DAY}\ncolumns: {{article: No., price: Net}}\n"


def _cable() -> tuple[Cable, str, str]:
    """Return a cable, the reel of it that is quoted, and another one."""
    cable = next(one for one in library().entries() if isinstance(one, Cable) and len(one.reels) > 1)
    first, second = sorted(cable.reels)[:2]
    return cable, first, second


def test_a_list_for_one_reel_says_nothing_of_the_other_reels_or_of_the_metre(tmp_path: Path) -> None:
    """Supplier, article number, list and day stand with the reel that was quoted, and nowhere else."""
    cable, quoted, other = _cable()
    new = cable.reels[quoted].cost.amount + 1
    mapping = ONE + f"articles: {{'77': '{cable.model}, {quoted}'}}\n"
    write_import(taken(tmp_path, "list.csv", f"No.;Net\n77;{new}\n".encode(), mapping), tmp_path / "project")
    entry = load_project(tmp_path / "project").library.entry(cable.model)
    assert isinstance(entry, Cable)
    reel = origin_of(entry, quoted)
    assert (entry.reels[quoted].cost.amount, reel.supplier, reel.article, reel.told) == (
        *(new, SUPPLIER, "77"),
        f"price list, {DAY}",
    )
    for rest in (origin_of(entry, other), origin_of(entry)):
        assert (rest.supplier, rest.article, rest.told) == (cable.maker, "", "")
    # The number alone is enough from now on.
    again = taken(tmp_path, "list.csv", f"No.;Net\n77;{new}\n".encode(), ONE)
    assert again.told[0] == "1 line read: 0 prices change, 1 stays as it is"


def test_a_price_by_the_metre_leaves_reels_with_those_who_sell_them(tmp_path: Path) -> None:
    cable, quoted, other = _cable()
    (tmp_path / "own").mkdir()
    mapping = ONE + f"articles: {{'76': '{cable.model}'}}\n"
    new = cable.cost.amount + Decimal("0.01")
    write_import(taken(tmp_path, "list.csv", f"No.;Net\n76;{new}\n".encode(), mapping), tmp_path / "project")
    entry = load_project(tmp_path / "project").library.entry(cable.model)
    assert (entry.cost.amount, origin_of(entry).supplier) == (new, SUPPLIER)
    assert [(origin_of(entry, reel).supplier, origin_of(entry, reel).told) for reel in (quoted, other)] == [
        (cable.maker, ""),
        (cable.maker, ""),
    ]


def test_a_price_of_another_unit_is_refused_until_it_is_confirmed(tmp_path: Path) -> None:
    """A box at the price of a metre: the ratio is told, and what to do."""
    cable, quoted, _ = _cable()
    price = cable.reels[quoted].cost.amount
    mapping = ONE + f"articles: {{'76': '{cable.model}'}}\n"
    data = f"No.;Net\n76;{price}\n".encode()
    with pytest.raises(InputError) as refused:
        taken(tmp_path, "list.csv", data, mapping)
    (told,) = (str(one) for one in refused.value.problems)
    times = f"{float(price / cable.cost.amount):.3g} times as much"
    assert all(part in told for part in (times, f'--confirm "{cable.model}"', "for one metre", "`articles`"))
    at = (tmp_path / "list.csv", tmp_path / "mapping.yaml", tmp_path / "project", None, "project")
    assert price_list_import(*at, confirmed={cable.model}).changes


@pytest.mark.parametrize(
    ("times", "is_refused"), [("9.6", True), ("5.1", True), ("4.9", False), ("0.1", True)]
)
def test_a_slip_of_the_decimal_mark_is_refused(tmp_path: Path, times: str, is_refused: bool) -> None:
    """Ten times what was meant is between about eight and twelve times what counts now."""
    cable, _, _ = _cable()
    price = round(cable.cost.amount * Decimal(times), 4)
    mapping = ONE + f"articles: {{'76': '{cable.model}'}}\n"
    data = f"No.;Net\n76;{price}\n".encode()
    if is_refused:
        with pytest.raises(InputError, match="times as much"):
            taken(tmp_path, "list.csv", data, mapping)
    else:
        assert taken(tmp_path, "list.csv", data, mapping).changes


def test_heads_are_found_below_the_title_of_a_list() -> None:
    """Title, address and an empty line above: the prices stand in the sixth line, the seventh is wrong."""
    above = "Prices of spring\n1 Example Street;;Net prices\n\n\n"
    lines = "A;12.50;1;EUR;2031-04-01;\nB;twelve;1;EUR;2031-04-01;\n"
    found = read_price_list((above + HEADS + lines).encode(), "list.csv", MAPPING)
    first = found.lines[0]
    assert (first.model, first.price, first.place.line) == ("A", Decimal("12.50"), 6)
    assert [str(one) for one in found.problems] == [
        "list.csv:7:3: Net: wanted a number such as 1234.50; found twelve"
    ]


@pytest.mark.parametrize(
    ("column", "cell"), [(1, "A7"), (11, "K7"), (26, "Z7"), (27, "AA7"), (52, "AZ7"), (53, "BA7")]
)
def test_a_cell_of_a_workbook_is_named_as_spreadsheet_programs_do(column: int, cell: str) -> None:
    assert str(CellPlace("prices.xlsx: Prices", 7, column)) == f"prices.xlsx: Prices!{cell}"
