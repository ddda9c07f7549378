"""Values for fields of the model: odd ones that may stand there, and wild ones that nobody means."""

import datetime
import math
import random
import typing
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from pydantic import BaseModel

from proposal.model.reading.fields import Wanted, wanted_at
from proposal.quantities.money import Money
from proposal.quantities.parsing import Colour, TimeOfDay
from proposal.quantities.units import Kind
from tests.bad_input.bases import Base
from tests.bad_input.random_edits import TOKENS

DEEPEST = 4

ODD_TEXTS = (
    "x", "Ünïcødé – „Saal“", "会議室", "غرفة الاجتماعات", "a|b|c", "<b>bold</b>", "</div></table>",
    "[link](x.md)", "`code`", "# heading", "* star", "1. one", "&amp; & &lt;", "{{ x }}", "{% x %}", "${x}",
    "%s %d", "\\", "\\n", "_under_ __under__", "!!! note", "=1+1", "@SUM(A1)", "-1", "+1", "'quoted",
    '"quoted"', "null", "none", "0", "a" * 300, "word " * 200, "x\u00a0y", "e\u0301", "😀 room", "CON",
    "index", "a/b", "..", "a,b;c", "тест", "ẞ", "ı",
)  # fmt: skip
ODD_NAMES = (
    "X1",
    "x",
    "A" * 24,
    "a.b",
    "a_b",
    "1",
    "0",
    "CON",
    "B101",
    "L0",
    "M1",
    "AP1",
    "ER1",
    "RK2",
    "Z-9",
)
NUMBERS = (
    "0",
    "1",
    "-1",
    "2",
    "3",
    "7",
    "0.5",
    "99",
    "1000",
    "1e3",
    "1000000000",
    "1e9",
    "1e-9",
    "-0",
    "0.0001",
)
WILD = (
    *TOKENS, *ODD_TEXTS, *NUMBERS, "1e9 m", "1000000000 m", "-5 m", "1e9 h", "100 km", "0.000001 mm",
    "1e9 W", "1e9 dB", [], {}, [[]], ["a", "b"], {"a": "b"}, [{"a": "b"}], ["1 m"], ["1 m", "2 m", "3 m"],
    {"at": ["1 m", "1 m"]}, "",
)  # fmt: skip


def wild(chance: random.Random) -> Any:
    """Return something that nobody means, of any shape."""
    return chance.choice(WILD)


def odd(chance: random.Random, wanted: Wanted, base: Base, name: str, depth: int = 0) -> Any:
    """Return plain data that a field may hold, or nearly: odd, at its limits, of any size.

    name: of the field, or of the collection that holds it.
    """
    annotation, origin = wanted.annotation, typing.get_origin(wanted.annotation)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return _model(chance, annotation, base, depth)
    if wanted.choices:
        return chance.choice(wanted.choices)
    if wanted.kind is not None:
        return quantity(chance, wanted.kind, *limits(wanted))
    if TimeOfDay.__metadata__[0] in wanted.metadata:
        return f"{chance.randrange(25):02d}:{chance.choice((0, 0, 15, 30, 59)):02d}"
    if Colour.__metadata__[0] in wanted.metadata:
        return f"#{chance.randrange(1 << 24):06x}"
    if isinstance(origin, type) and issubclass(origin, Mapping):
        count = 0 if depth > DEEPEST else chance.choice((0, 1, 1, 2, 3))
        return {
            key_of(chance, base, name): _inner(chance, wanted, "", base, name, depth) for _ in range(count)
        }
    if origin is tuple:
        members = typing.get_args(annotation)
        listed = members[-1] is Ellipsis
        least = next((part.min_length for part in wanted.metadata if hasattr(part, "min_length")), 0)
        count = least + chance.choice((0, 1, 2, 4)) if listed else len(members)
        return [_inner(chance, wanted, 0 if listed else n, base, name, depth) for n in range(count)]
    return _plain(chance, wanted, base, name)


def _inner(chance: random.Random, wanted: Wanted, key: str | int, base: Base, name: str, depth: int) -> Any:
    inner = wanted_at(wanted.annotation, (key,))
    assert inner is not None
    return odd(chance, inner, base, name, depth + 1)


def _model(chance: random.Random, model: type[BaseModel], base: Base, depth: int) -> dict[str, Any]:
    """Return a model's required fields, and some of its others."""
    rare = 0.3 if depth < DEEPEST else 0.0
    return {
        name: _inner(chance, Wanted(model), name, base, name, depth)
        for name, field in model.model_fields.items()
        if field.is_required() or chance.random() < rare
    }


def _plain(chance: random.Random, wanted: Wanted, base: Base, name: str) -> str:
    """Return a text, a number, a date, an amount or yes or no."""
    kind = wanted.annotation
    low, high = limits(wanted)
    if kind is bool:
        return chance.choice(("yes", "no"))
    if kind is int:
        whole = size(chance, 0 if low is None else low, 1e6 if high is None else high)
        return str(round(whole))
    if kind in (float, Decimal):
        return digits(size(chance, 0 if low is None else low, 1e6 if high is None else high))
    if kind is Money:
        currency = chance.choice(("EUR", "EUR", "EUR", "USD", "SEK", "JPY", "KWD"))
        return f"{digits(size(chance, 0, chance.choice((1e3, 1e12))))[:12].rstrip('.')} {currency}"
    if kind is datetime.date:
        days = chance.choice((1, 30, 400, 4000))
        return (datetime.date(2031, 4, 1) + datetime.timedelta(chance.randint(-days, days))).isoformat()
    known = base.texts.get(name, ())
    return chance.choice(known) if known and chance.random() < 0.7 else chance.choice(ODD_TEXTS)


def key_of(chance: random.Random, base: Base, name: str) -> str:
    """Return a key for a collection: one that it has in this project, or another."""
    known = base.keys.get(name, ())
    return chance.choice(known) if known and chance.random() < 0.75 else chance.choice(ODD_NAMES)


def limits(wanted: Wanted) -> tuple[float | None, float | None]:
    """Return the least and the greatest value of a field; None where it has none."""
    low: float | None = None
    high: float | None = None
    for part in wanted.metadata:
        for name in ("ge", "gt"):
            if getattr(part, name, None) is not None:
                low = float(getattr(part, name))
        for name in ("le", "lt"):
            if getattr(part, name, None) is not None:
                high = float(getattr(part, name))
    return low, high


def size(chance: random.Random, low: float, high: float) -> float:
    """Return a number between limits: a limit, near one, or of any order of magnitude."""
    match chance.randrange(8):
        case 0:
            return low
        case 1:
            return high
        case 2:
            return min(high, low + abs(low) * 0.01 + 1e-3)
        case _:
            top = max(abs(low), abs(high), 1e-2)
            # Most of what people write is a few units of something.
            most = math.log10(min(top, 40.0) if chance.random() < 0.6 else top)
            found = 10 ** chance.uniform(-2, max(most, -2))
            return min(high, max(low, -found if low < 0 and chance.random() < 0.3 else found))


def quantity(chance: random.Random, kind: Kind, low: float | None, high: float | None) -> str:
    """Return a quantity with one of its units, within limits in the unit it is kept in."""
    least = float(kind.smallest) if low is None else low
    most = float(kind.largest) if high is None else high
    unit = (
        chance.choice((kind.unit, kind.unit, *kind.units))
        if kind.unit in kind.units
        else next(iter(kind.units))
    )
    value = (size(chance, least, most) - float(kind.offsets.get(unit, 0))) / float(kind.units[unit])
    return f"{digits(value)} {unit}"


def digits(value: float) -> str:
    """Return a number in a few digits, without an exponent."""
    text = f"{value:.6f}" if abs(value) < 10 else f"{value:.2f}"
    return text.rstrip("0").rstrip(".") or "0"
