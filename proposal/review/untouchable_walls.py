"""Rules about what comes down or ends at walls to which nothing may be fixed: cables and mains outlets."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.placed_devices import Placed, to_own
from proposal.design.equipment.room_walls import AT_A_WALL_M, away_m, nearest_wall
from proposal.design.numbers.numbering import natural
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed, written_place
from proposal.standards.sources import COMMON_PRACTICE

OVERHEAD_M = 2.0
"""Runs that are higher above the floor than this come down to what stands lower."""
_FIXED_ELSEWHERE = ("ceiling", "wall", "rack")
_MOST_NAMED = 6


def cables_at_untouchable_walls(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each room where cables come down, or outlets stand, at walls not to be touched."""
    placed = {one.tag: one for one in design.devices}
    for tag, room in project.rooms.items():
        reason = room.layout.untouchable.get("walls")
        if not reason or tag in project.building.portable_sets:
            continue
        floor_m = project.building.storeys[room.storey].height
        down = [
            cable.identity
            for cable in design.cables
            if cable.room == tag
            and any(_stands_low(placed.get(end), tag) for end in (cable.start, cable.end))
            and any(
                one.level is not None and one.level[0][2] > floor_m + OVERHEAD_M
                for one in cable.route.stretches
            )
        ]
        outlets = [
            one.serves
            for circuit in design.circuits
            for one in circuit.outlets
            if one.place == tag
            and one.location not in _FIXED_ELSEWHERE
            and _is_at_a_wall(project, tag, one.at)
        ]
        if not (down or outlets):
            continue
        kind = next(one.path for one in design.kinds if tag in one.rooms)
        verb = "comes" if len(down) == 1 else "come"
        told = [
            *([f"{counted(len(down), 'cable')} ({_some(down)}) {verb} down beside a wall"] if down else ()),
            *([f"mains outlets for {_some(outlets)} are planned at one"] if outlets else ()),
        ]
        yield Finding(
            rule="cables-at-untouchable-walls",
            severity="warning",
            where=tag,
            place=written_place(project, (*kind, "untouchable"), kind),
            message=f"Nothing may be fixed to the walls of {tag} ({reason.rstrip('.')}), and "
            f"{listed(tuple(told))}.",
            source=COMMON_PRACTICE,
            remedy="Lead cables through the floor: a floor box among the nodes, a conduit to it, and `route` "
            "of the cables in fixed.yaml; move what needs an outlet to where there is one; or agree on a "
            "place at the wall with the client.",
        )


def _stands_low(device: Placed | None, room: str) -> bool:
    """Return whether a device of a room stands on or under a table, or in furniture."""
    return (
        device is not None
        and device.room == room
        and device.location not in _FIXED_ELSEWHERE
        and device.height_m < OVERHEAD_M
    )


def _is_at_a_wall(project: Project, room: str, at: tuple[float, float]) -> bool:
    own = to_own(project.rooms[room], at)
    return away_m(own, nearest_wall(project.rooms[room].layout.outline, own)) <= AT_A_WALL_M


def _some(names: list[str]) -> str:
    """Return some names as a list, the rest counted."""
    ordered = sorted(names, key=natural)
    more = len(ordered) - _MOST_NAMED
    return f"{', '.join(ordered[:_MOST_NAMED])} and {more} more" if more > 0 else listed(ordered)


UNTOUCHABLE_WALL_RULES: tuple[Rule, ...] = (cables_at_untouchable_walls,)
