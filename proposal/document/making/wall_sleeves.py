"""Sleeves for cables that pass walls outside pathways, sized once all rows are made."""

from collections.abc import Iterator

from proposal.design.connections.cable_choice import cable_entries
from proposal.design.pathways.fill import LOUDSPEAKER_LINE
from proposal.design.pathways.sleeves import Load, sleeves_for
from proposal.document.document import Document
from proposal.document.wall_passages import openings_on
from proposal.model.project import Project
from proposal.quantities.formatting import count_of


def with_wall_sleeves(project: Project, document: Document) -> Document:
    """Return a document whose storeys tell the sleeves of each opening in their walls.

    document: with all other rows.
    """
    storeys = tuple(
        row.model_copy(update={"wall_sleeves": tuple(_on(project, document, row.tag))})
        for row in document.storeys
    )
    return document.model_copy(update={"storeys": storeys})


def _on(project: Project, document: Document, storey: str) -> Iterator[tuple[str, str]]:
    cables = {cable.identity: cable for cable in document.cables}
    wide_m = {code: entry.outside_diameter for code, entry in cable_entries(project).items()}
    for opening in openings_on(document, storey):
        loads: dict[Load, list[float]] = {"cable": [], "loudspeaker line": []}
        for name in opening.names:
            cable = cables.get(name)
            if cable is not None and cable.type in wide_m:
                load: Load = "loudspeaker line" if cable.signal == LOUDSPEAKER_LINE else "cable"
                loads[load].append(wide_m[cable.type])
        sleeves = [one for load, across in loads.items() for one in sleeves_for(across, load)]
        if sleeves:
            yield (
                opening.tag,
                ", ".join(f"{one.size} for {count_of(one.cables, one.load)}" for one in sleeves),
            )
