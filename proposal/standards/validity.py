"""The numbers for which a source states its formula."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from proposal.standards.substitution import number_text


class OutOfRange(ValueError):  # noqa: N818 - it names the state; the text of it reaches the user
    """A value lies where the formula's source says nothing."""


@dataclass(frozen=True, slots=True)
class Range:
    """The numbers from low to high for which a formula is stated.

    above, below: whether low, high themselves are left out
    whole: whether only whole numbers are meant
    warning: where the source only warns outside the range, what it says; then nothing is raised
    """

    low: float = -math.inf
    high: float = math.inf
    above: bool = False
    below: bool = False
    whole: bool = False
    warning: str = ""

    def __contains__(self, number: float) -> bool:
        """Tell whether the number lies in the range."""
        if not math.isfinite(number) or (self.whole and number != int(number)):
            return False
        if number < self.low or number > self.high:
            return False
        return not ((self.above and number == self.low) or (self.below and number == self.high))

    def __str__(self) -> str:
        """Return the range in words."""
        parts = []
        if self.whole:
            parts.append("a whole number")
        if math.isfinite(self.low):
            parts.append(f"{'above' if self.above else 'at least'} {number_text(self.low)}")
        if math.isfinite(self.high):
            parts.append(f"{'below' if self.below else 'at most'} {number_text(self.high)}")
        return " and ".join(parts) or "a finite number"


@dataclass(frozen=True, slots=True)
class OneOf:
    """The only numbers for which a formula is stated."""

    numbers: tuple[float, ...]

    def __contains__(self, number: float) -> bool:
        """Tell whether the number is one of them."""
        return number in self.numbers

    def __str__(self) -> str:
        """Return the numbers as a list."""
        return "one of " + ", ".join(number_text(number) for number in self.numbers)


def numbers_in(value: object) -> tuple[float, ...]:
    """Return the numbers of a parameter, which is one number or a sequence of them.

    value: one number, or a sequence of numbers.
    """
    if not isinstance(value, float | int) and isinstance(value, Sequence):
        return tuple(float(number) for number in value)
    return (float(cast(float, value)),)


def check_validity(function: str, name: str, value: object, allowed: Range | OneOf) -> None:
    """Raise OutOfRange where a parameter lies outside its range, unless the range only warns.

    function, name: names of the formula and of its parameter, for the message
    value: one number or a sequence of them
    """
    for number in numbers_in(value):
        if number in allowed:
            continue
        warns = isinstance(allowed, Range) and allowed.warning != "" and math.isfinite(number)
        if not warns:
            raise OutOfRange(f"{function}: {name}: wanted {allowed}; found {number_text(number)}")
