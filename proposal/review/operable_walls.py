"""Rules about walls that open: what hangs on one goes away with it."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.operable_walls import is_on_one, operable_walls
from proposal.design.equipment.placed_devices import to_own
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, written_place
from proposal.review.mountings import places_written
from proposal.standards.sources import COMMON_PRACTICE

_ELSEWHERE = {
    "loudspeaker": "Write a place at another wall (at), or `mounting: ceiling`",
    "microphone": "Write a place at another wall (at), or another mounting",
    "access_point": "Leave its place out, or write one at another wall (access_points_at)",
    "assistive_device": "Write a place at another wall (transmitters_at, or signs_on)",
}


def on_operable_walls(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each device that hangs on a wall which opens in some state."""
    for device in design.devices:
        room = project.rooms.get(device.room)
        if room is None or device.location != "wall":
            continue
        walls, same_m = operable_walls(project, room), project.building.radio.same_wall
        if is_on_one(room.layout.outline, to_own(room, device.at), walls, same_m):
            yield Finding(
                rule="on-an-operable-wall",
                severity="error",
                where=device.tag,
                place=written_place(project, *places_written(project, design, device)),
                message=f"{device.tag} hangs on a wall of {device.room} that opens.",
                source=COMMON_PRACTICE,
                remedy=f"{_ELSEWHERE.get(device.kind, 'Write another place for it')}: what is fixed to the "
                "panels goes away with them, and so does its cable. A wall that stays has no `open_in` under "
                "radio.walls.",
            )


OPERABLE_WALL_RULES: tuple[Rule, ...] = (on_operable_walls,)
