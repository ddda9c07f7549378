"""Quantities as a person writes them, with their unit, and as the program keeps them, in SI.

Each type below is a `float` that pydantic reads from text such as `7.2 m`, `12 ft 6 in` or `68 °F`. A bare
number is taken only when it is a Python or JSON number; in a file every scalar is text, so there the unit is
compulsory. Values are computed exactly and rounded once, when they become a float.
"""

import math
import re
from fractions import Fraction as Ratio
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from proposal.field_classes import dataclass
from proposal.quantities.messages import refusal, shape, shown
from proposal.quantities.money import Money as Money
from proposal.quantities.units import KINDS, Kind
from proposal.quantities.units import Units as Units
from proposal.quantities.units import in_units as in_units

if TYPE_CHECKING:
    from pydantic import GetJsonSchemaHandler
    from pydantic.json_schema import JsonSchemaValue

LONGEST_TEXT = 64

_SIGNS = str.maketrans(
    {
        "−": "-",
        "\u00a0": " ",
        "\u2007": " ",
        "\u2126": "Ω",
        "\u03bc": "µ",
        "′": "'",
        "’": "'",
        "″": '"',
        "”": '"',
    }
)
_GROUPS = re.compile(r"(?<=[0-9])[\u2009\u202f](?=[0-9]{3}(?![0-9]))")
_ARCHITECTS_DASH = re.compile(r"(?<=')\s?-\s?(?=[0-9])")
_NUMBER = r"(?:(?:[0-9]+ +)?[0-9]+/[1-9][0-9]*|[0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]{1,3})?)"


_LEAST = Ratio(1, 10**12)
_PLAIN = re.compile(r"([0-9]{1,9})(?:\.([0-9]{1,9}))? ?([^0-9]+)")


@cache
def _part(kind: str) -> re.Pattern[str]:
    """Return the pattern of one number with its unit."""
    return re.compile(rf" *({_NUMBER}) *({_units_pattern(kind)})(?=[ 0-9]|$)")


def _units_pattern(kind: str) -> str:
    known = KINDS[kind]
    names = sorted((*known.units, *known.power_units), key=lambda name: (-len(name), name))
    return "|".join(re.sub(r"([()/.])", r"\\\1", name) for name in names)


def _ratio(text: str) -> Ratio:
    """Return the exact value of `7.2`, `1e3`, `1/2` or `6 1/2`."""
    return sum((Ratio(part) for part in text.split()), start=Ratio(0))


def _such_as(kind: Kind) -> str:
    return f"such as {kind.examples[0]} or {kind.examples[1]}"


@dataclass(frozen=True, slots=True)
class Told:
    """A number that is written without a unit, and the kind of quantity as which it is told."""

    kind: str


@lru_cache(maxsize=4096)
def parse(text: str, kind: str) -> float:
    """Return the value of a quantity in the unit the program keeps it in.

    text: number and unit, such as `7.2 m`, `12' 6 1/2"`, `8 h 30 min`.
    kind: a key of KINDS.
    Raises PydanticCustomError whose message says what was wanted and found.
    """
    known = KINDS[kind]
    plain = _PLAIN.fullmatch(text)
    if plain and (unit := known.units.get(plain[3])) is not None and plain[3] not in known.offsets:
        # What most quantities are: one decimal number and its unit. Whole numbers are quicker than ratios.
        places = plain[2] or ""
        value = Ratio(int(plain[1] + places) * unit.numerator, 10 ** len(places) * unit.denominator)
        return _plausible(value, known, text)
    if len(text) > LONGEST_TEXT:
        raise refusal(f"{known.noun} of at most {LONGEST_TEXT} characters, {_such_as(known)}", shown(text))
    if re.search(r"[0-9],[0-9]", text):
        raise refusal(f"{known.noun} with a decimal point and no comma, {_such_as(known)}", shown(text))
    written = _GROUPS.sub("", text).replace("\u2009", " ").replace("\u202f", " ").translate(_SIGNS).strip()
    sign = -1 if written.startswith("-") else 1
    written = _ARCHITECTS_DASH.sub(" ", written.removeprefix("-") if sign < 0 else written.removeprefix("+"))
    parts: list[tuple[Ratio, str]] = []
    position = 0
    while position < len(written) and (found := _part(kind).match(written, position)):
        parts.append((_ratio(found[1]), found[2]))
        position = found.end()
    if not parts or position < len(written) or not _follow_each_other(parts, known):
        raise refusal(f"{known.noun} with its unit, {_such_as(known)}", shown(text))
    if parts[0][1] in known.power_units:
        milliwatts = sign * parts[0][0] * known.power_units[parts[0][1]]
        if not Ratio(1, 10**30) <= milliwatts <= 10**30:
            raise refusal(f"{known.noun} above 0 mW, {_such_as(known)}", shown(text))
        return 10 * math.log10(milliwatts)
    total = sum((number * known.units[unit] for number, unit in parts), start=Ratio(0))
    return _plausible(sign * total + known.offsets.get(parts[0][1], 0), known, text)


def _follow_each_other(parts: list[tuple[Ratio, str]], kind: Kind) -> bool:
    """Say whether several numbers are one value: whole feet and then less than a foot in inches."""
    if len(parts) == 1:
        return True
    ranks = [
        next((rank for rank, names in enumerate(kind.chain) if unit in names), None) for _, unit in parts
    ]
    for (number, unit), (smaller, smaller_unit), rank, next_rank in zip(
        parts, parts[1:], ranks, ranks[1:], strict=False
    ):
        if rank is None or next_rank is None or next_rank <= rank or number.denominator != 1:
            return False
        if smaller * kind.units[smaller_unit] >= kind.units[unit]:
            return False
    return True


def _plausible(value: Ratio, kind: Kind, text: str) -> float:
    if not kind.smallest <= value <= kind.largest:
        limits = f"from {float(kind.smallest):g} to {float(kind.largest):g} {kind.unit}"
        raise refusal(f"{kind.noun} {limits}, {_such_as(kind)}", shown(text))
    if value and abs(value) < _LEAST:
        raise refusal(f"{kind.noun} of a size that can be told from 0, {_such_as(kind)}", shown(text))
    return float(value)


@dataclass(frozen=True, slots=True)
class Quantity:
    """What makes a float a quantity for pydantic: text with a unit in, SI inside.

    kind: a key of KINDS.
    """

    kind: str

    def _read(self, value: object) -> float:
        kind = KINDS[self.kind]
        if isinstance(value, str):
            return parse(value, self.kind)
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise refusal(f"{kind.noun} with its unit, {_such_as(kind)}", shape(value))
        if isinstance(value, float) and not math.isfinite(value):
            raise refusal(f"{kind.noun} that is a finite number, {_such_as(kind)}", str(value))
        # Python refuses to write out integers of thousands of digits.
        found = str(value) if abs(value) < 1e300 else "a very large number"
        return _plausible(Ratio(value), kind, found)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read text before pydantic sees a float, so that its limits compare SI values."""
        return core_schema.no_info_before_validator_function(self._read, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: "GetJsonSchemaHandler"
    ) -> "JsonSchemaValue":
        """Describe the text for editors, or the number for those who read a computed document."""
        kind = KINDS[self.kind]
        if handler.mode == "serialization":
            return {"type": "number", "description": f"{kind.noun.capitalize()} in {kind.unit}."}
        example = " or ".join(kind.examples)
        return {
            "type": "string",
            "description": f"{kind.noun.capitalize()} with its unit, such as {example}.",
            "examples": list(kind.examples),
            "pattern": json_pattern(self.kind),
        }


def json_pattern(kind: str) -> str:
    """Return the regular expression, in the dialect of JSON Schema, that a quantity's text obeys.

    kind: kind of quantity.
    """
    number = r"(?:(?:[0-9]+ +)?[0-9]+/[1-9][0-9]*|[0-9]+(?:\.[0-9]+)?(?:[eE][-+]?[0-9]{1,3})?)"
    part = rf"{number}\s*(?:{_units_pattern(kind)})"
    if KINDS[kind].chain:
        part = rf"{part}(?:[\s-]*{part})*"
    return rf"^\s*(?:[-−+]?{part})\s*$"


Length = Annotated[float, Quantity("length")]
Area = Annotated[float, Quantity("area")]
Mass = Annotated[float, Quantity("mass")]
Power = Annotated[float, Quantity("power")]
ApparentPower = Annotated[float, Quantity("apparent_power")]
Energy = Annotated[float, Quantity("energy")]
Charge = Annotated[float, Quantity("charge")]
Voltage = Annotated[float, Quantity("voltage")]
Current = Annotated[float, Quantity("current")]
Resistance = Annotated[float, Quantity("resistance")]
Frequency = Annotated[float, Quantity("frequency")]
Duration = Annotated[float, Quantity("duration")]
Temperature = Annotated[float, Quantity("temperature")]
TemperatureRise = Annotated[float, Quantity("temperature_rise")]
Level = Annotated[float, Quantity("level")]
LevelDbm = Annotated[float, Quantity("level_dbm")]
SoundLevel = Annotated[float, Quantity("sound_level")]
Angle = Annotated[float, Quantity("angle")]
Fraction = Annotated[float, Quantity("fraction")]
DataRate = Annotated[float, Quantity("data_rate")]
Force = Annotated[float, Quantity("force")]
ForcePerLength = Annotated[float, Quantity("force_per_length")]


_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(?: ?([ap])m)?", re.IGNORECASE)


def _read_time_of_day(value: object) -> int:
    wanted = "a time of day from 00:00 to 24:00, such as 09:30 or 9:30 am"
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= 24 * 60:
        return value
    if not isinstance(value, str):
        raise refusal(wanted, shape(value))
    found = _CLOCK.fullmatch(value.strip()) if len(value) <= LONGEST_TEXT else None
    if found is None:
        raise refusal(wanted, shown(value))
    hour, minute = int(found[1]), int(found[2])
    if half := found[3]:
        # 12 am is midnight and 12 pm is noon.
        hour = hour % 12 + (12 if half.lower() == "p" else 0) if 1 <= hour <= 12 else 99
    if minute > 59 or hour * 60 + minute > 24 * 60:
        raise refusal(wanted, shown(value))
    return hour * 60 + minute


_COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")


def _read_colour(value: object) -> str:
    wanted = 'a colour in quotes, # and six hexadecimal digits, such as "#1f4e79"'
    if not isinstance(value, str):
        raise refusal(wanted, shape(value))
    if not _COLOUR.fullmatch(value.strip()):
        raise refusal(wanted, shown(value))
    return value.strip().lower()


@dataclass(frozen=True, slots=True)
class _TimeOfDayText:
    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(_read_time_of_day, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: "GetJsonSchemaHandler"
    ) -> "JsonSchemaValue":
        if handler.mode == "serialization":
            return {"type": "integer", "description": "Minutes since midnight."}
        return {
            "type": "string",
            "description": "A time of day from 00:00 to 24:00, such as 09:30.",
            "examples": ["09:30"],
            "pattern": r"^\s*(?:[0-9]{1,2}:[0-9]{2}(?: ?[AaPp][Mm])?)\s*$",
        }


@dataclass(frozen=True, slots=True)
class _ColourText:
    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(_read_colour, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: "GetJsonSchemaHandler"
    ) -> "JsonSchemaValue":
        return {
            "type": "string",
            "description": "A colour as # and six hexadecimal digits, such as #1f4e79.",
            "examples": ["#1f4e79"],
            "pattern": r"^\s*(?:#[0-9A-Fa-f]{6})\s*$",
        }


TimeOfDay = Annotated[int, _TimeOfDayText()]
Colour = Annotated[str, _ColourText()]
