"""A cable as it lies in a pathway: what conduits, trays and pulls have to know of it."""

from proposal.field_classes import dataclass
from proposal.model.equipment.materials import Cable
from proposal.standards import cable_pulling

WIDEST_FOUR_PAIR_M = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class CableInPathway:
    """A cable in a pathway.

    identity, model: of the cable.
    signal: network, loudspeaker line, analogue audio.
    diameter_m: outside diameter, m.
    weight_n_per_m: weight of its length, N/m.
    pull_n: highest tension, N: what its maker and ANSI/TIA-568.0-D allow.
    pulling_radius_m: least bend radius under tension, m.
    source_w: power that the source of its port allocates by class, W; 0 where it carries none.
    """

    identity: str
    model: str
    signal: str
    diameter_m: float
    weight_n_per_m: float
    pull_n: float
    pulling_radius_m: float
    source_w: float


def laid_cable(identity: str, model: str, signal: str, entry: Cable, source_w: float) -> CableInPathway:
    """Return a cable as it lies in a pathway.

    identity: of the cable.
    model: code of its model.
    signal: what it carries.
    entry: its entry of the library.
    source_w: power that the source of its port allocates, W.
    """
    diameter_m = entry.outside_diameter
    four_pair = signal == "network"
    # The standard speaks of cables up to 0.1 m; what is wider keeps to its maker's radius.
    standard = four_pair and diameter_m <= WIDEST_FOUR_PAIR_M
    least_m = cable_pulling.least_bend_radius_m(diameter_m) if standard else 0.0
    most_n = cable_pulling.greatest_tension_n(1) if four_pair else entry.highest_pull
    return CableInPathway(
        identity=identity,
        model=model,
        signal=signal,
        diameter_m=diameter_m,
        weight_n_per_m=entry.weight_per_length,
        pull_n=min(entry.highest_pull, most_n),
        pulling_radius_m=max(least_m, entry.pulling_bend_diameters * diameter_m),
        source_w=source_w,
    )
