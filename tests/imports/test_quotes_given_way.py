"""A quote that is taken takes the place of another supplier's, which stays in its file as a comment."""

import shutil
from pathlib import Path

import pytest

from proposal.errors import Place
from proposal.imports.input_changes import InputChange
from proposal.imports.input_places import InputPlace
from proposal.imports.quotes_given_way import gives_way
from proposal.model.loading import load_project
from proposal.pipeline import compute
from proposal.publish.importing import price_list_import, write_import

FOLDER = Path(__file__).resolve().parents[1] / "projects" / "us_customary"
OTHER = """# Prices of A.
source: quote
access_points:
  A-1:
    cost: 10.00 EUR  # by telephone
    supplier: A
  A-2:
    cost: 20.00 EUR
    supplier: A
cables:
  C-1:
    reels:
      305 m box:
        cost: 80.00 EUR
    supplier: A
"""


def taken(*path: str) -> InputChange:
    return InputChange(".".join(path), "", "9.00 EUR", InputPlace("library/b.yaml", path, Place("")), None)


def given(text: str, *path: str) -> tuple[str, tuple[str, ...]]:
    found, told = gives_way({"library/a.yaml": text.encode()}, [taken(*path)], "library", "B, quote 7")
    return found.get("library/a.yaml", text.encode()).decode(), told


def test_a_price_gives_way_and_its_neighbours_stay() -> None:
    text, told = given(OTHER, "access_points", "A-1", "cost")
    assert told == ("library/a.yaml: A-1 gives way to B, quote 7; kept as a comment",)
    assert text == OTHER.replace(
        "  A-1:\n    cost: 10.00 EUR  # by telephone\n    supplier: A\n",
        "  # Gave way to B, quote 7:\n  # A-1:\n    # cost: 10.00 EUR  # by telephone\n    # supplier: A\n",
    )


def test_a_key_that_then_holds_nothing_is_a_comment_too() -> None:
    text, _ = given(OTHER, "access_points", "A-1", "cost")
    text, _ = given(text, "access_points", "A-2", "cost")
    assert "\n# access_points:\n" in text
    assert "\ncables:\n" in text


def test_of_a_reel_the_reel_alone_gives_way() -> None:
    text, told = given(OTHER, "cables", "C-1", "reels", "305 m box", "cost")
    assert told == ("library/a.yaml: C-1, 305 m box gives way to B, quote 7; kept as a comment",)
    assert "      # 305 m box:\n        # cost: 80.00 EUR\n    supplier: A\n" in text
    assert "    # reels:\n" in text


@pytest.mark.parametrize(
    ("text", "path"),
    [
        (OTHER, ("access_points", "A-3", "cost")),
        (OTHER, ("access_points", "A-1", "list_price")),
        ("access_points:\n  A-1: {cost: 10.00 EUR, supplier: A}\n", ("access_points", "A-1", "cost")),
        ("access_points:\n  A-1:\n    cost: 10.00 EUR\n", ("access_points", "A-1", "cost")),
    ],
    ids=["not there", "no cost is taken", "in one line", "no supplier's"],
)
def test_all_else_stays_as_it_is(text: str, path: tuple[str, ...]) -> None:
    assert given(text, *path) == (text, ())


def test_a_price_by_the_metre_gives_way_without_the_reels_of_its_cable() -> None:
    metre = "    supplier: A\n"
    whole = OTHER.replace("  C-1:\n", "  C-1:\n    cost: 0.30 EUR\n")
    text, _ = given(whole, "cables", "C-1", "cost")
    assert "\n  C-1:\n    # cost: 0.30 EUR\n    reels:\n      305 m box:\n        cost: 80.00 EUR\n" in text
    assert text.endswith(f"    # {metre.strip()}\n")


def test_a_name_of_several_lines_opens_no_line_of_the_file() -> None:
    found, _ = gives_way(
        {"library/a.yaml": OTHER.encode()}, [taken("access_points", "A-1", "cost")], "library", "B\nsource: x"
    )
    assert "\nsource: x" not in found["library/a.yaml"].decode()


def test_the_cheaper_of_two_quotes_counts_whoever_sent_his_last(tmp_path: Path) -> None:
    folder = tmp_path / "project"
    shutil.copytree(FOLDER, folder)
    project = load_project(folder)
    computed = compute(project)
    model = next(one.item for one in computed.price.lines if one.group == "equipment")
    cost = project.library.entry(model).cost
    wanted = []
    for supplier, share, price_is_taken in (
        ("Zed", "0.8", True),
        ("Able", "0.9", False),
        ("Able", "0.7", True),
    ):
        price = (cost.amount * type(cost.amount)(share)).quantize(type(cost.amount)("0.01"))
        (tmp_path / "map.yaml").write_text(
            f"supplier: {supplier}\nsource: quote\ncolumns: {{model: m, price: p}}\n"
            f"currency: {cost.currency}\npriced_on: 2031-05-01\n"
        )
        (tmp_path / "list.csv").write_text(f"m;p\n{model};{price}\n")
        found = price_list_import(
            tmp_path / "list.csv", tmp_path / "map.yaml", folder, None, "project", cheaper=True
        )
        assert bool(found.changes) == price_is_taken
        assert any(line.startswith("not cheaper") for line in found.told) != price_is_taken
        if price_is_taken:
            wanted.append(price)
            write_import(found, folder)
        entry = load_project(folder).library.entry(model)
        assert entry.cost.amount == wanted[-1]
    assert entry.supplier == "Able"
    assert f"# cost: {wanted[0]}" in (folder / "library" / "zed.yaml").read_text()
