"""Rules about the links between switches: switches left alone, links that nothing reaches, links overfull."""

from collections.abc import Iterator
from math import ceil

from proposal.design.design import Design
from proposal.design.network.switch_joins import OWNER
from proposal.model.equipment.devices import Switch
from proposal.model.project import Project
from proposal.quantities.formatting import length
from proposal.review.finding import Finding, Rule, listed
from proposal.standards.sources import COMMON_PRACTICE


def switches_left_alone(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each switch that found no uplink port by which to reach the others."""
    room_of = {device.tag: device.room for device in design.devices}
    for tag in design.switch_joins.left:
        yield Finding(
            rule="switch-not-joined",
            severity="error",
            where=tag,
            place=project.place("building", "equipment_rooms", room_of[tag]),
            message=f"{tag} is joined to no other switch: no uplink port is free at both ends. Its access "
            "points, the clock and the multicast groups do not reach the rest of the system.",
            source=COMMON_PRACTICE,
            remedy=_more_uplinks(project, design, tag, room_of[tag]),
        )


def _more_uplinks(project: Project, design: Design, tag: str, room: str) -> str:
    """Return what gives a switch a link: a port of its own, or one more where it may be joined."""
    entry = design.entries.get(tag)
    if isinstance(entry, Switch) and not entry.uplinks:
        able = sorted(code for code, one in project.library.switches.items() if one.uplinks)
        such = f", such as {listed(able[:3])}," if able else ""
        return f"Fix a model with 1 uplink port or more{such} for {tag} in fixed.yaml."
    taken = max((one.uplinks for one in design.entries.values() if isinstance(one, Switch)), default=0)
    able = sorted(code for code, one in project.library.switches.items() if one.uplinks > taken)
    such = f", such as {listed(able[:3])}," if able else ""
    return (
        f"Fix a model with {taken + 1} uplink ports or more{such} for {design.switch_joins.first or tag} in "
        f"fixed.yaml, or name a port of the owner's network for {room} (owner_port)."
    )


def links_not_reached(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each pair of switches that no cable and module of the library joins."""
    for link in design.switch_links:
        if link.medium:
            continue
        room = project.building.equipment_rooms[link.join.start_room]
        far = length(link.length_m, project.brief.units, project.brief.locale)
        yield Finding(
            rule="no-link-between-switches",
            severity="error",
            where=link.identity,
            place=project.place("building", "equipment_rooms", link.join.start_room),
            message=f"Nothing in the library joins {link.join.start} in {room.name} and {link.join.end}"
            + (f", {far} away." if link.length_m else "."),
            source=COMMON_PRACTICE,
            remedy="Add a fibre module of the uplinks' speed with a cable, a cord and a connector of its "
            "fibre to the library, or switches with uplinks for copper; or name a port of the owner's "
            "network (owner_port).",
        )


def links_overfull(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each link between switches that is to carry more than its speed."""
    for link, load in zip(design.switch_links, design.uplink_loads, strict=True):
        if not link.medium or load.holds:
            continue
        yield Finding(
            rule="uplink-overfull",
            severity="error",
            where=link.identity,
            place=project.place("building", "equipment_rooms", link.join.start_room),
            message=f"The link from {link.join.start} to {link.join.end or link.join.end_port} is to carry "
            "more than its speed.",
            value=load.highest_bit_per_s / 1e6,
            limit=link.speed_bit_per_s / 1e6,
            unit="Mbit/s",
            source=COMMON_PRACTICE,
            remedy=f"The link has to carry {ceil(load.highest_bit_per_s / 1e6)} Mbit/s: add a fibre module "
            "of that speed to the library, fix switches with such uplinks, or serve rooms from the equipment "
            "room where their streams are received.",
        )


def first_room_without_port(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error where rooms lead into the owner's network, and the first one names no port of it."""
    joins = design.switch_joins
    room = next((device.room for device in design.devices if device.tag == joins.first), "")
    led = [join for join in joins.joins if join.end == OWNER and join.start != joins.first]
    if not led or project.building.equipment_rooms[room].owner_port:
        return
    yield Finding(
        rule="first-switch-not-joined",
        severity="error",
        where=joins.first,
        place=project.place("building", "equipment_rooms", room),
        message=f"{listed([join.start for join in led])} {'leads' if len(led) == 1 else 'lead'} into the "
        f"owner's network, but no port of it is named by which {joins.first} in {room} is joined to that.",
        source=COMMON_PRACTICE,
        remedy=f"Write owner_port of {room} in building.yaml: one port more of the owner's network, or take "
        f"owner_port away from {listed([join.start_room for join in led])}.",
    )


SWITCH_LINK_RULES: tuple[Rule, ...] = (
    switches_left_alone,
    first_room_without_port,
    links_not_reached,
    links_overfull,
)
