"""Where the access points of a kind of room hang: as the designer wrote, else as placement finds best."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar, get_args

import numpy as np

from proposal.design.equipment.mountings import surfaces_left
from proposal.design.equipment.operable_walls import operable_walls_of_kind
from proposal.design.equipment.placed_devices import in_building
from proposal.design.numbers.numbering import natural
from proposal.design.radio.place_search import STEP_DB
from proposal.design.radio.placement import Placement, Setting, Talker, Task, place, places_of
from proposal.design.radio.radio_links import building_surroundings, other_users
from proposal.design.radio.radio_neighbours import Link
from proposal.design.radio.radio_settings import (
    access_point_height_m,
    body_loss_db,
    frequency_hz,
    microphone_height_m,
    most_loss_db,
    radio_end,
    spacing_m,
)
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.microphone_positions import Form
from proposal.model.project import Project
from proposal.model.rooms import RoomType

POSITION_USES = (
    "access_points_at",
    "spare_microphones",
    "spares_paired",
    "radio.access_point_height",
    "project.rules.radio.access_point_spacing",
    "project.rules.radio.environment",
    "project.rules.radio.fade_margin",
    "project.rules.radio.sensitivity",
    "project.rules.radio.body_loss",
    "project.rules.radio.from_walls",
    "project.rules.radio.wall_height",
    "project.rules.radio.below_ceiling",
    "project.rules.radio.off_walls",
    "project.rules.radio.emission_bandwidth",
    *(f"project.rules.microphones.{form}_height" for form in get_args(Form)),
    "radio.power",
)
"""What a placed position rests on; fields of the room type unless they name the project's."""
_UNKNOWN_RECEIVABLE_DB = 90.0
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True, kw_only=True)
class MountedAccessPoint:
    """One access point in its room's own coordinates.

    at, height_m, mounting: where it hangs.
    serves: codes of its microphones, in order.
    """

    at: tuple[float, float]
    height_m: float
    mounting: str
    serves: tuple[str, ...]


def placement_task(
    project: Project, layout: RoomType, microphones: Mapping[str, str], access_points: Mapping[str, str]
) -> Task | None:
    """Return what placement is asked for one kind of room, None where the library lacks a model.

    microphones, access_points: model by code, access points in the order in which they get their places.
    """
    entries = [project.library.entry(model) for model in access_points.values() if model]
    boxes = [entry for entry in entries if isinstance(entry, AccessPoint)]
    if not boxes or len(boxes) < len(access_points):
        return None
    rules = project.brief.rules.radio
    talkers = []
    for code, position in _in_order(layout.microphones):
        talkers.append(
            Talker(
                code=code,
                at=position.at,
                height_m=microphone_height_m(project, layout, position),
                receivable_db=_receivable_db(project, layout, microphones.get(code, ""), boxes),
            )
        )
    task = Task(
        outline=layout.outline,
        setting=Setting(
            from_walls_m=rules.from_walls,
            wall_height_m=rules.wall_height,
            below_ceiling_m=rules.below_ceiling,
            off_walls_m=rules.off_walls,
        ),
        ceiling_m=access_point_height_m(layout),
        talkers=tuple(talkers),
        channels=tuple(box.channels for box in boxes),
        spacing_m=spacing_m(project, *boxes),
        frequency_hz=frequency_hz(project),
        environment=rules.environment,
        obstructions=tuple(sorted(layout.radio.obstructions.items())),
        surfaces=surfaces_left(layout, boxes),
        operable=operable_walls_of_kind(project, layout),
        same_wall_m=project.building.radio.same_wall,
        tile=layout.ceiling.tile,
    )
    users = {link.access_point: link for link in other_users(project)}
    return replace(task, foreign_dbm=_foreign_dbm(project, layout, task, users.values())) if users else task


def _foreign_dbm(
    project: Project, layout: RoomType, task: Task, users: Collection[Link]
) -> tuple[float, ...]:
    """Return the strongest level of other users at each place, in whichever room of the kind it is strongest.

    Our own rooms are not among them: what one room changes is not to move access points of others.
    """
    places = places_of(task)
    rooms = [room for room in project.rooms.values() if room.layout is layout or room.layout == layout]
    floors_m = [project.building.storeys[room.storey].height for room in rooms]
    ends = np.array(
        [
            (*in_building(room, one.at), floor_m + one.height_m)
            for room, floor_m in zip(rooms, floors_m, strict=True)
            for one in places
        ]
    )
    if not len(ends):
        return (-math.inf,) * len(places)
    starts = np.repeat(np.array([user.access_point_at for user in users]), len(ends), axis=0)
    sent_dbm = np.repeat([user.access_point_dbm for user in users], len(ends))
    losses = building_surroundings(project).unwanted_loss_db(starts, np.tile(ends, (len(users), 1)))
    strongest = (sent_dbm - losses).reshape(-1, len(places)).max(axis=0)
    return tuple((strongest / STEP_DB).round().tolist())


def _in_order(entries: Mapping[str, Value]) -> list[tuple[str, Value]]:
    return sorted(entries.items(), key=lambda item: natural(item[0]))


def _receivable_db(project: Project, layout: RoomType, model: str, boxes: Sequence[AccessPoint]) -> float:
    """Return what the path of a microphone may lose at most, either way and to whichever access point."""
    entry = project.library.entry(model) if model else None
    if not isinstance(entry, Microphone):
        return _UNKNOWN_RECEIVABLE_DB
    own = radio_end(project, layout, entry)
    ends = [radio_end(project, layout, box) for box in boxes]
    if own is None or any(end is None for end in ends):
        return _UNKNOWN_RECEIVABLE_DB
    rules = project.brief.rules.radio
    least_db = min(most_loss_db(own, end) for end in ends if end)
    return round(least_db - body_loss_db(project, entry) - rules.fade_margin, 6)


def access_points_by_placement(
    project: Project, layout: RoomType, microphones: Mapping[str, str], access_points: Mapping[str, str]
) -> Mapping[str, MountedAccessPoint] | None:
    """Return where placement hangs each access point by its code, None where it has no answer.

    microphones, access_points: model by code, access points in the order in which they get their places.
    Asked for only where the designer wrote no position; equal rooms are solved once.
    """
    task = placement_task(project, layout, microphones, access_points)
    found: Placement | None = place(task) if task else None
    if found is None:
        return None
    return {
        code: MountedAccessPoint(at=where.at, height_m=where.height_m, mounting=where.mounting, serves=served)
        for code, where, served in zip(access_points, found.places, found.serves, strict=True)
    }
