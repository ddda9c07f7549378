"""Which device leads the clock: of those that can, the one with the lowest number of priority."""

from collections.abc import Mapping

from proposal.design.numbers.numbering import natural
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import Switch
from proposal.model.equipment.entry import Device


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockPlan:
    """Who leads the clock of the network of audio, and who takes over.

    leader: tag; empty where nothing can lead.  priority: of the leader in the election.
    next: tag of the device that leads when the first one is off; empty where there is none.
    followers: how many devices take the clock.
    not_boundary: tags of switches that do not take part, so that packets wait in them unmeasured.
    """

    leader: str
    priority: int
    next: str
    followers: int
    not_boundary: tuple[str, ...]


def clock_plans(entries: Mapping[str, Device], apart: Mapping[str, str]) -> Mapping[str, ClockPlan]:
    """Return who leads the clock of the building's network, under an empty tag, and of each room's own.

    entries: the library entry of every device by tag.
    apart: tag of the room whose network is kept from the building's, by the tag of each device in it.
    """
    rooms = ("", *sorted(set(apart.values()), key=natural))
    return {
        room: clock_plan({tag: entry for tag, entry in entries.items() if apart.get(tag, "") == room})
        for room in rooms
    }


def clock_plan(entries: Mapping[str, Device]) -> ClockPlan:
    """Return who leads the clock among some devices: the lowest priority, then the order of tags.

    entries: the library entry of every device by tag.
    Two that are delivered with one priority would be told apart by their own numbers, so that the
    configuration sheets set 1 for the leader and 2 for the next.
    """
    able = sorted(
        (entry.network.clock_priority, natural(tag), tag)
        for tag, entry in entries.items()
        if entry.network and entry.network.can_lead_clock
    )
    timed = [tag for tag, entry in entries.items() if entry.network and "clock" in entry.network.protocols]
    leader = able[0][2] if able else ""
    return ClockPlan(
        leader=leader,
        priority=able[0][0] if able else 0,
        next=able[1][2] if len(able) > 1 else "",
        followers=sum(tag != leader for tag in timed),
        not_boundary=tuple(
            sorted(
                (
                    tag
                    for tag, entry in entries.items()
                    if isinstance(entry, Switch) and not entry.boundary_clock
                ),
                key=natural,
            )
        ),
    )
