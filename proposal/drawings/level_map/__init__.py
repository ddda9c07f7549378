"""The radio level over a kind of room: the margin above the limit, in plan and to scale."""

import math

from proposal.document.rows.sheets import SheetRow
from proposal.drawings.level_map.as_it_lies import as_it_lies
from proposal.drawings.level_map.spec import LevelMapSpec, Point
from proposal.drawings.sheet import strip_of
from proposal.editions import Edition
from proposal.quantities import formatting

__all__ = ["LevelMapSpec", "Point"]

_STEPS_DB = (5, 10)
_MOST_BANDS = 9


def spec_of(edition: Edition, sheet: SheetRow) -> LevelMapSpec:
    """Return what the level map of a kind of room shows.

    Raises ValueError for a kind of room without linked microphones.
    """
    document = edition.document
    room = next(row for row in document.room_sheets if row.key == sheet.subject)
    row = room.level_map
    if row is None:
        raise ValueError(f"wanted a kind of room with linked microphones; found {sheet.subject}")
    spec = LevelMapSpec(
        strip=strip_of(edition, sheet),
        units=document.cover.units,
        locale=document.cover.locale,
        room=row.room,
        outline=room.outline,
        furniture=room.furniture,
        seats=tuple(at for _, _, at in room.seats),
        marks=row.marks,
        low=row.low,
        high=row.high,
        levels_dbm=row.levels_dbm,
        wanted_dbm=row.wanted_dbm,
        worst=row.worst,
        served_by=next((one.access_point for one in room.microphones if one.code == row.worst), ""),
        worst_at=row.worst_at,
        worst_dbm=row.worst_dbm,
        worst_margin_db=row.worst_margin_db,
        height_m=row.height_m,
        body_db=row.body_db,
    )
    return as_it_lies(spec, next(one.outline for one in document.rooms if one.tag == row.room))


def spare_db(spec: LevelMapSpec) -> list[list[float]]:
    """Return the margin above the wanted level at each point of the grid, dB; negative where it lacks."""
    return [[round(level - spec.wanted_dbm, 2) for level in row] for row in spec.levels_dbm]


def contours(spec: LevelMapSpec) -> list[int]:
    """Return the margins at the contours and at the edges of the colours, dB, least first.

    Whole steps that leave few enough bands, so that one of them is the limit, 0 dB, wherever it is reached;
    the first lies at or under the least, the last at or over the most.
    """
    found = [spare for row in spare_db(spec) for spare in row]
    for step in _STEPS_DB:
        low, high = math.floor(min(found) / step), math.ceil(max(found) / step)
        if high - low <= _MOST_BANDS or step == _STEPS_DB[-1]:
            break
    return [n * step for n in range(low, max(high, low + 1) + 1)]


def reaches_limit(spec: LevelMapSpec) -> bool:
    """Return whether the limit lies within the grid: somewhere too little is received."""
    return any(spare < 0 for row in spare_db(spec) for spare in row)


def band_words(low: int, high: int) -> str:
    """Return what a band between two contours is called.

    low, high: what is to spare at its edges, dB.
    """
    if high <= 0:
        return f"{-high} to {-low} dB too little"
    return f"{low} to {high} dB to spare"


def dbm(level: float, decimals: int = 0) -> str:
    """Return a level as printed: a true minus, and its unit.

    level: dBm.
    decimals: places shown.
    """
    return f"{level:.{decimals}f} dBm".replace("-", "−")


def margin_words(spec: LevelMapSpec) -> str:
    """Return the margin of the weakest microphone in words, or what it lacks."""
    size = f"{abs(spec.worst_margin_db):.1f} dB"
    return f"{size} to spare" if spec.worst_margin_db >= 0 else f"{size} too little"


def alternative(spec: LevelMapSpec) -> str:
    """Return what the level map shows in sentences."""
    xs, ys = [x for x, _ in spec.outline], [y for _, y in spec.outline]
    length = [formatting.length(v, spec.units, spec.locale) for v in (max(xs) - min(xs), max(ys) - min(ys))]
    found = [level for row in spec.levels_dbm for level in row]
    x, y = (formatting.length(v, spec.units, spec.locale) for v in spec.worst_at)
    where = f"{x} from the west and {y} from the south" if spec.as_on_plan else f"at x and y of {x} and {y}"
    height = formatting.length(spec.height_m, spec.units, spec.locale)
    boxes = [code for kind, code, _ in spec.marks if kind == "access point"]
    sentences = [
        f"Received level in room {spec.room}, {' by '.join(length)}, to scale, from {dbm(min(found), 1)} to "
        f"{dbm(max(found), 1)} at {height} above the floor, with {spec.body_db:.0f} dB for bodies.",
        f"Access points {formatting.listed(boxes)}." if len(boxes) > 1 else f"Access point {''.join(boxes)}.",
        f"The weakest microphone is {spec.worst}, {where}, received at {dbm(spec.worst_dbm, 1)} by "
        f"{spec.served_by}, which serves it.",
        f"The level wanted is {dbm(spec.wanted_dbm, 1)}, so it has {margin_words(spec)}.",
        "In places of the room too little is received: the limit is drawn there."
        if reaches_limit(spec)
        else "Everywhere in the room enough is received.",
    ]
    return " ".join(sentences)
