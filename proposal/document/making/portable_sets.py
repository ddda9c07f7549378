"""Rows about portable sets."""

from typing import TypedDict

from proposal.design.charging.room_days import RoomDay
from proposal.design.design import Design
from proposal.design.mains.mains_outlets import MainsOutlet
from proposal.design.numbers.numbering import natural
from proposal.design.radio.portable_radio import in_state, name_of_place
from proposal.design.radio.portable_uses import PortableUse, portable_uses
from proposal.design.rooms.portable_devices import goes_along, mains_devices
from proposal.document.making.radio import further_words
from proposal.document.rows.portable_sets import PortableLinkRow, PortableSetRow, PortableUseRow
from proposal.model.outlines import corners_in_building
from proposal.model.project import Project

OUTLET = "an outlet of the mains"


class PortableParts(TypedDict, total=False):
    """The rows about portable sets; none of them where a building has none."""

    portable_sets: tuple[PortableSetRow, ...]
    portable_uses: tuple[PortableUseRow, ...]
    portable_links: tuple[PortableLinkRow, ...]


def portable_parts(project: Project, design: Design) -> PortableParts:
    """Return the fields of the document that hold the rows about portable sets, by name."""
    written = project.building.portable_sets
    if not written:
        return {}
    uses = portable_uses(project, design.radio)
    return {
        "portable_sets": tuple(
            PortableSetRow(
                tag=tag,
                name=project.rooms[tag].name,
                microphones=len(project.rooms[tag].layout.microphones),
                charger=written[tag].charger,
                lowest=_lowest(design.days.get(tag, ())),
                reserve=project.brief.rules.charging.reserve,
                put_away_in=tuple(
                    name for name, state in project.building.states.items() if tag not in state.portable
                ),
            )
            for tag in sorted(written, key=natural)
        ),
        "portable_uses": tuple(_use(project, design, one) for one in uses),
        "portable_links": tuple(row for one in uses for row in _links(project, one)),
    }


def _lowest(days: tuple[RoomDay, ...]) -> float | None:
    return min((group.lowest.lowest for day in days for group in day.groups), default=None)


def _use(project: Project, design: Design, one: PortableUse) -> PortableUseRow:
    worst = min((margin.margin_db for margin in one.margins), default=None)
    there, devices = in_state(project, design.devices, one.states[0])
    own = [device for device in devices if device.room == one.set and goes_along(project, device)]
    return PortableUseRow(
        set=one.set,
        states=one.states,
        place=name_of_place(project, one.place),
        key_of_place=one.place,
        room="" if one.outdoors else one.place,
        needs=OUTLET if mains_devices(project, design.devices, design.entries, one.set) else "",
        outlet=one.outlet,
        outlet_marks=tuple(
            mark
            for circuit in design.circuits
            for outlet, mark in zip(circuit.outlets, circuit.marks, strict=True)
            if outlet.place == one.place and _is_of(design, outlet, one.set)
        ),
        outcome=one.outcome,
        missing=len(one.missing),
        storey=there.rooms[one.set].storey,
        outline=tuple((round(x, 4), round(y, 4)) for x, y in corners_in_building(there.rooms[one.set])),
        standing=tuple(
            (device.tag, (round(device.at[0], 4), round(device.at[1], 4)), round(device.height_m, 4))
            for device in sorted(own, key=lambda device: natural(device.tag))
        ),
        worst_margin_db=None if worst is None else round(worst, 4),
    )


def _is_of(design: Design, outlet: MainsOutlet, tag: str) -> bool:
    """Return whether an outlet feeds devices of a portable set."""
    rooms = {device.tag: device.room for device in design.devices}
    return any(rooms.get(load.name) == tag for load, _ in outlet.shares)


def _links(project: Project, one: PortableUse) -> list[PortableLinkRow]:
    rows = []
    for margin in one.margins:
        where = one.planned.get(margin.microphone)
        rows.append(
            PortableLinkRow(
                microphone=margin.microphone,
                states=one.states,
                place=name_of_place(project, one.place),
                access_point=margin.access_point,
                distance_m=round(margin.distance_m, 4),
                loss_db=round(margin.loss_db, 4),
                margin_db=round(margin.margin_db, 4),
                carrier=where.carrier if where else None,
                slots=where.slots if where else (),
                further=further_words(where) if where else (),
            )
        )
    return rows
