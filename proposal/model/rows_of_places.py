"""Seats and microphones in rows, arcs and grids: a short notation, and the single places that it stands for.

The numbers of a row are written in the order in which they stand, `[1-6, 13, 7-12]`, so that a place put in
between takes a new number and all others keep theirs.
"""

import math
import re
from collections.abc import Iterator, Mapping
from typing import Annotated, TypeVar

from pydantic import AfterValidator, Field, model_validator

from proposal.model.base import Written
from proposal.quantities.messages import refusal, shown
from proposal.quantities.parsing import Length

Point = tuple[Length, Length]
_Row = TypeVar("_Row", bound="RowOfPlaces")
OF_LEVEL = "Tag of the level of the room on which it stands; the room's own floor where left out."
MOST_IN_A_ROW = 1000
Numbers = str | tuple[str, ...]
_RUN = re.compile(r"(\d{1,4})(?:-(\d{1,4}))?")


def numbers_in(numbers: Numbers) -> tuple[int, ...]:
    """Return the numbers of a row in the order in which they stand.

    numbers: a run such as `1-12`, or a list of numbers and runs such as `[1-6, 13, 7-12]`; a run may go down.
    Raises PydanticCustomError where it is something else, or says a number twice.
    """
    text = numbers_as_text(numbers)
    found: list[int] = []
    for part in text.split(","):
        run = _RUN.fullmatch(part.strip())
        if run is None:
            raise refusal("numbers in the order in which they stand, such as [1-6, 13, 7-12]", shown(text))
        first, last = int(run[1]), int(run[2] or run[1])
        found += range(first, last + 1) if last >= first else range(first, last - 1, -1)
        if len(found) > MOST_IN_A_ROW:
            raise refusal(f"at most {MOST_IN_A_ROW} numbers in a row, such as 1-{MOST_IN_A_ROW}", shown(text))
    twice = sorted({number for number in found if found.count(number) > 1})
    if twice:
        raise refusal("each number once, such as [1-6, 13, 7-12]", f"{twice[0]} twice")
    return tuple(found)


def numbers_as_text(numbers: Numbers) -> str:
    """Return the numbers of a row as one text, `1-6, 13, 7-12`.

    numbers: as they are written.
    """
    return numbers if isinstance(numbers, str) else ", ".join(numbers)


def _checked(numbers: Numbers) -> Numbers:
    numbers_in(numbers)
    return numbers


class RowOfPlaces(Written):
    """Places at equal distances: in a line, in an arc, or in several such rows behind one another."""

    numbers: Annotated[Numbers, AfterValidator(_checked)] = Field(
        description="Numbers in the order in which they stand, such as 1-12; one that is put in between is "
        "written where it stands, [1-6, 13, 7-12], and all others keep theirs."
    )
    first: Point = Field(description="Position of the first one, x then y.")
    last: Point = Field(description="Position of the last one, x then y.")
    arc: Annotated[Length, Field(ge=-50, le=50)] = Field(
        default=0.0,
        description="How far the middle of the row lies to the left of the straight line, looking from the "
        "first to the last; below 0 to the right, 0 for a straight row.",
    )
    rows: Annotated[
        tuple[Annotated[str, Field(pattern=r"^[A-Za-z0-9]{1,8}$")], ...], Field(max_length=200)
    ] = Field(
        default=(),
        description="Codes of rows behind one another, such as [A, B, C]; left out, the one row has the "
        "name under which it is written.",
    )
    step: Point = Field(default=(0.0, 0.0), description="From each of these rows to the next, x then y.")
    level: str = Field(default="", description=OF_LEVEL)

    @model_validator(mode="after")
    def _steps_on(self) -> "RowOfPlaces":
        """Refuse rows that would all stand in one place, and rows of one code."""
        if len(self.rows) > 1 and self.step == (0.0, 0.0):
            raise refusal("a step from each row to the next, such as [0 m, 0.9 m]", "none")
        if len(set(self.rows)) < len(self.rows):
            raise refusal("each row once, such as [A, B, C]", shown(", ".join(self.rows)))
        if self.arc and math.dist(self.first, self.last) < 2 * abs(self.arc):
            raise refusal(
                "an arc of at most half a circle, such as `arc: 1 m` between ends 6 m apart",
                shown(f"{self.arc:g} m"),
            )
        return self


def places_of(code: str, row: RowOfPlaces) -> Iterator[tuple[str, Point]]:
    """Yield the tag and the position, m, of each place that a row stands for.

    code: under which the row is written.
    """
    numbers = numbers_in(row.numbers)
    for behind, name in enumerate(row.rows or (code,)):
        dash = "-" if name[-1:].isdigit() else ""
        for ordinal, number in enumerate(numbers):
            x, y = _along(row, ordinal / (len(numbers) - 1) if len(numbers) > 1 else 0.0)
            at = (round(x + behind * row.step[0], 4), round(y + behind * row.step[1], 4))
            yield f"{name}{dash}{number}", at


def _along(row: RowOfPlaces, share: float) -> tuple[float, float]:
    """Return the point at some share of the way along a row."""
    (x1, y1), (x2, y2) = row.first, row.last
    chord = math.dist(row.first, row.last)
    if not row.arc or not chord:
        return x1 + share * (x2 - x1), y1 + share * (y2 - y1)
    # A circle through both ends whose middle stands out by the arc's height.
    height = abs(row.arc)
    radius = (chord * chord / 4 + height * height) / (2 * height)
    half = math.asin(min(1.0, chord / (2 * radius)))
    angle = (2 * share - 1) * half
    along, out = radius * math.sin(angle), radius * (math.cos(angle) - math.cos(half))
    out = math.copysign(out, row.arc)
    ux, uy = (x2 - x1) / chord, (y2 - y1) / chord
    middle = ((x1 + x2) / 2, (y1 + y2) / 2)
    return middle[0] + along * ux - out * uy, middle[1] + along * uy + out * ux


def as_row(sort: type[_Row], written: Mapping[str, object]) -> _Row | None:
    """Return what is written as a row, None where it is none; what is wrong with it is said elsewhere.

    sort: what the row is of.
    """
    try:
        return sort.model_validate(written)
    except ValueError:
        return None
