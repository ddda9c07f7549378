"""Lines of the schedule of a storey about its pathways, and about the openings in its walls."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import groupby

from proposal.document.document import Document
from proposal.document.rows.client_steps import APPROVED
from proposal.document.rows.pathways import NodeRow, PathwayRow
from proposal.document.wall_passages import diameters_m, openings_on
from proposal.drawings.device_schedule.floor_boxes import ON_WALL_M, within
from proposal.drawings.plan.holds import heights_asked
from proposal.drawings.plan.pathway_words import kind_of, placed_at, size_of, way_words
from proposal.drawings.plan.tubing_beside_tubing import (
    centre_aside,
    speaker_side,
    steps_from_racks,
    twins_words,
)
from proposal.quantities import formatting
from proposal.quantities.wall_openings import WallOpening

Texts = tuple[str, ...]
PATHWAYS = (
    "Pathways of the storey: begin and end so far east (E) and north (N) of the building's origin; heights "
    "of their middles"
)
OPENINGS = (
    "Openings in walls: distances along the wall, from its western or southern end; heights of their middles"
)
FIRST_FIX, FIRE_STOPPING = "first fix", "Fire-stopping"
NOT_STATED = "not stated"
LOUDSPEAKER_LINE = "loudspeaker line"
_OPEN_KINDS = ("hooks", "tray", "riser shaft")
PATHWAY_HEADS = (
    "Pathway", "What", "", "", "Height", "Beside", "Carries", "", "Length", "Divider", "Begins", "Ends",
    "Rated openings", "Sleeves there",
)  # fmt: skip
OPENING_HEADS = (
    "Opening", "Wall", "From west", "From south", "Height", "Passes, across", "Carries", "", "", "", "For",
    "For pathways", "Fire rating", "Sleeve, hole",
)  # fmt: skip


def furnished_by_others(document: Document) -> str:
    """Return what others have ready for first fix, by whom and by which day; empty where that is nothing."""
    names = dict(document.parties)
    whose: dict[str, list[str]] = {}
    days = []
    for row in document.responsibilities:
        if row.before == FIRST_FIX:
            party = dict(row.duties).get("furnish", "")
            whose.setdefault(names.get(party, party), []).append(row.about)
            days.append(row.first_day(document))
    if not whose:
        return ""
    day = next((one for one in days if one), None)
    by = f" by {formatting.date(day, document.cover.locale)}" if day else ""
    told = "; ".join(f"{party}: {', '.join(things)}" for party, things in whose.items())
    return f"Others have ready for first fix{by}. {told}."


def ratings_owed(document: Document, storey: str) -> str:
    """Return who tells ratings of walls that are not stated on a storey, and by when; empty where all are.

    It is whoever furnishes the fire-stopping: the system that closes an opening follows from them.
    """
    openings = openings_on(document, storey)
    ratings = _ratings(document, openings)
    if all((one.wall, one.side) in ratings for one in openings):
        return ""
    fire = [row for row in document.responsibilities if row.about == FIRE_STOPPING]
    party = (
        next((dict(document.parties).get(row.furnish, row.furnish) for row in fire), "") or "The architect"
    )
    # Sleeves are ready when first fix begins: walls are known when drawings are approved, before that.
    day = next((row.finish for row in document.activities if row.key == APPROVED), None)
    by = f"by {formatting.date(day, document.cover.locale)}, before" if day else "before"
    return (
        f"Fire rating not stated: {party} states it for each such wall {by} holes are made, and whether the "
        "structure allows the hole."
    )


def heights_words(document: Document, storey: str) -> str:
    """Return how high a storey is, and which question its heights wait for."""
    told = next(
        (
            f"; floor to floor {_length(document, row.slab_to_slab_m)}"
            for row in document.storeys
            if row.tag == storey
        ),
        "",
    )
    asked = ", ".join(row.number for row in heights_asked(document, storey))
    return f"{told}; heights as taken until question {asked} is answered" if asked else told


def pathway_texts(document: Document, storey: str) -> Iterator[tuple[str, Texts]]:
    """Yield tag and cells of each pathway of a storey, and of each that leaves it."""
    nodes = {node.tag: node for node in document.nodes}
    steps = steps_from_racks(document)
    for row in document.pathways:
        ends = [nodes[tag] for tag in (row.from_node, row.to_node) if tag in nodes]
        if storey not in {node.storey for node in ends}:
            continue
        level = len({node.storey for node in ends}) == 1
        height, *near = placed_at(document, ends[0], ends[-1]) if level else [""]
        near += _dropping(document, row, ends, storey) if level else []
        aside = centre_aside(document, row, steps)
        places = [
            f"{row_storey}{_place(document, (node.at[0] + aside[0], node.at[1] + aside[1]))}"
            for node in ends
            for row_storey in ("" if level else f"{node.storey}: ",)
        ]
        signals: dict[str, int] = {}
        for content in document.pathway_contents:
            if content.pathway == row.tag:
                signals[content.signal] = signals.get(content.signal, 0) + content.count
        openings = [one for one in document.penetrations if one.pathway == row.tag]
        yield (
            row.tag,
            (
                row.tag,
                ", ".join((_whole(document, row), *_in(row))),
                "",
                "",
                height.removeprefix("at "),
                ", ".join((*near, *twins_words(document, row), *_open_about(row))),
                _carries(signals),
                "",
                _length(document, row.length_m),
                _speaker_words(document, row, steps) or _kept_apart(row, signals) or _bent(document, row),
                *places,
                ", ".join(f"{one.tag} {one.fire_rating}".strip() for one in openings),
                ", ".join(dict.fromkeys(words for one in openings for words in one.sleeves)),
            ),
        )


def _whole(document: Document, row: PathwayRow) -> str:
    return " ".join(part for part in (kind_of(row), size_of(document, row), _held(document, row)) if part)


def _in(row: PathwayRow) -> list[str]:
    """Return what more is said of what a pathway is: the sort of tray, and its model."""
    return [f"{row.tray} {row.size}"] if row.tray else []


def _dropping(document: Document, row: PathwayRow, ends: Sequence[NodeRow], storey: str) -> list[str]:
    """Return where a pathway between two heights of a storey goes down, as far as that is given.

    ends: its nodes.
    """
    if ends[0].height_m == ends[-1].height_m or row.drops_at is None:
        return []
    on_wall = next(
        (
            f", {side} wall of {room.tag}"
            for room in document.rooms
            if room.storey == storey
            for side, axis, value in (
                ("west", 0, min(x for x, _ in room.outline)),
                ("east", 0, max(x for x, _ in room.outline)),
                ("south", 1, min(y for _, y in room.outline)),
                ("north", 1, max(y for _, y in room.outline)),
            )
            if abs(row.drops_at[axis] - value) < ON_WALL_M and within(row.drops_at, room.outline)
        ),
        "",
    )
    return [f"goes down at {_place(document, row.drops_at)}{on_wall}"]


def _bent(document: Document, row: PathwayRow) -> str:
    """Return the bends of a conduit with their radius, and its pull boxes."""
    if not row.bends:
        return ""
    bends = f"{formatting.count_of(len(row.bends), 'bend')}, together {sum(row.bends):g}°"
    units, locale = document.cover.units, document.cover.locale
    if row.radius_m:
        radius = formatting.short_quantity(round(row.radius_m, 3), "short_length", units, locale)
        bends += f", radius {radius}"
    boxes = formatting.count_of(row.pull_points, "pull box", "pull boxes")
    return f"{bends}, {boxes}" if row.pull_points else bends


def _open_about(row: PathwayRow) -> Iterator[str]:
    """Yield what is open about a pathway: its way, and whether it can be pulled through."""
    if not row.straight:
        yield way_words(row)
    if row.existing and row.kind == "conduit":
        yield "rod and prove before first fix"


def _held(document: Document, row: PathwayRow) -> str:
    """Return how a pathway is held, or how cables are held in it: one support every so far."""
    if row.kind == "riser shaft":
        return ""
    if row.spacing_m is None:
        return ""
    return f"{'one' if row.kind == 'hooks' else 'held'} every {_length(document, row.spacing_m)}"


def _speaker_words(document: Document, row: PathwayRow, steps: Mapping[str, int]) -> str:
    """Return on which side of a divider loudspeaker lines lie; nothing for a pathway without one.

    steps: from the racks to each node.
    """
    side = speaker_side(document, row, steps)
    return f"speaker lines {side} of it" if side else ""


def _kept_apart(row: PathwayRow, signals: Collection[str]) -> str:
    """Return what is asked where loudspeaker lines share an open pathway with others, without a divider."""
    shared = LOUDSPEAKER_LINE in signals and len(signals) > 1
    return "speaker lines strapped alone" if shared and row.kind in _OPEN_KINDS else ""


def opening_texts(document: Document, storey: str) -> Iterator[tuple[str, Texts]]:
    """Yield tag and cells of each opening in a wall of a storey."""
    kinds = {
        tag: ", ".join((tag, kind, f"from {_place(document, min(points))}"))
        for row in document.storeys
        for tag, kind, points in row.walls
    }
    sleeves = dict(next((row.wall_sleeves for row in document.storeys if row.tag == storey), ()))
    openings = openings_on(document, storey)
    ratings = _ratings(document, openings)
    for one in openings:
        along = _length(document, one.along_m)
        yield (
            one.tag,
            (
                one.tag,
                _in_walls(one, kinds),
                "" if one.upright else along,
                along if one.upright else "",
                "" if one.height_m is None else _length(document, one.height_m),
                *_passes(document, one),
                ratings.get((one.wall, one.side), NOT_STATED),
                sleeves.get(one.tag, ""),
            ),
        )


def _in_walls(one: WallOpening, kinds: Mapping[str, str]) -> str:
    """Return the walls that an opening goes through.

    kinds: of walls that are given: tag, construction and where each begins.
    """
    first = f"{one.side} wall of {one.wall}" if one.side else kinds.get(one.wall, one.wall)
    return ", ".join((first, *(kinds.get(also, also) for also in one.also)))


def _passes(document: Document, one: WallOpening) -> Texts:
    """Return size, load and use of an opening, and the rest of its cells."""
    cables = [row for row in document.cables if row.identity in one.names]
    pathways = [row for row in document.pathways if row.tag in one.names]
    sizes = [f"{row.tag}: {size_of(document, row)}".removesuffix(": ") for row in pathways]
    units, locale = document.cover.units, document.cover.locale
    across = [
        f"{len(tuple(same))} × {formatting.short_quantity(wide, 'short_length', units, locale)}"
        for wide, same in groupby(diameters_m(document, cables))
    ]
    sizes += across
    signals: dict[str, int] = {}
    for cable in cables:
        signals[cable.signal] = signals.get(cable.signal, 0) + 1
    for content in document.pathway_contents:
        if content.pathway in one.names:
            signals[content.signal] = signals.get(content.signal, 0) + content.count
    begins = ", ".join(dict.fromkeys(cable.from_tag for cable in cables))
    return ", ".join(sizes), _carries(signals), "", "", "", begins, ", ".join(row.tag for row in pathways)


def _ratings(document: Document, openings: Sequence[WallOpening]) -> dict[tuple[str, str], str]:
    """Return the fire rating of each wall and side of which a pathway through it tells one."""
    told = {
        row.pathway: row.fire_rating or "fire-rated" for row in document.penetrations if row.crosses == "wall"
    }
    return {(one.wall, one.side): told[name] for one in openings for name in one.names if name in told}


def _carries(signals: dict[str, int]) -> str:
    return ", ".join(f"{count} × {signal}" for signal, count in sorted(signals.items()))


def _place(document: Document, at: tuple[float, float]) -> str:
    return f"{_length(document, at[0])} E, {_length(document, at[1])} N"


def _length(document: Document, value_m: float) -> str:
    return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)
