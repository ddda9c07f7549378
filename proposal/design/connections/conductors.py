"""The resistance of a data cable's conductors, from its gauge or from what its maker states."""

from proposal.model.equipment.materials import DataCable
from proposal.model.project import Project
from proposal.standards import wire
from proposal.standards.working import Working, working

RESISTANCE_USE = "project.rules.power.conductor_resistance"


def conductor(project: Project, entry: DataCable | None, at_c: float, uses: tuple[str, ...]) -> Working:
    """Return the resistance of one conductor for each metre.

    entry: the cable; None where none suits: it is taken for as thin as the cords.
    at_c: temperature of a stretch of it, °C.
    uses: project inputs behind the temperature and the kind of cable.
    """
    temperature_c = min(max(at_c, wire.COLDEST_CONDUCTOR_C), wire.WARMEST_CONDUCTOR_C)
    title = "Resistance of one conductor of the cable for each metre"
    if entry and entry.pair_resistance is not None:
        return working(
            wire.stated_resistance_ohm_per_m,
            title=title,
            uses=uses,
            pair_ohm=entry.pair_resistance,
            temperature_c=temperature_c,
        )
    stricter = entry is not None and project.brief.rules.power.conductor_resistance == "stricter"
    return working(
        wire.strictest_resistance_ohm_per_m if stricter else wire.conductor_resistance_ohm_per_m,
        title=title,
        uses=(*uses, RESISTANCE_USE) if entry else uses,
        gauge_awg=entry.gauge if entry else project.brief.rules.cabling.cord_gauge,
        temperature_c=temperature_c,
    )
