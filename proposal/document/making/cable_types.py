"""The types of cable and cord of a design as rows."""

from proposal.design.connections.cable_choice import CableEntry
from proposal.design.connections.cable_ends import label_of
from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.document.rows.cable_types import CableTypeRow
from proposal.model.equipment.materials import (
    AudioCable,
    DataCable,
    FibreCable,
    LoudspeakerCable,
    PatchCord,
)
from proposal.model.project import Project


def cable_type_rows(project: Project, design: Design) -> tuple[CableTypeRow, ...]:
    """Return every type of cable and cord that the design takes, by model."""
    models = {cable.model for cable in design.cables}
    models |= {model for join in design.graph.network for model in join.cords}
    entries = [project.library.entry(model) for model in sorted(models - {""}, key=natural)]
    return tuple(_row(project, entry) for entry in entries if isinstance(entry, CableEntry | PatchCord))


def _row(project: Project, entry: CableEntry | PatchCord) -> CableTypeRow:
    if isinstance(entry, PatchCord):
        return CableTypeRow(
            type=entry.model,
            description=entry.description,
            colour=entry.colour,
            diameter_m=entry.outside_diameter,
        )
    cores, core = _cores(entry)
    label = project.library.labels.get(label_of(project, entry))
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
        label=label.model if label else "",
        label_width_m=label.width if label else None,
        label_height_m=label.height if label else None,
        propagation=entry.propagation if isinstance(entry, DataCable) else None,
        loss_db_per_km=entry.attenuation_per_km if isinstance(entry, FibreCable) else None,
    )


def _cores(entry: CableEntry) -> tuple[int, str]:
    """Return how many pairs, conductors or fibres a cable has, and what one of them is."""
    match entry:
        case DataCable() | AudioCable():
            return entry.pairs, f"pair, {entry.gauge} AWG"
        case LoudspeakerCable():
            return entry.conductors, f"conductor, {entry.gauge} AWG"
        case FibreCable():
            return entry.fibres, f"fibre, {entry.fibre}"
