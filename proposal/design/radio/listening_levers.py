"""What would let every microphone that listens first come by its place, each found by planning anew."""

from collections.abc import Callable, Mapping

from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_plan import AirPlan
from proposal.design.radio.listening import Access, accesses
from proposal.design.radio.radio_levers import MOST_LINKS, Lever, lowerings
from proposal.design.radio.radio_links import Asked
from proposal.design.radio.radio_neighbours import Interference
from proposal.design.radio.radio_states import on_air
from proposal.standards.dect import Listening

Planning = Callable[[Interference], AirPlan]


def listening_levers(asked: Asked, air: AirPlan, rules: Listening, planned: Planning) -> tuple[Lever, ...]:
    """Return what leaves a place for every link that its microphone may take, the least change first.

    asked: what the links were made from.
    air: the links, and what came of planning them.
    rules: of the region.
    planned: plans links as the design does.
    Lower power of the rooms; what leaves any in doubt is left out. Where too many links are on the air,
    nothing is tried.
    """
    if len(air.links) > MOST_LINKS:
        return ()
    rooms = sorted({link.room for link in air.links if link.kind == "link"}, key=natural)
    for lower_by in lowerings(asked, rooms):
        there = planned(on_air(asked, lower_by).disturbance)
        if there.plan.outcome == "planned" and not unproven(there, rules):
            lowered = tuple(room for room in rooms if lower_by.get(room))
            amounts = tuple(lower_by[room] for room in lowered)
            return (Lever(name="lower power", rooms=lowered, amounts=amounts, missing=0),)
    return ()


def unproven(air: AirPlan, rules: Listening) -> tuple[str, ...]:
    """Return the links that may be refused the places of a plan, by their identities in order."""
    found: Mapping[str, Access] = accesses(air, rules)
    return tuple(sorted((name for name, access in found.items() if access == "not proven"), key=natural))
