"""What a design contains, in the words by which standing lines ask for it."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.equipment.our_duties import BOXES, LINE_VOLTAGE, is_ours
from proposal.design.pathways.penetrations import furnishes_fire_stopping
from proposal.design.sound.muting import mute_points, mutes_asked
from proposal.design.wanted_ports import to_owners_network
from proposal.model.assistive_listening import serves_assistive_listening
from proposal.model.labour.labour_choices import WorkHours
from proposal.model.project import Project
from proposal.model.wording.wording import Fact
from proposal.quantities.general_conditions import GeneralCondition

_OF_KIND: dict[str, Fact] = {
    "amplifier": "amplifiers",
    "assistive_device": "assistive listening by us",
    "access_point": "radio",
    "breakout": "breakouts",
    "charger": "chargers",
    "loudspeaker": "loudspeakers",
    "mixer": "mixers",
    "rack": "racks",
    "standby_supply": "standby supplies",
    "wired_microphone": "wired microphones",
}
_AT: dict[str, Fact] = {
    "ceiling": "ceiling devices",
    "table": "table devices",
    "under table": "table devices",
    "wall": "wall devices",
}
_PATHWAYS: dict[str, Fact] = {
    "conduit": "conduits",
    "hooks": "hooks",
    "sleeve": "sleeves",
    "riser shaft": "sleeves",
    "tray": "trays",
}
_COVERED: dict[GeneralCondition, Fact] = {
    "lifts": "lifts by us",
    "permits": "permits by us",
    "storage": "storage by us",
    "waste": "waste by us",
}
OFF_HOURS = "off hours"
"""Key of the condition of labour outside office hours."""
_CALLS = ("codec", "conferenc", "far end", "call", "remote")


def facts(design: Design) -> frozenset[Fact]:
    """Return what holds of a design.

    Assistive listening and calls are known by the names of where a room's sound goes and comes from, since
    what stands there is furnished by others; sound that goes out by USB or comes back is a call.
    """
    return frozenset(_facts(design))


def _facts(design: Design) -> Iterator[Fact]:
    project = design.project
    yield "always"
    for device in design.devices:
        if device.kind in _OF_KIND:
            yield _OF_KIND[device.kind]
        listening = project.library.assistive_devices.get(device.model)
        if listening is not None and listening.role == "sign":
            yield "signs of assistive listening"
        if device.location in _AT:
            yield _AT[device.location]
        if device.height_m > project.brief.rules.review.work_at_height and device.kind != "rack":
            yield "work at height"
        entry = design.every_entry.get(device.tag)
        owner = entry is not None and entry.furnished_by == "owner"
        if device.kind == "switch":
            yield "switches of the owner" if owner else "new switches"
        if owner:
            yield "equipment of the owner"
    if any(one.written.switch for one in design.owners):
        yield "switches of the owner"
    for pathway in project.building.pathways.values():
        yield _PATHWAYS[pathway.kind]
    if not furnishes_fire_stopping(project):
        yield "fire-stopping by others"
    elif design.penetrations:
        yield "fire-stopping by us"
    if is_ours(project, BOXES[project.brief.rules.takeoff.price_pathways], "furnish"):
        yield "boxes by us"
    ours = is_ours(project, LINE_VOLTAGE, "furnish")
    yield "line voltage by us" if ours else "line voltage by others"
    if not project.building.pathways:
        yield "no pathways"
    contact = project.building.fire_alarm_contact
    if contact is not None:
        yield "fire alarm contact" if contact else "no fire alarm contact"
    existing = [one.existing for one in project.building.pathways.values()]
    if any(existing):
        yield "existing pathways"
    priced = project.brief.rules.takeoff.price_pathways and not all(existing)
    yield "pathways by us" if priced else "pathways by others"
    for surcharge in project.brief.price.surcharges.values():
        yield from (_COVERED[one] for one in surcharge.covers if one in _COVERED)
    opened = {one.room for one in design.devices if one.location == "ceiling"}
    closed = {tag for tag, room in project.rooms.items() if "ceiling" in room.layout.untouchable}
    if opened - closed:
        yield "ceilings opened in part" if closed else "ceilings opened"
    asked = any(mutes_asked(kind.layout) for kind in design.kinds)
    if asked and mute_points(design.devices, design.entries):
        yield "mutes of groups"
    yield "off hours" if _works_off_hours(project) else "normal hours"
    if any(device.kind == "access_point" for device in design.devices):
        yield "other radio users" if project.building.radio.other_users else "no other radio users"
    storeys = {room.storey for room in project.rooms.values()}
    storeys |= {place.storey for place in project.building.equipment_rooms.values()}
    if len(storeys) > 1:
        yield "several storeys"
    if project.brief.subnets:
        yield "subnets"
        if leads_to_owners_network(design):
            yield "building network"
    if design.addresses.vlans and not leads_to_owners_network(design):
        yield "network of its own"
    if project.building.equipment_rooms:
        yield "equipment rooms"
    yield from _ways_of_sound(design)


def _ways_of_sound(design: Design) -> Iterator[Fact]:
    """Yield what leads to others, and what the names of destinations and returns tell of."""
    if any(cable.to_others for cable in design.cables):
        yield "leads to others"
    if any(end.signal == "USB" for end in design.ends):
        yield "USB cords"
    for kind in design.kinds:
        if kind.layout.loudspeakers and not any(one.announcements for one in kind.layout.returns.values()):
            yield "loudspeakers without announcements"
        going, coming = kind.layout.destinations.values(), kind.layout.returns.values()
        names = " ".join(one.name.casefold() for one in (*going, *coming))
        if serves_assistive_listening(kind.layout):
            yield "assistive listening of others"
        if any(word in names for word in _CALLS) or any(one.signal == "USB" for one in going):
            yield "calls"


def leads_to_owners_network(design: Design) -> bool:
    """Return whether any link leads to the owner's network, from a switch or from a room."""
    return (
        any(not join.end for join in design.switch_joins.joins)
        or any(switch.offered for closet in design.closets for switch in closet.switches)
        or bool(to_owners_network(design.project, design.closets, design.rooms))
    )


def lies_off_hours(project: Project, hours: WorkHours) -> bool:
    """Return whether hours of work on site lie outside normal working time, or in part.

    hours: of the clock in which people may work.
    """
    rules = project.brief.rules.review
    usual = set(hours.weekdays) <= set(project.brief.programme.working_days)
    return not (usual and rules.day_begins <= hours.start < hours.end <= rules.day_ends)


def _works_off_hours(project: Project) -> bool:
    """Return whether hours outside normal working time are charged, or the only ones of some rooms."""
    labour = project.brief.labour
    if any(lies_off_hours(project, one) for one in labour.work_hours.values()):
        return True
    conditions = [labour.conditions, labour.project_conditions, *labour.room_conditions.values()]
    return labour.overtime > 0 or bool(labour.overtime_work) or any(OFF_HOURS in one for one in conditions)
