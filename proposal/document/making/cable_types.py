"""The types of cable and cord of a design as rows."""

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.document.rows.cable_types import CableTypeRow
from proposal.model.equipment.materials import (
    AudioCable,
    Cable,
    DataCable,
    FibreCable,
    LoudspeakerCable,
    PatchCord,
)
from proposal.model.project import Project


def cable_type_rows(project: Project, design: Design) -> tuple[CableTypeRow, ...]:
    """Return every type of cable and cord that the design takes, by model."""
    models = {cable.model for cable in design.cables} | {
        cord.model for cable in design.cables for cord in cable.cords
    }
    entries = [project.library.entry(model) for model in sorted(models - {""}, key=natural)]
    return tuple(_row(entry) for entry in entries if isinstance(entry, Cable | PatchCord))


def _row(entry: Cable | PatchCord) -> CableTypeRow:
    if isinstance(entry, PatchCord):
        return CableTypeRow(
            type=entry.model,
            description=entry.description,
            colour=entry.colour,
            diameter_m=entry.outside_diameter,
        )
    cores, core = _cores(entry)
    return CableTypeRow(
        type=entry.model,
        description=entry.description,
        cores=cores,
        core=core,
        colour=entry.colour,
        jacket=", ".join(entry.jacket.ratings),
        diameter_m=entry.outside_diameter,
        rest_radius_m=entry.bend_diameters * entry.outside_diameter,
        pull_radius_m=entry.pulling_bend_diameters * entry.outside_diameter,
        pull_n=entry.highest_pull,
        propagation=entry.propagation if isinstance(entry, DataCable) else None,
        loss_db_per_km=entry.attenuation_per_km if isinstance(entry, FibreCable) else None,
    )


def _cores(entry: Cable) -> tuple[int | None, str]:
    """Return how many pairs, conductors or fibres a cable has, and what one of them is."""
    match entry:
        case DataCable() | AudioCable():
            return entry.pairs, f"pair, {entry.gauge} AWG"
        case LoudspeakerCable():
            return entry.conductors, f"conductor, {entry.gauge} AWG"
        case FibreCable():
            return entry.fibres, f"fibre, {entry.fibre}"
        case _:
            return None, ""
