"""How warm a cable is along its route: the air of each space, and what power over Ethernet adds."""

from collections.abc import Mapping, Sequence

from proposal.design.pathways.cable_routes import CableRoute
from proposal.field_classes import dataclass
from proposal.model.project import Project


@dataclass(frozen=True, slots=True)
class TemperatureSegment:
    """A length of cable at one temperature, m and °C."""

    length_m: float
    temperature_c: float


def temperature_segments(
    project: Project,
    route: CableRoute,
    length_m: float,
    rises_k: Mapping[str, float],
    outside: Sequence[tuple[float, float]] = (),
) -> tuple[TemperatureSegment, ...]:
    """Return how much of a cable lies at which temperature, coldest first.

    route: its route; what lies outside spaces is at the ceiling temperature, as is the slack at both ends.
    length_m: the whole cable, m. One that was measured is shared out as the route is.
    rises_k: warming by power over Ethernet in each pathway, K, by its tag.
    outside: of its level runs outside pathways: metres, and the warming there, K.
    """
    ceiling_c = project.building.ceiling_temperature
    by_temperature = {ceiling_c: 0.0}
    run_m = sum(part_m for part_m, _ in outside)
    for stretch in route.stretches:
        space = project.building.spaces.get(stretch.space)
        air_c = ceiling_c if space is None or space.temperature is None else space.temperature
        if stretch.level is not None and outside:
            for part_m, rise_k in outside:
                lying_m = part_m * stretch.length_m / run_m
                by_temperature[air_c + rise_k] = by_temperature.get(air_c + rise_k, 0.0) + lying_m
            continue
        at_c = air_c + rises_k.get(stretch.pathway, 0.0)
        by_temperature[at_c] = by_temperature.get(at_c, 0.0) + stretch.length_m
    share = min(1.0, length_m / route.length_m) if route.length_m > 0 else 0.0
    lengths = {at_c: part_m * share for at_c, part_m in by_temperature.items()}
    lengths[ceiling_c] += max(length_m - route.length_m, 0.0)
    if len(lengths) == 1:
        lengths = {ceiling_c: length_m}
    lying = {at_c: part_m for at_c, part_m in lengths.items() if part_m > 0} or {ceiling_c: 0.0}
    return tuple(TemperatureSegment(part_m, at_c) for at_c, part_m in sorted(lying.items()))


def hottest_c(warmth: Sequence[TemperatureSegment]) -> float:
    """Return the highest temperature of a cable, °C."""
    return max(part.temperature_c for part in warmth)
