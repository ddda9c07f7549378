"""What is said of mains circuits: each rule with a project that breaks it, and one that keeps it."""

import pytest

from proposal.design.whole_design import design
from proposal.document.making.mains import mains_parts
from proposal.model.mains import Mains
from proposal.model.project import Project
from proposal.review.finding import Finding
from proposal.review.mains import MAINS_RULES
from tests.design.making import EXAMPLE, changed, minimal, project_of, without_standby


def said(project: Project) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    made = design(project)
    for rule in MAINS_RULES:
        for one in rule(project, made):
            found.setdefault(one.rule, []).append(one)
    return found


def example(**mains: object) -> Project:
    return changed(without_standby(project_of(EXAMPLE)), "brief.mains", Mains.model_validate(mains))


def test_nothing_is_said_of_the_smallest_project() -> None:
    assert said(minimal()) == {}


def test_a_circuit_that_is_too_full_says_how_many_would_do() -> None:
    # The two strips of the second equipment room take 5.3 and 5.2 A: on one circuit of 8 A too much.
    (found,) = said(example(breaker="8 A", circuits={"ER2": 1}))["circuit-overloaded"]
    assert found.severity == "error"
    assert found.where == "ER2/C1"
    assert found.value == pytest.approx(10.5, abs=0.1)
    assert found.limit == 8
    assert "2 circuits would do: write ER2: 2" in found.remedy
    assert "circuit-overloaded" not in said(example(breaker="8 A", circuits={"ER2": 2}))


def test_an_outlet_beyond_a_circuit_asks_for_a_larger_breaker() -> None:
    found = {one.where: one for one in said(example(breaker="4 A"))["circuit-overloaded"]}
    assert set(found) == {"ER1/C1", "ER2/C1", "ER2/C2"}
    assert "Spread what ER2-RK1/PS1 feeds over more outlets" in found["ER2/C1"].remedy


def test_leakage_beyond_three_tenths_of_the_device() -> None:
    # 6.55 and 6.15 mA on the strips of the second equipment room; 9 mA are allowed.
    (found,) = said(example(circuits={"ER2": 1}))["leakage-high"]
    assert found.severity == "warning"
    assert (found.value, found.limit) == (pytest.approx(12.7), pytest.approx(9.0))
    assert "2 circuits would do" in found.remedy
    assert "leakage-high" not in said(example(circuits={"ER2": 1}, residual_current="100 mA"))


def test_one_strip_that_leaks_too_much_asks_for_another_device() -> None:
    found = {one.where: one for one in said(example(residual_current="10 mA"))["leakage-high"]}
    # 6.55 mA ÷ 0.3 = 21.8 mA: the next device has 30 mA (IEC 61008-1, memory).
    assert "a device of 30 mA" in found["ER2/C1"].remedy


def test_inrush_beyond_what_the_breaker_holds() -> None:
    found = {one.where: one for one in said(example())["inrush-high"]}
    # Two loads of 35 A, two of 40 A and one of 5 A on the strip of the first equipment room: 155 A; a C16
    # holds 113 A.
    assert found["ER1/C1"].value == pytest.approx(155)
    assert found["ER1/C1"].limit == pytest.approx(113.1, abs=0.05)
    assert found["ER1/C1"].remedy.startswith("Switch on in 2 groups, at least 0.5 ms one after the other")
    assert "a breaker with a slower curve (D)" in found["ER1/C1"].remedy
    # D16 holds 226 A: enough for 155, not for more than 226.
    assert {one.where for one in said(example(curve="D"))["inrush-high"]} == {"ER2/C1", "ER2/C2"}
    assert "inrush-high" not in said(example(curve="not marked"))


def test_a_circuit_that_holds_only_in_groups_is_not_said_to_hold() -> None:
    rows = {row.identity: row for row in mains_parts(design(example()))["circuits"]}
    high = {one.where for one in said(example())["inrush-high"]}
    assert {name for name, row in rows.items() if row.verdict == "in groups"} == high
    assert all(rows[name].steps > 1 for name in high)
    assert {row.verdict for name, row in rows.items() if name not in high} == {"holds"}
    unmarked = mains_parts(design(example(curve="not marked")))["circuits"]
    assert {row.verdict for row in unmarked} == {"holds"}


def test_a_device_that_does_not_take_the_mains() -> None:
    project = example()
    kinds = {device.tag: device for device in design(project).devices}
    model = kinds["A001-CH1"].model
    entry = project.library.entry(model)
    mains = getattr(entry, "mains", None)
    assert mains is not None
    narrow = entry.model_copy(update={"mains": mains.model_copy(update={"highest_voltage": 127.0})})  # type: ignore[union-attr]
    project = changed(project, ("library", "chargers", model), narrow)
    found = said(project)["mains-unsuited"]
    assert "A001-CH1" in {one.where for one in found}
    assert "100.0 V to 127.0 V" in found[0].message
    assert "mains-unsuited" not in said(example())


def test_a_cord_that_the_library_lacks_is_told_by_place() -> None:
    assert "no-mains-cord" not in said(example())
    found = {one.where: one for one in said(example(outlet="BS 1363"))["no-mains-cord"]}
    assert "A101" in found
    assert found["A101"].severity == "warning"
    assert "(BS 1363)" in found["A101"].message
    assert "A101-CH1" in found["A101"].message
    # Longer than any of the library's.
    assert "no-mains-cord" in said(example(cord="9 m"))
