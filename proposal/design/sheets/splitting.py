"""Over how many sheets a drawing goes, so that its smallest text stays at 7 pt when printed.

The drawings are laid out with 9 pt as their smallest text. The field of a sheet, within its frame and above
its foot, is 400 × 241 mm on A3 and 412 × 223 mm on ANSI B; both hold 400 × 223 mm, 1134 × 633 pt, so a
layout may be 1457 × 814 pt before that text falls under 7 pt. The heights below were measured on laid-out
drawings and leave a tenth of the sheet free.
"""

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from typing import TypeVar

from proposal.field_classes import dataclass

# What a sheet holds, in points of the layout.
_SHEET_HEIGHT = 730
_STOREY_HEAD = 30
_LOWEST_STOREY = 96
_ROOM_HEIGHT = 50
_LINE_HEIGHT = 14
_ROOM_FRAME = 10

# Rows of a detail sheet: its two columns, and what the heading of a room takes of one.
_COLUMN_ROWS = 44
_HEAD_ROWS = 3
DEVICES_A_ROW = 5

# A signal flow's boxes, with the gap below each.
_MICROPHONES_HEIGHT = 58
_SOURCE_HEIGHT = 72
_MOST_WITHOUT_BLOCKS = 3


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
    listed = [(storey, list(rooms)) for storey, rooms in storeys if rooms]
    sheets = _even(lambda height: _overall(listed, height), _SHEET_HEIGHT)
    if len(sheets) < 2:
        return WHOLE
    return tuple(Part(tuple(tag for _, rooms in sheet for tag, _ in rooms)) for sheet in sheets)


_S = TypeVar("_S")


def _even(share_out: Callable[[int], list[_S]], most: int) -> list[_S]:
    """Return the fewest sheets, as alike as can be rather than full ones and one that is nearly empty.

    share_out: gives the sheets, each holding at most a size.  most: what one sheet may hold.
    """
    sheets = share_out(most)
    low, high = most // 4, most
    while low < high:
        middle = (low + high) // 2
        if len(share_out(middle)) > len(sheets):
            low = middle + 1
        else:
            high = middle
    return share_out(high)


_Storeys = list[tuple[str, list[tuple[str, int]]]]


def _overall(storeys: _Storeys, most: int) -> list[_Storeys]:
    sheets: list[_Storeys] = [[]]
    for storey, rooms in storeys:
        if sheets[-1] and _height([*sheets[-1], (storey, rooms)]) > most:
            sheets.append([])
        sheets[-1].append((storey, []))
        for room in rooms:
            sheets[-1][-1][1].append(room)
            if _height(sheets[-1]) > most and len(sheets[-1][-1][1]) > 1:
                sheets[-1][-1][1].pop()
                sheets.append([(storey, [room])])
    return [sheet for sheet in sheets if sheet]


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
    serve it, and the number of rows that its devices without a cable take (`device_rows`).
    A room goes to a new sheet where it would not fit whole behind those before it, and over several
    sheets where one is too small for it.
    """
    listed = list(rooms)
    # A room may have to break between the columns, which repeats its heading.
    sheets = _even(lambda rows: _detail(listed, rows), 2 * _COLUMN_ROWS - _HEAD_ROWS)
    if len(sheets) < 2:
        return WHOLE
    return tuple(
        Part(tuple(tag for tag, _, _ in sheet), first=sheet[0][1], last=sheet[-1][2]) for sheet in sheets
    )


def _detail(rooms: Iterable[tuple[str, int, int]], most: int) -> list[list[tuple[str, int, int]]]:
    """Return the sheets of a riser in detail: tag, first and last cable, 0 for all that follow."""
    sheets: list[list[tuple[str, int, int]]] = []
    filled = most
    for tag, cables, others in rooms:
        head = _HEAD_ROWS + others
        if not sheets or filled + head + cables > most:
            sheets.append([])
            filled = 0
        start = 1
        while filled + head + (cables - start + 1) > most and start < cables:
            end = min(cables - 1, start + max(1, most - filled - head) - 1)
            sheets[-1].append((tag, start, end))
            sheets.append([])
            start, filled, head = end + 1, 0, _HEAD_ROWS
        sheets[-1].append((tag, start, 0))
        filled += head + cables - start + 1
    return sheets


def device_rows(devices: Iterable[Hashable]) -> int:
    """Return how many rows the devices of a room take from which no cable starts.

    devices: what a row holds alike, such as model and place, for each device.
    """
    return sum(-(-count // DEVICES_A_ROW) for count in Counter(devices).values())


def flow_parts(
    access_points: Sequence[str],
    chargers: Sequence[Sequence[str]],
    microphones: Mapping[str, int] | None = None,
) -> tuple[Part, ...]:
    """Return the sheets of the signal flow of a kind of room.

    access_points: codes within the room, in the order they are drawn.
    chargers: likewise, those that are alike together, as they are drawn as one box.
    What lies behind the network is shown on every sheet. Above three sheets a block diagram, which names no
    members, comes before them.
    microphones: boxes of microphones at each access point, by its code; one where not given.
    """
    groups = microphones or {}
    heights: list[tuple[tuple[str, ...], int]] = [
        ((code,), _access_point_height(groups.get(code, 1))) for code in access_points
    ]
    heights += [(tuple(alike), _SOURCE_HEIGHT) for alike in chargers]
    sheets = _even(lambda height: _stacked(heights, height), _SHEET_HEIGHT)
    if len(sheets) < 2:
        return WHOLE
    parts = tuple(Part(tuple(code for codes in sheet for code in codes)) for sheet in sheets)
    return (Part(), *parts) if len(parts) > _MOST_WITHOUT_BLOCKS else parts


def _stacked(heights: Iterable[tuple[tuple[str, ...], int]], most: int) -> list[list[tuple[str, ...]]]:
    sheets: list[list[tuple[str, ...]]] = []
    filled = most
    for code, height in heights:
        if not sheets or filled + height > most:
            sheets.append([])
            filled = 0
        sheets[-1].append(code)
        filled += height
    return sheets


def _access_point_height(groups: int) -> int:
    return max(_SOURCE_HEIGHT, groups * _MICROPHONES_HEIGHT)
