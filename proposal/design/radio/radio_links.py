"""The radio links of a building: who talks to which access point, at what level, and others on the band."""

import math
from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed, in_building
from proposal.design.numbers.numbering import natural
from proposal.design.radio.portable_radio import in_state, is_outdoors, places_in
from proposal.design.radio.propagation import (
    Surface,
    Surroundings,
    surroundings,
)
from proposal.design.radio.radio_neighbours import Link
from proposal.design.radio.radio_settings import (
    frequency_hz,
    radiated_by_dbm,
)
from proposal.design.radio.received_margins import Margin
from proposal.design.radio.room_links import RoomLinks
from proposal.design.radio.synchronisation import InStep, synchronisation_groups
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.equipment.entry import Device
from proposal.model.project import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class RadioLinks:
    """All links of a building.

    around: what lies between antennas.
    links: our links and bearers in order of rooms and tags, then other users'.
    margins: of every linked microphone, in order of tags.
    transceivers: of each access point by tag.
    groups: synchronisation group of each access point by tag.
    """

    around: Surroundings
    links: tuple[Link, ...]
    margins: tuple[Margin, ...]
    transceivers: Mapping[str, int]
    groups: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What radio is asked of.

    devices: every device, in order of tags; entries: the library entry of each by tag.
    linked: access point of every microphone that has a channel, by tag.
    joined: network of each device by its tag, where access points keep in step over one.
    states: one for each way in which the walls of the building stand.
    """

    project: Project
    devices: Sequence[Placed]
    entries: Mapping[str, Device]
    linked: Mapping[str, str]
    joined: Mapping[str, str]
    states: tuple[str, ...] = ("",)

    def links(self, lower_by: Mapping[str, int] | None, state: str) -> RadioLinks:
        """Return its links in a state, by room at so many power settings below the ones chosen."""
        return radio_links(
            self.project,
            self.devices,
            self.entries,
            self.linked,
            joined=self.joined,
            lower_by=lower_by,
            state=state,
        )


def outlines(project: Project) -> list[Surface]:
    """Return the outlines of all rooms in the building with what their walls lose, in order of tags.

    A portable set has no walls of its own.
    """
    losses = project.radio_losses.walls
    return [
        Surface(
            room.storey,
            tuple(in_building(room, corner) for corner in room.layout.outline),
            losses[room.layout.radio.walls].least,
        )
        for tag, room in sorted(project.rooms.items(), key=lambda item: natural(item[0]))
        if tag not in project.building.portable_sets
    ]


def building_surroundings(project: Project, state: str = "") -> Surroundings:
    """Return what lies between the antennas of a project's building.

    state: whose open walls lose nothing; all stand closed where it is empty.
    """
    return surroundings(
        project.building,
        project.building.radio,
        project.radio_losses,
        outlines(project),
        frequency_hz(project),
        project.brief.rules.radio.environment,
        state,
    )


def radio_links(
    project: Project,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    linked: Mapping[str, str],
    *,
    joined: Mapping[str, str] | None = None,
    lower_by: Mapping[str, int] | None = None,
    state: str = "",
) -> RadioLinks:
    """Return the links of a building.

    devices: every device, in order of tags; entries: the library entry of each by tag.
    linked: access point of every microphone that has a channel, by tag.
    joined: network of each device by its tag, where access points keep in step over one.
    lower_by: power settings below the ones chosen, by room.
    state: of the building, whose open walls lose nothing, and in which portable sets stand where it says;
        empty where it has none.
    """
    around = building_surroundings(project, state)
    outdoors = {tag for tag, place in places_in(project, state).items() if is_outdoors(project, place)}
    project, devices = in_state(project, devices, state)
    by_room: dict[str, list[Placed]] = {}
    for device in devices:
        if isinstance(entries.get(device.tag), AccessPoint | Microphone):
            by_room.setdefault(device.room, []).append(device)
    boxes = [
        InStep(
            tag=device.tag,
            by_hand=project.rooms[device.room].layout.radio.group,
            kept=entry.radio.synchronisation,
            size=entry.radio.group_size,
            system=entry.works_with,
            room=room,
        )
        for room in sorted(by_room, key=natural)
        for device in by_room[room]
        if isinstance(entry := entries[device.tag], AccessPoint)
    ]
    groups = synchronisation_groups(boxes, joined)
    links: list[Link] = []
    margins: list[Margin] = []
    transceivers: dict[str, int] = {}
    for room in sorted(by_room, key=natural):
        lower = (lower_by or {}).get(room, 0)
        made = RoomLinks(
            project,
            around,
            project.rooms[room],
            by_room[room],
            entries,
            linked,
            groups,
            lower,
            around.unwanted_loss_db if room in outdoors else around.wanted_loss_db,
        )
        links += made.links
        margins += made.margins
        transceivers |= made.transceivers
    links += other_users(project)
    return RadioLinks(
        around=around,
        links=tuple(links),
        margins=tuple(sorted(margins, key=lambda one: natural(one.microphone))),
        transceivers=transceivers,
        groups=groups,
    )


def other_users(project: Project) -> list[Link]:
    """Return the links of others on the band, whose reception is not judged."""
    links = []
    for tag, user in sorted(project.building.radio.other_users.items()):
        at = (*user.at, project.building.storeys[user.storey].height + user.height)
        power = radiated_by_dbm(project, user)
        for n in range(1, user.links + 1):
            links.append(
                Link(
                    identity=f"{tag} {n}",
                    kind="other",
                    room=tag,
                    access_point=tag,
                    group="building" if user.synchronised else f"other user {tag}",
                    microphone_at=at,
                    access_point_at=at,
                    microphone_dbm=power,
                    access_point_dbm=power,
                    up_dbm=math.inf,
                    down_dbm=math.inf,
                    ratio_db=0.0,
                    slot_pairs=user.slot_pairs,
                )
            )
    return links
