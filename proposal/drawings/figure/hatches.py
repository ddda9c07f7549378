"""Hatches of areas as SVG patterns: lines in one, two or four directions, or dots."""

from proposal.drawings.canvas import short

_TILE_PT = 24.0
"""Side of a tile; a sign of a hatch makes one slanting line in it, or two upright or level ones."""
_DOT_SHARE = 0.1
"""Radius of a dot, of the distance of dots."""
_DIRECTIONS = {"x": "/\\", "+": "-|"}


class Hatches:
    """The hatches that a drawing uses, each written once."""

    def __init__(self, prefix: str) -> None:
        """Begin with none.

        prefix: makes their ids its own.
        """
        self._prefix = prefix
        self._names: dict[tuple[str, str, str, float], str] = {}

    def filling(self, hatch: str, ground: str, colour: str, width: float) -> str:
        """Return the filling of a hatched area, as the attribute `fill` takes it.

        hatch: signs `/`, `\\`, `-`, `|`, `x`, `+` and `.`, as many as lines are dense.
        ground: colour below; `none` where what lies below is to be seen.
        colour, width: of the lines, the width in pt.
        """
        key = hatch, ground, colour, width
        name = self._names.setdefault(key, f"{self._prefix}-h{len(self._names)}")
        return f"url(#{name})"

    @property
    def svg(self) -> str:
        """What defines them; nothing where none is used."""
        patterns = "".join(_pattern(name, *key) for key, name in self._names.items())
        return f"<defs>{patterns}</defs>" if patterns else ""


def _pattern(name: str, hatch: str, ground: str, colour: str, width: float) -> str:
    side = short(_TILE_PT)
    below = "" if ground == "none" else f'<rect width="{side}" height="{side}" fill="{ground}"/>'
    lines = "".join(_lines(sign, hatch.count(sign)) for sign in sorted(set(hatch) - {"."}))
    drawn = f'<path d="{lines}" fill="none" stroke="{colour}" stroke-width="{short(width)}"/>'
    dots = _dots(hatch.count("."), colour) if "." in hatch else ""
    return (
        f'<pattern id="{name}" patternUnits="userSpaceOnUse" width="{side}" height="{side}">'
        f"{below}{drawn if lines else ''}{dots}</pattern>"
    )


def _lines(sign: str, count: int) -> str:
    """Return the lines of a sign in a tile, whole over its edges."""
    if sign in _DIRECTIONS:
        return "".join(_lines(one, count) for one in _DIRECTIONS[sign])
    side = _TILE_PT
    if sign in "-|":
        places = [short(side / (2 * count) * (n + 0.5)) for n in range(2 * count)]
        return "".join(f"M0 {at}H{short(side)}" if sign == "-" else f"M{at} 0V{short(side)}" for at in places)
    # A little longer than the tile, so that lines have no gaps at its edges.
    ends = [side / count * n for n in range(-count, count + 1)]
    low, high = ("-1", short(side + 1)) if sign == "\\" else (short(side + 1), "-1")
    return "".join(f"M{short(at - 1)} {low}L{short(at + side + 1)} {high}" for at in ends)


def _dots(count: int, colour: str) -> str:
    """Return dots in rows, every second row moved by half a step."""
    count *= 2
    step = _TILE_PT / count
    return "".join(
        f'<circle cx="{short(step * (column + 0.25 + 0.5 * (row % 2)))}" cy="{short(step * (row + 0.5))}" '
        f'r="{short(step * _DOT_SHARE)}" fill="{colour}"/>'
        for row in range(count)
        for column in range(count)
    )
