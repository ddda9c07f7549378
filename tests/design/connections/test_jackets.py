"""Jackets of cables outside described pathways: what a ceiling that nobody described is taken to ask for."""

from decimal import Decimal

import pytest

from proposal.model.equipment.materials import DataCable, Jacket
from proposal.model.equipment.parts import JacketRating
from proposal.model.pathways.pathways import Space
from proposal.model.project import FixedCable, Project
from proposal.pipeline import compute
from proposal.quantities.money import Money
from proposal.review.finding import Finding
from tests.design.making import changed, designed, minimal, with_layout

CHARGER = "B001-CH1/N1/ER1-RK1"
FIRE_CODE, NO_HALOGENS = (f"project.rules.cabling.{name}" for name in ("fire_code", "halogen_free"))
STOREY = "building.storeys.L0.ceiling_space"


def jacket(*ratings: JacketRating, plenum: bool = False, low_smoke: bool = False) -> Jacket:
    return Jacket(ratings=ratings, plenum=plenum, riser=True, low_smoke=low_smoke)


# By hand: the cheapest has a riser jacket and the lowest class, the dearest is for plenums and has no class.
RISER, HALOGEN_FREE, PLENUM = (
    jacket("CMR", "Eca"),
    jacket("Cca", low_smoke=True),
    jacket("CMP", plenum=True),
)
THREE = {"T-1": (RISER, "0.40"), "T-2": (HALOGEN_FREE, "0.50"), "T-3": (PLENUM, "0.70")}


def project_with(
    cables: dict[str, tuple[Jacket, str]] = THREE,
    code: str = "EN 50575",
    ceiling: Space | None = None,
    *,
    halogen_free: bool = False,
) -> Project:
    """Return the smallest project, all cabled to the rack, with data cables of these jackets and costs."""
    like = minimal().library.cables["CC-5F-R"]
    made: dict[str, DataCable] = {
        name: like.model_copy(
            update={"jacket": one, "cost": Money(amount=Decimal(cost), currency="EUR"), "description": name}
        )
        for name, (one, cost) in cables.items()
    }
    project = changed(with_layout(minimal(), "meeting", network="rack"), "library.cables", made)
    project = changed(project, "brief.rules.cabling.fire_code", code)
    project = changed(project, "brief.rules.cabling.halogen_free", halogen_free)
    if ceiling is not None:
        project = changed(project, "building.spaces", {"void": ceiling})
        project = changed(project, "building.storeys.L0.ceiling_space", "void")
    return project


def models(project: Project) -> set[str]:
    return {one.model for one in designed(project).cables if one.signal == "network"}


def findings(project: Project, rule: str) -> list[Finding]:
    return [one for one in compute(project).findings if one.rule == rule]


@pytest.mark.independent
@pytest.mark.parametrize(
    ("code", "halogen_free", "model"),
    [("NFPA 70", False, "T-3"), ("EN 50575", False, "T-2"), ("EN 50575", True, "T-2")],
)
def test_a_ceiling_that_is_not_described_takes_plenum_or_the_best_class(
    code: str, halogen_free: bool, model: str
) -> None:
    assert models(project_with(code=code, halogen_free=halogen_free)) == {model}


@pytest.mark.parametrize(
    ("region", "model"),
    [("north_america", "T-3"), ("europe", "T-2")],
)
def test_the_code_follows_from_the_region_where_none_is_written(region: str, model: str) -> None:
    project = changed(project_with(code="by region"), "brief.region", region)
    assert models(project) == {model}


@pytest.mark.independent
@pytest.mark.parametrize("code", ["NFPA 70", "EN 50575"])
@pytest.mark.parametrize(("plenum", "model"), [(False, "T-1"), (True, "T-3")])
def test_a_ceiling_that_is_described_decides(code: str, plenum: bool, model: str) -> None:
    assert models(project_with(code=code, ceiling=Space(name="Void", plenum=plenum))) == {model}


def test_the_ceiling_of_a_room_goes_before_that_of_its_storey() -> None:
    project = project_with(ceiling=Space(name="Void"))
    project = changed(project, "building.spaces.air", Space(name="Return air", plenum=True))
    ceiling = project.room_types["meeting"].ceiling.model_copy(update={"space": "air"})
    assert models(with_layout(project, "meeting", ceiling=ceiling)) == {"T-3"}


@pytest.mark.independent
def test_the_temperature_of_a_described_ceiling_is_that_of_its_cables() -> None:
    warm = designed(project_with(ceiling=Space(name="Void", temperature=41.0)))
    assert {one.temperature_c for one in warm.cables if one.identity == CHARGER} == {41.0}


def test_the_best_of_several_classes_is_taken_whatever_it_costs() -> None:
    better = {**THREE, "T-4": (jacket("B2ca"), "9.00"), "T-5": (jacket("B2ca"), "8.00")}
    assert models(project_with(better)) == {"T-5"}
    # Halogen-free is asked first.
    assert models(project_with(better, halogen_free=True)) == {"T-2"}


@pytest.mark.parametrize(
    ("ceiling", "expected"),
    [
        (None, {STOREY, FIRE_CODE, NO_HALOGENS}),
        # No code says what a space asks for that is described.
        (Space(name="Void"), {STOREY, NO_HALOGENS}),
    ],
)
def test_checks_rest_on_what_chose_the_jacket(ceiling: Space | None, expected: set[str]) -> None:
    (cable,) = [one for one in designed(project_with(ceiling=ceiling)).cables if one.identity == CHARGER]
    assert cable.checked is not None
    assert set(cable.checked.link.uses) & {STOREY, FIRE_CODE, NO_HALOGENS} == expected


@pytest.mark.parametrize(
    ("code", "left", "severity", "words"),
    [
        ("NFPA 70", {"T-1": THREE["T-1"]}, "error", "a plenum jacket"),
        ("EN 50575", {"T-3": THREE["T-3"]}, "warning", "a class of reaction to fire"),
    ],
)
def test_where_no_jacket_suits_the_ceiling_a_finding_says_what_to_add(
    code: str, left: dict[str, tuple[Jacket, str]], severity: str, words: str
) -> None:
    project = project_with(left, code)
    # It is still drawn, counted and priced.
    assert models(project) == set(left)
    found = findings(project, "jacket-for-unknown-ceiling")
    assert {one.where for one in found} == {
        one.identity for one in designed(project).cables if one.signal == "network"
    }
    assert {one.severity for one in found} == {severity}
    assert all(
        words in one.message and words in one.remedy and "ceiling_space" in one.remedy for one in found
    )
    assert not findings(project_with(code=code), "jacket-for-unknown-ceiling")


def test_a_cable_chosen_by_hand_that_does_not_suit_the_ceiling_is_told() -> None:
    project = changed(project_with(code="NFPA 70"), "fixed.cables", {CHARGER: FixedCable(type="T-1")})
    assert [one.where for one in findings(project, "jacket-for-unknown-ceiling")] == [CHARGER]


def test_where_no_cable_is_free_of_halogens_the_finding_says_so() -> None:
    project = project_with({"T-1": THREE["T-1"]}, halogen_free=True)
    assert models(project) == {""}
    found = findings(project, "no-cable")
    assert found
    assert all("free of halogens" in one.message for one in found if "network" in one.message)
    by_hand = changed(project_with(halogen_free=True), "fixed.cables", {CHARGER: FixedCable(type="T-1")})
    assert [one.where for one in findings(by_hand, "jacket-not-halogen-free")] == [CHARGER]
