"""Radio over the whole building: levels, neighbours, the plan of carriers and slots, and what it rests on."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from proposal.design.equipment.placed_devices import Placed
from proposal.design.numbers.numbering import natural
from proposal.design.radio.earlier_plan import known_cells
from proposal.design.radio.propagation import Floats
from proposal.design.radio.radio_links import Margin, RadioLinks, radio_links
from proposal.design.radio.radio_neighbours import Interference, Link, interference
from proposal.design.radio.radio_settings import region
from proposal.design.radio.slot_graph import Clique, SlotGraph, cliques, overfull, slot_graph
from proposal.design.radio.slot_plan import Outcome, Plan, board_of, largest_shares, slot_plan
from proposal.model.equipment.devices import AccessPoint
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.standards.dect import SLOT_PAIRS
from proposal.standards.levels import level_of_ratio_db

MOST_FURTHER = 40
"""Beyond so many further microphones nobody asks."""
MOST_NEIGHBOURHOODS = 200
SHIFT_DB = 5.0

CaseName = Literal[
    "as designed", "interference 5 dB stronger", "interference 5 dB weaker", "one power setting lower",
    "no body loss",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedLink:
    """Where the plan puts a link, and how clear of interference it is there.

    link: the link; carrier from 0 and slots from 0, as many as it blocks; none where it is not planned.
    clear_db: carrier to the sum of interference, less what is wanted; None where nothing disturbs it.
    """

    link: Link
    carrier: int | None
    slots: tuple[int, ...]
    clear_db: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbourhood:
    """Links of which no two can share a carrier and a slot.

    rooms: tags of their rooms, other users' tags among them.
    links, bearers: how many of each.
    wanted, held: slot pairs.
    spare_links: how many more links of usual length it holds.
    """

    rooms: tuple[str, ...]
    links: int
    bearers: int
    wanted: int
    held: int
    spare_links: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What becomes of the plan, and of the weakest microphone, under another assumption."""

    name: CaseName
    outcome: Outcome
    worst_margin_db: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """Why no plan exists.

    kind: as of Clique; identities: of the links that prove it; rooms: tags.
    wanted, held, unit: what they want and what there is.
    """

    kind: str
    identities: tuple[str, ...]
    rooms: tuple[str, ...]
    wanted: int
    held: int
    unit: str


@dataclass(frozen=True, kw_only=True)
class RadioDesign:
    """Radio over the whole building.

    carriers: that all equipment can use.
    margins: of every linked microphone, in order of tags.
    outcome: planned, impossible or not settled; proof: why impossible.
    planned: every link with its place, in order of rooms and tags.
    exact: whether an integer programme settled it.
    cases: the outcome as designed and under other assumptions.
    conflicts: pairs of rooms with links that disturb each other, and by how much the worst pair does, dB.
    groups: synchronisation group by access point.
    """

    carriers: int
    margins: tuple[Margin, ...]
    outcome: Outcome
    proof: Proof | None
    exact: bool
    planned: tuple[PlannedLink, ...]
    cases: "Cases"
    conflicts: tuple[tuple[str, str, float], ...]
    groups: Mapping[str, str]
    basis: "Basis" = field(repr=False, compare=False)

    @cached_property
    def neighbourhoods(self) -> tuple[Neighbourhood, ...]:
        """Links that all disturb each other, the fullest first."""
        return _neighbourhoods(self.basis.links, self.basis.graph, self.basis.owner)

    @cached_property
    def further(self) -> Mapping[str, int]:
        """How many microphones could be added without moving anything, by room."""
        return _further(self.basis.links, self.basis.graph, self.basis.owner, self.basis.plan)


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """What the plan was made from, for what is asked of it later.

    links: every link; graph: what they ask of carriers and slots; owner: the link of each demand.
    """

    links: Sequence[Link]
    graph: SlotGraph
    owner: Sequence[int]
    plan: Plan


def radio_design(
    project: Project,
    devices: Sequence[Placed],
    entries: Mapping[str, Device],
    linked: Mapping[str, str],
) -> RadioDesign:
    """Return the radio design of a building.

    devices: every device, in order of tags; entries: the library entry of each by tag.
    linked: access point of every microphone that has a channel, by tag.
    """
    made = radio_links(project, devices, entries, linked)
    carriers = _carriers(project, entries)
    disturbance = interference(made.links, made.around)
    graph, owner = slot_graph(disturbance, carriers, made.transceivers)
    plan = slot_plan(graph, known_cells(project.issued, made.links, owner, carriers))
    return RadioDesign(
        carriers=carriers,
        margins=made.margins,
        outcome=plan.outcome,
        proof=_proof(plan.proof, made.links, owner),
        exact=plan.exact,
        planned=_planned(made.links, graph, owner, plan),
        cases=Cases(project, devices, entries, linked, made, disturbance, carriers, plan),
        conflicts=_conflicts(disturbance),
        groups=made.groups,
        basis=Basis(links=made.links, graph=graph, owner=owner, plan=plan),
    )


def _carriers(project: Project, entries: Mapping[str, Device]) -> int:
    """Return the carriers that every access point can use."""
    own = [
        entry.radio.regions[project.brief.region].carriers
        for entry in entries.values()
        if isinstance(entry, AccessPoint) and project.brief.region in entry.radio.regions
    ]
    return min([len(region(project).carriers_hz), *own])


def _proof(proof: Clique | None, links: Sequence[Link], owner: Sequence[int]) -> Proof | None:
    if proof is None:
        return None
    members = [links[number] for number in sorted({owner[demand] for demand in proof.members})]
    return Proof(
        kind=proof.kind,
        identities=tuple(link.identity for link in members),
        rooms=tuple(sorted({link.room for link in members}, key=natural)),
        wanted=proof.wanted,
        held=proof.held,
        unit=proof.unit,
    )


def _planned(
    links: Sequence[Link], graph: SlotGraph, owner: Sequence[int], plan: Plan
) -> tuple[PlannedLink, ...]:
    shares = largest_shares(graph, plan.cells)
    slots: dict[int, list[int]] = {}
    carrier: dict[int, int] = {}
    share: dict[int, float] = {}
    for demand, cell in enumerate(plan.cells):
        if cell is not None:
            number = owner[demand]
            slots.setdefault(number, []).extend(range(cell.slot, cell.slot + graph.lengths[demand]))
            carrier.setdefault(number, cell.carrier)
            share[number] = max(share.get(number, 0.0), float(shares[demand]))
    return tuple(
        PlannedLink(
            link=link,
            carrier=carrier.get(number),
            slots=tuple(sorted(slots.get(number, []))),
            clear_db=-level_of_ratio_db(share[number]) if share.get(number, 0.0) > 0 else None,
        )
        for number, link in enumerate(links)
    )


def _neighbourhoods(
    links: Sequence[Link], graph: SlotGraph, owner: Sequence[int]
) -> tuple[Neighbourhood, ...]:
    """Return the fullest neighbourhood of each set of rooms, those within another left out."""
    usual = max((link.slot_pairs for link in links if link.kind == "link"), default=1)
    found: dict[frozenset[str], tuple[int, tuple[int, ...]]] = {}
    for component in graph.components():
        for members in cliques(graph, component):
            rooms = frozenset(links[owner[demand]].room for demand in members)
            wanted = sum(graph.lengths[demand] for demand in members)
            if wanted > found.get(rooms, (0, ()))[0]:
                found[rooms] = (wanted, members)
    kept: list[tuple[frozenset[str], tuple[int, tuple[int, ...]]]] = []
    by_weight = sorted(found.items(), key=lambda item: (-item[1][0], sorted(item[0], key=natural)))
    for rooms, held in by_weight:
        if len(kept) < MOST_NEIGHBOURHOODS and not any(rooms <= other for other, _ in kept):
            kept.append((rooms, held))
    return tuple(_neighbourhood(links, graph, owner, rooms, members, usual) for rooms, (_, members) in kept)


def _neighbourhood(
    links: Sequence[Link],
    graph: SlotGraph,
    owner: Sequence[int],
    rooms: frozenset[str],
    members: Sequence[int],
    usual: int,
) -> Neighbourhood:
    numbers = {owner[demand] for demand in members}
    wanted = sum(graph.lengths[demand] for demand in members)
    held = graph.carriers * SLOT_PAIRS
    places = graph.carriers * (SLOT_PAIRS // usual)
    long = sum(graph.lengths[demand] >= usual for demand in members)
    full = overfull(graph, members, graph.carriers, "carrier") is not None
    return Neighbourhood(
        rooms=tuple(sorted(rooms, key=natural)),
        links=sum(links[number].kind != "bearer" for number in numbers),
        bearers=sum(links[number].kind == "bearer" for number in numbers),
        wanted=wanted,
        held=held,
        spare_links=0 if full else max(min(places - long, (held - wanted) // usual), 0),
    )


def _further(links: Sequence[Link], graph: SlotGraph, owner: Sequence[int], plan: Plan) -> dict[str, int]:
    """Return by room how many links like its weakest one could be added to the plan, moving nothing."""
    weakest: dict[str, int] = {}
    for demand, number in enumerate(owner):
        link = links[number]
        if link.kind == "link" and link.one_carrier:
            before = weakest.get(link.room)
            if before is None or link.down_dbm < links[owner[before]].down_dbm:
                weakest[link.room] = demand
    if plan.outcome != "planned":
        return dict.fromkeys(weakest, 0)
    board = board_of(graph, plan)
    return {room: board.further(demand, MOST_FURTHER) for room, demand in weakest.items()}


class Cases:
    """The outcome as designed and under other assumptions, each found out when it is first asked for."""

    def __init__(
        self,
        project: Project,
        devices: Sequence[Placed],
        entries: Mapping[str, Device],
        linked: Mapping[str, str],
        made: RadioLinks,
        disturbance: Interference,
        carriers: int,
        plan: Plan,
    ) -> None:
        """Keep what the cases start from."""
        self._inputs = project, devices, entries, linked
        self._made = made
        self._disturbance = disturbance
        self._carriers = carriers
        self._plan = plan

    @cached_property
    def as_designed(self) -> Case:
        """Nothing changed."""
        return Case(name="as designed", outcome=self._plan.outcome, worst_margin_db=self._worst())

    @cached_property
    def stronger(self) -> Case:
        """All interference stronger than computed."""
        return self._shifted("interference 5 dB stronger", SHIFT_DB)

    @cached_property
    def weaker(self) -> Case:
        """All interference weaker than computed."""
        return self._shifted("interference 5 dB weaker", -SHIFT_DB)

    @cached_property
    def lower_power(self) -> Case:
        """Every radio of ours one power setting lower."""
        lower = radio_links(*self._inputs, lower_by=1)
        less = np.array(
            [
                low.microphone_dbm - link.microphone_dbm
                for low, link in zip(lower.links, self._made.links, strict=True)
            ]
        )
        ours = np.where(self._ours(), less, 0.0)
        return Case(
            name="one power setting lower",
            outcome=self._again(ours, ours, 0.0),
            worst_margin_db=min((margin.margin_db for margin in lower.margins), default=None),
        )

    @cached_property
    def no_body_loss(self) -> Case:
        """No body between microphones and access points."""
        body = np.array([link.body_db for link in self._made.links])
        return Case(
            name="no body loss",
            outcome=self._again(np.where(self._ours(), body, 0.0), self._nothing(), 0.0),
            worst_margin_db=min(
                (margin.margin_db + margin.body_db for margin in self._made.margins), default=None
            ),
        )

    @property
    def all(self) -> tuple[Case, ...]:
        """Every case, as designed first."""
        return self.as_designed, self.stronger, self.weaker, self.lower_power, self.no_body_loss

    def _shifted(self, name: CaseName, threshold_db: float) -> Case:
        nothing = self._nothing()
        return Case(
            name=name,
            outcome=self._again(nothing, nothing, threshold_db),
            worst_margin_db=self._worst(),
        )

    def _again(self, wanted: Floats, sent: Floats, threshold_db: float) -> Outcome:
        shifted = self._disturbance.shifted(wanted, sent, threshold_db)
        graph = slot_graph(shifted, self._carriers, self._made.transceivers)[0]
        return slot_plan(graph, self._plan.cells).outcome

    def _nothing(self) -> Floats:
        return np.zeros(len(self._made.links))

    def _ours(self) -> NDArray[np.bool_]:
        return np.array([link.kind != "other" for link in self._made.links], dtype=np.bool_)

    def _worst(self) -> float | None:
        return min((margin.margin_db for margin in self._made.margins), default=None)


def _conflicts(disturbance: Interference) -> tuple[tuple[str, str, float], ...]:
    """Return the pairs of rooms that disturb each other, in order, and by how much the worst links do."""
    worst: dict[tuple[str, str], float] = {}
    over = disturbance.worst_db()
    for number in np.nonzero(over >= 0)[0].tolist():
        one = disturbance.links[int(disturbance.disturbed[number])].room
        other = disturbance.links[int(disturbance.disturber[number])].room
        if one != other:
            pair = (one, other) if natural(one) < natural(other) else (other, one)
            worst[pair] = max(worst.get(pair, 0.0), float(over[number]))
    return tuple(
        (a, b, value)
        for (a, b), value in sorted(
            worst.items(), key=lambda item: (natural(item[0][0]), natural(item[0][1]))
        )
    )
