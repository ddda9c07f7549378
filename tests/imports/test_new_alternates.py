"""An alternate that the estimator adds in the workbook becomes a file of its own, which prices it."""

import shutil
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.errors import InputError
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.links import WANTED
from proposal.exports.workbook.spare_alternates import with_spare_alternates
from proposal.model.loading import load_project, load_source
from proposal.pipeline import compute
from proposal.publish.importing import workbook_import, write_import
from tests.exports.workbook.edits import typed_in
from tests.exports.workbook.test_book import Cells, cells, needs_office, recalculated, without_results
from tests.imports.spoilt_books import texted

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
NAME = "Signs at the doors: two"


@cache
def book() -> bytes:
    edition = with_spare_alternates(edition_of(document_of(compute(load_project(MINIMAL))), "estimator"))
    return workbook(edition, [one for one in schedules(edition) if one.name in WANTED])


def row_of(number: int, inputs: Cells) -> str:
    key = f"alternates.added_{number}.price"
    return next(at[1:] for at, (text, _) in inputs["Inputs"].items() if at[0] == "G" and text == key)


def filled(number: int, name: str, amount: str) -> bytes:
    row = row_of(number, cells(book()))
    typed = typed_in(book(), {f"C{row}": amount})
    return texted(typed, f"B{row}", name) if name else typed


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return Path(shutil.copytree(MINIMAL, tmp_path / "project"))


def sent_back(project: Path, data: bytes) -> Path:
    file = project.parent / "book.xlsx"
    file.write_bytes(data)
    return file


@pytest.mark.parametrize("amount", ["1234.50", "-321.00"])
def test_an_added_alternate_is_written_and_changes_the_price_by_its_amount(
    amount: str, project: Path
) -> None:
    found = workbook_import(sent_back(project, filled(1, NAME, amount)), project, None, ("project",))
    write_import(found, project)
    source = load_source(project)
    ((key, alternate),) = source.base.alternates.items()
    assert (key, alternate.name) == ("signs_at_the_doors_two", NAME)
    assert alternate.deductive == (Decimal(amount) < 0)
    assert compute(source.base).price.whole == found.before.price.whole
    with_it = compute(source.project((key,))).price.whole.price
    assert with_it - found.before.price.whole.price == Decimal(amount)
    said = f"alternates/{key}.yaml: a new alternate; with it the price before tax is {with_it:.2f}"
    assert any(line.startswith(said) for line in found.told)


def test_an_alternate_without_a_name_or_with_one_that_is_taken_is_refused(project: Path) -> None:
    with pytest.raises(InputError, match="wanted what the alternate is called; found Further alternate 2"):
        workbook_import(sent_back(project, filled(2, "", "10")), project, None, ("project",))
    file = sent_back(project, filled(1, NAME, "10"))
    write_import(workbook_import(file, project, None, ("project",)), project)
    with pytest.raises(InputError, match="wanted a name that no alternate has yet; found Signs at the doors"):
        workbook_import(file, project, None, ("project",))


@needs_office
@pytest.mark.independent
def test_the_recap_names_an_added_alternate_and_adds_it_to_the_price(tmp_path: Path) -> None:
    before = cells(book())["Recap"]
    now = next(Decimal(before[f"D{at[1:]}"][0]) for at, (text, _) in before.items() if text == "Before tax")
    recap = cells(recalculated(without_results(filled(1, NAME, "-99.5")), tmp_path))["Recap"]
    row = next(at[1:] for at, (text, _) in recap.items() if text == NAME)
    assert Decimal(recap[f"B{row}"][0]) == Decimal("-99.5")
    assert abs(Decimal(recap[f"C{row}"][0]) - now + Decimal("99.5")) < Decimal("0.005")
