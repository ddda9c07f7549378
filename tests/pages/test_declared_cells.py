"""Cells of tables and facts of lists are made of declarations; those made by hand are listed with reasons."""

import ast
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from proposal.document.schedule import columns_of
from tests.document.test_quantities import ALL as ROWS
from tests.sample_document import words

PAGES = Path(__file__).resolve().parents[2] / "proposal" / "pages"
# They make cells and facts of declarations, and are the only ones that do.
MAKERS = ("schedule_table.py", "fact_list.py")
# They write what the makers give them, and what authors wrote.
WRITERS = ("markdown.py", "tables.py", "page_elements.py", "author_prose.py")
# A cell or a fact is told by its module, the function that makes it, and the key of its heading.
Cell = tuple[str, str, str]

COUNT = "a count"
TOTAL = "a total"
MARK = "a mark"
PLACE = "a link to where the row, or what it comes from, stands in full"

ALLOWED: Mapping[Cell, str] = {
    ("alternates.py", "_choices", "what_changes"): TOTAL,
    ("alternates.py", "_choices", "one.row.name"): TOTAL,
    ("order_form.py", "payments_of_all", "name"): TOTAL,
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
    ("consequence_tables.py", "totals_side_by_side", "total"): TOTAL,
    ("consequence_tables.py", "totals_side_by_side", "of"): TOTAL,
    ("consequence_tables.py", "totals_side_by_side", "heads[0]"): TOTAL,
    ("consequence_tables.py", "totals_side_by_side", "heads[1]"): TOTAL,
    ("consequence_tables.py", "totals_side_by_side", "difference"): TOTAL,
    ("cover.py", "_cables", "cables"): TOTAL,
    ("cover.py", "_edition", "edition"): MARK,
    ("cover.py", "_figures", "rooms"): COUNT,
    ("cover.py", "_figures", "portable_sets"): COUNT,
    ("cover.py", "_figures", "microphones_in_use_at_once"): TOTAL,
    ("cover.py", "_figures", "capital(kind if count == 1 else plural(kind))"): COUNT,
    ("cover.py", "_figures", "equipment_rooms"): COUNT,
    ("cover.py", "price_facts", "still_to_choose"): TOTAL,
    ("client_summary.py", "_choices", "alternate"): PLACE,
    ("client_summary.py", "_choices", "name"): TOTAL,
    ("client_summary.py", "_in_short", "each_year"): TOTAL,
    ("client_summary.py", "_steps", "in_full"): PLACE,
    ("cover.py", "rooms_of_summary", "microphones"): TOTAL,
    ("cover.py", "rooms_of_summary", "rooms"): PLACE,
    ("drawing_pages.py", "_sheets", "revision"): MARK,
    ("drawing_pages.py", "_sheets", "in_this_revision"): MARK,
    ("meeting_day.py", "_day_table", "in_use"): COUNT,
    ("meeting_day.py", "_day_table", "spare"): COUNT,
    ("pathways.py", "_pathways", "cables"): COUNT,
    ("pathways.py", "_conduits", "cables"): COUNT,
    ("price_over_time.py", "movers_table", "in_full"): PLACE,
    ("price_over_time.py", "movers_table", "sum_concerned"): TOTAL,
    ("programme.py", "_days_set", "kept"): MARK,
    ("requirements.py", "requirements_page", "answer"): PLACE,
    ("requirements.py", "requirements_met", "requirements_met"): COUNT,
    ("room_sheets.py", "_room_itself", "seats"): COUNT,
    ("room_sheets.py", "_facts", "microphones_in_use_at_once"): COUNT,
    ("room_sheets.py", "_facts", "wired_microphones"): COUNT,
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
            if _name(call) in ("Field", "Fact") or (_name(call) == "Column" and id(call) not in inner):
                found.append((path.name, function, _heading(call)))
            elif _name(call) == "table":
                found += [(path.name, function, key) for key in _keys(call.args[1])]
            elif _name(call) == "facts":
                found += [(path.name, function, key) for key in _terms(call)]
    return found


def _keys(heads: ast.expr) -> list[str]:
    """Return the keys of the headings of a table."""
    found = [one.value for one in ast.walk(heads) if isinstance(one, ast.Constant)]
    assert found, "headings of a table are not read"
    return [str(one) for one in found]


def _terms(call: ast.Call) -> list[str]:
    """Return the headings of a list that is written without facts, or the expression that gives its pairs."""
    pairs = call.args[1] if len(call.args) > 1 else call.keywords[-1].value
    typed = [one.elts[0] for one in ast.walk(pairs) if isinstance(one, ast.Tuple) and len(one.elts) == 2]
    return [
        ast.literal_eval(one) if isinstance(one, ast.Constant) else ast.unparse(one) for one in typed
    ] or [ast.unparse(pairs)]


def _calls(node: ast.AST) -> list[ast.Call]:
    return [one for one in ast.walk(node) if isinstance(one, ast.Call)]


def modules() -> list[Path]:
    return [path for path in sorted(PAGES.glob("*.py")) if path.name not in (*MAKERS, *WRITERS)]


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
    named = {
        *("one.row.name", "heads[0]", "heads[1]", "capital(plural(kind))"),
        "capital(kind if count == 1 else plural(kind))",
    }
    keys = {heading for *_, heading in ALLOWED} - named
    assert [key for key in keys if f"headings.{key}" not in words("en_GB")] == []
    typed = [
        (path.name, ast.unparse(call))
        for path in modules()
        for call in _calls(ast.parse(path.read_text("utf-8")))
        if _name(call) in ("Field", "Column", "Fact") and call.args and isinstance(call.args[0], ast.Constant)
    ]
    assert typed == []


def test_no_module_writes_a_table_or_a_list_of_facts_of_its_own() -> None:
    for path in modules():
        texts = [
            node.value
            for node in ast.walk(ast.parse(path.read_text("utf-8")))
            if isinstance(node, ast.Constant) and isinstance(node.value, str)
        ]
        assert not [one for one in texts if re.search("<(td|th|tr|dl|dt|dd)", one)], path.name


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
        ('def one(here):\n    return [Fact("Seats", 4)]', [("one", "Seats")]),
        ('def one(here):\n    return [fact_list.Fact(here.heading("seats"), 4)]', [("one", "seats")]),
        (
            'def one(here):\n    return facts("All", [("A", 1), *([(title, 2)] if two else [])])',
            [("one", "A"), ("one", "title")],
        ),
        ("def one(here):\n    return markdown.facts(caption, pairs=pairs)", [("one", "pairs")]),
        ('def one(here):\n    return fact_list("All", facts_of(here, row, "tag"))', []),
    ],
)
def test_a_cell_that_is_made_by_hand_is_seen(
    source: str, cells: list[tuple[str, str]], tmp_path: Path
) -> None:
    path = tmp_path / "page.py"
    path.write_text(source, "utf-8")
    assert made_by_hand(path) == [("page.py", function, heading) for function, heading in cells]


# Functions that take a class of rows, or a row, and names of its columns.
CHOOSING = ("fields_of", "facts_of")


def test_every_column_that_a_page_chooses_by_name_is_declared() -> None:
    """Pages name columns in texts, which no type checker reads."""
    declared = {part.__name__: set(columns_of(part)) for part in ROWS}
    anywhere = set().union(*declared.values())
    chosen = [
        (path.name, _name(call), ast.unparse(call.args[1]), name.value)
        for path in modules()
        for call in _calls(ast.parse(path.read_text("utf-8")))
        if _name(call) in CHOOSING
        for name in call.args[2:]
        if isinstance(name, ast.Constant)
    ]
    assert len([one for one in chosen if one[1] == "fields_of"]) > 400
    assert len([one for one in chosen if one[1] == "facts_of"]) > 30
    assert [one for one in chosen if one[3] not in declared.get(one[2], anywhere)] == []
