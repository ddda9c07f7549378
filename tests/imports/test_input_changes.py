"""Where changed inputs are written: in the file that says them, alone, or nowhere."""

import shutil
from pathlib import Path

import pytest

from proposal.errors import InputError
from proposal.publish.importing import Import, workbook_import, write_import
from tests.exports.workbook.edits import typed_in
from tests.exports.workbook.test_book import cells
from tests.imports.conftest import book_of

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
MARGIN = "price.rules.rest.margin"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return Path(shutil.copytree(MINIMAL, tmp_path / "project"))


def append(file: Path, text: str) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    before = file.read_text("utf-8") if file.exists() else ""
    file.write_text(before + text, "utf-8")


def imported(project: Path, **edits: str) -> Import:
    """Return what comes of the project's own workbook with other values by key."""
    book = book_of(project)
    inputs = cells(book)["Inputs"]
    cell_of = {text: f"C{name[1:]}" for name, (text, _) in inputs.items() if name[0] == "G"}
    file = project.parent / "book.xlsx"
    file.write_bytes(typed_in(book, {cell_of[key]: value for key, value in edits.items()}))
    return workbook_import(file, project, None, ("project",))


def test_what_an_accepted_alternate_says_is_changed_in_its_file(project: Path) -> None:
    append(
        project / "project.yaml", "accepted_alternates: [cheaper]\nprice: {rules: {rest: {margin: 30 %}}}\n"
    )
    text = "name: Cheaper\ndescription: Less of it.\nchanges:\n  project:\n    price:\n      rules:\n"
    append(project / "alternates" / "cheaper.yaml", f"{text}        rest: {{margin: 20 %}} # agreed\n")
    found = imported(project, **{MARGIN: "0.22"})
    (change,) = found.changes
    assert str(change.where.place) == "alternates/cheaper.yaml:7:24"
    write_import(found, project)
    now = (project / "alternates" / "cheaper.yaml").read_text("utf-8")
    assert now == f"{text}        rest: {{margin: 22 %}} # agreed\n"
    assert "margin: 30 %" in (project / "project.yaml").read_text("utf-8")


def test_a_value_that_stands_for_others_too_is_refused(project: Path) -> None:
    append(
        project / "project.yaml",
        "price: {rules: {rest: {margin: &ours 30 %}, groups: {travel: {margin: *ours}}}}\n",
    )
    with pytest.raises(InputError, match="wanted values each in a place of its own"):
        imported(project, **{MARGIN: "0.22"})


def test_taxes_of_one_rate_stay_of_one_rate(project: Path) -> None:
    append(
        project / "project.yaml",
        "price: {place: Here, taxes: {Here: {name: VAT, goods: 20 %, services: 20 %}}}\n",
    )
    found = imported(project, **{"price.taxes.Here.goods": "0.21"})
    assert [change.key for change in found.changes] == ["price.taxes.Here.goods", "price.taxes.Here.services"]
    assert found.held.price.whole.total == found.after.price.whole.total
    tax = found.after.project.brief.price.taxes["Here"]
    assert (tax.goods, tax.services) == (0.21, 0.21)


def test_a_figure_goes_into_the_projects_own_file_that_names_its_entry(project: Path) -> None:
    rate = "labour.trades.installer.minimum_call_hours"
    append(project / "library" / "labour" / "house.yaml", "trades:\n  installer: {crew: 3}\n")
    found = imported(project, **{rate: "6"})
    (change,) = found.changes
    assert (change.where.file, change.where.place) == ("library/labour/house.yaml", None)
    write_import(found, project)
    text = (project / "library" / "labour" / "house.yaml").read_text("utf-8")
    assert text == "trades:\n  installer: {crew: 3, minimum_call_hours: 6}\n"


def test_a_file_that_changes_meanwhile_is_not_written(project: Path) -> None:
    append(project / "project.yaml", "price: {rules: {rest: {margin: 30 %}}}\n")
    found = imported(project, **{MARGIN: "0.22"})
    append(project / "project.yaml", "# Somebody else was here.\n")
    before = (project / "project.yaml").read_bytes()
    with pytest.raises(InputError, match="found that it has changed meanwhile"):
        write_import(found, project)
    assert (project / "project.yaml").read_bytes() == before
