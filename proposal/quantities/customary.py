"""Feet and inches as people write them."""

from fractions import Fraction

_NEAR = 0.02
"""A whole foot is taken where it is no farther off than this share."""
_HUNDRED_FT = 100


def inches(value: float) -> str:
    """Return inches as people write them: hundredths below one, else eighths.

    value: in inches, not negative.
    """
    if value < 1:
        return f"{value:.2f}".rstrip("0").rstrip(".")
    eighths = Fraction(round(value * 8), 8)
    rest = eighths - int(eighths)
    return f"{int(eighths)} {rest}" if rest else str(int(eighths))


def feet(value: float) -> str:
    """Return feet as people write what is bought by length: whole ones, else feet and inches.

    value: in feet, not negative.
    """
    hundreds = round(value / _HUNDRED_FT) * _HUNDRED_FT
    if hundreds and abs(value - hundreds) <= _NEAR / 4 * value:
        return f"{hundreds:,} ft"
    whole = round(value)
    if value >= _HUNDRED_FT or (whole and abs(value - whole) <= _NEAR * value):
        return f"{whole:,} ft"
    return feet_and_inches(value)


def feet_as_written(value: float) -> str:
    """Return a length as plans and schedules have it: feet and inches, from a hundred feet on feet alone.

    value: in feet.
    """
    return f"{round(value):,} ft" if abs(value) >= _HUNDRED_FT else feet_and_inches(value)


def feet_and_inches(value: float) -> str:
    """Return feet and whole inches, such as `9 ft 6 in`.

    value: in feet.
    """
    in_all = round(abs(value) * 12)
    whole, rest = divmod(in_all, 12)
    parts = [f"{whole:,} ft"] if whole else []
    parts += [f"{rest} in"] if rest else []
    sign = "-" if value < 0 and in_all else ""
    return sign + (" ".join(parts) or "0 ft")
