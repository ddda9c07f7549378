"""Issued records are read in their order; the register of the last one is the register in force."""

import datetime
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proposal.errors import InputError, Problem
from proposal.model.issued import REGISTER_BEFORE, Issue, ends_of, order_of, read_register, register_text
from proposal.model.loading import load_project, register_of
from proposal.model.project import Numbered
from tests.bad_input.projects import write_project

GOOD = '{"address/B001-AP1": {"number": "10.1.2.9", "retired": false}}'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_project(tmp_path / "project")


def manifest(date: str, *parents: str) -> str:
    """Return of a manifest what tells where its record stands."""
    return json.dumps({"layout": 2, "date": date, "parents": dict.fromkeys(parents, "")})


FIRST = manifest("2031-01-01")
OLD = json.dumps({"format": 1, "sequence": 1, "date": "2031-01-01", "previous": ""})


def issue(folder: Path, name: str, said: str | None, register: str | None = GOOD) -> Path:
    """Write an issued record of which nothing but what is read is there."""
    record = folder / "issued" / name
    record.mkdir(parents=True)
    if said is not None:
        (record / "manifest.json").write_text(said, encoding="utf-8")
    if register is not None:
        (record / "register.json").write_text(register, encoding="utf-8")
    return record


def refusals(folder: Path) -> list[str]:
    """Return what is said of a folder that is refused."""
    with pytest.raises(InputError) as refused:
        load_project(folder)
    return [str(problem) for problem in refused.value.problems]


def test_a_register_is_a_kind_a_line_in_order() -> None:
    register = {
        "device/B1-AP2": Numbered(number="B1-AP2", at=(1.5, 2.0), model="X"),
        "address/B1-AP3": Numbered(number="10.1.2.4"),
        "address/B1-AP2": Numbered(number="10.1.2.3", retired=True),
    }
    assert register_text(register) == (
        "{\n"
        '  "address/B1-AP2": {"number": "10.1.2.3", "retired": true}, '
        '"address/B1-AP3": {"number": "10.1.2.4", "retired": false},\n'
        '  "device/B1-AP2": {"number": "B1-AP2", "retired": false, "at": [1.5, 2.0], "model": "X"}\n'
        "}\n"
    )
    assert register_text({}) == "{}\n"


text = st.text(min_size=1, max_size=12).filter(str.isprintable)
length = st.floats(min_value=-900, max_value=900)
numbered = st.builds(
    Numbered,
    number=text,
    retired=st.booleans(),
    at=st.none() | st.tuples(length, length),
    model=st.just("") | text,
)


@given(st.dictionaries(text, numbered, max_size=6))
def test_a_register_is_read_as_it_was_written(register: dict[str, Numbered]) -> None:
    problems: list[Problem] = []
    assert read_register(register_text(register).encode(), "register.json", problems) == register
    assert problems == []


@given(st.binary(max_size=40) | st.text(max_size=40).map(str.encode))
def test_no_register_whatever_is_in_it_fails_otherwise_than_with_a_problem(data: bytes) -> None:
    problems: list[Problem] = []
    found = read_register(data, "issued/A/register.json", problems)
    assert not (found and problems)
    assert all(problem.place.file == "issued/A/register.json" for problem in problems)


def test_a_project_without_records_has_no_numbers(folder: Path) -> None:
    assert load_project(folder).issued == {}
    (folder / "issued").mkdir()
    assert load_project(folder).issued == {}


def test_the_register_in_force_is_that_of_the_record_that_no_other_follows(folder: Path) -> None:
    issue(folder, "B", FIRST, '{"sheet/R//1": {"number": "R-07", "retired": false}}')
    issue(folder, "A", manifest("2030-01-01", "B"))
    assert load_project(folder).issued == {"address/B001-AP1": Numbered(number="10.1.2.9")}


def test_records_of_the_first_layout_are_read_beside_others(folder: Path) -> None:
    issue(folder, "A", OLD, '{"sheet/R//1": {"number": "R-07", "retired": false}}')
    assert list(load_project(folder).issued) == ["sheet/R//1"]
    issue(folder, "B", manifest("2031-02-01", "A"))
    assert list(load_project(folder).issued) == ["address/B001-AP1"]


def test_the_schedules_of_the_last_record_are_none(folder: Path) -> None:
    issue(folder, "A", FIRST)
    issue(folder, "latest", None, None)
    assert list(load_project(folder).issued) == ["address/B001-AP1"]


def test_of_earlier_records_nothing_but_the_manifest_is_read(folder: Path) -> None:
    first = issue(folder, "A", FIRST, None)
    (first / "record.zip").write_bytes(b"half an archive")
    issue(folder, "B", manifest("2031-02-01", "A"))
    assert list(load_project(folder).issued) == ["address/B001-AP1"]


def test_a_record_that_is_still_being_written_is_none(folder: Path) -> None:
    issue(folder, "A", FIRST)
    issue(folder, ".part", None, "half a reg")
    (folder / "issued" / "notes.txt").write_text("ours", encoding="utf-8")
    assert list(load_project(folder).issued) == ["address/B001-AP1"]


def test_the_order_of_records_is_parent_then_date_then_name() -> None:
    """Two branches from A, one of two issues; both go on, and E follows both.

    ```
    A (Jan) ── C (Mar) ── D (Feb)
       └────── B (Mar) ──────────┴─ E (Jan)
    ```
    """
    january, february, march = (datetime.date(2031, month, 1) for month in (1, 2, 3))
    issues = {
        "E": Issue(("B", "D"), january),
        "D": Issue(("C",), february),
        "C": Issue(("A",), march),
        "B": Issue(("A",), march),
        "A": Issue((), january),
    }
    problems: list[Problem] = []
    order = order_of(issues, problems)
    assert order == ("A", "B", "C", "D", "E")
    assert ends_of(issues, order) == ("E",)
    del issues["E"]
    assert ends_of(issues, order_of(issues, problems)) == ("B", "D")
    assert problems == []


def test_a_record_is_computed_again_from_the_register_that_it_was_computed_from(folder: Path) -> None:
    record = issue(folder, "A", FIRST)
    before = {"stream/B001-AP1/1": Numbered(number="7")}
    (record / REGISTER_BEFORE).write_text(register_text(before), encoding="utf-8")
    problems: list[Problem] = []
    read = register_of(record, REGISTER_BEFORE, problems, "issued/A")
    assert problems == []
    assert load_project(folder, issued=read).issued == before
    assert load_project(folder, issued={}).issued == {}


@pytest.mark.parametrize(
    ("register", "said"),
    [
        (None, ["issued/A/register.json: wanted a file that can be read; found an obstacle: No such file"]),
        ("", ["issued/A/register.json:1:1: wanted JSON; found a fault: Expecting value"]),
        ('{"a":\n [}', ["issued/A/register.json:2:3: wanted JSON; found a fault: Expecting value"]),
        ("[]", ["issued/A/register.json: wanted a JSON object; found []"]),
        ("[" * 200_000, ["issued/A/register.json: wanted JSON; found objects nested too deeply"]),
        ('{"a": 1}', ["issued/A/register.json: a: wanted an object with number and retired; found 1"]),
        ('{"a": {"retired": true}}', ["issued/A/register.json: a: wanted a number as text; found null"]),
        (
            '{"a": {"number": 7, "retired": true}, "b": {"number": "7"}}',
            [
                "issued/A/register.json: a: wanted a number as text; found 7",
                "issued/A/register.json: b: wanted true or false under retired; found null",
            ],
        ),
        (
            '{"a": {"number": "7", "retired": true, "gone": 1}}',
            ["issued/A/register.json: a: wanted one of number, retired, at, model; found gone"],
        ),
        (
            '{"a": {"number": "7", "retired": true, "at": [1]}}',
            ["issued/A/register.json: a: wanted two lengths in metres under at; found [1]"],
        ),
        (
            '{"a": {"number": "7", "retired": true}, "a": {"number": "8", "retired": true}}',
            ["issued/A/register.json: wanted JSON; found a twice"],
        ),
        (
            '{"a": {"number": "7\\ud800", "retired": true}, "b\\n": {"number": "7", "retired": true}}',
            [
                "issued/A/register.json: a: wanted a number of printable characters; found others",
                "issued/A/register.json: b\\n: wanted printable text; found other text",
            ],
        ),
        ('{"a": {"number": NaN, "retired": true}}', ["issued/A/register.json: wanted JSON; found NaN"]),
    ],
)
def test_a_register_that_is_no_good_is_refused(folder: Path, register: str | None, said: list[str]) -> None:
    issue(folder, "A", FIRST, register)
    found = refusals(folder)
    assert len(found) == len(said)
    assert all(one.startswith(wanted) for one, wanted in zip(found, said, strict=True)), found


@pytest.mark.parametrize(
    ("manifests", "said"),
    [
        ({"A": None}, ["issued/A/manifest.json: wanted a file that can be read; found an obstacle:"]),
        (
            {"A": "{}"},
            ["issued/A/manifest.json: layout: wanted 1 to 4, which this program reads; found null"],
        ),
        (
            {"A": FIRST, "A copy": json.dumps({**json.loads(FIRST), "revision": "A"})},
            ['issued/A copy/manifest.json: revision: wanted A copy, as its folder is called; found "A"'],
        ),
        ({"A": '{"layout": true}'}, ["issued/A/manifest.json: layout: wanted 1 to 4,"]),
        ({"A": '{"layout": 5}'}, ["issued/A/manifest.json: layout: wanted 1 to 4,"]),
        ({"A": '{"format": 2}'}, ["issued/A/manifest.json: layout: wanted 1 to 4,"]),
        (
            {"A": '{"layout": 2}'},
            [
                "issued/A/manifest.json: date: wanted a date, such as 2031-02-28; found null",
                "issued/A/manifest.json: parents: wanted the records that it follows, each with a digest;",
            ],
        ),
        (
            {"A": '{"layout": 2, "date": "soon", "parents": {"B": 1}}'},
            ["issued/A/manifest.json: date: wanted a date", "issued/A/manifest.json: parents: wanted the"],
        ),
        (
            {"A": FIRST, "D": manifest("2031-02-01", "A", "C\n")},
            [
                "issued/D/manifest.json: parents: wanted the record that it follows, issued/C\\n; found none",
            ],
        ),
        (
            {"A": manifest("2031-02-01", "B"), "B": manifest("2031-02-01", "A")},
            [
                "issued/A/manifest.json: parents: wanted records that follow others; found one that follows",
                "issued/B/manifest.json: parents: wanted records that follow others; found one that follows",
            ],
        ),
        ({"A": '{"sequence": ' + "9" * 5000 + "}"}, ["issued/A/manifest.json: wanted JSON; found a number"]),
    ],
)
def test_records_without_a_clear_order_are_refused(
    folder: Path, manifests: dict[str, str | None], said: list[str]
) -> None:
    for name, manifest in manifests.items():
        issue(folder, name, manifest)
    found = refusals(folder)
    assert len(found) == len(said)
    assert all(one.startswith(wanted) for one, wanted in zip(found, said, strict=True)), found


def test_what_is_wrong_with_records_is_said_beside_what_is_wrong_with_files(folder: Path) -> None:
    issue(folder, "A", "{}")
    (folder / "project.yaml").write_text("name: [", encoding="utf-8")
    files = {line.split(":")[0] for line in refusals(folder)}
    assert files == {"issued/A/manifest.json", "project.yaml"}


def test_a_large_register_is_read_in_a_moment(folder: Path) -> None:
    import time

    entries = {
        f"address/R{n}-AP1": {"number": f"10.{n // 250}.{n % 250}.1", "retired": False} for n in range(40_000)
    }
    data = json.dumps(entries).encode()
    problems: list[Problem] = []
    began = time.process_time()
    assert len(read_register(data, "register.json", problems)) == 40_000
    assert time.process_time() - began < 2.0
