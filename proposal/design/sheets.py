"""Over how many sheets a drawing goes, so that its smallest text stays at 7 pt when printed on A3.

The drawings are laid out with 9 pt as their smallest text. What is printed of A3 is 400 × 277 mm within
margins of 10 mm, 1134 × 785 pt, so a layout may be 1457 × 1009 pt before that text falls under 7 pt. The
heights below were measured on laid-out drawings and leave a tenth of the sheet free.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

# What a sheet holds besides its frame, legend and title strip, in points of the layout.
_SHEET_HEIGHT = 800.0
_STOREY_HEAD = 30.0
_LOWEST_STOREY = 96.0
_ROOM_HEIGHT = 50.0
_LINE_HEIGHT = 14.0
_ROOM_FRAME = 10.0

# Rows of a detail sheet: its two columns, and what the heading of a room takes of one.
_COLUMN_ROWS = 56
_HEAD_ROWS = 3
# Devices without a cable share a row by model; this many rows a room come on top of a quarter of them.
_MODELS_WITHOUT_CABLE = 6

# Boxes below each other on a signal flow: each access point with its microphones, each charger.
_FLOW_BOXES = 14


@dataclass(frozen=True, slots=True)
class Part:
    """What one sheet of a drawing shows.

    members: tags of its rooms, or codes of its boxes; empty where the sheet shows all.
    first: the first cable shown of the first member, counted from 1 in order of identity.
    last: the last cable shown of the last member; 0 where all are.
    """

    members: tuple[str, ...] = ()
    first: int = 1
    last: int = 0


WHOLE = (Part(),)


def overall_parts(storeys: Iterable[tuple[str, Sequence[tuple[str, int]]]]) -> tuple[Part, ...]:
    """Return the sheets of the overall riser.

    storeys: tag of each storey in the order they are drawn, highest first, with the tag of each of its
    rooms and the number of lines that leave the room.
    A storey goes to a new sheet where it would not fit whole under those before it, and over several
    sheets where one is too small for it.
    """
    sheets: list[list[tuple[str, list[tuple[str, int]]]]] = [[]]
    for storey, rooms in storeys:
        if not rooms:
            continue
        if sheets[-1] and _height([*sheets[-1], (storey, list(rooms))]) > _SHEET_HEIGHT:
            sheets.append([])
        for room in rooms:
            band = sheets[-1][-1][1] if sheets[-1] and sheets[-1][-1][0] == storey else None
            if band is None:
                sheets[-1].append((storey, [room]))
            else:
                band.append(room)
                if _height(sheets[-1]) > _SHEET_HEIGHT:
                    band.pop()
                    sheets.append([(storey, [room])])
    if len(sheets) == 1:
        return WHOLE
    return tuple(Part(tuple(tag for _, rooms in sheet for tag, _ in rooms)) for sheet in sheets)


def _height(storeys: Sequence[tuple[str, Sequence[tuple[str, int]]]]) -> float:
    """Return the height of the bands of storeys, rooms standing on both sides of the risers."""
    height = 0.0
    for _, rooms in storeys:
        heights = [max(_ROOM_HEIGHT, lines * _LINE_HEIGHT + _ROOM_FRAME) for _, lines in rooms]
        half = (sum(heights) + max(heights)) / 2
        height += max(_LOWEST_STOREY, half) + _STOREY_HEAD
    return height


def detail_parts(rooms: Iterable[tuple[str, int, int]]) -> tuple[Part, ...]:
    """Return the sheets of a riser in detail.

    rooms: tag of each room and equipment room in the order they are drawn, the number of cables that
    serve it, and the number of its devices from which no cable starts.
    A room goes to a new sheet where it would not fit whole behind those before it, and over several
    sheets where one is too small for it.
    """
    # A room may have to break between the columns, which repeats its heading.
    capacity = 2 * _COLUMN_ROWS - _HEAD_ROWS
    sheets: list[list[tuple[str, int, int]]] = []
    filled = capacity
    for tag, cables, others in rooms:
        head = _HEAD_ROWS + min(others, others // 4 + _MODELS_WITHOUT_CABLE)
        if not sheets or filled + head + cables > capacity:
            sheets.append([])
            filled = 0
        start = 1
        while filled + head + (cables - start + 1) > capacity:
            end = start + max(1, capacity - filled - head) - 1
            sheets[-1].append((tag, start, end))
            sheets.append([])
            start, filled, head = end + 1, 0, _HEAD_ROWS
        sheets[-1].append((tag, start, 0))
        filled += head + cables - start + 1
    if len(sheets) < 2:
        return WHOLE
    return tuple(
        Part(tuple(tag for tag, _, _ in sheet), first=sheet[0][1], last=sheet[-1][2]) for sheet in sheets
    )


def flow_parts(access_points: Sequence[str], chargers: Sequence[str]) -> tuple[Part, ...]:
    """Return the sheets of the signal flow of a kind of room.

    access_points, chargers: codes within the room, in the order they are drawn. What lies behind the
    network is shown on every sheet.
    """
    boxes = [*access_points, *chargers]
    if len(boxes) <= _FLOW_BOXES:
        return WHOLE
    count = -(-len(boxes) // _FLOW_BOXES)
    # Sheets alike in size, rather than full ones and a last one that is nearly empty.
    each = -(-len(boxes) // count)
    return tuple(Part(tuple(boxes[start : start + each])) for start in range(0, len(boxes), each))
