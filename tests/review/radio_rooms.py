"""Small projects to be broken by radio: one good room, and rooms side by side with many microphones."""

from functools import cache
from pathlib import Path
from typing import Any

from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import Project
from proposal.model.radio.radio import BandUser, BuildingRadio
from proposal.review.finding import Finding
from proposal.review.radio import RADIO_RULES
from tests.catalogue import with_round_catalogue

ROOT = Path(__file__).resolve().parents[2]


@cache
def minimal() -> Project:
    return with_round_catalogue(load_project(ROOT / "tests" / "projects" / "minimal"))


def changed(**layout: Any) -> Project:
    """Return the one room of the small project with another layout."""
    project = minimal()
    name = next(iter(project.room_types))
    kind = project.room_types[name].model_copy(update=layout)
    rooms = {tag: room.model_copy(update={"layout": kind}) for tag, room in project.rooms.items()}
    return project.model_copy(update={"room_types": {name: kind}, "rooms": rooms})


def radio(**values: Any) -> Any:
    return next(iter(minimal().room_types.values())).radio.model_copy(update=values)


def with_rules(project: Project, **rules: Any) -> Project:
    own = project.brief.rules.radio.model_copy(update=rules)
    return project.model_copy(
        update={
            "brief": project.brief.model_copy(
                update={"rules": project.brief.rules.model_copy(update={"radio": own})}
            )
        }
    )


def with_users(project: Project, **users: BandUser) -> Project:
    building = project.building.model_copy(update={"radio": BuildingRadio(other_users=users)})
    return project.model_copy(update={"building": building})


def said(project: Project) -> list[Finding]:
    made = design(project)
    return [one for rule in RADIO_RULES for one in rule(project, made)]


def one(project: Project, rule: str) -> Finding:
    found = [finding for finding in said(project) if finding.rule == rule]
    assert len(found) == 1, [f"{f.rule} {f.where}" for f in found]
    return found[0]


def crowded(count: int, *, rooms: int = 1, form: str = "gooseneck", apart_m: float = 0.5) -> Project:
    """Return rooms side by side with so many microphones each, in the United States, and round numbers."""
    layout = next(iter(minimal().room_types.values()))
    first = next(iter(layout.microphones.values())).model_copy(update={"form": form})
    many = {
        f"M{n + 1}": first.model_copy(
            update={"at": (0.6 + apart_m * (n % 10), 0.6 + 2.4 * apart_m * (n // 10))}
        )
        for n in range(count)
    }
    project = with_round_catalogue(changed(microphones=many, seats={}))
    tag, room = next(iter(project.rooms.items()))
    beside = {f"B{n + 1:03d}": room.model_copy(update={"x": room.x + 6.1 * n}) for n in range(rooms)}
    assert tag in beside
    brief = project.brief.model_copy(update={"region": "north_america"})
    return project.model_copy(update={"brief": brief, "rooms": beside})
