"""Files read into a tree: texts stay texts, every part knows its place."""

import json
import time
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.errors import Place, Problem
from proposal.model.reading.table_tree import read_table
from proposal.model.reading.tree import (
    Mapping,
    Text,
    merge,
    place_of,
    places,
    plain,
)
from proposal.model.reading.yaml_tree import read_yaml


def _read(text: str | bytes) -> tuple[Any, list[str]]:
    problems: list[Problem] = []
    node = read_yaml(text if isinstance(text, bytes) else text.encode(), "f.yaml", problems)
    return (plain(node) if node else None), [str(problem) for problem in problems]


def _tree(text: str) -> Mapping:
    problems: list[Problem] = []
    node = read_yaml(text.encode(), "f.yaml", problems)
    assert node is not None
    assert problems == []
    return node


def test_scalars_stay_the_text_they_were_written_as() -> None:
    text = "a: NO\nb: 1:30\nc: 007\nd: null\ne: 2031-04-15\nf: 1e3\ng: ~\nh:\ni: 0x1F\nj: 1_000\nyes: .inf\n"
    assert _read(text) == (
        {
            "a": "NO",
            "b": "1:30",
            "c": "007",
            "d": "null",
            "e": "2031-04-15",
            "f": "1e3",
            "g": "~",
            "h": "",
            "i": "0x1F",
            "j": "1_000",
            "yes": ".inf",
        },
        [],
    )


# Signs that break or turn round a line, and the byte order mark, are refused.
_REFUSED = "\u2028\u2029\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff"
_SIGNS = st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Cn"], exclude_characters=_REFUSED)
_SCALARS = st.text(_SIGNS, max_size=12)
_TREES = st.recursive(
    _SCALARS, lambda inner: st.lists(inner) | st.dictionaries(_SCALARS, inner), max_leaves=12
)


@pytest.mark.independent
@settings(max_examples=40, deadline=None)
@given(st.dictionaries(_SCALARS, _TREES))
def test_what_a_yaml_library_writes_is_read_back(tree: dict[str, Any]) -> None:
    text = yaml.safe_dump(tree, allow_unicode=True, default_style='"', width=30)
    assert _read(text) == (tree, [])


@pytest.mark.independent
@settings(max_examples=40, deadline=None)
@given(st.dictionaries(_SCALARS, _TREES))
def test_json_is_read_as_yaml(tree: dict[str, Any]) -> None:
    assert _read(json.dumps(tree, ensure_ascii=False)) == (tree, [])


WRONG_YAML = [
    ("", ["f.yaml: wanted names with values, `{}` for none; found an empty file"]),
    ("# nothing\n", ["f.yaml: wanted names with values, `{}` for none; found an empty file"]),
    ("- 1\n", ["f.yaml:1:1: wanted names with values, such as `name: value`; found a list"]),
    ("hello\n", ["f.yaml:1:1: wanted names with values, such as `name: value`; found hello"]),
    ("a: 1\nb: 2\na: 3\n", ["f.yaml:3:1: wanted each name once; found a again, first in line 1"]),
    (
        "a:\n  b: {c: 1, c: 2}\n  d: 1\n  d: 2\n",
        [
            "f.yaml:2:13: a.b: wanted each name once; found c again, first in line 2",
            "f.yaml:4:3: a: wanted each name once; found d again, first in line 3",
        ],
    ),
    (
        "a: b: c\n",
        [
            "f.yaml:1:5: wanted correct YAML; found a second colon, or a wrong indentation; "
            "a text with a colon stands in quotes"
        ],
    ),
    (
        "ä: ö: c\n",
        [
            "f.yaml:1:5: wanted correct YAML; found a second colon, or a wrong indentation; "
            "a text with a colon stands in quotes"
        ],
    ),
    ("a:\n\t- 1\n", ["f.yaml:2:1: wanted correct YAML; found a tab where YAML takes spaces only"]),
    ("a: @x\n", ["f.yaml:1:4: wanted correct YAML; found @, which only a quoted text may begin with"]),
    (
        "a:b\n  c: d\n",
        ["f.yaml:1:2: wanted correct YAML; found a colon without a space after it, as in `name: value`"],
    ),
    (
        'a: "x\nb: "y"\n',
        ["f.yaml:1:4: wanted correct YAML; found a quote that is opened in this line and not closed"],
    ),
    (
        "a: 'x\n",
        ["f.yaml:1:4: wanted correct YAML; found a quote that is opened in this line and not closed"],
    ),
    ("a: [1, 2\n", ["f.yaml:2:1: wanted correct YAML; found a list in brackets that is not closed"]),
    (
        "a: 1\n b: 2\n",
        [
            "f.yaml:2:3: wanted correct YAML; found a second colon, or a wrong indentation; "
            "a text with a colon stands in quotes"
        ],
    ),
    ("a: 1\n---\nb: 2\n", ["f.yaml:2:1: wanted one document; found the beginning of a second one"]),
    ("a: !!int 3\n", ["f.yaml:1:4: a: wanted a value without a tag; found !!int"]),
    (
        "a: !!python/object/apply:os.getcwd []\n",
        ["f.yaml:1:4: a: wanted a value without a tag; found !!python/object/apply:os.getcwd"],
    ),
    ("? [1]\n: 2\n", ["f.yaml:1:3: wanted a name before the colon; found a list"]),
    ("a: *b\n", ["f.yaml:1:4: a: wanted an alias of something above; found *b, nothing above it"]),
    ("a: &a [*a]\n", ["f.yaml:1:8: a: wanted an alias of something above; found *a, itself"]),
    ('a: "\\0"\n', ["f.yaml:1:4: a: wanted a text of printable characters; found \\x00"]),
    (
        'a: "\\uD800"\n',
        ["f.yaml:1:7: wanted correct YAML; found invalid Unicode character escape code"],
    ),
    (b"a: x\nb: caf\xe9\n", ["f.yaml:2:7: wanted a text in UTF-8; found byte 0xE9, which is not UTF-8"]),
    (b"\xc3\xa4: caf\xe9\n", ["f.yaml:1:7: wanted a text in UTF-8; found byte 0xE9, which is not UTF-8"]),
    (b"\xed\xa0\x80: 1\n", ["f.yaml:1:1: wanted a text in UTF-8; found byte 0xED, which is not UTF-8"]),
    ("a: 1".encode("utf-16"), ["f.yaml: wanted a text in UTF-8; found UTF-16"]),
    ("a: 1".encode("utf-32"), ["f.yaml: wanted a text in UTF-8; found UTF-32"]),
    (b"a: 1\r\nb: \x00\r\n", ["f.yaml:2:4: wanted a text of printable characters; found \\x00"]),
    (b"PK\x03\x04rest", ["f.yaml: wanted a text in UTF-8; found a spreadsheet or an archive"]),
    (b"\x89PNG\r\n", ["f.yaml: wanted a text in UTF-8; found a picture"]),
    (b"a: " + b"x" * 10_000_000, ["f.yaml: wanted at most 5 MB; found 10.0 MB"]),
]


@pytest.mark.parametrize(("text", "messages"), WRONG_YAML, ids=[str(n) for n in range(len(WRONG_YAML))])
def test_wrong_yaml_says_where_and_what(text: str | bytes, messages: list[str]) -> None:
    assert _read(text)[1] == messages


def test_utf_8_may_begin_with_a_byte_order_mark() -> None:
    assert _read(b"\xef\xbb\xbfa: 1\n") == ({"a": "1"}, [])


def test_simple_aliases_are_taken() -> None:
    assert _read("a: &x {b: 1}\nc: *x\n") == ({"a": {"b": "1"}, "c": {"b": "1"}}, [])


def test_aliases_that_explode_are_refused_at_once() -> None:
    lines = ["a0: &a0 [" + ",".join("x" * 10) + "]"]
    lines += [f"a{n}: &a{n} [{','.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 30)]
    started = time.perf_counter()
    _, messages = _read("\n".join(lines))
    assert messages == [
        "f.yaml:5:38: a4: wanted at most 100000 values, aliases counted out; found more",
    ]
    assert time.perf_counter() - started < 1


def test_aliases_cannot_nest_beyond_the_limit() -> None:
    lines = ["a0: &a0 [x]"] + [f"a{n}: &a{n} [*a{n - 1}]" for n in range(1, 200)]
    assert _read("\n".join(lines))[1] == [
        "f.yaml:100:12: a99: wanted at most 100 levels; found more through *a98"
    ]


@pytest.mark.parametrize(
    "text",
    [
        "a: " + "[" * 150 + "]" * 150,
        "[" * 100_000,
        "{a: " * 90_000,
        "- " * 3000,
        "\n".join(" " * n + "a:" for n in range(1500)),
    ],
)
def test_nesting_too_deep_is_refused_without_exhausting_the_stack(text: str) -> None:
    _, messages = _read(text)
    assert len(messages) == 1
    assert (
        "wanted at most 100 levels; found one more" in messages[0]
        or "found more than 100 levels" in messages[0]
    )


def test_a_file_of_faults_stops_after_a_hundred() -> None:
    assert len(_read("a: 1\n" * 100_000)[1]) == 100


NESTED = "one: 1\ntwo:\n  three: [a, bé, {c: d}]\n  four: x\n"


def test_every_value_has_the_place_where_it_begins() -> None:
    tree = _tree(NESTED)
    assert place_of(tree, ["one"]) == Place("f.yaml", 1, 6)
    assert place_of(tree, ["one"], key=True) == Place("f.yaml", 1, 1)
    assert place_of(tree, ["two", "three", 2, "c"]) == Place("f.yaml", 3, 22)
    assert place_of(tree, ["two", "four"]) == Place("f.yaml", 4, 9)
    assert place_of(tree, ["two", "missing"]) == Place("f.yaml", 3, 3)
    assert place_of(tree, ["two", "three", 9, "c"]) == Place("f.yaml", 3, 10)
    assert place_of(tree, []) == Place("f.yaml", 1, 1)


def test_all_places_are_listed_by_path() -> None:
    assert dict(places(_tree(NESTED)))[("two", "three", 2, "c")] == Place("f.yaml", 3, 22)
    assert dict(places(_tree(NESTED)))[("two",)] == Place("f.yaml", 2, 1)


# RFC 7396, appendix A, the cases whose target and patch are objects of texts, objects and lists.
RFC_7396 = [
    ('{"a":"b"}', '{"a":"c"}', '{"a":"c"}'),
    ('{"a":"b"}', '{"b":"c"}', '{"a":"b","b":"c"}'),
    ('{"a":"b"}', '{"a":null}', "{}"),
    ('{"a":"b","b":"c"}', '{"a":null}', '{"b":"c"}'),
    ('{"a":["b"]}', '{"a":"c"}', '{"a":"c"}'),
    ('{"a":"c"}', '{"a":["b"]}', '{"a":["b"]}'),
    ('{"a":{"b":"c"}}', '{"a":{"b":"d","c":null}}', '{"a":{"b":"d"}}'),
    ('{"a":[{"b":"c"}]}', '{"a":["1"]}', '{"a":["1"]}'),
    ('{"e":"f"}', '{"a":"1"}', '{"e":"f","a":"1"}'),
    ("{}", '{"a":{"bb":{"ccc":null}}}', '{"a":{"bb":{}}}'),
]


@pytest.mark.published
@pytest.mark.parametrize(("target", "patch", "result"), RFC_7396)
def test_a_merge_patch_gives_the_results_of_rfc_7396(target: str, patch: str, result: str) -> None:
    assert plain(merge(_tree(target), _tree(patch))) == json.loads(result)


def test_a_merged_tree_points_into_the_file_each_value_came_from() -> None:
    base = _tree("a: {b: 1, c: 2, d: 3}\n")
    problems: list[Problem] = []
    patch = read_yaml(b"\na:\n  c: 4\n  d: null\n", "patch.yaml", problems)
    assert patch is not None
    merged = merge(base, patch)
    assert place_of(merged, ["a", "b"]) == Place("f.yaml", 1, 8)
    assert place_of(merged, ["a", "c"]) == Place("patch.yaml", 3, 6)
    assert place_of(merged, ["a", "d"]) == Place("patch.yaml", 4, 3)


def test_a_quoted_null_is_a_text_and_removes_nothing() -> None:
    assert plain(merge(_tree("a: b\n"), _tree("a: 'null'\n"))) == {"a": "null"}


def _table(text: str) -> tuple[Any, list[str], Mapping | None]:
    problems: list[Problem] = []
    columns = ("tag", "name", "type", "x", "y")
    other = {"room type": "type"}
    node = read_table(text.encode(), "rooms.csv", problems, key="tag", columns=columns, other_names=other)
    return (plain(node) if node else None), [str(problem) for problem in problems], node


def test_a_unit_in_the_heading_goes_to_bare_numbers_only() -> None:
    rows, messages, _ = _table("tag,room type,x (m),y [ft]\nA1,t,3.2,12 1/2\nA2,t,1 ft,\nA3,t,far,−2\n")
    assert messages == []
    assert rows == {
        "A1": {"type": "t", "x": "3.2 m", "y": "12 1/2 ft"},
        "A2": {"type": "t", "x": "1 ft"},
        "A3": {"type": "t", "x": "far", "y": "−2 ft"},
    }


def test_cells_know_their_place_after_quoted_cells_of_several_lines() -> None:
    _, messages, table = _table('tag,name,x\r\nA,"Große\r\n""Stube"", hinten",  3 m\r\n\r\nB, "b" ,4 m\r\n')
    assert messages == []
    assert table is not None
    assert place_of(table, ["A", "name"]) == Place("rooms.csv", 2, 3)
    assert place_of(table, ["A", "x"]) == Place("rooms.csv", 3, 22)
    assert place_of(table, ["B", "name"]) == Place("rooms.csv", 5, 4)
    assert place_of(table, ["B", "x"]) == Place("rooms.csv", 5, 9)
    assert plain(table)["A"]["name"] == 'Große\r\n"Stube", hinten'


def test_an_empty_cell_keeps_its_place() -> None:
    _, _, table = _table("tag,name,x\nA,,3 m\n")
    assert table is not None
    assert place_of(table, ["A", "name"]) == Place("rooms.csv", 2, 3)


@pytest.mark.parametrize(
    ("text", "messages"),
    [
        ("", ["rooms.csv: wanted a heading and rows; found an empty file"]),
        ("\n,,\n", ["rooms.csv: wanted a heading and rows; found an empty file"]),
        ("tag;name\nA;b\n", ["rooms.csv:1:1: wanted values separated by commas; found semicolons"]),
        ("tag\tname\nA\tb\n", ["rooms.csv:1:1: wanted values separated by commas; found tabs"]),
        (
            "tag,nmae\nA,b\n",
            ["rooms.csv:1:5: wanted one of tag, name, type, x, y; found nmae (did you mean name?)"],
        ),
        ("tag,x (m),x (ft)\nA,1,2\n", ["rooms.csv:1:11: wanted each heading once; found x again"]),
        ("tag,\nA,\n", ["rooms.csv:1:5: wanted a name in the heading; found an empty cell"]),
        ("name\nA\n", ["rooms.csv:1:1: wanted a heading tag; found none"]),
        (
            "tag,name\nA\nB,c,d\nC,d\n",
            [
                "rooms.csv:2:1: wanted 2 cells as in the heading; found 1",
                "rooms.csv:3:5: wanted 2 cells as in the heading; found 3",
            ],
        ),
        ("tag,name\n,b\n", ["rooms.csv:2:1: tag: wanted a name; found an empty cell"]),
        (
            "tag,name\nA,b\nA,c\n",
            ["rooms.csv:3:1: tag: wanted each tag once; found A again, first in line 2"],
        ),
        ('tag,name\nA,"b\n', ["rooms.csv:2:3: wanted a closing quote; found the end of the file"]),
        ('tag,name\nA,"b"c\nB,d\n', ["rooms.csv:2:6: wanted a comma after the closing quote; found c"]),
        ("tag,name\nA,\x00\n", ["rooms.csv:2:3: wanted a text of printable characters; found \\x00"]),
    ],
)
def test_a_wrong_table_says_where_and_what(text: str, messages: list[str]) -> None:
    assert _table(text)[1] == messages


@pytest.mark.independent
@given(
    st.lists(
        st.tuples(
            *[
                st.text(
                    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Cn", "Z"])
                    | st.sampled_from('",\n ;'),
                    max_size=6,
                )
            ]
            * 2
        ),
        max_size=6,
    )
)
def test_what_the_csv_module_writes_is_read_back(rows: list[tuple[str, str]]) -> None:
    import csv
    import io

    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(("tag", "name", "type"))
    for number, row in enumerate(rows):
        writer.writerow((number, *row))
    wanted = {
        str(number): {
            name: cell.strip() for name, cell in zip(("name", "type"), row, strict=True) if cell.strip()
        }
        for number, row in enumerate(rows)
    }
    assert _table(out.getvalue())[:2] == (wanted, [])


def test_text_knows_what_stands_for_nothing() -> None:
    place = Place("f.yaml", 1, 1)
    assert Text("null", place, plain=True).is_null
    assert not Text("null", place).is_null
    assert Text("unknown", place, plain=True).is_unknown


@pytest.mark.parametrize("sign", ["\x85", "\u2028", "\u202e", "\u2066", "\ufeff", "\x7f", "\x9b", "\ufffe"])
def test_signs_that_break_or_turn_a_line_are_refused(sign: str) -> None:
    escape = sign.encode("unicode_escape").decode()
    assert _read(f"a: b{sign}c\n")[1] == [
        f"f.yaml:1:5: wanted a text of printable characters; found {escape}"
    ]


@pytest.mark.parametrize("text", ["Größe", "東京", "אולם\u200f", "👩\u200d🏫", "½ × 3 µm", "naïve"])
def test_texts_of_every_language_are_taken(text: str) -> None:
    assert _read(f"a: {text}\n") == ({"a": text}, [])
