"""The kinds of drawings by name: each is the `KIND` of the layout in the folder of that name."""

from dataclasses import replace
from importlib import import_module
from typing import Any

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.drawing import Drawing, Kind
from proposal.drawings.revision_marks import changed_names, edition_before, sheet_before
from proposal.editions import Edition


def kind_called(name: str) -> Kind[Any]:
    """Return the kind of drawing with a name of the drawing list, such as `signal flow`.

    Raises ValueError for a kind that nothing draws.
    """
    layout = f"{__package__}.{name.replace(' ', '_')}.layout"
    try:
        found = getattr(import_module(layout), "KIND", None)
    except ModuleNotFoundError as error:
        if error.name is None or not layout.startswith(error.name):
            raise
        found = None
    if not isinstance(found, Kind):
        raise ValueError(f"no drawing is known for sheets of kind {name!r}")
    return found


def drawing_of(edition: Edition, sheet: SheetRow) -> Drawing:
    """Return the drawing of a sheet, as the edition's reader sees it.

    Raises ValueError for a kind of sheet that nothing draws.
    """
    kind = kind_called(sheet.kind)
    spec = kind.spec(edition, sheet)
    before = edition_before(edition)
    if before is None:
        return Drawing(kind, spec)
    was = sheet_before(before, sheet)
    if was is None:
        return Drawing(kind, replace(spec, strip=replace(spec.strip, new=True)), "new")
    shown = kind.spec(before, was)
    same = replace(shown, strip=spec.strip) == spec
    changed = replace(spec, strip=replace(spec.strip, changed=changed_names(shown, spec)))
    return Drawing(kind, changed, "as before" if same else "changed")
