"""Wired microphones: which model each position takes, and how high it stands."""

from collections.abc import Mapping

from proposal.design.equipment.placed_devices import floor_height_m
from proposal.design.equipment.unit_costs import cost_of_one
from proposal.model.microphone_positions import WiredPosition
from proposal.model.project import Project
from proposal.model.rooms import RoomType

BELOW_CEILING_M = 0.5
"""How far under the ceiling a hanging microphone ends unless it is written."""


def wired_models(project: Project, layout: RoomType) -> Mapping[str, str]:
    """Return the model of each wired microphone by its code, empty where the library has none."""
    return {
        code: position.model or _least(project, position)
        for code, position in sorted(layout.wired_microphones.items())
    }


def _least(project: Project, position: WiredPosition) -> str:
    fitting = [
        (cost_of_one(project, entry), code)
        for code, entry in project.library.wired_microphones.items()
        if entry.form == position.form and entry.pattern == position.pattern
    ]
    return min(fitting)[1] if fitting else ""


def wired_height_m(project: Project, layout: RoomType, position: WiredPosition) -> float:
    """Return how high a wired microphone stands above the floor of its room, m."""
    if position.form == "hanging" and position.height is None:
        return layout.ceiling.height - BELOW_CEILING_M
    above_m = position.height
    if above_m is None and position.form != "hanging":
        above_m = project.brief.rules.microphones.height_m(position.form)
    return floor_height_m(layout, position.level) + (above_m or 0.0)
