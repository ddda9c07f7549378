"""Radio over the whole building: levels, neighbours, the plan of carriers and slots, and what it rests on."""

from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property

from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_arithmetic import (
    Neighbourhood,
    RoomOnAir,
    neighbourhood,
    neighbourhoods,
    rooms_on_air,
)
from proposal.design.radio.air_plan import AirPlan, air_plan
from proposal.design.radio.earlier_plan import known_cells
from proposal.design.radio.listening import Access, Heavy, accesses, heavy
from proposal.design.radio.radio_cases import Cases, Tolerance
from proposal.design.radio.radio_levers import MOST_LINKS, Lever, levers, lowered, lowerings
from proposal.design.radio.radio_links import Asked
from proposal.design.radio.radio_neighbours import Interference, Link
from proposal.design.radio.radio_settings import region
from proposal.design.radio.radio_states import (
    RadioInState,
    alike_states,
    hardest,
    on_air,
    one_on_air,
    plans_by_state,
    together,
)
from proposal.design.radio.received_margins import Margin
from proposal.design.radio.slot_plan import Outcome
from proposal.field_classes import dataclass
from proposal.model.equipment.devices import AccessPoint
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.standards.dect import Listening
from proposal.standards.levels import level_of_ratio_db


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedLink:
    """Where the plan puts a link, and how clear of interference it is there.

    link: the link; carrier from 0 and slots from 0, as many as it blocks there; none where it is not planned.
    further: other carriers that it uses, each with its slots, where its slot pairs may spread over carriers.
    clear_db: carrier to the sum of interference, less what is wanted; None where nothing disturbs it.
    quiet_db: how far what its end that listens hears of others lies under the level at which it is refused
        the place; None where none need listen or nothing is heard.
    """

    link: Link
    carrier: int | None
    slots: tuple[int, ...]
    further: tuple[tuple[int, tuple[int, ...]], ...]
    clear_db: float | None
    quiet_db: float | None


@dataclass(frozen=True, kw_only=True)
class RadioDesign:
    """Radio over the whole building.

    carriers: that all equipment can use.
    margins: of every linked microphone, in order of tags.
    air: every link, and what came of planning them: for all states together, or where that has no plan, in
        the states with the worst outcome.
    common: what came of planning for all states together.
    states: radio in each of the states, those that are alike for it as one; none where all are.
    cases: the outcome as designed and under other assumptions.
    conflicts: pairs of rooms with links that disturb each other, and by how much the worst pair does, dB.
    groups: synchronisation group by access point.
    """

    carriers: int
    margins: tuple[Margin, ...]
    air: AirPlan
    cases: Cases
    conflicts: tuple[tuple[str, str, float], ...]
    groups: Mapping[str, str]
    common: AirPlan
    states: tuple[RadioInState, ...]
    asked: Asked = field(repr=False, compare=False)

    @property
    def outcome(self) -> Outcome:
        """Planned, impossible or not settled."""
        return self.air.plan.outcome

    @cached_property
    def planned(self) -> tuple[PlannedLink, ...]:
        """Every link with its place, in order of rooms and tags."""
        return planned_links(self.air)

    @cached_property
    def neighbourhoods(self) -> tuple[Neighbourhood, ...]:
        """Links that all disturb each other, the fullest first."""
        return neighbourhoods(self.air)

    @cached_property
    def too_full(self) -> tuple[Neighbourhood, ...]:
        """Neighbourhoods that want more than there is; else one for which a complete search found no plan."""
        over = tuple(one for one in self.neighbourhoods if one.over)
        proof = self.air.plan.proof
        return over if over or proof is None else (neighbourhood(self.air, proof),)

    @cached_property
    def rooms(self) -> tuple[RoomOnAir, ...]:
        """What each room wants, and how many microphones could be added to it."""
        return rooms_on_air(self.air)

    @cached_property
    def tolerance(self) -> Tolerance | None:
        """How far the loss of walls and floors may be off before the plan breaks; None without a plan."""
        return self.cases.tolerance

    @cached_property
    def accesses(self) -> Mapping[str, Access]:
        """How each microphone would come by its place where equipment listens first, by its tag."""
        return accesses(self.air, self._listening) if self._listening else {}

    @property
    def unproven(self) -> tuple[str, ...]:
        """Microphones that may be refused the places of the plan, in order of rooms and tags."""
        return tuple(tag for tag, access in self.accesses.items() if access == "not proven")

    @property
    def _listening(self) -> Listening | None:
        return region(self.asked.project).listening

    @cached_property
    def heavy(self) -> Sequence[Heavy]:
        """Access points that hold more of the band than one device may where it must listen first."""
        bandwidth_hz = self.asked.project.brief.rules.radio.emission_bandwidth
        return heavy(self.air, self._listening, bandwidth_hz) if self._listening else ()

    @cached_property
    def planned_alone(self) -> tuple[str, ...]:
        """Rooms of the fullest neighbourhood, where levers are planned for them alone; else none."""
        if len(self.air.links) <= MOST_LINKS:
            return ()
        ours = {link.room for link in self.air.links if link.kind == "link"}
        return tuple(sorted(ours & set(self.neighbourhoods[0].rooms), key=natural))

    @cached_property
    def levers(self) -> tuple[Lever, ...]:
        """What would help where not all links find a place, the most helpful first."""
        each = [one.air for one in self.states]
        return () if self.outcome == "planned" else levers(self.asked, self.air, self.planned_alone, each)

    @cached_property
    def levers_for_all_states(self) -> tuple[Lever, ...]:
        """What would make one plan that holds in all states, where each has one of its own alone."""
        if self.air is self.common or self.outcome != "planned":
            return ()
        asked = replace(self.asked, states=tuple(one.alike.names[0] for one in self.states))
        return tuple(one for one in levers(asked, self.common) if not one.missing)

    @cached_property
    def listening_levers(self) -> tuple[Lever, ...]:
        """The least lowering of power by which every microphone comes by its place, where some may not."""
        if not self.unproven or len(self.air.links) > MOST_LINKS:
            return ()
        known = known_cells(self.asked.project.issued, self.carriers)
        rooms = sorted({link.room for link in self.air.links if link.kind == "link"}, key=natural)
        for lower_by in lowerings(self.asked, rooms):
            lower = on_air(self.asked, lower_by).disturbance
            there = replace(self, air=air_plan(lower, self.carriers, self.air.transceivers, known))
            if there.outcome == "planned" and not there.unproven:
                return (lowered(self.asked, lower_by),)
        return ()


def radio_design(
    project: Project,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    linked: Mapping[str, str],
    joined: Mapping[str, str] | None = None,
) -> RadioDesign:
    """Return the radio design of a building.

    devices: every device, in order of tags; entries: the library entry of each by tag.
    linked: access point of every microphone that has a channel, by tag.
    joined: network of each device by its tag, where access points keep in step over one.
    """
    alike = alike_states(project)
    asked = Asked(
        project=project,
        devices=devices,
        entries=entries,
        linked=linked,
        joined=joined or {},
        states=tuple(one.names[0] for one in alike),
    )
    carriers = _carriers(project, entries)
    known = known_cells(project.issued, carriers)
    each = [one_on_air(asked, state) for state in asked.states]
    worst = together(each)
    common = air_plan(worst.disturbance, carriers, worst.made.transceivers, known)
    states = plans_by_state(list(zip(alike, each, strict=True)), common, known) if len(alike) > 1 else ()
    air = common
    if states and common.plan.outcome != "planned":
        hard = hardest(states)
        air, asked = hard.air, replace(asked, states=hard.alike.names[:1])
    return RadioDesign(
        carriers=carriers,
        margins=worst.made.margins,
        air=air,
        cases=Cases(asked, worst.made, air),
        conflicts=conflicts_of(worst.disturbance),
        groups=worst.made.groups,
        common=common,
        states=states,
        asked=asked,
    )


def _carriers(project: Project, entries: Mapping[str, Device]) -> int:
    """Return the carriers that every access point can use."""
    own = [
        entry.radio.regions[project.brief.region].carriers
        for entry in entries.values()
        if isinstance(entry, AccessPoint) and project.brief.region in entry.radio.regions
    ]
    return min([len(region(project).carriers_hz), *own])


def planned_links(air: AirPlan) -> tuple[PlannedLink, ...]:
    """Return every link with its place in a plan.

    air: the links, and what came of planning them.
    """
    shares = air.board.shares()
    slots: dict[int, dict[int, list[int]]] = {}
    share: dict[int, tuple[float, float]] = {}
    for demand, cell in enumerate(air.fitting.cells):
        if cell is not None:
            number = air.owner[demand]
            run = range(cell.slot, cell.slot + air.graph.lengths[demand])
            slots.setdefault(number, {}).setdefault(cell.carrier, []).extend(run)
            before = share.get(number, (0.0, 0.0))
            share[number] = max(before[0], float(shares[demand, 0])), max(before[1], float(shares[demand, 1]))
    places = {
        number: [(carrier, tuple(sorted(held))) for carrier, held in by_carrier.items()]
        for number, by_carrier in slots.items()
    }
    return tuple(
        PlannedLink(
            link=link,
            carrier=places[number][0][0] if number in places else None,
            slots=places[number][0][1] if number in places else (),
            further=tuple(sorted(places[number][1:])) if number in places else (),
            clear_db=_below_db(share.get(number, (0.0, 0.0))[0]),
            quiet_db=_below_db(share.get(number, (0.0, 0.0))[1]),
        )
        for number, link in enumerate(air.links)
    )


def _below_db(share: float) -> float | None:
    return -level_of_ratio_db(share) if share > 0 else None


def conflicts_of(disturbance: Interference) -> tuple[tuple[str, str, float], ...]:
    """Return the pairs of rooms that disturb each other, in order, and by how much the worst links do.

    disturbance: how links disturb each other.
    """
    worst: dict[tuple[str, str], float] = {}
    over = disturbance.worst_db()
    for number in ((over >= 0) & disturbance.between_rooms()).nonzero()[0].tolist():
        one = disturbance.links[int(disturbance.disturbed[number])].room
        other = disturbance.links[int(disturbance.disturber[number])].room
        pair = (one, other) if natural(one) < natural(other) else (other, one)
        worst[pair] = max(worst.get(pair, 0.0), float(over[number]))
    return tuple(
        (a, b, value)
        for (a, b), value in sorted(
            worst.items(), key=lambda item: (natural(item[0][0]), natural(item[0][1]))
        )
    )
