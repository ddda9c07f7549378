"""The circuits behind the outlets of each place: how many, and which outlet is on which."""

from collections.abc import Sequence
from math import ceil, inf

from proposal.design.mains.kept_circuits import numbered
from proposal.design.mains.mains_outlets import MainsOutlet
from proposal.design.numbers.numbering import OUTLET, assign, issued_at, natural
from proposal.field_classes import dataclass
from proposal.model.project import Numbered, Project
from proposal.standards import mains_circuits
from proposal.standards.working import Limit, Working, working

MOST_STEPS = 20_000
"""Places of outlets that are tried for one number of circuits."""
_ROUNDING = 1e-9
RATING_USE = "project.mains.breaker"
VOLTAGE_USE = "project.mains.voltage"
RESIDUAL_USE = "project.mains.residual_current"
CURVE_USE = "project.mains.curve"
CODE_USE = "project.rules.cabling.fire_code"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowed:
    """What a circuit of the project may carry.

    breaker_a, curve, residual_a: its breaker, and the device against residual currents; no curve, and 0 A,
    where there is none.
    continuous: the current that it may carry for hours, and the rule behind it.
    leakage_a: the protective-conductor current that it may have; infinite without such a device.
    inrush_a: the peak at switch-on that its breaker holds; None where it is marked with no curve.
    """

    breaker_a: float
    curve: str
    residual_a: float
    continuous: Limit
    leakage_a: float
    inrush_a: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """One circuit.

    identity: tag of its place and its number there, such as ER1/C1.
    place: tag of the room or equipment room.
    allowed: what it may carry.
    outlets: on it, in order of what they serve; marks: of each of them, such as ER1/C1/2.
    current: working of the current at full load; leakage: that of its leakage, None without such a device.
    needed: circuits that would do for its place.
    single: whether one of its outlets alone is more than a circuit may carry.
    """

    identity: str
    place: str
    allowed: Allowed
    outlets: tuple[MainsOutlet, ...]
    marks: tuple[str, ...]
    current: Working
    leakage: Working | None
    needed: int
    single: bool

    @property
    def current_a(self) -> float:
        """Current at full load, A."""
        return self.current.result

    @property
    def leakage_a(self) -> float:
        """Protective-conductor current of all that it feeds, A."""
        return sum(outlet.leakage_a for outlet in self.outlets)

    @property
    def inrush_a(self) -> float:
        """Peak current where all that it feeds is switched on at once, A."""
        return sum(outlet.inrush_a for outlet in self.outlets)

    @property
    def inrush_s(self) -> float:
        """How long the longest inrush of what it feeds stays above half its peak, s."""
        return max((load.inrush_s for one in self.outlets for load, _ in one.shares), default=0.0)

    @property
    def holds_at_once(self) -> bool:
        """Whether its breaker holds what all takes at switch-on; so too where nobody states what it holds."""
        held_a = self.allowed.inrush_a
        return held_a is None or self.inrush_a <= held_a + _ROUNDING

    @property
    def steps(self) -> int:
        """Groups in which its supplies have to be switched on one after the other, 1 where all may at once.

        0 where one supply alone takes more than the breaker holds, or nobody states what it holds.
        """
        held_a = self.allowed.inrush_a
        if held_a is None:
            return 0
        peaks = sorted(
            (
                load.inrush_a / load.supplies
                for one in self.outlets
                for load, share in one.shares
                for _ in range(max(round(share * load.supplies), 1))
                if load.inrush_a
            ),
            reverse=True,
        )
        if peaks and peaks[0] > held_a + _ROUNDING:
            return 0
        left: list[float] = []
        for peak in peaks:
            place = next((n for n, free in enumerate(left) if peak <= free + _ROUNDING), None)
            if place is None:
                left.append(held_a - peak)
            else:
                left[place] -= peak
        return max(len(left), 1)


def allowed_on_circuit(project: Project) -> Allowed:
    """Return what a circuit of the project may carry: after NFPA 70 where that is adopted."""
    brief = project.brief
    breaker_a = brief.mains.breaker_a(brief.region)
    curve = brief.mains.breaker_curve(brief.region)
    residual_a = brief.mains.residual_a(brief.region)
    continuous = (
        Limit(mains_circuits.continuous_current_a(breaker_a), "≤", mains_circuits.NFPA_70)
        if brief.rules.cabling.nfpa_70(brief.region)
        else Limit(breaker_a, "≤", mains_circuits.IEC_60364_LOAD)
    )
    return Allowed(
        breaker_a=breaker_a,
        curve=curve,
        residual_a=residual_a,
        continuous=continuous,
        leakage_a=mains_circuits.leakage_allowed_a(residual_a) if residual_a else inf,
        inrush_a=mains_circuits.inrush_held_a(mains_circuits.MULTIPLES[curve], breaker_a) if curve else None,
    )


def circuits(project: Project, outlets: Sequence[MainsOutlet]) -> tuple[Circuit, ...]:
    """Return the circuits of every place, in order of tags.

    outlets: of the whole building.
    A place has as many circuits as the project says, its outlets spread over them as evenly as they go; else
    the fewest on which no current and no leakage is too high. An outlet that is too much for a circuit by
    itself has one of its own. Outlets stay on the circuits of issued revisions, with their marks, as long as
    these hold.
    """
    allowed = allowed_on_circuit(project)
    full_va = allowed.continuous.value * project.brief.mains_voltage
    by_place: dict[str, list[MainsOutlet]] = {}
    for outlet in outlets:
        by_place.setdefault(outlet.place, []).append(outlet)
    found = []
    for place in sorted(by_place, key=natural):
        here = sorted(by_place[place], key=lambda one: natural(one.serves))
        sizes = [(one.full_va / full_va, one.leakage_a / allowed.leakage_a) for one in here]
        fewest = fewest_groups(sizes)
        given = project.brief.mains.circuits.get(place)
        issued = issued_at(project.issued, OUTLET, place)
        groups = numbered(
            sizes,
            [_issued_circuit(issued.get(one.serves)) for one in here],
            frozenset(_circuit_of(one.number) for one in issued.values()),
            fewest if given is None else _spread(sizes, given),
            given,
        )
        for number, members in groups.items():
            of_circuit = tuple(here[n] for n in members)
            most = len(of_circuit) + len(issued) + 1
            marks = assign(
                [one.serves for one in of_circuit], {}, issued, [f"C{number}/{n}" for n in range(1, most)]
            )
            found.append(
                Circuit(
                    identity=f"{place}/C{number}",
                    place=place,
                    allowed=allowed,
                    outlets=of_circuit,
                    marks=tuple(f"{place}/{marks[one.serves]}" for one in of_circuit),
                    current=_current(project, allowed, of_circuit),
                    leakage=_leakage(allowed, of_circuit),
                    needed=len(fewest),
                    single=any(max(sizes[n]) > 1 + _ROUNDING for n in members),
                )
            )
    return tuple(found)


def _circuit_of(mark: str) -> int:
    """Return the number of a circuit from the mark of an outlet there, such as C2/1."""
    return int(mark.partition("/")[0].removeprefix("C"))


def _issued_circuit(before: Numbered | None) -> int | None:
    return None if before is None or before.retired else _circuit_of(before.number)


def fewest_groups(sizes: Sequence[tuple[float, float]]) -> list[list[int]]:
    """Return the fewest groups of loads in each of which both sums stay within 1.

    sizes: of each load, as shares of what a circuit may carry: its current and its leakage.
    A load that is more than 1 by itself has a group of its own. The number is the fewest as far as
    `MOST_STEPS` tries prove it; beyond, it is the fewest that was found. Groups and members are in order.
    """
    alone = [[n] for n, size in enumerate(sizes) if max(size) > 1 + _ROUNDING]
    rest = sorted(
        (n for n, size in enumerate(sizes) if max(size) <= 1 + _ROUNDING), key=lambda n: (-max(sizes[n]), n)
    )
    sums = [sum(sizes[n][axis] for n in rest) for axis in (0, 1)]
    number = max(ceil(max(sums) - _ROUNDING), 1 if rest else 0)
    while True:
        groups = _packed(sizes, rest, number)
        if groups is not None:
            return sorted([*alone, *(sorted(group) for group in groups if group)])
        number += 1


def _packed(
    sizes: Sequence[tuple[float, float]], order: Sequence[int], number: int
) -> list[list[int]] | None:
    """Return loads in so many groups, None where that does not go or is not found in bounded work."""
    groups: list[list[int]] = [[] for _ in range(number)]
    left = [[1.0, 1.0] for _ in range(number)]
    steps = 0

    def put(place: int) -> bool:
        nonlocal steps
        if place == len(order):
            return True
        load = order[place]
        size = sizes[load]
        tried: set[tuple[float, float]] = set()
        # The emptiest first, so that the loads come out evenly spread.
        for group in sorted(range(number), key=lambda n: (-min(left[n]), n)):
            room = (left[group][0], left[group][1])
            if room in tried or any(size[axis] > room[axis] + _ROUNDING for axis in (0, 1)):
                continue
            tried.add(room)
            steps += 1
            if steps > MOST_STEPS:
                return False
            groups[group].append(load)
            left[group] = [room[0] - size[0], room[1] - size[1]]
            if put(place + 1):
                return True
            groups[group].pop()
            left[group] = list(room)
        return False

    return groups if put(0) else None


def _spread(sizes: Sequence[tuple[float, float]], number: int) -> list[list[int]]:
    """Return loads over so many groups as evenly as they go, the largest first; no empty groups."""
    groups: list[list[int]] = [[] for _ in range(number)]
    sums = [[0.0, 0.0] for _ in range(number)]
    for load in sorted(range(len(sizes)), key=lambda n: (-max(sizes[n]), n)):
        size = sizes[load]
        group = min(range(number), key=lambda n: (max(sums[n][0] + size[0], sums[n][1] + size[1]), n))
        groups[group].append(load)
        sums[group] = [sums[group][0] + size[0], sums[group][1] + size[1]]
    return [sorted(group) for group in groups if group]


def _current(project: Project, allowed: Allowed, outlets: Sequence[MainsOutlet]) -> Working:
    return working(
        mains_circuits.circuit_current_a,
        limit=allowed.continuous,
        uses=(VOLTAGE_USE, RATING_USE, CODE_USE),
        apparent_va=tuple(one.full_va for one in outlets),
        voltage_v=project.brief.mains_voltage,
    )


def _leakage(allowed: Allowed, outlets: Sequence[MainsOutlet]) -> Working | None:
    if not allowed.residual_a:
        return None
    return working(
        mains_circuits.circuit_leakage_a,
        limit=Limit(allowed.leakage_a, "≤", mains_circuits.IEC_60364),
        uses=(RESIDUAL_USE,),
        leakage_a=tuple(one.leakage_a for one in outlets),
    )
