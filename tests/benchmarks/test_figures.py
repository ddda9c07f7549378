"""The table of figures grows by a column a commit."""

from benchmarks.figures import Row, compared, with_column
from benchmarks.measuring import Taken


def cells(table: str) -> list[list[str]]:
    return [
        [cell.strip() for cell in line[1:-1].split("|")] for line in table.splitlines() if line[:1] == "|"
    ]


def test_each_commit_has_a_column_and_each_figure_a_row() -> None:
    first = with_column("", "abc1234", [Row("check", "1.20"), Row("build", "40.0")])
    both = with_column(first, "def5678", [Row("check", "0.90"), Row("preview", "2.00")])
    assert cells(first) == [
        ["figure", "abc1234"],
        ["---", "--:"],
        ["check", "1.20"],
        ["build", "40.0"],
    ]
    assert cells(both) == [
        ["figure", "abc1234", "def5678"],
        ["---", "--:", "--:"],
        ["check", "1.20", "0.90"],
        ["build", "40.0", ""],
        ["preview", "", "2.00"],
    ]


def test_a_commit_that_has_a_column_fills_it_in() -> None:
    first = with_column("", "abc1234", [Row("check", "1.20"), Row("build", "40.0")])
    again = with_column(first, "abc1234", [Row("check", "1.30")])
    assert cells(again) == [["figure", "abc1234"], ["---", "--:"], ["check", "1.30"], ["build", "40.0"]]
    assert again.startswith("# Figures of the benchmarks\n")


def test_a_comparison_tells_both_figures_and_how_many_times_as_long() -> None:
    ours = Taken(processor_s=42.0, elapsed_s=30.0)
    bare = Taken(processor_s=14.0, elapsed_s=15.0)
    assert list(compared("build / mkdocs", ours, bare)) == [
        Row("build / mkdocs: processor, s", "42.0 / 14.0 = 3.00"),
        Row("build / mkdocs: elapsed, s", "30.0 / 15.0 = 2.00"),
    ]
