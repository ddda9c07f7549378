"""A workbook that comes back: shown first, written with --write alone, refused as a whole."""

import shutil
from pathlib import Path

import pytest

from tests.calls import Call, files_under
from tests.exports.workbook.edits import typed_in
from tests.exports.workbook.test_book import cells
from tests.imports.conftest import book_of, sent

PROJECT = Path(__file__).resolve().parent.parent / "projects" / "us_customary"
RATE, SPOILAGE = "labour.rates.installer.cost", "rules.takeoff.spoilage"


@pytest.fixture
def us(tmp_path: Path) -> Path:
    return Path(shutil.copytree(PROJECT, tmp_path / "us"))


def contents(folder: Path) -> dict[str, bytes]:
    return {
        name: (folder / name).read_bytes()
        for name in files_under(folder)
        if (folder / name).is_file() and not name.startswith("build/")
    }


def test_a_workbook_goes_out_and_its_changes_come_back(us: Path, tmp_path: Path, run: Call) -> None:
    library = tmp_path / "company"
    (library / "labour").mkdir(parents=True)
    ours = library / "labour" / "ours.yaml"
    ours.write_text("# Rates of this year.\ntrades:\n  installer: {cost: 40.00 EUR}  # agreed\n", "utf-8")
    book = tmp_path / "book.xlsx"
    with_library = ("--library", library)
    assert (
        run("export", us, "--format", "xlsx", "--edition", "estimator", "--output", book, *with_library)[0]
        == 0
    )
    inputs = cells(book.read_bytes())["Inputs"]
    cell_of = {text: f"C{name[1:]}" for name, (text, _) in inputs.items() if name[0] == "G"}
    book.write_bytes(typed_in(book.read_bytes(), {cell_of[RATE]: "43.75", cell_of[SPOILAGE]: "0.5"}))
    before, before_company = contents(us), ours.read_bytes()

    assert run("import", book, us, *with_library)[0] == 2
    confirmed = (*with_library, "--confirm", SPOILAGE)
    status, out, err = run("import", book, us, *confirmed)
    assert (status, err) == (0, "")
    shown = out.splitlines()
    assert f"project.yaml (added): {RATE}: 40.00 EUR becomes 43.75 EUR" in shown
    (waste,) = [line for line in shown if SPOILAGE in line]
    assert waste.endswith("becomes 50 % (7.14 times as much)")
    assert any(line.endswith("same equipment") and line.startswith("price with tax: ") for line in shown)
    assert any(line.startswith("chosen anew") for line in shown)
    assert shown[-1] == "nothing is written; with --write 1 file would be"
    assert (contents(us), ours.read_bytes()) == (before, before_company)

    assert run("import", book, us, "--write", *confirmed)[0] == 0
    after = contents(us)
    assert {name for name in after if after[name] != before.get(name)} == {"project.yaml"}
    text = after["project.yaml"].decode()
    assert "cost: 43.75 EUR" in text
    assert "spoilage: 50 %" in text
    assert ours.read_bytes() == before_company
    assert run("import", book, us, *with_library)[1].splitlines()[-1] == "no input is changed"


def test_into_the_company_a_figure_that_stands_there_changes_there(
    us: Path, tmp_path: Path, run: Call
) -> None:
    library = tmp_path / "company"
    (library / "labour").mkdir(parents=True)
    ours = library / "labour" / "ours.yaml"
    ours.write_text("# Rates of this year.\ntrades:\n  installer: {cost: 40.00 EUR}  # agreed\n", "utf-8")
    book = tmp_path / "book.xlsx"
    with_library = ("--library", library)
    book.write_bytes(book_of(us, library))
    inputs = cells(book.read_bytes())["Inputs"]
    (row,) = [name[1:] for name, (text, _) in inputs.items() if name[0] == "G" and text == RATE]
    book.write_bytes(typed_in(book.read_bytes(), {f"C{row}": "43.75"}))
    before = contents(us)
    status, out, _ = run("import", book, us, "--into", "company", "--write", *with_library)
    assert status == 0
    assert out.startswith(f"{library}/labour/ours.yaml:3:21: {RATE}: 40.00 EUR becomes 43.75 EUR\n")
    assert ours.read_text("utf-8") == (
        "# Rates of this year.\ntrades:\n  installer: {cost: 43.75 EUR}  # agreed\n"
    )
    assert contents(us) == before


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda path: path.write_bytes(b"PK\x03\x04 and no more"), "found a damaged one"),
        (lambda path: path.write_text("a;b\n"), "found another kind of file"),
        (lambda path: path.mkdir(), "wanted a file; found something else"),
        (lambda path: None, "wanted a file; found nothing"),
    ],
)
def test_what_is_no_workbook_is_said_in_a_line(
    make: object, said: str, us: Path, tmp_path: Path, run: Call
) -> None:
    book, before = tmp_path / "book.xlsx", contents(us)
    assert callable(make)
    make(book)
    status, out, err = run("import", book, us, "--write")
    assert (status, out) == (2, "")
    (line,) = err.splitlines()
    assert line.startswith(f"{book}: ")
    assert said in line
    assert contents(us) == before


def test_a_figure_that_the_project_cannot_have_is_refused_with_its_place(
    us: Path, tmp_path: Path, run: Call
) -> None:
    book, before = tmp_path / "book.xlsx", contents(us)
    book.write_bytes(sent().book)
    inputs = cells(book.read_bytes())["Inputs"]
    (row,) = [name[1:] for name, (text, _) in inputs.items() if name[0] == "G" and text == SPOILAGE]
    book.write_bytes(typed_in(book.read_bytes(), {f"C{row}": "7"}))  # 7 %, meant the estimator
    status, out, err = run("import", book, us, "--write")
    assert (status, out) == (2, "")
    far_off, line = err.splitlines()
    assert f"{SPOILAGE}: wanted" in far_off
    assert line.startswith("project.yaml:")
    assert "rules.takeoff.spoilage: wanted" in line
    assert line.endswith(f"found 700 %, as {book} has it")
    assert contents(us) == before
