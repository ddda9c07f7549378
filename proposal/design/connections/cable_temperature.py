"""How warm a cable is along its route: the air of each space, and what power over Ethernet adds."""

from collections.abc import Sequence
from dataclasses import dataclass

from proposal.design.pathways.cable_routes import CableRoute
from proposal.model.project import Project


@dataclass(frozen=True, slots=True)
class TemperatureSegment:
    """A length of cable at one temperature, m and °C."""

    length_m: float
    temperature_c: float


def temperature_segments(
    project: Project, route: CableRoute, length_m: float, rise_k: float
) -> tuple[TemperatureSegment, ...]:
    """Return how much of a cable lies at which temperature, coldest first.

    route: its route; what lies outside spaces is at the ceiling temperature, as is the slack at both ends.
    length_m: the whole cable, m. One that was measured is shared out as the route is.
    rise_k: warming by power over Ethernet, K.
    """
    ceiling_c = project.building.ceiling_temperature
    by_temperature = {ceiling_c: 0.0}
    for stretch in route.stretches:
        space = project.building.spaces.get(stretch.space)
        air_c = ceiling_c if space is None or space.temperature is None else space.temperature
        by_temperature[air_c] = by_temperature.get(air_c, 0.0) + stretch.length_m
    share = min(1.0, length_m / route.length_m) if route.length_m > 0 else 0.0
    lengths = {air_c: part_m * share for air_c, part_m in by_temperature.items()}
    lengths[ceiling_c] += max(length_m - route.length_m, 0.0)
    if len(lengths) == 1:
        lengths = {ceiling_c: length_m}
    lying = {air_c: part_m for air_c, part_m in lengths.items() if part_m > 0} or {ceiling_c: 0.0}
    return tuple(TemperatureSegment(part_m, air_c + rise_k) for air_c, part_m in sorted(lying.items()))


def hottest_c(warmth: Sequence[TemperatureSegment]) -> float:
    """Return the highest temperature of a cable, °C."""
    return max(part.temperature_c for part in warmth)
