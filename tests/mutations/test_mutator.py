"""The tool that makes deliberate faults: which it makes, and that it sees whether a test sees them."""

import ast
from collections import Counter
from pathlib import Path

import pytest

from tests.mutations.__main__ import ROOT, all_mutations, chosen_tests, drawn, equivalents
from tests.mutations.coverage_map import Covering
from tests.mutations.mutator import Mutation, mutations_of
from tests.mutations.running import mutated, tried


def changes(text: str) -> set[tuple[str, str, str]]:
    """Return kind, text and what replaces it of every mutation of a function's body."""
    source = "def one(a, b):\n" + "".join(f"    {line}\n" for line in text.splitlines())
    return {(found.kind, found.before, found.after) for found in mutations_of("m.py", source)}


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("return 3", {("constant", "3", "4"), ("constant", "3", "2")}),
        ("return 2.0", {("constant", "2.0", "2.2"), ("constant", "2.0", "3.0")}),
        ("return True", {("constant", "True", "False")}),
        ("return a < b", {("comparison", "a < b", "(a <= b)"), ("comparison", "a < b", "(a > b)")}),
        ("return a is b", {("comparison", "a is b", "(a is not b)")}),
        ("return a + b", {("arithmetic", "a + b", "(a - b)")}),
        ("return a // b", {("arithmetic", "a // b", "(a / b)")}),
        ("return -a", {("arithmetic", "-a", "a")}),
        ("return not a", {("boolean", "not a", "a")}),
        ("return a and b", {("boolean", "a and b", "(a or b)")}),
        (
            "return a if b else a",
            {("negated condition", "a if b else a", "(a if not b else a)")},
        ),
        ("if a:\n    return b", {("negated condition", "a", "not (a)")}),
        ("return [x for x in a if b]", {("negated condition", "b", "(not (b))")}),
        ("return f(a, b)", {("swapped arguments", "f(a, b)", "f(b, a)")}),
        ("return min(a, b)", {("function", "min(a, b)", "max(a, b)")}),
        ("return math.ceil(a)", {("function", "math.ceil(a)", "math.floor(a)")}),
        ("return range(a)", {("off by one", "range(a)", "range(a + 1)")}),
        ("a.append(b)", {("dropped statement", "a.append(b)", "pass")}),
        ("raise a", {("dropped statement", "raise a", "pass")}),
    ],
)
def test_each_kind_of_fault_is_made(text: str, wanted: set[tuple[str, str, str]]) -> None:
    assert changes(text) == wanted


@pytest.mark.parametrize(
    "text",
    [
        '"""Return 3."""',
        "assert a < 3",
        "import m",
        "c: Annotated[int, 3]",
        'return f"{a + 3}"',
        'return "a" + b',
        "shutil.rmtree(a / b, True)",
        "return zip(a, strict=True)",
        "return f(*a, b)",
    ],
)
def test_what_would_say_nothing_or_destroy_is_left_alone(text: str) -> None:
    assert changes(text) == set()


def test_a_mutation_is_told_by_function_and_text_and_not_by_the_number_of_its_line() -> None:
    source = "class A:\n    def b(self):\n        return 'é', 1 + self.c\n"
    (found,) = [one for one in mutations_of("m.py", source) if one.kind == "arithmetic"]
    assert (found.function, found.line) == ("A.b", 3)
    assert found.applied(source) == "class A:\n    def b(self):\n        return 'é', (1 - self.c)\n"
    moved = "# One more line.\n" + source
    assert found.identity in {one.identity for one in mutations_of("m.py", moved)}
    twice = source + "        return 'e', 1 + self.c\n"
    assert len({one.identity for one in mutations_of("m.py", twice) if one.kind == "arithmetic"}) == 2


def test_every_mutation_of_the_program_is_another_program_that_can_be_read() -> None:
    sources = {}
    found = list(all_mutations(ROOT))[::200]
    assert len(found) > 100
    for one in found:
        if one.path not in sources:
            source = (ROOT / one.path).read_text("utf-8")
            sources[one.path] = source, ast.dump(ast.parse(source))
        source, tree = sources[one.path]
        assert ast.dump(ast.parse(one.applied(source))) != tree, one


def test_the_order_of_the_draw_is_the_same_whatever_lines_are_run() -> None:
    every = [Mutation("m.py", "f", line, line, "constant", "1", "2", 0, 1) for line in range(1, 101)]
    lines = {("m.py", line) for line in range(1, 101)}
    seen, unseen = drawn(every, lines, 1, 40)
    assert (len(seen), unseen) == (40, [])
    assert [one.line for one in seen] != sorted(one.line for one in seen)
    missing = seen[7]
    fewer, not_run = drawn(every, lines - {("m.py", missing.line)}, 1, 39)
    assert fewer == [one for one in seen if one != missing]
    assert not_run == [missing]


def test_what_is_listed_as_changing_nothing_is_a_mutation_that_is_drawn_and_has_a_reason() -> None:
    every = {one.identity for one in all_mutations(ROOT)}
    listed = equivalents()
    assert [identity for identity, _ in listed if identity not in every] == []
    assert [identity for identity, reason in listed if len(reason.split()) < 4] == []
    assert [one for one, count in Counter(identity for identity, _ in listed).items() if count > 1] == []


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    """A program of one function with one test."""
    (tmp_path / ".scratch").mkdir()
    (tmp_path / "thing.py").write_text(
        "def least(a, b):\n    while a > 100:\n        a -= 1\n    return a if a <= b else b\n"
    )
    (tmp_path / "test_thing.py").write_text(
        "from thing import least\n\n"
        "def test_least():\n    assert least(1, 2) == 1\n    assert least(101, 102) == 100\n"
    )
    return tmp_path


def mutation(tree: Path, kind: str, after: str) -> Mutation:
    source = (tree / "thing.py").read_text()
    (found,) = [one for one in mutations_of("thing.py", source) if (one.kind, one.after) == (kind, after)]
    return found


@pytest.mark.parametrize(
    ("kind", "after", "limit_s", "killed", "by"),
    [
        ("comparison", "(a > b)", 8, True, "test_thing.py::test_least"),
        ("comparison", "(a < b)", 8, False, ""),
        ("dropped statement", "pass", 1, True, "time ran out"),
    ],
)
def test_a_fault_is_killed_by_a_test_that_fails_or_hangs(
    tree: Path, kind: str, after: str, limit_s: float, killed: bool, by: str
) -> None:
    before = (tree / "thing.py").read_bytes(), (tree / "thing.py").stat().st_mtime_ns
    outcome = tried(tree, mutation(tree, kind, after), ["test_thing.py"], limit_s)
    assert (outcome.killed, outcome.by) == (killed, by)
    assert ((tree / "thing.py").read_bytes(), (tree / "thing.py").stat().st_mtime_ns) == before


def test_a_module_is_as_it_was_after_a_failure(tree: Path) -> None:
    source = (tree / "thing.py").read_text()
    held = mutated(tree, mutation(tree, "comparison", "(a > b)"))

    def fail() -> None:
        with held:
            assert (tree / "thing.py").read_text() != source
            raise KeyError

    with pytest.raises(KeyError):
        fail()
    assert (tree / "thing.py").read_text() == source


def test_the_tests_of_a_module_come_first_and_the_budget_is_kept() -> None:
    def covering(path: str, seconds: float, lines: int) -> Covering:
        return Covering(
            path, seconds, {"proposal/design/power/port_power.py": frozenset(range(1, lines + 1))}
        )

    mirror = covering("tests/design/power/test_port_power.py", 30, 5)
    quick, slow = covering("tests/a/test_a.py", 2, 50), covering("tests/a/test_b.py", 40, 50)
    other = covering("tests/a/test_c.py", 1, 2)
    beside = covering("tests/design/power/test_budgets.py", 8, 5)
    power = Mutation("proposal/design/power/port_power.py", "f", 4, 4, "constant", "1", "2", 0, 1)
    tests = [slow, quick, other, mirror]
    assert [one.path for one in chosen_tests(power, tests, 60)] == [mirror.path, quick.path]
    assert [one.path for one in chosen_tests(power, tests, 80)] == [mirror.path, quick.path, slow.path]
    assert [one.path for one in chosen_tests(power, [*tests, beside], 45)] == [
        *(mirror.path, beside.path, quick.path)
    ]
