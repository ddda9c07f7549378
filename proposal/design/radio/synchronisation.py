"""Which access points share a frame: those on one network, as many as the equipment can keep in step."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby

from proposal.field_classes import dataclass

TOGETHER = "building"
"""What the group of those kept in step on the building's network is called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InStep:
    """An access point as its group sees it.

    tag: its own.
    by_hand: name of its group, empty where nobody wrote one.
    kept: how it keeps in step: network, radio or none.
    size: how many of its kind can share a frame.
    system: what it works with; systems share no frame.
    room: tag of its room, whose access points stay together.
    """

    tag: str
    by_hand: str
    kept: str
    size: int
    system: str = ""
    room: str = ""


def networks(joins: Iterable[tuple[str, str]], first: str) -> Mapping[str, str]:
    """Return the network that each device is joined to, by its tag.

    joins: tags at both ends of each join of the network over which devices can keep in step.
    first: tag of the switch to which the building's switches lead; what they reach is the building's network.
    What no join leads there is a network of its own, called by its first device.
    """
    import networkx

    found: dict[str, str] = {}
    for part in networkx.connected_components(networkx.Graph(joins)):
        found |= dict.fromkeys(part, TOGETHER if first in part else min(part))
    return found


def synchronisation_groups(
    access_points: Sequence[InStep], joined: Mapping[str, str] | None = None
) -> Mapping[str, str]:
    """Return the synchronisation group of each access point by its tag.

    access_points: in order.
    joined: network of each access point that keeps in step over one, the building's where left out.
    Those kept in step share one frame up to the least number that any of them can; the first room that does
    not fit whole starts another, unless no frame holds it. An access point that keeps no step is a group of
    its own.
    """
    several = len({one.system for one in access_points}) > 1
    groups: dict[str, str] = {}
    waiting: dict[str, list[InStep]] = {}
    for one in access_points:
        own = f" {one.system}" if several else ""
        if one.by_hand:
            groups[one.tag] = one.by_hand + own
        elif one.kept == "none":
            groups[one.tag] = one.tag
        else:
            network = (joined or {}).get(one.tag, TOGETHER) if one.kept == "network" else TOGETHER
            waiting.setdefault(network + own, []).append(one)
    for name, members in waiting.items():
        most = min(one.size for one in members)
        number, held = 1, 0
        for _, room in groupby(members, lambda one: one.room or one.tag):
            together = list(room)
            for left, one in zip(range(len(together), 0, -1), together, strict=True):
                if held == most or (held and left == len(together) <= most < held + left):
                    number, held = number + 1, 0
                groups[one.tag] = f"{name} {number}" if len(members) > most else name
                held += 1
    return groups
