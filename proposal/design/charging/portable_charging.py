"""How a portable set is charged while it is in use: in breaks, or not before it is back."""

from proposal.model.project import Project

STAYS = "where it is kept"


def charged_as_it_is_used(project: Project, tag: str) -> Project:
    """Return a project whose rule for docking in breaks is the one that holds for a room or portable set.

    tag: of the room or set.
    A set whose chargers stay where it is kept is docked in no break: its packs have to last the whole day.
    """
    written = project.building.portable_sets.get(tag)
    if written is None or written.charger != STAYS:
        return project
    rules = project.brief.rules
    charging = rules.charging.model_copy(update={"docked_share": 0.0})
    brief = project.brief.model_copy(update={"rules": rules.model_copy(update={"charging": charging})})
    return project.model_copy(update={"brief": brief})
