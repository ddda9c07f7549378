"""Where a pathway lies and how large it is, as plans and schedules of a storey say it."""

from proposal.document.document import Document
from proposal.document.rows.pathways import NodeRow, PathwayRow
from proposal.document.wall_passages import beside
from proposal.quantities import formatting

EXISTING = "existing"
UNKNOWN_WAY = "way not surveyed"


def kind_of(row: PathwayRow) -> str:
    """Return the kind of a pathway, told apart where the building has it already."""
    return f"{EXISTING} {row.kind}" if row.existing else row.kind


def way_words(row: PathwayRow) -> str:
    """Return what is open about the way of a pathway; empty of one that goes straight."""
    if row.straight:
        return ""
    return UNKNOWN_WAY if row.existing else "way to be agreed"


def placed_at(document: Document, one: NodeRow, two: NodeRow) -> list[str]:
    """Return how high a pathway lies, and how far from which wall along it, a line each."""
    heights = [_length(document, height) for height in dict.fromkeys((one.height_m, two.height_m))]
    near = beside(document, one.storey, one.at, two.at)
    return [f"at {' to '.join(heights)}", *([f"{_length(document, near[0])} {near[1]}"] if near else [])]


def size_of(document: Document, row: PathwayRow) -> str:
    """Return the size of a pathway: of a tray its width and depth, of conduit its trade size.

    Where lengths are metric, the width inside of conduit says what its trade size is.
    """
    units, locale = document.cover.units, document.cover.locale
    if row.width_m is not None and row.depth_m is not None:
        wide, deep = (
            formatting.short_quantity(value, "short_length", units, locale)
            for value in (row.width_m, row.depth_m)
        )
        return f"{wide.split()[0]} × {deep}"
    if row.internal_diameter_m and units == "metric":
        inside = formatting.short_quantity(row.internal_diameter_m, "short_length", units, locale)
        return f"{row.size} ({inside} inside)"
    return row.size


def _length(document: Document, value_m: float) -> str:
    return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)
