"""The radio links of a building: who talks to which access point, at what level, and others on the band."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from proposal.design.equipment.placed_devices import Placed, in_building, to_own
from proposal.design.numbers.numbering import natural
from proposal.design.radio.portable_radio import in_state, is_outdoors, places_in
from proposal.design.radio.propagation import (
    Floats,
    Surface,
    Surroundings,
    obstruction_losses_db,
    surroundings,
)
from proposal.design.radio.radio_neighbours import Link, Position
from proposal.design.radio.radio_settings import (
    RadioEnd,
    body_loss_db,
    frequency_hz,
    power_limit_dbm,
    radio_end,
    ratio_db,
    refused_dbm,
)
from proposal.design.radio.received_margins import Margin
from proposal.design.radio.synchronisation import InStep, synchronisation_groups
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.model.rooms import Room


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
        made = _Room(
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
    links += _other_users(project)
    return RadioLinks(
        around=around,
        links=tuple(links),
        margins=tuple(sorted(margins, key=lambda one: natural(one.microphone))),
        transceivers=transceivers,
        groups=groups,
    )


class _Room:
    """The links of one room.

    Indoors the loss of its wanted paths is that of ITU-R P.1238; outdoors that of free space with the walls
    crossed.
    """

    def __init__(
        self,
        project: Project,
        around: Surroundings,
        room: Room,
        devices: Sequence[Placed],
        entries: Mapping[str, Device],
        linked: Mapping[str, str],
        groups: Mapping[str, str],
        lower_by: int,
        wanted_loss_db: Callable[[Floats, Floats], Floats],
    ) -> None:
        self.project, self.around, self.room = project, around, room
        self.linked, self.groups, self.lower_by = linked, groups, lower_by
        self.wanted_loss_db = wanted_loss_db
        self.boxes: list[tuple[Placed, AccessPoint, RadioEnd]] = []
        self.microphones: list[tuple[Placed, Microphone, RadioEnd]] = []
        for device in devices:
            entry = entries[device.tag]
            if isinstance(entry, AccessPoint | Microphone):
                end = radio_end(project, room.layout, entry, lower_by=lower_by)
                if end is not None and isinstance(entry, AccessPoint):
                    self.boxes.append((device, entry, end))
                elif end is not None and isinstance(entry, Microphone):
                    self.microphones.append((device, entry, end))
        self.transceivers = {device.tag: entry.radio.transceivers for device, entry, _ in self.boxes}
        self.links: list[Link] = []
        self.margins: list[Margin] = []
        self.paths = self._paths()
        self._link()

    def _link(self) -> None:
        served = self._served()
        for microphone in self.microphones:
            number = served.get(microphone[0].tag)
            if number is not None:
                margin = self._margin(microphone, number)
                self.margins.append(margin)
                self.links.append(self._of(microphone, number, margin.loss_db))
        busy = set(served.values())
        bearers = [entry.radio.always_on_bearers for _, entry, _ in self.boxes]
        for number, count in enumerate(bearers):
            # One that carries traffic needs no bearer besides (the standard's dummy bearer; memory).
            if count and number not in busy:
                self.links += self._idle(number, count)

    def _idle(self, number: int, bearers: int) -> list[Link]:
        """Return the bearers that an access point without traffic keeps on the air.

        It must reach whoever joins: it is computed with the microphone of the room that is received worst.
        """
        device, _, end = self.boxes[number]
        possible = [self._of(one, number, self.paths[one[0].tag][number][0]) for one in self.microphones]
        weakest = min(possible, key=lambda link: (link.down_dbm, natural(link.identity)), default=None)
        if weakest is None:
            at = self._position(device)
            weakest = Link(
                identity=device.tag,
                room=device.room,
                access_point=device.tag,
                group=self.groups[device.tag],
                microphone_at=at,
                access_point_at=at,
                microphone_dbm=end.radiated_dbm,
                access_point_dbm=end.radiated_dbm,
                up_dbm=math.inf,
                down_dbm=math.inf,
                ratio_db=0.0,
                slot_pairs=1,
            )
        return [
            replace(
                weakest,
                identity=f"{device.tag} bearer {n + 1}",
                kind="bearer",
                slot_pairs=1,
                one_carrier=True,
                in_a_row=True,
                refused_dbm=math.inf,
            )
            for n in range(bearers)
        ]

    def _served(self) -> dict[str, int]:
        """Return the number of the access point of each microphone tag that has one."""
        number_of = {device.tag: number for number, (device, _, _) in enumerate(self.boxes)}
        return {
            device.tag: number_of[self.linked[device.tag]]
            for device, _, _ in self.microphones
            if self.linked.get(device.tag) in number_of
        }

    def _position(self, device: Placed) -> Position:
        storey = self.project.building.storeys[device.storey]
        return (*device.at, storey.height + device.height_m)

    def _paths(self) -> dict[str, list[tuple[float, float]]]:
        """Return the loss of each microphone's path to each access point, and the part of obstructions."""
        starts = [self._position(device) for device, _, _ in self.microphones]
        ends = [self._position(box) for box, _, _ in self.boxes]
        if not starts or not ends:
            return {}
        plain = self.wanted_loss_db(
            np.repeat(np.array(starts), len(ends), axis=0), np.tile(np.array(ends), (len(starts), 1))
        ).reshape(len(starts), len(ends))
        # Obstructions are written in the room's own coordinates: so are both ends for them.
        own = [to_own(self.room, device.at) for device, _, _ in self.microphones]
        boxes = [to_own(self.room, box.at) for box, _, _ in self.boxes]
        more = obstruction_losses_db(
            self.room.layout.radio.obstructions,
            [at for at in own for _ in boxes],
            boxes * len(own),
        ).reshape(plain.shape)
        return {
            device.tag: list(zip(losses, hindered, strict=True))
            for (device, _, _), losses, hindered in zip(
                self.microphones, (plain + more).tolist(), more.tolist(), strict=True
            )
        }

    def _margin(self, microphone: tuple[Placed, Microphone, RadioEnd], number: int) -> Margin:
        device, entry, end = microphone
        body = body_loss_db(self.project, entry)
        fade = self.project.brief.rules.radio.fade_margin
        losses = self.paths[device.tag]
        spare = [
            min(
                (end.radiated_dbm + other.gain_db - loss - body, other.sensitivity_dbm),
                (other.radiated_dbm + end.gain_db - loss - body, end.sensitivity_dbm),
                key=lambda pair: pair[0] - pair[1],
            )
            for (loss, _), (_, _, other) in zip(losses, self.boxes, strict=True)
        ]
        received, sensitivity = spare[number]
        others = [n for n in range(len(self.boxes)) if n != number]
        second = max(others, key=lambda n: (spare[n][0] - spare[n][1], -n), default=None)
        box = self.boxes[number][0]
        return Margin(
            microphone=device.tag,
            access_point=box.tag,
            room=device.room,
            distance_m=float(
                np.linalg.norm(np.array(self._position(device)) - np.array(self._position(box)))
            ),
            loss_db=losses[number][0],
            body_db=body,
            received_dbm=received,
            sensitivity_dbm=sensitivity,
            fade_db=fade,
            second="" if second is None else self.boxes[second][0].tag,
            second_db=None if second is None else spare[second][0] - spare[second][1] - fade,
            hindered_db=losses[number][1],
        )

    def _of(self, microphone: tuple[Placed, Microphone, RadioEnd], number: int, loss_db: float) -> Link:
        device, entry, end = microphone
        box, access_point, other = self.boxes[number]
        body = body_loss_db(self.project, entry)
        return Link(
            identity=device.tag,
            room=device.room,
            access_point=box.tag,
            group=self.groups[box.tag],
            microphone_at=self._position(device),
            access_point_at=self._position(box),
            microphone_dbm=end.radiated_dbm,
            access_point_dbm=other.radiated_dbm,
            microphone_gain_db=end.gain_db,
            access_point_gain_db=other.gain_db,
            up_dbm=end.radiated_dbm + other.gain_db - loss_db - body,
            down_dbm=other.radiated_dbm + end.gain_db - loss_db - body,
            body_db=body,
            ratio_db=ratio_db(self.project, access_point, entry),
            slot_pairs=access_point.radio.slot_pairs,
            one_carrier=access_point.radio.one_carrier,
            in_a_row=access_point.radio.in_a_row,
            refused_dbm=refused_dbm(self.project, end),
        )


def _other_users(project: Project) -> list[Link]:
    """Return the links of others on the band, whose reception is not judged."""
    links = []
    for tag, user in sorted(project.building.radio.other_users.items()):
        at = (*user.at, project.building.storeys[user.storey].height + user.height)
        power = power_limit_dbm(project, 0.0) if user.power is None else user.power
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
