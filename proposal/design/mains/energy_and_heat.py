"""Energy in a year and heat of each room and equipment room."""

import math
from collections.abc import Mapping, Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.mains.mains_loads import MainsLoad
from proposal.design.numbers.numbering import natural
from proposal.design.power.port_power import PoweredPort
from proposal.design.racks.rack_choice import RackDesign
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.model.rooms import Session
from proposal.standards.cooling import airflow_m3_h, heat_btu_h
from proposal.standards.energy import yearly_energy_wh
from proposal.standards.working import Working, working

HOURS_OF_A_YEAR = 8760.0
DAYS_USE = "project.mains.usual_days"
RISE_USE = "project.rules.racks.air_rise"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """Hours of a year in which a room is in use, on between meetings, and at rest."""

    in_use_h: float
    idle_h: float

    @property
    def rest_h(self) -> float:
        """Hours in which nobody meets."""
        return max(HOURS_OF_A_YEAR - self.in_use_h - self.idle_h, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceEnergy:
    """What the equipment of one room or equipment room takes in a year, and the heat it gives off there.

    place: its tag.  hours: of what serves it; those of the longest day's room for an equipment room.
    rest_w, idle_w, typical_w: of all on the mains that stands there.
    heat_w: what of it stays there, typically, with what comes to it over network cables.
    energy: working of its energy, Wh; heat, air: workings of its heat, BTU/h, and of the air, m³/h.
    """

    place: str
    hours: Hours
    rest_w: float
    idle_w: float
    typical_w: float
    heat_w: float
    energy: Working
    heat: Working
    air: Working


def hours_of_sessions(days: Sequence[tuple[int, Mapping[str, Session]]]) -> Hours:
    """Return the hours of a year of a room.

    days: how many days of a year, and the meetings of such a day.
    """
    in_use_h = idle_h = 0.0
    for number, sessions in days:
        if not sessions:
            continue
        meeting_min = _minutes_met(sessions)
        whole_min = max(one.end for one in sessions.values()) - min(one.start for one in sessions.values())
        in_use_h += number * meeting_min / 60
        idle_h += number * max(whole_min - meeting_min, 0) / 60
    return Hours(in_use_h=in_use_h, idle_h=idle_h)


def _minutes_met(sessions: Mapping[str, Session]) -> float:
    """Return how long a room is in use on a day; meetings at the same time count once."""
    met = 0.0
    until = -math.inf
    for begin, end in sorted((one.start, one.end) for one in sessions.values()):
        met += max(end - max(begin, until), 0)
        until = max(until, end)
    return met


def energy_and_heat(
    project: Project,
    loads: Sequence[MainsLoad],
    devices: Sequence[Placed],
    ports: Sequence[PoweredPort],
    racks: Sequence[RackDesign],
) -> tuple[PlaceEnergy, ...]:
    """Return energy and heat of every place with equipment, in order of tags.

    loads: of everything on the mains; devices: of the whole building; ports: of all switches; racks: all.
    The heat of all places together is all that is typically taken from the mains.
    """
    mains = project.brief.mains
    hours = {
        tag: hours_of_sessions(
            [
                (mains.usual_days, room.layout.sessions),
                *((mains.further_days.get(name, 0), day) for name, day in room.layout.days.items()),
            ]
        )
        for tag, room in project.rooms.items()
    }
    longest = max(hours.values(), key=lambda one: (one.in_use_h, one.idle_h))
    room_of = {rack.device.tag: rack.device.room for rack in racks}
    stands = {device.tag: room_of.get(device.location, device.room) for device in devices}
    moved: dict[str, float] = {}
    for port in ports:
        if port.attached.poe_class is None:
            continue
        source, taker = stands[port.source], stands[port.attached.tag]
        moved[source] = moved.get(source, 0.0) - port.drawn_w
        moved[taker] = moved.get(taker, 0.0) + port.drawn_w
    found = []
    for place in sorted({*(load.place for load in loads), *moved}, key=natural):
        here = [load for load in loads if load.place == place]
        typical_w = sum(load.typical_w for load in here)
        heat_w = max(typical_w + moved.get(place, 0.0), 0.0)
        found.append(_of_place(project, place, here, hours, longest, heat_w))
    return tuple(found)


def _of_place(
    project: Project,
    place: str,
    loads: Sequence[MainsLoad],
    hours: Mapping[str, Hours],
    longest: Hours,
    heat_w: float,
) -> PlaceEnergy:
    powers: list[float] = []
    times: list[float] = []
    for load in loads:
        of_load = hours.get(load.room, longest)
        powers += [load.typical_w, load.idle_w, load.rest_w]
        times += [of_load.in_use_h, of_load.idle_h, of_load.rest_h]
    return PlaceEnergy(
        place=place,
        hours=hours.get(place, longest),
        rest_w=sum(load.rest_w for load in loads),
        idle_w=sum(load.idle_w for load in loads),
        typical_w=sum(load.typical_w for load in loads),
        heat_w=heat_w,
        energy=working(
            yearly_energy_wh,
            uses=(DAYS_USE,),
            power_w=tuple(powers) or (0.0,),
            hours_h=tuple(times) or (0.0,),
        ),
        heat=working(heat_btu_h, title="Heat that stays in the room", power_w=heat_w),
        air=working(
            airflow_m3_h, uses=(RISE_USE,), power_w=heat_w, rise_k=project.brief.rules.racks.air_rise
        ),
    )
