"""The lettering of drawings: texts as signs that may stand on a sheet, their widths, and lines that fit."""

import unicodedata
from collections.abc import Sequence
from functools import lru_cache

SMALLEST_PT = 9


def plain(text: str) -> str:
    """Return a text as one line of signs that XML may hold."""
    folded = " ".join(text.split())
    if folded.isprintable():
        return folded
    return "".join(sign for sign in folded if unicodedata.category(sign) not in {"Cc", "Cs", "Cn", "Co"})


# Advance widths of Helvetica, thousandths of the size, for the signs from space to tilde; the metrics
# that the free faces share. Bold ones are at most a ninth wider on the whole of a line.
_WIDTHS = (
    "278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 "
    "556 278 278 584 584 584 556 1015 667 667 722 722 667 611 778 722 278 500 667 556 833 722 778 667 778 "
    "722 667 611 722 667 944 667 667 611 278 278 278 469 556 333 556 556 500 556 556 278 556 556 222 222 "
    "500 222 833 556 556 556 556 333 500 278 556 500 722 500 500 500 334 260 334 584"
)


class _Widths(dict[str, int]):
    def __missing__(self, sign: str) -> int:
        return 1000


_WIDTH = _Widths((chr(32 + place), int(width)) for place, width in enumerate(_WIDTHS.split()))
_BLANK = _WIDTH[" "]


def width_pt(text: str, size_pt: float = SMALLEST_PT) -> float:
    """Return how wide a line of text is, pt; signs beyond ASCII count as wide ones.

    size_pt: size of the letters, pt.
    """
    return _wide(text) * size_pt / 1000


@lru_cache(maxsize=10_000)
def _wide(text: str) -> int:
    """Return how wide a text is, thousandths of the size of its letters."""
    return sum(map(_WIDTH.__getitem__, text))


def wrapped(text: str, room_pt: float, most_lines: int, size_pt: float = SMALLEST_PT) -> tuple[str, ...]:
    """Return a text as lines that fit a width, the last one cut with an ellipsis where it must be.

    most_lines: the most lines that are returned.
    size_pt: size of the letters, pt.
    room_pt: width of a line.
    """
    return _fitted(plain(text).split(" "), room_pt, most_lines, size_pt)


def wrapped_list(items: Sequence[str], room_pt: float, most_lines: int) -> tuple[str, ...]:
    """Return items, separated by commas, as lines that break between items and nowhere else.

    room_pt: width of a line, pt.
    most_lines: the most lines that are returned.
    """
    pieces = [plain(item) + ("," if place < len(items) else "") for place, item in enumerate(items, start=1)]
    return _fitted(pieces or [""], room_pt, most_lines, SMALLEST_PT)


def _fitted(pieces: Sequence[str], room_pt: float, most_lines: int, size_pt: float) -> tuple[str, ...]:
    lines: list[str] = []
    line, used = "", 0
    for piece in pieces:
        wide = _wide(piece)
        longer = used + _BLANK + wide if line else wide
        if line and longer * size_pt / 1000 > room_pt:
            lines.append(line)
            line, used = piece, wide
        else:
            line, used = f"{line} {piece}" if line else piece, longer
    lines.append(line)
    kept = lines[:most_lines]
    if len(lines) > most_lines:
        kept[-1] = " ".join(lines[most_lines - 1 :])
    return tuple(_cut(line, room_pt, size_pt) for line in kept)


def _cut(line: str, room_pt: float, size_pt: float) -> str:
    wide = sum(map(_WIDTH.__getitem__, line))
    if wide * size_pt / 1000 <= room_pt:
        return line
    while line and (wide + _WIDTH["…"]) * size_pt / 1000 > room_pt:
        wide -= _WIDTH[line[-1]]
        line = line[:-1]
    return line.rstrip() + "…"
