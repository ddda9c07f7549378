"""Rows about the states of a building."""

from collections.abc import Sequence

from proposal.design.sound.joined_rooms import JoinedRoute
from proposal.document.making.by_name import ByName
from proposal.document.rows.states import JoinedSoundRow, StateRow
from proposal.model.project import Project
from proposal.quantities.formatting import listed


def state_rows(project: Project) -> tuple[StateRow, ...]:
    """Return the states of a project's building in the order written; none where it names none."""
    walls = sorted(project.building.radio.walls.items())
    return tuple(
        StateRow(
            name=name,
            joined=tuple(listed(tags) for tags in state.join),
            joined_seats=tuple(
                sum(len(project.rooms[tag].layout.seats) for tag in tags) for tags in state.join
            ),
            hearing=tuple(f"{tag} hears {listed(heard)}" for tag, heard in state.hear.items()),
            open_walls=tuple(tag for tag, wall in walls if name in wall.open_in),
            kind_of_day=state.day,
        )
        for name, state in project.building.states.items()
    )


_JOINED = ByName(JoinedSoundRow, JoinedRoute)


def joined_sound_rows(routes: Sequence[JoinedRoute]) -> tuple[JoinedSoundRow, ...]:
    """Return the ways of sound between joined rooms, state by state."""
    return tuple(
        _JOINED.of(one, later=None if one.later_s is None else round(one.later_s * 1000, 3), unit="ms")
        for one in routes
    )
