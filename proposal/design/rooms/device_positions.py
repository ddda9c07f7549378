"""Where devices stand: from a room's own coordinates into the building, with defaults."""

import math
from collections.abc import Iterator, Mapping

from proposal.design.equipment.assistive_choice import (
    assistive_set,
    before_the_wall,
    nearest_on_a_wall,
    transmitter_places,
)
from proposal.design.equipment.built_in_switch import BUILT_IN_HEADROOM_USE
from proposal.design.equipment.device_capacity import capacity
from proposal.design.equipment.line_loads import loudspeaker_height_m, loudspeaker_model
from proposal.design.equipment.mountings import hangs_on, listening_place, stands_at
from proposal.design.equipment.placed_devices import Placed, Point, by_hand, in_building
from proposal.design.equipment.room_network import APART, network_of
from proposal.design.equipment.room_walls import AT_A_WALL_M, away_m, inward, nearest_wall, walls_of
from proposal.design.equipment.sizing import Sizing
from proposal.design.equipment.wired_choice import wired_height_m, wired_models
from proposal.design.numbers.numbering import device_tag, issued_of, natural
from proposal.design.radio.radio_settings import microphone_height_m, written_height_m
from proposal.design.radio.room_placement import POSITION_USES, MountedAccessPoint, access_points_by_placement
from proposal.design.rooms.side_by_side import IN_RACKS, places_of
from proposal.model.project import Project
from proposal.model.rooms import RoomType

PLUGGED = ("access_point", "charger", "breakout")
FURNITURE = "furniture"
"""Where devices of a room without a rack stand: in or on furniture, or on a shelf of their own."""


CHARGING = ("charging_at", "charging_height", "project.rules.charging.from_wall")


BELOW_CEILING_M, STAND_HEIGHT_M, SIGN_HEIGHT_M = 0.3, 2.0, 1.5
"""How far under the ceiling transmitters hang, how high they are on a stand, and how high signs hang."""


WRITTEN_USES = ("access_points_at", "radio.access_point_height")


def charging_point(project: Project, layout: RoomType) -> Point:
    """Return where the chargers stand: as written, else before the middle of the longest wall.

    project: its rules. layout: the room's layout; of equally long walls the first counts.
    """
    if layout.charging_at is not None:
        return layout.charging_at
    corners = layout.outline
    longest = max(walls_of(corners), key=lambda wall: round(math.dist(*wall), 6))
    (x1, y1), (x2, y2) = longest
    across = inward(longest, corners)
    from_wall_m = project.brief.rules.charging.from_wall
    return (x1 + x2) / 2 + across[0] * from_wall_m, (y1 + y2) / 2 + across[1] * from_wall_m


def microphones_by_access_point(
    layout: RoomType, capacities: Mapping[str, int], places: Mapping[str, Point]
) -> Mapping[str, tuple[str, ...]]:
    """Return which microphones each access point serves.

    layout: the room's layout.
    capacities: channels by code of access point, in order.
    places: where access points hang that is known, by code.
    Where all places are known, the nearest pairs are joined first; else microphones are taken along the
    room's longer side, each access point filled in turn. Microphones without a channel are left out.
    """
    served: dict[str, list[str]] = {code: [] for code in capacities}
    positions = {code: position.at for code, position in layout.microphones.items()}
    if set(capacities) <= set(places):
        pairs = sorted(
            (
                round(math.dist(positions[microphone], places[code]), 6),
                natural(microphone),
                code,
            )
            for microphone in positions
            for code in capacities
        )
        by_key = {natural(code): code for code in positions}
        left = set(positions)
        for _, key, code in pairs:
            microphone = by_key[key]
            if microphone in left and len(served[code]) < capacities[code]:
                served[code].append(microphone)
                left.remove(microphone)
    else:
        queue = _along_longer_side(layout)
        for code, channels in capacities.items():
            served[code], queue = queue[:channels], queue[channels:]
    return {code: tuple(sorted(codes, key=natural)) for code, codes in served.items()}


def _along_longer_side(layout: RoomType) -> list[str]:
    xs = [point[0] for point in layout.outline]
    ys = [point[1] for point in layout.outline]
    axis = 0 if max(xs) - min(xs) >= max(ys) - min(ys) else 1
    return sorted(
        layout.microphones,
        key=lambda code: (
            layout.microphones[code].at[axis],
            layout.microphones[code].at[1 - axis],
            natural(code),
        ),
    )


def place_room(
    project: Project,
    tag: str,
    path: str,
    sizing: Sizing,
    equipment_room: str,
    found: Mapping[str, MountedAccessPoint] | None,
) -> tuple[Placed, ...]:
    """Return every device of one room, in order of kinds and codes.

    project: its library and decisions by hand.
    tag, sizing: the room and its microphone system.
    path: dotted path of its layout in the project.
    equipment_room: tag of the equipment room that serves it; empty where none does.
    found: where placement hangs its access points, None where it was not asked or has no answer.
    Where the room's network is kept apart, what else would stand in a rack stands in the room's furniture.
    """
    room = project.rooms[tag]
    layout = room.layout
    devices: list[Placed] = []

    def put(
        kind: str,
        code: str,
        model: str,
        at: Point,
        height_m: float,
        location: str,
        serves: tuple[str, ...] = (),
        uses: tuple[str, ...] = (),
        own_at: Point | None = None,
    ) -> None:
        devices.append(
            Placed(
                tag=device_tag(tag, code),
                code=code,
                kind="microphone" if kind == "spare_microphone" else kind,
                model=model,
                room=tag,
                storey=room.storey,
                at=in_building(room, at),
                height_m=height_m,
                location=location,
                serves=serves,
                uses=tuple(
                    use if use.startswith("project.") else f"{path}.{use}"
                    for use in (*uses, *(ends if kind in PLUGGED else ()))
                ),
                own_at=None if own_at is None else (round(own_at[0], 6), round(own_at[1], 6)),
            )
        )

    charging = charging_point(project, layout)
    places = places_of(project, tag, layout, sizing, charging)
    # Where breakouts are, a cable may end in the switch inside one.
    ends = ("network", BUILT_IN_HEADROOM_USE) if layout.output == "breakout" else ()
    for code in sorted(layout.microphones, key=natural):
        position = layout.microphones[code]
        portable = position.form in ("handheld", "bodypack")
        height_m = microphone_height_m(project, layout, position)
        location = position.mounting or ("hand or body" if portable else "table")
        put("microphone", code, sizing.microphones[code], position.at, height_m, location)
    for code, model in sizing.spares_by_code.items():
        put("spare_microphone", code, model, charging, layout.charging_height, "charger")
    access_points = _codes(sizing, "access_point")
    capacities = {code: capacity(project.library.entry(model)) for code, model in access_points.items()}
    hung = _access_points(project, tag, layout, capacities) if found is None else found
    for code, model in access_points.items():
        one = hung[code]
        uses = WRITTEN_USES if code in layout.access_points_at else POSITION_USES
        put("access_point", code, model, one.at, one.height_m, one.mounting, one.serves, uses, one.at)
    for code, model in _codes(sizing, "charger").items():
        stands = _stands(project, layout, device_tag(tag, code), model)
        put("charger", code, model, places[code], layout.charging_height, stands, (), CHARGING)
    for code, model in _codes(sizing, "breakout").items():
        stands = _stands(project, layout, device_tag(tag, code), model)
        uses = ("breakouts_at", *CHARGING)
        put("breakout", code, model, places[code], layout.charging_height, stands, (), uses)
    for code, loudspeaker in sorted(layout.loudspeakers.items(), key=lambda item: natural(item[0])):
        model = loudspeaker_model(project, loudspeaker)
        height_m = loudspeaker_height_m(layout, loudspeaker)
        put("loudspeaker", code, model, loudspeaker.at, height_m, loudspeaker.mounting)
    models = wired_models(project, layout)
    for code, wired in sorted(layout.wired_microphones.items(), key=lambda item: natural(item[0])):
        height_m = wired_height_m(project, layout, wired)
        put("wired_microphone", code, models[code], wired.at, height_m, _WIRED_AT[wired.form])
    for code, at, height_m, held, model in _assistive(project, layout, charging, places):
        put("assistive_device", code, model, at, height_m, held)
    apart = network_of(project, layout) in APART
    for kind in IN_RACKS if apart else ():
        for code, model in _codes(sizing, kind).items():
            uses = ("breakouts_at", *CHARGING)
            put(kind, code, model, places[code], layout.charging_height, FURNITURE, (), uses)
    for kind in () if apart else IN_RACKS:
        place, rack = project.building.equipment_rooms[equipment_room], first_rack(project, equipment_room)
        for code, model in _codes(sizing, kind).items():
            devices.append(
                Placed(
                    tag=device_tag(tag, code),
                    code=code,
                    kind=kind,
                    model=model,
                    room=tag,
                    storey=place.storey,
                    at=place.at,
                    height_m=project.brief.rules.cabling.rack_height,
                    location=rack,
                )
            )
    return tuple(by_hand(device, project.fixed.devices.get(device.tag)) for device in devices)


def _stands(project: Project, layout: RoomType, tag: str, model: str) -> str:
    """Return where a device of a room stands, by the model that fixed.yaml names, else the one chosen."""
    fixed = project.fixed.devices.get(tag)
    named = fixed.model if fixed and fixed.model else model
    return stands_at(project.library.entry(named) if named else None, layout.untouchable)


_WIRED_AT = {"gooseneck": "furniture", "boundary": "table", "handheld": "hand or body", "hanging": "ceiling"}


def _assistive(
    project: Project, layout: RoomType, charging: Point, beside: Mapping[str, Point]
) -> Iterator[tuple[str, Point, float, str, str]]:
    """Yield code, position, height, place and model of each device for assistive listening.

    charging: where the chargers stand; receivers are handed out there, and the sign says so.
    beside: where their chargers stand, by code.
    """
    assistive = assistive_set(project, layout)
    if assistive is None:
        return
    written = layout.assistive_devices
    places = iter(transmitter_places(layout, max(1, len(assistive.models.get("transmitter", ())))))
    for code, (role, model) in assistive.by_code.items():
        if role == "transmitter":
            at = next(places)
            given = written.transmitters_at.get(code)
            entry = project.library.assistive_devices[model]
            place = listening_place(
                layout,
                entry,
                written=written.transmitters_on,
                at_a_wall=given is None or away_m(given, nearest_wall(layout.outline, given)) <= AT_A_WALL_M,
            )
            usual_m = {
                "wall": layout.ceiling.height - BELOW_CEILING_M,
                "ceiling": layout.ceiling.height,
                "stand": min(STAND_HEIGHT_M, layout.ceiling.height - BELOW_CEILING_M),
                "table": layout.charging_height,
            }[place]
            height_m = usual_m if written.transmitter_height is None else written.transmitter_height
            if given is None and place != "wall":
                at = charging if place == "table" else before_the_wall(layout, at, place)
            yield code, given or at, height_m, place, model
        elif role == "sign":
            entry = project.library.assistive_devices[model]
            place = listening_place(layout, entry, written=written.signs_on)
            if place == "wall":
                yield code, nearest_on_a_wall(layout, charging), SIGN_HEIGHT_M, place, model
            else:
                yield code, charging, layout.charging_height, place, model
        else:
            location = "table" if role == "receiver charger" else "hand or body"
            yield code, beside.get(code, charging), layout.charging_height, location, model


def placed_access_points(
    project: Project, layout: RoomType, sizing: Sizing
) -> Mapping[str, MountedAccessPoint] | None:
    """Return where placement hangs the access points of a kind of room, and whom they serve, by code.

    layout, sizing: of the kind.
    None where the designer wrote a position, or where placement has no answer.
    """
    access_points = _codes(sizing, "access_point")
    if set(access_points) & set(layout.access_points_at):
        return None
    in_order = {code: access_points[code] for code in sizing.hung_order or access_points}
    return access_points_by_placement(project, layout, sizing.microphones, in_order)


def _access_points(
    project: Project, tag: str, layout: RoomType, capacities: Mapping[str, int]
) -> Mapping[str, MountedAccessPoint]:
    """Return where each access point hangs and whom it serves, by its code, where placement does not say.

    tag: of the room; capacities: channels by code.
    One without a written position beside others that have one stays where an issued revision hung it, else
    hangs over the middle of its microphones.
    """
    issued = {one.number: one for one in issued_of(project.issued, "device").values() if not one.retired}
    before = {code: issued.get(device_tag(tag, code)) for code in capacities}
    places = {code: one.at for code, one in before.items() if one and one.at}
    places.update(layout.access_points_at)
    served = microphones_by_access_point(layout, capacities, places)
    mounting = hangs_on(layout)
    height_m = written_height_m(project, layout, mounting)
    hung = {}
    for code in capacities:
        points = [layout.microphones[microphone].at for microphone in served[code]] or [
            charging_point(project, layout)
        ]
        middle = (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
        at = places.get(code, middle)
        hung[code] = MountedAccessPoint(at=at, height_m=height_m, mounting=mounting, serves=served[code])
    return hung


def first_rack(project: Project, equipment_room: str) -> str:
    """Return the tag of the rack where an equipment room's cables end: the first in order.

    equipment_room: its tag.
    """
    racks = project.building.equipment_rooms[equipment_room].racks
    return device_tag(equipment_room, min(racks, key=natural))


def in_first_rack(project: Project, equipment_room: str, kind: str, code: str, model: str) -> Placed:
    """Return a device that stands where an equipment room's cables end.

    equipment_room: its tag.  kind, code, model: of the device.
    """
    place = project.building.equipment_rooms[equipment_room]
    return Placed(
        tag=device_tag(equipment_room, code),
        code=code,
        kind=kind,
        model=model,
        room=equipment_room,
        storey=place.storey,
        at=place.at,
        height_m=project.brief.rules.cabling.rack_height,
        location=first_rack(project, equipment_room),
    )


def _codes(sizing: Sizing, kind: str) -> Mapping[str, str]:
    """Return the model of each box of a kind by its code in the room."""
    size = sizing.size(kind)
    return size.by_code if size else {}
