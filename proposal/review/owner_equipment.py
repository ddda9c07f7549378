"""Rules about the owner's equipment: used no further than it exists, and joined where it is to be."""

from collections import Counter
from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.room_network import APART, network_of
from proposal.design.owner.owner_devices import OwnerDevice
from proposal.errors import Place
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, counted, listed
from proposal.standards.sources import COMMON_PRACTICE


def owner_ports_short(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each thing of the owner that has fewer ports than are to be joined to it."""
    for one in design.owners:
        tag = one.device.tag
        joins = [join for join in design.owner_joins if join.owner == tag]
        left = [join for join in joins if not join.owner_port]
        if left:
            names = dict.fromkeys(f"{join.end.name} ({join.end.device}/{join.end.port})" for join in left)
            signals = Counter(join.end.signal for join in left)
            lacking = [counted(number, f"{signal} port", more=True) for signal, number in signals.items()]
            yield Finding(
                rule="owner-ports-short",
                severity="error",
                where=tag,
                place=_place(project, one, "ports"),
                message=f"{one.written.name} has no {listed(list(signals))} port left for "
                f"{listed(list(names))}.",
                value=float(len(joins) - len(left)),
                limit=float(len(joins)),
                unit="ports",
                source=COMMON_PRACTICE,
                remedy=f"Ask the owner for {listed(lacking)}, carry {counted(len(left), 'fewer channel')}, "
                "or join them to other equipment.",
            )


def owner_not_on_network(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for what is to take or send networked audio and has no network port that may be used."""
    for one in design.owners:
        networked = [
            code
            for code in one.written.serves
            if any(
                ends[code].signal == "networked audio"
                for room in one.rooms
                for ends in (project.rooms[room].layout.destinations, project.rooms[room].layout.returns)
                if code in ends
            )
        ]
        if networked and not one.on_network:
            yield Finding(
                rule="owner-not-on-network",
                severity="error",
                where=one.device.tag,
                place=_place(project, one, "ports"),
                message=f"{one.written.name} is to carry networked audio ({listed(networked)}) and has no "
                "network port that may be used.",
                value=0.0,
                limit=1.0,
                unit="ports",
                source=COMMON_PRACTICE,
                remedy="Ask the owner for a network port, or carry the sound as analogue audio.",
            )


def owner_equipment_unjoined(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each thing of the owner that nothing is joined to."""
    joined = {join.owner for join in design.owner_joins} | {port.switch for port in design.ports}
    for one in design.owners:
        if one.device.tag not in joined and not one.on_network:
            yield Finding(
                rule="owner-equipment-unjoined",
                severity="warning",
                where=one.device.tag,
                place=_place(project, one, "serves"),
                message=f"{one.written.name} is listed and is joined to nothing.",
                value=0.0,
                limit=1.0,
                unit="joins",
                source=COMMON_PRACTICE,
                remedy="Write which destinations or returns it is (serves), give it a network port, or leave "
                "it out.",
            )


def usb_too_far(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each thing that is joined over USB and stands in another room than what it joins."""
    stands = {one.tag: _room_of(project, one) for one in design.devices}
    for one in design.owners:
        joined = {
            join.end.device
            for join in design.owner_joins
            if join.owner == one.device.tag and join.end.signal == "USB"
        }
        for tag in sorted(joined):
            if stands[tag] != stands[one.device.tag]:
                yield Finding(
                    rule="owner-usb-too-far",
                    severity="error",
                    where=one.device.tag,
                    place=_place(project, one, "serves"),
                    message=f"{one.written.name} is joined to {tag} over USB and stands in another room.",
                    source=COMMON_PRACTICE,
                    remedy=f"Let it stand in {stands[tag]}, where a cord reaches, or carry the sound by the "
                    f"network{_nearer(project, one.device.room)}.",
                )


def _nearer(project: Project, room: str) -> str:
    """Return how a mixer comes into the room where a thing stands, as the end of a remedy."""
    held = project.rooms.get(room)
    if held is None or network_of(project, held.layout) in APART:
        return ""
    return f", or write `network: alone` for {room}, so that its mixer stands in the room"


def _room_of(project: Project, device: Placed) -> str:
    """Return the tag of the room or equipment room that a device stands in."""
    place = device.location.rpartition("-")[0]
    return place if place in project.building.equipment_rooms else device.room


def switches_apart(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each equipment room whose switches do not reach those of the owner that are used."""
    used = [one.device.tag for place in design.closets for one in place.switches if one.offered and one.ports]
    joined = {join.start for join in design.switch_joins.joins if not join.end}
    for closet in design.closets:
        ours = [one.device.tag for one in closet.switches if not one.offered]
        room = project.building.equipment_rooms[closet.equipment_room]
        if used and ours and closet.equipment_room == _first_room(design) and not joined & set(ours):
            yield Finding(
                rule="owner-switch-apart",
                severity="error",
                where=closet.equipment_room,
                place=project.place("building", "equipment_rooms", closet.equipment_room),
                message=f"Devices are on {listed(used)} of the owner, and nothing joins {listed(ours)} in "
                f"{room.name} to the owner's network.",
                source=COMMON_PRACTICE,
                remedy="Name the port of the owner's network that joins them (owner_port).",
            )


def _first_room(design: Design) -> str:
    """Return the equipment room to whose switches the others of ours are joined."""
    return next((one.room for one in design.devices if one.tag == design.switch_joins.first), "")


def _place(project: Project, one: OwnerDevice, field: str) -> Place:
    return project.place("building", "owner_equipment", one.place, one.device.code, field)


OWNER_EQUIPMENT_RULES: tuple[Rule, ...] = (
    owner_ports_short,
    owner_not_on_network,
    owner_equipment_unjoined,
    usb_too_far,
    switches_apart,
)
