"""Whoever changes an input in the workbook reads what the program computes with the same change."""

import re
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.links import linked_book
from proposal.exports.workbook.overtime_lines import with_every_overtime_line
from proposal.exports.workbook.table_sheet import OF_THIS_REVISION
from proposal.model.loading import load_project
from proposal.model.price.selling import ClientDetail
from proposal.pipeline import Computed, compute
from proposal.publish.importing import workbook_import, write_import
from tests.exports.conftest import PROJECTS
from tests.exports.workbook.edits import Edit, recomputed, typed_in
from tests.exports.workbook.price_sheets import tables_of
from tests.exports.workbook.test_book import Cells, all_recalculated, cells, needs_office, without_results
from tests.exports.workbook.variants import variant
from tests.long_form import LONG
from tests.whole_projects import whole_computed

EDITS: tuple[Edit, ...] = (
    ("library.36878V.cost", "1213.37"),
    ("library.36878V.list_price", "1931.55"),
    ("library.CC-LB-D.cost", "33.33"),
    ("library.CC-5U-L.cost", "0.47"),
    ("library.CC-5U-L.reels.305 m box.cost", "88.45"),
    ("rules.takeoff.spoilage", "0.085"),
    ("rules.takeoff.connector_extra", "0.11"),
    ("labour.rates.installer.cost", "43.75"),
    ("labour.rates.cable installer.selling", "58.85"),
    ("labour.trades.commissioning engineer.minimum_call_hours", "200.25"),
    ("labour.tasks.install an access point.hours", "1.4"),
    ("labour.tasks.configure a breakout.further_hours", "0.4"),
    ("labour.tasks.pull data cable.hours", "12.3"),
    ("labour.tasks.manage.share", "0.117"),
    ("labour.conditions.congested.addition", "0.25"),
    ("labour.conditions.access.addition", "0.07"),
    ("labour.heights.12 ft.addition", "0.045"),
    ("labour.repetition.reduction", "0.12"),
    ("labour.pull_groups.three.factor", "0.71"),
    ("labour.overtime", "0.08"),
    ("labour.overtime_premium", "0.75"),
    ("programme.hours_a_day", "7.5"),
    ("labour.travel.hours_a_day", "1.25"),
    ("labour.travel.expenses_a_day", "31.15"),
    ("price.selling.36878V", "1599.00"),
    ("price.rules.rest.margin", "0.283"),
    ("price.rules.groups.materials.markup", "0.435"),
    ("price.surcharges.freight.share", "0.0315"),
    ("price.surcharges.permits.amount", "712.35"),
    ("price.surcharges.contingency.share", "0.0425"),
    ("price.allowances.desks.price", "53111.00"),
    ("price.taxes.Anyshire.goods", "0.215"),
    ("price.retention", "0.075"),
    ("terms.exchange.SEK.rate", "0.0911"),
    ("price.changes.devices.36878V", "1755.00"),
    ("price.changes.hours.installer", "71.00"),
    ("library.Q85712.yearly_cost", "333.35"),
)  # fmt: skip
STAYS = {
    "Take-off": ["Base hours (h)", "Condition factor", "Hours (h)", "Labour cost (EUR)"],
    "Labour": ["Additions"],
    "Labour summary": ["Factors", "Hours per person per day (h)"],
    "Payments": ["Date by the programme", "To be paid by"],
    "Cash flow": ["Day"],
    "Quotes side by side": ["Needed by", "Order by"],
    "Equipment by model": ["Needed by", "Order by"],
    "What is bought": ["Needed by", "Order by"],
}
"""Columns that do not follow the inputs."""
TOGETHER: dict[str, Sequence[Edit]] = {
    "all": EDITS,
    **({"work": EDITS[7:24], "money": (*EDITS[:7], *EDITS[24:])} if LONG else {}),
}
OF_VARIANTS: tuple[Edit, ...] = (
    ("labour.overtime_work.evenings.share", "0.615"),
    ("labour.overtime_work.nights.share", "0.085"),
    ("labour.overtime_premium", "0.75"),
    ("price.surcharges.supervision.each", "145.55"),
    ("price.surcharges.storage.each", "91.15"),
    ("price.taxes.A.goods", "0.13"),
    ("price.rules.rest.margin", "0.31"),
    ("library.K34146.list_price", "4321.55"),
    ("labour.tasks.pull data cable.hours", "14.3"),
)
"""Of a building with overtime by phase, time on site and two taxes, told to the client in other ways."""
VARIANTS: dict[str, tuple[ClientDetail, str]] = {
    "by system": ("system", "shared out"),
    "by line": ("line", "building group"),
    **({"by room": ("room", "shared out"), "by line, shared out": ("line", "shared out")} if LONG else {}),
}
CASES: dict[str, Sequence[Edit]] = {
    **TOGETHER,
    **dict.fromkeys(VARIANTS, OF_VARIANTS),
    **({key: ((key, value),) for key, value in EDITS} if LONG else {}),
    **({f"by system: {key}": ((key, value),) for key, value in OF_VARIANTS} if LONG else {}),
}


@dataclass(frozen=True)
class Edited:
    """What LibreOffice computes of a workbook with edits, and the workbook of the edited project."""

    theirs: Cells
    wanted: Cells
    book: bytes


def book_of(computed: Computed) -> bytes:
    edition = with_every_overtime_line(edition_of(document_of(computed), "estimator"))
    return workbook(edition, tables_of(schedules(edition)))


@pytest.fixture(scope="module")
def base() -> Computed:
    return whole_computed(PROJECTS["example"])


@pytest.fixture(scope="module")
def bases(base: Computed) -> dict[str, Computed]:
    """Whose workbook is edited in each case."""
    variants = {name: variant(*how) for name, how in VARIANTS.items()}
    return {name: variants.get(name.partition(":")[0], base) for name in CASES}


@pytest.fixture(scope="module")
def edited(bases: dict[str, Computed], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Edited]:
    """Every case, typed into the inputs and computed by LibreOffice, started once."""
    written = {id(one): book_of(one) for one in bases.values()}
    books = []
    for name, case in CASES.items():
        data = written[id(bases[name])]
        inputs = cells(data)["Inputs"]
        cell_of = {value: f"C{at[1:]}" for at, (value, _) in inputs.items() if at[0] == "G"}
        books.append(without_results(typed_in(data, {cell_of[key]: value for key, value in case})))
    computed = all_recalculated(books, tmp_path_factory.mktemp("edited"))
    return {
        name: Edited(cells(theirs), cells(book_of(recomputed(bases[name], case))), theirs)
        for (name, case), theirs in zip(CASES.items(), computed, strict=True)
    }


OF_REVISIONS = ("Total with tax, of this revision", "Moved by changed inputs")
"""Lines of the recap that hold the total of the revision, and what sets the new one apart from it."""


@needs_office
@pytest.mark.independent
@pytest.mark.parametrize("case", TOGETHER)
def test_the_recap_tells_what_the_total_moved_by(
    case: str, base: Computed, edited: dict[str, Edited]
) -> None:
    recap = edited[case].theirs["Recap"]
    row = next(name[1:] for name, (value, _) in recap.items() if value == OF_REVISIONS[1])
    moved = recomputed(base, CASES[case]).price.whole.total - base.price.whole.total
    assert abs(Decimal(recap[f"D{row}"][0]) - moved) < Decimal("1e-6")


@needs_office
@pytest.mark.independent
@pytest.mark.parametrize("case", [*TOGETHER, *(key for key, _ in EDITS)] if LONG else ["all"])
def test_what_comes_back_makes_the_totals_that_the_workbook_showed(
    case: str, base: Computed, edited: dict[str, Edited], tmp_path: Path
) -> None:
    """As LibreOffice saved it, the workbook is imported, and the project read and computed anew."""
    folder, book = tmp_path / "example", tmp_path / "book.xlsx"
    shutil.copytree(PROJECTS["example"], folder, ignore=shutil.ignore_patterns("published", "build"))
    book.write_bytes(edited[case].book)
    confirmed = {key for key, _ in CASES[case]}
    found = workbook_import(book, folder, None, ("project",), confirmed=confirmed)
    assert sorted(one.key for one in found.changes) == sorted(key for key, _ in CASES[case])
    write_import(found, folder)
    recap = edited[case].theirs["Recap"]
    row = next(name[1:] for name, (value, _) in recap.items() if value == "Total with tax")
    total = Decimal(recap[f"D{row}"][0]).quantize(Decimal("0.01"))
    assert found.held.price.whole.total == total
    assert total != base.price.whole.total or case not in TOGETHER
    after = compute(load_project(folder))
    assert after.price.whole == found.after.price.whole
    # These edits leave every choice of equipment as it was.
    assert after.price.whole.total == total


@needs_office
@pytest.mark.independent
@pytest.mark.parametrize("case", CASES)
def test_a_changed_input_moves_every_sheet_to_what_the_program_computes(
    case: str, edited: dict[str, Edited]
) -> None:
    one, wrong, compared = edited[case], [], 0
    for sheet, found in one.wanted.items():
        if sheet in ("Contents", "Inputs"):
            continue
        stays = {
            re.sub(r"[0-9]", "", name)
            for name, (heading, _) in found.items()
            if re.fullmatch("[A-Z]+1", name) and heading.endswith(OF_THIS_REVISION)
        }
        for name, (value, formula) in found.items():
            row = re.sub(r"[A-Z]", "", name)
            if re.sub(r"[0-9]", "", name) in stays or found.get(f"A{row}", ("", ""))[0] in OF_REVISIONS:
                continue
            theirs = one.theirs[sheet].get(name, ("", ""))[0]
            if not _same(value, theirs):
                wrong.append(f"{sheet}!{name}: {value} wanted, {theirs} found: {formula[:120]}")
            compared += bool(formula)
    assert wrong == [], "\n".join(one for one in wrong if "Take-off!A" not in one)[:4000]
    assert compared > 3_000


def _same(wanted: str, found: str) -> bool:
    try:
        return abs(Decimal(wanted) - Decimal(found)) < Decimal("1e-7")
    except ArithmeticError:
        return wanted == found


def test_columns_that_do_not_follow_say_so(edited: dict[str, Edited]) -> None:
    said: dict[str, list[str]] = {}
    for sheet, found in edited["all"].wanted.items():
        for name, (value, _) in found.items():
            if re.fullmatch("[A-Z]+1", name) and value.endswith(OF_THIS_REVISION):
                said.setdefault(sheet, []).append(value.removesuffix(OF_THIS_REVISION))
    assert said == STAYS


def test_there_are_thirty_kinds_of_edit_and_each_is_an_input(base: Computed) -> None:
    keys = {row.key for row in document_of(base).price_inputs}
    assert {key for key, _ in EDITS} <= keys
    assert len(EDITS) >= 30


def test_offer_and_cash_flow_follow_however_the_client_reads_the_price(bases: dict[str, Computed]) -> None:
    for name in ("all", *VARIANTS):
        edition = edition_of(document_of(bases[name]), "estimator")
        tables = tables_of(schedules(edition))
        linked = linked_book(edition.document, tables, {one.name: one.name for one in tables})
        assert {"offer", "cash-flow"} <= linked.follows, name


def test_an_edit_changes_the_total(base: Computed) -> None:
    """The comparison would say nothing if the edits changed nothing."""
    for name, case in TOGETHER.items():
        assert recomputed(base, case).price.whole != base.price.whole, name


def test_each_edit_alone_changes_something_that_is_told(base: Computed) -> None:
    """Of the first two here, of each by the long form."""
    before = document_of(base)
    for edit in EDITS if LONG else EDITS[:2]:
        after = document_of(recomputed(base, (edit,)))
        kept = after.model_copy(update={"price_inputs": before.price_inputs})
        assert kept != before, edit


def test_each_edit_of_the_variants_changes_the_price_or_its_parts(bases: dict[str, Computed]) -> None:
    one = bases["by system"]
    for edit in OF_VARIANTS:
        found = recomputed(one, (edit,))
        if edit[0].endswith("list_price"):
            assert document_of(found).offer != document_of(one).offer
        else:
            assert found.price.whole != one.price.whole, edit
