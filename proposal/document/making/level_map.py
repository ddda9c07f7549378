"""Rows of level maps from the design."""

from dataclasses import fields

from proposal.design.radio.level_map import LevelMap
from proposal.document.rows.level_map import LevelMapRow


def level_map_row(made: LevelMap | None) -> LevelMapRow | None:
    """Return the row of a level map, None for none."""
    if made is None:
        return None
    values = {field.name: getattr(made, field.name) for field in fields(made)}
    values["marks"] = tuple((kind.replace("_", " "), code, at) for kind, code, at in made.marks)
    return LevelMapRow(**values)
