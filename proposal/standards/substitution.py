"""Equations as plain text: the numbers put in for the symbols, for people to follow."""

import math
import operator
import re
from collections.abc import Callable, Mapping
from decimal import ROUND_HALF_EVEN, Decimal

SYMBOL = re.compile(r"[A-Za-zΑ-Ωα-ω_][A-Za-zΑ-Ωα-ω0-9_]*")
"""A symbol, or the name of a function."""
_CONDITION = re.compile(r"(\S+) ([=≤≥<>]) (\S+)")
_COMPARISONS: Mapping[str, Callable[[float, float], bool]] = {
    "=": operator.eq,
    "≤": operator.le,
    "≥": operator.ge,
    "<": operator.lt,
    ">": operator.gt,
}
_MOST_TERMS_SHOWN = 6


def number_text(number: float) -> str:
    """Return a number rounded to four significant digits, whole numbers in full, always the same way."""
    if not math.isfinite(number):
        return "unbounded" if number > 0 else str(number)
    if number == int(number) and abs(number) < 1e12:
        return str(int(number)).replace("-", "−")
    exact = Decimal(repr(float(number)))
    rounded = exact.quantize(Decimal(1).scaleb(exact.adjusted() - 3), rounding=ROUND_HALF_EVEN).normalize()
    power = rounded.adjusted()
    if -4 <= power < 9:
        text = format(rounded, "f")
    else:
        text = f"{format(rounded.scaleb(-power).normalize(), 'f')}·10^{power}"
    return text.replace("-", "−")


def put_in(text: str, single: Mapping[str, float], many: Mapping[str, tuple[float, ...]]) -> str:
    """Return an expression with its numbers put in.

    text: the expression in symbols
    single: numbers by symbol
    many: numbers by the symbols inside `sum(…)`

    A sum is written out term by term, the first few of a long one. Of an `if` the value that applies is
    kept, where its conditions compare a symbol with a number or a symbol.
    """
    return _written(applying(_added(text, many), single), single)


def applying(text: str, single: Mapping[str, float]) -> str:
    """Return an expression that keeps of every `if` the value that applies.

    text: the expression in symbols
    single: numbers by symbol

    An `if` whose conditions cannot be judged stays as it is.
    """
    while call := _find_call(text, "if"):
        start, inner, end = call
        value = _applying(_arguments(inner), single)
        if value is None:
            return text
        text = _replaced(text, start, end, value)
    return text


def _written(text: str, numbers: Mapping[str, float]) -> str:
    def put(match: re.Match[str]) -> str:
        symbol = match.group()
        if symbol not in numbers:
            return symbol
        written = number_text(numbers[symbol])
        return f"({written})" if written.startswith("−") or "^" in written else written

    return SYMBOL.sub(put, text)


def _added(text: str, many: Mapping[str, tuple[float, ...]]) -> str:
    while many and (call := _find_call(text, "sum")):
        start, inner, end = call
        count = max(len(numbers) for numbers in many.values())
        terms = [
            _written(inner, {symbol: numbers[place] for symbol, numbers in many.items()})
            for place in range(min(count, _MOST_TERMS_SHOWN))
        ]
        if count > _MOST_TERMS_SHOWN:
            terms.append(f"… ({count} terms)")
        text = _replaced(text, start, end, " + ".join(terms) or "0")
    return text


def _applying(arguments: list[str], numbers: Mapping[str, float]) -> str | None:
    """Return the value of the first condition that holds; None where a condition cannot be judged."""
    *pairs, otherwise = arguments
    for condition, value in zip(pairs[::2], pairs[1::2], strict=True):
        match = _CONDITION.fullmatch(condition)
        if not match:
            return None
        try:
            left, right = (numbers[side] if side in numbers else float(side) for side in match.group(1, 3))
        except ValueError:
            return None
        if _COMPARISONS[match.group(2)](left, right):
            return value
    return otherwise


def _find_call(text: str, name: str) -> tuple[int, str, int] | None:
    """Return where the first call of that name begins, what stands in its parentheses, and where it ends."""
    match = re.search(rf"(?<![\w.]){name}\(", text)
    if not match:
        return None
    depth, end = 1, match.end()
    while depth:
        depth += {"(": 1, ")": -1}.get(text[end], 0)
        end += 1
    return match.start(), text[match.end() : end - 1], end


def _arguments(inner: str) -> list[str]:
    parts, depth, begin = [], 0, 0
    for place, character in enumerate(inner):
        depth += {"(": 1, ")": -1}.get(character, 0)
        if character == "," and depth == 0:
            parts.append(inner[begin:place].strip())
            begin = place + 1
    return [*parts, inner[begin:].strip()]


def _replaced(text: str, start: int, end: int, value: str) -> str:
    outside_calls = re.sub(r"\w+\([^()]*\)", "", value)
    compound = any(sign in outside_calls for sign in " ·/^")
    alone = text[max(start - 1, 0) : start] in ("", "(") and text[end : end + 1] in ("", ")")
    return text[:start] + (f"({value})" if compound and not alone else value) + text[end:]
