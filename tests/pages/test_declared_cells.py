"""Cells of page tables come from declarations; those made by hand are listed, each with its reason."""

import ast
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from proposal.document.schedule import columns_of
from tests.document.test_quantities import ALL as ROWS
from tests.sample_document import words

PAGES = Path(__file__).resolve().parents[2] / "proposal" / "pages"
# It makes cells of declarations, and is the only one that does.
MAKER = "schedule_table.py"
# A cell is told by its module, the function that makes it, and the key of its heading.
Cell = tuple[str, str, str]

COUNT = "a count"
TOTAL = "a total"
MARK = "a mark"
PLACE = "a link to where the row, or what it comes from, stands in full"

ALLOWED: Mapping[Cell, str] = {
    ("alternates.py", "_choices", "what_changes"): TOTAL,
    ("alternates.py", "_choices", "one.row.name"): TOTAL,
    ("calculations.py", "_places", "place"): PLACE,
    ("calculations.py", "_places", "calculations"): COUNT,
    ("calculations.py", "_places", "checks"): COUNT,
    ("calculations.py", "_places", "failing"): COUNT,
    ("changes.py", "_inputs", "number"): COUNT,
    ("changes.py", "_rows", "follows_from"): PLACE,
    ("channels.py", "channels_page", "place"): PLACE,
    ("channels.py", "channels_page", "microphones"): COUNT,
    ("channels.py", "channels_page", "streams"): COUNT,
    ("channels.py", "channels_page", "devices_to_be_set"): COUNT,
    ("channels.py", "channels_page", "control_points"): COUNT,
    ("consequence_tables.py", "changed_totals", "total"): TOTAL,
    ("consequence_tables.py", "changed_totals", "of"): TOTAL,
    ("consequence_tables.py", "changed_totals", "heads[0]"): TOTAL,
    ("consequence_tables.py", "changed_totals", "heads[1]"): TOTAL,
    ("consequence_tables.py", "changed_totals", "difference"): TOTAL,
    ("cover.py", "_rooms", "microphones"): TOTAL,
    ("meeting_day.py", "day_table", "in_use"): COUNT,
    ("meeting_day.py", "day_table", "spare"): COUNT,
    ("pathways.py", "_pathways", "cables"): COUNT,
    ("pathways.py", "_conduits", "cables"): COUNT,
    ("programme.py", "_days_set", "kept"): MARK,
    ("system.py", "_kinds", "rooms"): COUNT,
    ("system.py", "_kinds", "microphones"): COUNT,
    ("system.py", "_kinds", "capital(plural(kind))"): COUNT,
    ("system.py", "_equipment_rooms", "cables_ending_here"): COUNT,
    ("system.py", "_switches", "details"): PLACE,
}


def _functions(tree: ast.Module) -> Iterator[tuple[str, ast.AST]]:
    for node in tree.body:
        yield (node.name if isinstance(node, ast.FunctionDef | ast.ClassDef) else ""), node


def _heading(call: ast.Call) -> str:
    """Return the key of the heading of a hand-made column, or the expression that gives it."""
    first = call.args[0] if call.args else call.keywords[0].value
    if isinstance(first, ast.Call) and _name(first) in ("Column", "heading"):
        return _heading(first)
    return str(first.value) if isinstance(first, ast.Constant) else ast.unparse(first)


def _name(call: ast.Call) -> str:
    return ast.unparse(call.func).rpartition(".")[2]


def made_by_hand(path: Path) -> list[Cell]:
    """Return the cells that a module of pages makes of anything but a declaration."""
    found: list[Cell] = []
    for function, node in _functions(ast.parse(path.read_text("utf-8"))):
        inner = {id(call.args[0]) for call in _calls(node) if _name(call) == "Field" and call.args}
        for call in _calls(node):
            if _name(call) == "Field" or (_name(call) == "Column" and id(call) not in inner):
                found.append((path.name, function, _heading(call)))
            elif _name(call) == "table":
                found += [(path.name, function, key) for key in _keys(call.args[1])]
    return found


def _keys(heads: ast.expr) -> list[str]:
    """Return the keys of the headings of a table."""
    found = [one.value for one in ast.walk(heads) if isinstance(one, ast.Constant)]
    assert found, "headings of a table are not read"
    return [str(one) for one in found]


def _calls(node: ast.AST) -> list[ast.Call]:
    return [one for one in ast.walk(node) if isinstance(one, ast.Call)]


def modules() -> list[Path]:
    return [path for path in sorted(PAGES.glob("*.py")) if path.name not in (MAKER, "markdown.py")]


def test_every_cell_that_is_made_by_hand_is_listed_with_its_reason() -> None:
    found = [cell for path in modules() for cell in made_by_hand(path)]
    assert [cell for cell in found if cell not in ALLOWED] == []


def test_the_list_holds_no_cell_that_is_not_there() -> None:
    found = {cell for path in modules() for cell in made_by_hand(path)}
    assert [cell for cell in ALLOWED if cell not in found] == []


def test_only_counts_marks_totals_and_links_are_made_by_hand() -> None:
    assert set(ALLOWED.values()) <= {COUNT, TOTAL, MARK, PLACE}


def test_headings_made_by_hand_are_keys_of_the_table_of_words() -> None:
    # An alternate is called as its file says, two states by their labels, kinds of equipment by their nouns.
    named = {"one.row.name", "heads[0]", "heads[1]", "capital(plural(kind))"}
    keys = {heading for *_, heading in ALLOWED} - named
    assert [key for key in keys if f"headings.{key}" not in words("en_GB")] == []
    typed = [
        (path.name, ast.unparse(call))
        for path in modules()
        for call in _calls(ast.parse(path.read_text("utf-8")))
        if _name(call) in ("Field", "Column") and call.args and isinstance(call.args[0], ast.Constant)
    ]
    assert typed == []


def test_no_module_writes_a_table_of_its_own() -> None:
    for path in modules():
        texts = [
            node.value
            for node in ast.walk(ast.parse(path.read_text("utf-8")))
            if isinstance(node, ast.Constant) and isinstance(node.value, str)
        ]
        assert not [one for one in texts if "<td" in one or "<th" in one or "<tr" in one], path.name


@pytest.mark.parametrize(
    ("source", "cells"),
    [
        ('def one(here):\n    return [Field("Rooms", count)]', [("one", "Rooms")]),
        (
            'def one(here):\n    return [schedule.Field(Column("Rooms"), count)]',
            [("one", "Rooms")],
        ),
        ("def one(here):\n    return [Field(title, count)]", [("one", "title")]),
        ('def one(here):\n    head = Column("Rooms")\n    return head', [("one", "Rooms")]),
        ('def one(here):\n    return table("All", ["A", "B"], rows)', [("one", "A"), ("one", "B")]),
        ('def one(here):\n    return fields_of(here, RoomRow, "tag")', []),
    ],
)
def test_a_cell_that_is_made_by_hand_is_seen(
    source: str, cells: list[tuple[str, str]], tmp_path: Path
) -> None:
    path = tmp_path / "page.py"
    path.write_text(source, "utf-8")
    assert made_by_hand(path) == [("page.py", function, heading) for function, heading in cells]


def test_every_column_that_a_page_chooses_by_name_is_declared() -> None:
    """Pages name columns in texts, which no type checker reads."""
    declared = {part.__name__: set(columns_of(part)) for part in ROWS}
    chosen = [
        (path.name, ast.unparse(call.args[1]), name.value)
        for path in modules()
        for call in _calls(ast.parse(path.read_text("utf-8")))
        if _name(call) == "fields_of"
        for name in call.args[2:]
        if isinstance(name, ast.Constant)
    ]
    assert len(chosen) > 400
    assert [one for one in chosen if one[1] in declared and one[2] not in declared[one[1]]] == []
