"""What links want of carriers and slots against what there is, in slot pairs: by neighbourhood, by room."""

from collections import Counter
from collections.abc import Sequence

from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_plan import AirPlan
from proposal.design.radio.slot_cliques import Clique, ProofKind, cliques, fullness
from proposal.field_classes import dataclass

MOST_FURTHER = 40
"""Beyond so many further microphones nobody asks."""
MOST_PAIRS = 6
"""So many pairs of links are named for a room."""
MOST_NEIGHBOURHOODS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbourhood:
    """Links of which no two can share a carrier and a slot.

    kind: why: they disturb each other on one carrier, on neighbouring ones too, or have one access point.
    rooms: tags of their rooms, other users' tags among them; access_point: the one they all have, else empty.
    links, bearers: how many of each are counted; identities: of the links.
    slot_pairs: of a link of ours, as it is counted; terms: how many count how many slot pairs, longest first.
    wanted: slot pairs of all of them.
    carriers: that they can use, or transceivers; held: slot pairs of those that whole links can use.
    spare_links: how many more links of that length it holds.
    """

    kind: ProofKind
    rooms: tuple[str, ...]
    access_point: str
    links: int
    bearers: int
    identities: tuple[str, ...]
    slot_pairs: int
    terms: tuple[tuple[int, int], ...]
    wanted: int
    carriers: int
    held: int
    spare_links: int

    @property
    def over(self) -> int:
        """Return how many slot pairs are wanted beyond those that there are."""
        return max(self.wanted - self.held, 0)

    @property
    def over_links(self) -> int:
        """Return how many links are too many."""
        return -(-self.over // self.slot_pairs)


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomOnAir:
    """What a room by itself wants, and what could be added to it.

    room: its tag.
    links, bearers: how many of each it has; wanted: their slot pairs; held: slot pairs that there are.
    near_far: pairs of its links that cannot use neighbouring carriers in one slot.
    near_far_named: the first of these pairs, each in words.
    further: how many microphones like its weakest one could be added to the plan, moving nothing.
    """

    room: str
    links: int
    bearers: int
    wanted: int
    held: int
    near_far: int
    near_far_named: tuple[str, ...]
    further: int


def neighbourhoods(air: AirPlan) -> tuple[Neighbourhood, ...]:
    """Return the fullest neighbourhood of each set of rooms, the fullest first.

    air: the links, and what came of planning them.
    Those within another are left out, unless they are too full themselves.
    """
    graph = air.graph
    found: dict[tuple[str, frozenset[str]], Clique] = {}

    def note(clique: Clique, access_point: str = "") -> None:
        rooms = frozenset(air.links[air.owner[demand]].room for demand in clique.members)
        key = (access_point, rooms)
        if key not in found or clique.wanted - clique.held > found[key].wanted - found[key].held:
            found[key] = clique

    for members in cliques(graph, 1):
        note(fullness(graph.lengths, members, graph.carriers))
        for one in {air.links[air.owner[demand]].room for demand in members}:
            own = [demand for demand in members if air.links[air.owner[demand]].room == one]
            alone = fullness(graph.lengths, own, graph.carriers)
            if alone.over:
                note(alone)
    for apart in range(2, len(graph.near) + 1):
        for members in cliques(graph, apart):
            clique = fullness(graph.lengths, members, -(-graph.carriers // apart), "neighbouring")
            if clique.over:
                note(clique)
    for tag, own_demands in enumerate(graph.served()):
        clique = fullness(graph.uses, own_demands.tolist(), graph.transceivers[tag], "transceivers")
        if clique.over:
            note(clique, air.links[air.owner[clique.members[0]]].access_point)
    kept: list[tuple[frozenset[str], Clique]] = []
    told: set[str] = set()
    by_weight = sorted(
        found.items(), key=lambda item: (-item[1].over, -item[1].wanted, sorted(item[0][1], key=natural))
    )
    for (_, rooms), clique in by_weight:
        if clique.over:
            # One that tells of no further room is left out; a room too full by itself is told.
            known = len(rooms) > 1 and clique.kind == "carrier" and rooms <= told
            told |= rooms if len(rooms) > 1 else set()
        else:
            known = any(rooms <= other for other, _ in kept)
        if len(kept) < MOST_NEIGHBOURHOODS and not known:
            kept.append((rooms, clique))
    return tuple(neighbourhood(air, clique) for _, clique in kept)


def neighbourhood(air: AirPlan, clique: Clique) -> Neighbourhood:
    """Return a group of demands as a neighbourhood of links.

    air: the links, and what came of planning them; clique: the group.
    """
    each: dict[int, int] = {}
    lengths = air.graph.uses if clique.kind == "transceivers" else air.graph.lengths
    for demand in clique.members:
        whole = lengths[demand] // clique.length * clique.length
        each[air.owner[demand]] = each.get(air.owner[demand], 0) + whole
    links = [air.links[number] for number in sorted(each)]
    long = max((pairs for number, pairs in each.items() if air.links[number].kind == "link"), default=1)
    terms = Counter(pairs for pairs in each.values())
    return Neighbourhood(
        kind=clique.kind,
        rooms=tuple(sorted({link.room for link in links}, key=natural)),
        access_point=links[0].access_point if clique.kind == "transceivers" else "",
        links=sum(link.kind != "bearer" for link in links),
        bearers=sum(link.kind == "bearer" for link in links),
        identities=tuple(link.identity for link in links),
        slot_pairs=long,
        terms=tuple((terms[pairs], pairs) for pairs in sorted(terms, reverse=True)),
        wanted=clique.wanted,
        carriers=clique.carriers,
        held=clique.held,
        spare_links=max(clique.held - clique.wanted, 0) // long,
    )


def _is_link(air: AirPlan, demand: int) -> bool:
    return air.links[air.owner[demand]].kind == "link"


def rooms_on_air(air: AirPlan) -> tuple[RoomOnAir, ...]:
    """Return what each room with links of ours wants, in order.

    air: the links, and what came of planning them.
    """
    graph = air.graph
    demands: dict[str, list[int]] = {}
    for demand, number in enumerate(air.owner):
        if air.links[number].kind != "other":
            demands.setdefault(air.links[number].room, []).append(demand)
    return tuple(
        RoomOnAir(
            room=room,
            links=len({air.owner[demand] for demand in own if _is_link(air, demand)}),
            bearers=sum(not _is_link(air, demand) for demand in own),
            wanted=(alone := fullness(graph.lengths, own, graph.carriers)).wanted,
            held=alone.held,
            near_far=(pairs := _near_far(air, own))[0],
            near_far_named=pairs[1],
            further=_further(air, own),
        )
        for room, own in sorted(demands.items(), key=lambda item: natural(item[0]))
    )


def _near_far(air: AirPlan, own: Sequence[int]) -> tuple[int, tuple[str, ...]]:
    """Return the pairs of links in a room that cannot use neighbouring carriers in one slot.

    own: what it asks of the air.
    Returns how many there are, and the first ones in words.
    """
    near = air.graph.near.get(1)
    if near is None:
        return 0, ()
    name = {demand: air.links[air.owner[demand]].identity for demand in own}
    names = sorted(set(name.values()), key=natural)
    rank = {one: number for number, one in enumerate(names)}
    both = ((rank[name[d]], rank[name[other]]) for d in own for other in near[d].tolist() if other in name)
    pairs = sorted({(min(pair), max(pair)) for pair in both})
    first = [dict.fromkeys((names[a], names[b])) for a, b in pairs[:MOST_PAIRS]]
    return len(pairs), tuple(" and ".join(one) for one in first)


def _further(air: AirPlan, own: Sequence[int]) -> int:
    """Return how many links like a room's weakest one could be added to the plan, moving nothing."""
    alike = [d for d in own if _is_link(air, d) and air.links[air.owner[d]].one_carrier]
    if air.plan.outcome != "planned" or not alike:
        return 0
    weakest = min(alike, key=lambda d: air.links[air.owner[d]].down_dbm)
    return air.board.further(weakest, MOST_FURTHER)
