"""What the matrix of duties gives to us."""

from typing import Literal

from proposal.model.project import Project

OURSELVES = "AV"
"""How the matrix names the audio-visual contractor."""
OWNER = "OW"
"""How it names the owner, whose duties are those of parties that a job does not have."""
LINE_VOLTAGE = "Line-voltage power and outlets"
BOXES = {True: "Boxes, and cores through walls and floors", False: "Conduit, boxes and pull strings"}
"""The row of the matrix of duties that boxes stand in, by whether pathways are ours."""


def is_ours(project: Project, row: str, duty: Literal["furnish", "install"]) -> bool:
    """Return whether we do something, alone or with others.

    row: of the matrix, by its name.  duty: column of the matrix.
    """
    standing = project.standing.responsibilities.rows.get(row)
    change = project.brief.responsibilities.rows.get(row)
    if change is not None and change.left_out:
        return False
    changed = getattr(change, duty) if change is not None else None
    parties = changed if changed is not None else getattr(standing, duty) if standing else ""
    return OURSELVES in (one.strip() for one in parties.split(","))
