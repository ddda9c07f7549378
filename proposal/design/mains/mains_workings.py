"""The workings of mains circuits: apparent power, current, leakage, inrush."""

from collections.abc import Iterator, Sequence

from proposal.design.mains.circuits import CURVE_USE, RATING_USE, VOLTAGE_USE, Circuit
from proposal.design.mains.energy_and_heat import PlaceEnergy
from proposal.design.mains.mains_loads import MainsLoad
from proposal.design.workings.calculation import Calculation
from proposal.standards import mains_circuits
from proposal.standards.working import Limit, Working, working


def mains_workings(circuits: Sequence[Circuit], places: Sequence[PlaceEnergy]) -> tuple[Calculation, ...]:
    """Return the workings of every circuit, and of the energy and heat of every place.

    places: with their energy and heat.
    """
    of_circuits = (
        Calculation(chapter="Mains", subject=circuit.identity, working=one)
        for circuit in circuits
        for one in (
            *_loads(circuit),
            circuit.current,
            *([circuit.leakage] if circuit.leakage else ()),
            *_inrush(circuit),
        )
    )
    of_places = (
        Calculation(chapter="Energy and heat", subject=one.place, working=each)
        for one in places
        for each in (one.energy, one.heat, one.air)
    )
    return (*of_circuits, *of_places)


def _loads(circuit: Circuit) -> Iterator[Working]:
    """Yield the apparent power of each sort of load on a circuit, once."""
    sorts: dict[tuple[float, float, str], MainsLoad] = {}
    for outlet in circuit.outlets:
        for load, _ in outlet.shares:
            sorts.setdefault((load.full_w, load.power_factor, load.model), load)
    for (full_w, factor, model), load in sorts.items():
        # Named by what it is and not by its tag, so that another room's devices do not change the title.
        what = load.kind.replace("_", " ")
        yield working(
            mains_circuits.apparent_power_va,
            title=f"Apparent power: {what} {model}" if model else f"Apparent power: {what}",
            power_w=full_w,
            power_factor=factor,
        )


def _inrush(circuit: Circuit) -> Iterator[Working]:
    """Yield how many of its largest supplies the breaker of a circuit holds at switch-on."""
    curve = circuit.allowed.curve
    peaks = [
        (load.inrush_a / load.supplies, load.kind.replace("_", " "))
        for outlet in circuit.outlets
        for load, _ in outlet.shares
        if load.inrush_a
    ]
    if not curve or not peaks:
        return
    peak_a, what = max(peaks, key=lambda one: one[0])
    yield working(
        mains_circuits.supplies_a_breaker,
        title=f"Supplies that the breaker holds at switch-on: {what} with the highest inrush",
        unit="supplies",
        limit=Limit(1, "≥", mains_circuits.IEC_60898),
        uses=(CURVE_USE, RATING_USE, VOLTAGE_USE),
        note=f"All that is on the circuit takes {circuit.inrush_a:.0f} A at once.",
        multiple=mains_circuits.MULTIPLES[curve],
        breaker_a=circuit.allowed.breaker_a,
        inrush_a=peak_a,
    )
