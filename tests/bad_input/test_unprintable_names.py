"""Names of fields that hold signs which cannot be seen are told with their escapes."""

from proposal.errors import Place, Problem


def test_a_name_with_a_space_that_does_not_break_is_told_by_its_escape() -> None:
    problem = Problem(Place("own.yaml", 7, 8), "chargers.x\xa0y", "wanted names with values; found 99999 m")
    assert str(problem) == r"own.yaml:7:8: chargers.x\xa0y: wanted names with values; found 99999 m"
    assert str(problem).isprintable()
