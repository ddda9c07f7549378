"""Standing wording contradicts neither design nor price nor terms: every condition is tried both ways."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import Any, get_args

import pytest

from proposal.design.design import Design
from proposal.design.standing_conditions import facts
from proposal.design.whole_design import design
from proposal.document.making.scope_and_exclusions import StandingParts, duty_rows, lines, standing_parts
from proposal.model.project import Project
from proposal.model.radio.radio import BandUser
from proposal.model.wording.wording import Fact, Standing
from tests.design.making import EXAMPLE, PROJECTS, project_of

ALWAYS: frozenset[Fact] = frozenset({"always"})


NO_PRICE = Decimal(0)


@cache
def standing() -> Standing:
    return project_of(PROJECTS / "minimal").standing


@cache
def made(name: str) -> Design:
    return design(project_of(EXAMPLE if name == "example" else PROJECTS / name))


def told(part: str) -> Iterator[tuple[str, str, tuple[Fact, ...], tuple[Fact, ...]]]:
    """Yield part, name, when and unless of everything that stands under a condition."""
    held: Mapping[str, Any] = {
        "scope": standing().defaults.scope,
        "exclusions": standing().defaults.exclusions,
        "assumptions": standing().defaults.assumptions,
        "responsibilities": standing().responsibilities.rows,
    }[part]
    for name, line in held.items():
        if line.when or line.unless:
            yield part, name, line.when, line.unless


CONDITIONAL = [
    one for part in ("scope", "exclusions", "assumptions", "responsibilities") for one in told(part)
]


def printed(part: str, held: frozenset[Fact]) -> tuple[str, ...]:
    """Return what is printed of a part, by its texts, or by what its rows are about."""
    if part == "responsibilities":
        return tuple(
            row.about
            for row in duty_rows(
                standing().responsibilities.rows, {}, held, standing().responsibilities.parties
            )
        )
    return lines(getattr(standing().defaults, part), {}, held)


@pytest.mark.parametrize(("part", "name", "when", "unless"), CONDITIONAL)
def test_a_condition_is_tried_true_and_false(
    part: str, name: str, when: tuple[Fact, ...], unless: tuple[Fact, ...]
) -> None:
    text = name if part == "responsibilities" else getattr(standing().defaults, part)[name].text
    for fact in when:
        assert text in printed(part, ALWAYS | {fact})
        for other in unless:
            assert text not in printed(part, ALWAYS | {fact, other})
    assert (text in printed(part, ALWAYS)) == (not when)


def changed(name: str, **project: Any) -> Design:
    """Return a design whose project says otherwise in its brief; the design itself is the same."""
    found = made(name)
    brief = found.project.brief.model_copy(update=project)
    return replace(found, project=found.project.model_copy(update={"brief": brief}))


def of_labour(name: str, **labour: Any) -> Design:
    return changed(name, labour=made(name).project.brief.labour.model_copy(update=labour))


def of_building(name: str, project: Project) -> Design:
    return replace(made(name), project=project)


def with_priced_pathways(name: str) -> Design:
    rules = made(name).project.brief.rules
    takeoff = rules.takeoff.model_copy(update={"price_pathways": True})
    return changed(name, rules=rules.model_copy(update={"takeoff": takeoff}))


def with_users(name: str, users: Mapping[str, BandUser]) -> Design:
    project = made(name).project
    radio = project.building.radio.model_copy(update={"other_users": users})
    building = project.building.model_copy(update={"radio": radio})
    return of_building(name, project.model_copy(update={"building": building}))


def with_existing(name: str) -> Design:
    project = made(name).project
    pathways = {
        tag: one.model_copy(update={"existing": True}) for tag, one in project.building.pathways.items()
    }
    building = project.building.model_copy(update={"pathways": pathways})
    return of_building(name, project.model_copy(update={"building": building}))


NEW = {"existing pathways", "normal hours", "off hours", "no other radio users", "other radio users"} | {
    "pathways by others",
    "pathways by us",
}


def test_each_fact_about_price_terms_and_surroundings_holds_in_one_project_and_not_in_another() -> None:
    designs = (made("example"), made("minimal"), with_priced_pathways("example"), with_existing("example"))
    found = [facts(one) & NEW for one in designs]
    for fact in NEW:
        assert fact in get_args(Fact)
        assert any(fact in one for one in found), fact
        assert not all(fact in one for one in found), fact


SAYS_NORMAL = "Work takes place in normal hours, in rooms that are clean, dry and can be locked."
EXCLUDES_EVENINGS = "Work outside normal hours, and return visits caused by others."
PATHWAYS_ARE_OTHERS = "First fix: data cable in pathways provided by others, labelled at both ends."
EXCLUDES_PATHWAYS = "Conduit, trays, boxes, sleeves and cores."
NOBODY_KNOWN = (
    "No other users of the radio band are known; whoever learns of one tells us before work begins."
)


def sentences(parts: StandingParts) -> frozenset[str]:
    return frozenset((*parts["scope"], *parts["exclusions"], *parts["standing_assumptions"]))


@pytest.mark.parametrize(
    "labour", [{"overtime": 0.05}, {"conditions": ("off hours",)}, {"project_conditions": ("off hours",)}]
)
def test_work_in_the_evening_is_not_described_as_in_normal_hours(labour: dict[str, Any]) -> None:
    """Evenings are charged by a share of overtime, or by a condition of the labour data."""
    within, beyond = (
        sentences(standing_parts(of_labour("minimal", **one), NO_PRICE))
        for one in ({"overtime": 0.0}, labour)
    )
    assert {SAYS_NORMAL, EXCLUDES_EVENINGS} <= within
    assert not {SAYS_NORMAL, EXCLUDES_EVENINGS} & beyond


def test_users_of_the_band_that_are_planned_around_are_not_unknown() -> None:
    users = made("example").project.building.radio.other_users
    assert users
    assert NOBODY_KNOWN not in sentences(standing_parts(made("example"), NO_PRICE))
    assert NOBODY_KNOWN in sentences(standing_parts(with_users("example", {}), NO_PRICE))


def test_pathways_that_are_priced_are_nobody_elses() -> None:
    ours, theirs = with_priced_pathways("example"), made("example")
    assert {PATHWAYS_ARE_OTHERS, EXCLUDES_PATHWAYS} <= sentences(standing_parts(theirs, NO_PRICE))
    parts = standing_parts(ours, NO_PRICE)
    assert not {PATHWAYS_ARE_OTHERS, EXCLUDES_PATHWAYS} & sentences(parts)
    about = {row.about: dict(row.duties)["furnish"] for row in parts["responsibilities"]}
    assert about["The listed conduits, sleeves, trays and hooks"] == "AV"
    assert not {"Conduit, boxes and pull strings", "Cable trays", "Hooks and straps for cables"} & set(about)


@pytest.mark.parametrize(
    ("covered", "ours", "others"),
    [
        ("permits", "Permits that our work needs", "Permits"),
        ("lifts", "Lifts, platforms and scaffold for our work", "Lifts, platforms and scaffold"),
        ("storage", "Storage of our goods", "Storage, and removal of waste"),
        ("waste", "Removal of the waste of our work", "Storage, and removal of waste"),
    ],
)
def test_what_a_sum_of_the_price_covers_is_ours_in_the_matrix(covered: str, ours: str, others: str) -> None:
    price = made("example").project.brief.price

    def about(surcharges: Mapping[str, Any]) -> Mapping[str, str]:
        parts = standing_parts(
            changed("example", price=price.model_copy(update={"surcharges": surcharges})), NO_PRICE
        )
        return {row.about: dict(row.duties)["furnish"] for row in parts["responsibilities"]}

    bought = next(iter(price.surcharges.values())).model_copy(update={"covers": (covered,)})
    without, with_it = about({}), about({"one": bought})
    assert without[others] == "GC"
    assert ours not in without
    assert with_it[ours] == "AV"
    assert others not in with_it


def test_fire_stopping_that_we_furnish_is_not_excluded() -> None:
    """The row of the matrix of duties decides, and the price follows the same row."""
    change = made("example").project.brief.responsibilities
    row = type(next(iter(change.rows.values())))(furnish="AV", install="AV")
    ours = changed(
        "example",
        responsibilities=change.model_copy(update={"rows": {**change.rows, "Fire-stopping": row}}),
    )
    excluded = "Fire-stopping of openings in rated walls and floors."
    assert excluded in sentences(standing_parts(made("example"), NO_PRICE))
    assert excluded not in sentences(standing_parts(ours, NO_PRICE))
