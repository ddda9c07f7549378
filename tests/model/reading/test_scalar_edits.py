"""A value of a YAML file changes in its own place: every other sign of the file stays."""

import pytest

from proposal.errors import Place
from proposal.model.reading.scalar_edits import (
    Nested,
    NotEditableError,
    Where,
    new_file,
    put,
    told_anew,
    with_values,
)
from proposal.model.reading.tree import Text, node_at
from proposal.model.reading.yaml_tree import read_yaml


def with_value(text: str, where: Where, value: str) -> str:
    return with_values(text, [(where, value)])


FILE = """\
# Ours, in €: 😀 stays.
price:
  rules: {models: {}, rest: {margin: 26 %}} # all else
  selling:
    36878V:   1545.00 EUR   # agreed
    "305 m": '12.00 EUR'

  # Below the last of them.
terms: {exchange: {SEK: {rate: "0.0885", date: 2031-04-10}}}
notes: |
  two lines
  of text

list: [1, 2]
empty:
"""


@pytest.mark.parametrize(
    ("path", "value", "line", "now"),
    [
        (("price", "rules", "rest", "margin"), "28.3 %", 3,
         "  rules: {models: {}, rest: {margin: 28.3 %}} # all else"),
        (("price", "selling", "36878V"), "9.50 EUR", 5, "    36878V:   9.50 EUR   # agreed"),
        (("price", "selling", "305 m"), "1 EUR", 6, "    \"305 m\": '1 EUR'"),
        (("terms", "exchange", "SEK", "rate"), "0.1", 9,
         'terms: {exchange: {SEK: {rate: "0.1", date: 2031-04-10}}}'),
        (("empty",), "7 %", 15, "empty: 7 %"),
        # What is not there yet stands below the last of its mapping, or beside it on its line.
        (("price", "selling", "A1"), "3.00 EUR", 7, "    A1: 3.00 EUR"),
        (("price", "rules", "models", "A1", "margin"), "1 %", 3,
         "  rules: {models: {A1: {margin: 1 %}}, rest: {margin: 26 %}} # all else"),
        (("terms", "exchange", "SEK", "source"), "a bank", 9,
         'terms: {exchange: {SEK: {rate: "0.0885", date: 2031-04-10, source: a bank}}}'),
        (("rules", "takeoff", "spoilage"), "8 %", 17, "  takeoff:"),
    ],
)  # fmt: skip
def test_one_value_is_written_and_all_else_stays(
    path: tuple[str, ...], value: str, line: int, now: str
) -> None:
    made = with_value(FILE, path, value)
    assert made.split("\n")[line - 1] == now
    before, after = read_yaml(FILE.encode(), "f", []), read_yaml(made.encode(), "f", [])
    assert told_anew(before, after) == {path}
    assert after is not None
    node = node_at(after, path)
    assert isinstance(node, Text)
    assert node.value == value
    kept = [one for one in FILE.split("\n") if one not in made.split("\n")]
    assert len(kept) <= 1


def test_the_place_that_reading_gives_finds_the_same_value() -> None:
    tree = read_yaml(FILE.encode(), "f", [])
    assert tree is not None
    path = ("terms", "exchange", "SEK", "rate")
    node = node_at(tree, path)
    assert isinstance(node, Text)
    assert with_value(FILE, node.place, "0.2") == with_value(FILE, path, "0.2")


def test_ends_of_lines_stay_as_they_are() -> None:
    text = FILE.replace("\n", "\r\n")
    made = with_value(text, ("price", "selling", "A1"), "3.00 EUR")
    assert made == with_value(FILE, ("price", "selling", "A1"), "3.00 EUR").replace("\n", "\r\n")


def test_a_file_without_a_last_line_end_gets_one() -> None:
    assert with_value("a: 1", ("b",), "2") == "a: 1\nb: 2\n"


@pytest.mark.parametrize(
    ("text", "path", "why"),
    [
        ("a: &x 1\nb: *x\n", ("b",), "an alias"),
        ("a: |\n  1\n", ("a",), "a text of several lines"),
        ("a: {b: 1}\n", ("a",), "names with values"),
        ("a: [1]\n", ("a",), "names with values"),
        ("a: 1\n", ("a", "b"), "a value where names"),
    ],
)
def test_what_no_single_place_stands_for_is_refused(text: str, path: tuple[str, ...], why: str) -> None:
    with pytest.raises(NotEditableError, match=why):
        with_value(text, path, "2")


def test_a_place_without_a_value_is_refused() -> None:
    with pytest.raises(NotEditableError, match="no value"):
        with_value("a: 1\n", Place("f", 1, 2), "2")


def test_a_value_that_others_stand_for_too_changes_more_than_one_path() -> None:
    text = "a: &x 1\nb: *x\n"
    made = with_value(text, ("a",), "2")
    paths = told_anew(read_yaml(text.encode(), "f", []), read_yaml(made.encode(), "f", []))
    # An anchor goes with its value: what named it can no longer be read, or has changed with it.
    assert paths != {("a",)}


def test_a_new_file_says_one_value_below_its_head() -> None:
    values: Nested = {}
    put(values, ("cables", "CC-1", "reels", "1 #", "cost"), "1 EUR")
    made = new_file(["# Ours.", "source: a quote"], values)
    assert (
        made == '# Ours.\nsource: a quote\ncables:\n  CC-1:\n    reels:\n      "1 #":\n        cost: 1 EUR\n'
    )


def test_several_values_are_written_at_once_and_new_ones_of_one_place_stand_together() -> None:
    edits = [
        (("price", "rules", "rest", "margin"), "28 %"),
        (("price", "selling", "A1"), "3.00 EUR"),
        (("price", "selling", "B2"), "4.00 EUR"),
        (("price", "retention"), "5 %"),
        (("terms", "exchange", "SEK", "rate"), "0.1"),
        (("terms", "exchange", "NOK", "rate"), "0.2"),
        (("terms", "exchange", "NOK", "source"), "a bank: ours"),
    ]
    made = with_values(FILE, edits)
    before, after = read_yaml(FILE.encode(), "f", []), read_yaml(made.encode(), "f", [])
    assert after is not None
    assert told_anew(before, after) == {path for path, _ in edits}
    for path, value in edits:
        node = node_at(after, path)
        assert isinstance(node, Text)
        assert node.value == value
    assert "    A1: 3.00 EUR\n    B2: 4.00 EUR\n  retention: 5 %\n" in made
    assert 'date: 2031-04-10}, NOK: {rate: 0.2, source: "a bank: ours"}}}' in made
