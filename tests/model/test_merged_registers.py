"""Registers of two branches become one: who came first keeps a number, and what gives way is told."""

from proposal.model.merged_registers import NumberClash, merged_registers
from proposal.model.project import Numbered


def numbered(**numbers: str) -> dict[str, Numbered]:
    return {identity.replace("__", "/"): Numbered(number=number) for identity, number in numbers.items()}


def test_numbers_that_do_not_clash_are_all_kept() -> None:
    common = numbered(address__A="10.0.0.1")
    first, second = common | numbered(address__B="10.0.0.2"), common | numbered(stream__C="10.0.0.2")
    assert merged_registers([("B", first), ("C", second)]) == (first | second, ())


def test_the_first_thing_keeps_a_number_and_the_later_is_as_if_it_had_none() -> None:
    first, second = numbered(address__B="10.0.0.2"), numbered(address__A="10.0.0.2", address__C="10.0.0.3")
    found, clashes = merged_registers([("B", first), ("C", second)])
    assert found == first | numbered(address__C="10.0.0.3")
    assert clashes == (NumberClash("C", "address/A", "10.0.0.2", "B", "address/B"),)
    assert str(clashes[0]) == (
        "revision C gave address/A the number 10.0.0.2, which revision B gave to address/B: it is numbered "
        "anew, unless it is fixed"
    )


def test_a_thing_with_two_numbers_keeps_the_first_and_the_other_is_never_given_again() -> None:
    found, clashes = merged_registers([("B", numbered(port__A="SW1/4")), ("C", numbered(port__A="SW1/7"))])
    assert found == numbered(port__A="SW1/4") | {"port/A was SW1/7": Numbered(number="SW1/7", retired=True)}
    assert [str(one) for one in clashes] == [
        "revision C gave port/A the number SW1/7, and revision B another one, which it keeps"
    ]


def test_what_one_branch_retired_and_the_other_kept_is_in_use() -> None:
    gone = {"sheet/R": Numbered(number="R-01", retired=True)}
    kept = numbered(sheet__R="R-01")
    assert merged_registers([("B", gone), ("C", kept)]) == (kept, ())
    assert merged_registers([("B", kept), ("C", gone)]) == (kept, ())


def test_what_a_branch_gave_up_stays_with_whoever_has_it_in_the_other() -> None:
    first = numbered(address__B="10.0.0.2")
    second = numbered(address__A="10.0.0.3") | {
        "address/A was 10.0.0.2": Numbered(number="10.0.0.2", retired=True)
    }
    assert merged_registers([("B", first), ("C", second)]) == (first | numbered(address__A="10.0.0.3"), ())


def test_plans_and_reels_may_be_the_same_for_several_things() -> None:
    first = numbered(radio__A="2/9", cut__A="CC/1", reel__X="1")
    second = numbered(radio__B="2/9", cut__B="CC/1", reel__Y="1")
    assert merged_registers([("B", first), ("C", second)]) == (first | second, ())
    assert merged_registers([("B", first), ("C", numbered(radio__A="0/0"))]) == (first, ())


def test_three_branches_are_merged_in_their_order() -> None:
    registers = [(name, numbered(**{f"stream__{name}": "7"})) for name in "BCD"]
    found, clashes = merged_registers(registers)
    assert found == numbered(stream__B="7")
    assert [(one.record, one.first) for one in clashes] == [("C", "B"), ("D", "B")]
