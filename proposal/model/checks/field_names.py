"""What a field is called in messages: by its dotted name, as its own file has it."""

from proposal.errors import Place
from proposal.model.alternate import ALTERNATES
from proposal.model.reading import tree as trees
from proposal.quantities.messages import shown


def field_name(path: trees.Path, place: Place) -> str:
    """Return a field's dotted name as its own file has it, entries of lists counted from 1.

    path: of the field in the tree of all files.
    place: where it is written.
    """
    if place.file.startswith(f"{ALTERNATES}/"):
        return shown_path(("changes", *path))
    if path[:1] == ("rooms",):
        inside = path[3:] if path[2:3] == ("layout",) else path[2:]
    else:
        inside = path[2:] if path[:1] == ("room_types",) else path[1:]
    return shown_path(inside) if inside else ""


def shown_path(path: trees.Path) -> str:
    """Return a path as text, entries of lists counted from 1."""
    return shown(".".join(str(part + 1) if isinstance(part, int) else part for part in path))
