"""The radio links of one room: which microphone reaches which access point, and how well."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from proposal.design.equipment.placed_devices import Placed, to_own
from proposal.design.numbers.numbering import natural
from proposal.design.radio.propagation import (
    Floats,
    Surroundings,
    obstruction_losses_db,
)
from proposal.design.radio.radio_neighbours import Link, Position
from proposal.design.radio.radio_settings import (
    RadioEnd,
    body_loss_db,
    radio_end,
    ratio_db,
    refused_dbm,
)
from proposal.design.radio.received_margins import Margin
from proposal.model.equipment.devices import AccessPoint, Microphone
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.model.rooms import Room


class RoomLinks:
    """The links of one room.

    Indoors the loss of its wanted paths is that of ITU-R P.1238; outdoors that of free space with the walls
    crossed.

    transceivers: of each access point by tag.
    links: of the microphones that have an access point, then the bearers of access points without traffic.
    margins: of the same microphones.
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
        """Compute the links of a room.

        around: what lies between the antennas of the building.
        devices: access points and microphones of the room; entries: the library entry of each by tag.
        linked: access point of every microphone that has a channel, by tag.
        groups: synchronisation group of each access point by tag.
        lower_by: power settings below the ones chosen.
        wanted_loss_db: loss of paths between two rows of positions, dB.
        """
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
            initiated_by=(initiator := access_point.radio.initiated_by),
            refused_dbm=refused_dbm(self.project, end if initiator == "microphone" else other),
        )
