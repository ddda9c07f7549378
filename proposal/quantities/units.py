"""The kinds of quantity: units they are written in, sizes they may have, units they are shown in.

Conversion factors follow from exact definitions: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg and
1 lbf = 4.4482216152605 N (international yard and pound agreement of 1959, NIST SP 811).
"""

from collections.abc import Mapping
from dataclasses import field
from fractions import Fraction as Ratio
from typing import Literal

from proposal.field_classes import dataclass

_FOOT = Ratio("0.3048")
_INCH = _FOOT / 12
_POUND = Ratio("0.45359237")
_POUND_FORCE = Ratio("4.4482216152605")
_PERCENT = Ratio(1, 100)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of quantity: what it is called, the units it is written in and the size it may have.

    noun: with its article, as a message calls it.
    unit: the unit the program keeps it in.
    examples: as a person would write it.
    units: text of a unit → factor, and offsets: kept value = written value × factor + offset.
    chain: units that may follow each other in one value, largest first, as in `12 ft 6 in`.
    power_units: units of power → milliwatts, for a level that may also be written as a power.
    smallest, largest: what is taken for a plausible value, in the unit it is kept in.
    """

    noun: str
    unit: str
    examples: tuple[str, ...]
    units: Mapping[str, Ratio]
    offsets: Mapping[str, Ratio] = field(default_factory=dict)
    chain: tuple[tuple[str, ...], ...] = ()
    power_units: Mapping[str, Ratio] = field(default_factory=dict)
    smallest: Ratio
    largest: Ratio


def _kind(
    noun: str,
    unit: str,
    examples: tuple[str, ...],
    units: Mapping[str, Ratio | int],
    largest: int,
    *,
    offsets: Mapping[str, Ratio] | None = None,
    smallest: Ratio | None = None,
    chain: tuple[tuple[str, ...], ...] = (),
    power_units: Mapping[str, Ratio] | None = None,
) -> Kind:
    return Kind(
        noun=noun,
        unit=unit,
        examples=examples,
        units={name: Ratio(factor) for name, factor in units.items()},
        offsets=offsets or {},
        chain=chain,
        power_units=power_units or {},
        smallest=Ratio(-largest) if smallest is None else smallest,
        largest=Ratio(largest),
    )


_FEET = ("ft", "feet", "foot", "'")
_INCHES = ("in", "inches", "inch", '"')
_MILLI, _MICRO = Ratio(1, 1000), Ratio(1, 1_000_000)
_FAHRENHEIT = Ratio(5, 9)

KINDS: Mapping[str, Kind] = {
    "length": _kind(
        "a length",
        "m",
        ("7.2 m", "24 ft", "12 ft 6 in"),
        {"m": Ratio(1), "cm": Ratio(1, 100), "mm": _MILLI, "km": Ratio(1000)}
        | dict.fromkeys(_FEET, _FOOT)
        | dict.fromkeys(_INCHES, _INCH),
        100_000,
        chain=(_FEET, _INCHES),
    ),
    "area": _kind(
        "an area",
        "m²",
        ("42 m²", "450 ft²"),
        dict.fromkeys(("m²", "m2", "sq m"), 1)
        | dict.fromkeys(("cm²", "cm2"), Ratio(1, 10_000))
        | dict.fromkeys(("mm²", "mm2"), _MICRO)
        | dict.fromkeys(("ft²", "ft2", "sq ft"), _FOOT**2)
        | dict.fromkeys(("in²", "in2", "sq in"), _INCH**2),
        100_000_000,
    ),
    "mass": _kind(
        "a mass",
        "kg",
        ("2.4 kg", "350 g", "5 lb 8 oz"),
        {"kg": 1, "g": _MILLI, "lb": _POUND, "oz": _POUND / 16},
        1_000_000,
        chain=(("lb",), ("oz",)),
    ),
    "power": _kind(
        "a power",
        "W",
        ("30 W", "1.2 kW"),
        {"W": 1, "kW": 1000, "mW": _MILLI, "µW": _MICRO},
        1_000_000_000,
    ),
    "apparent_power": _kind("an apparent power", "VA", ("1500 VA", "3 kVA"), {"VA": 1, "kVA": 1000}, 10**9),
    "energy": _kind(
        "an energy", "Wh", ("9.6 Wh", "1.5 kWh"), {"Wh": 1, "kWh": 1000, "mWh": _MILLI}, 1_000_000_000
    ),
    "charge": _kind("a charge", "Ah", ("9 Ah", "2600 mAh"), {"Ah": 1, "mAh": _MILLI}, 1_000_000),
    "voltage": _kind("a voltage", "V", ("230 V", "42.5 V"), {"V": 1, "mV": _MILLI, "kV": 1000}, 1_000_000),
    "current": _kind("a current", "A", ("16 A", "350 mA"), {"A": 1, "mA": _MILLI, "kA": 1000}, 1_000_000),
    "resistance": _kind(
        "a resistance",
        "Ω",
        ("12.5 Ω", "600 ohm"),
        dict.fromkeys(("Ω", "ohm", "ohms"), 1) | {"mΩ": _MILLI, "kΩ": 1000, "kohm": 1000},
        1_000_000_000,
    ),
    "frequency": _kind(
        "a frequency",
        "Hz",
        ("1000 Hz", "1.9 GHz"),
        {"Hz": 1, "kHz": 1000, "MHz": 10**6, "GHz": 10**9},
        10**12,
    ),
    "duration": _kind(
        "a duration",
        "s",
        ("20 ms", "90 min", "8 h 30 min"),
        {"ms": _MILLI, "µs": _MICRO}
        | dict.fromkeys(("s", "sec", "second", "seconds"), 1)
        | dict.fromkeys(("min", "minute", "minutes"), 60)
        | dict.fromkeys(("h", "hr", "hour", "hours"), 3600)
        | dict.fromkeys(("d", "day", "days"), 86_400)
        | dict.fromkeys(("week", "weeks"), 604_800),
        10**10,
        chain=(
            ("d", "day", "days"),
            ("h", "hr", "hour", "hours"),
            ("min", "minute", "minutes"),
            ("s", "sec", "second", "seconds"),
        ),
    ),
    "temperature": _kind(
        "a temperature",
        "°C",
        ("20 °C", "68 °F"),
        dict.fromkeys(("°C", "C"), 1) | dict.fromkeys(("°F", "F"), _FAHRENHEIT) | {"K": 1},
        10_000,
        offsets=dict.fromkeys(("°F", "F"), -32 * _FAHRENHEIT) | {"K": Ratio("-273.15")},
        smallest=Ratio("-273.15"),
    ),
    "temperature_rise": _kind(
        "a difference of temperature",
        "K",
        ("15 K", "27 °F"),
        dict.fromkeys(("K", "°C", "C"), 1) | dict.fromkeys(("°F", "F"), _FAHRENHEIT),
        10_000,
    ),
    "level": _kind("a level", "dB", ("10 dB", "-3 dB"), {"dB": 1}, 1000),
    "level_dbm": _kind(
        "a power level",
        "dBm",
        ("24 dBm", "250 mW"),
        {"dBm": 1},
        1000,
        power_units={"µW": _MILLI, "mW": Ratio(1), "W": Ratio(1000)},
    ),
    "sound_level": _kind(
        "a sound level",
        "dB SPL",
        ("65 dBA", "85 dB SPL"),
        dict.fromkeys(("dB SPL", "dB", "dBA", "dB(A)"), 1),
        300,
    ),
    "angle": _kind("an angle", "°", ("90°", "45 deg"), dict.fromkeys(("°", "deg"), 1), 3600),
    "fraction": _kind("a share", "1", ("20 %", "7.5 %"), {"%": _PERCENT}, 1000),
    "data_rate": _kind(
        "a data rate",
        "bit/s",
        ("100 Mbit/s", "1 Gbit/s"),
        {
            prefix + unit: factor
            for prefix, factor in {"": 1, "k": 1000, "M": 10**6, "G": 10**9}.items()
            for unit in ("bit/s", "b/s", "bps")
        },
        10**13,
    ),
    "force": _kind("a force", "N", ("110 N", "25 lbf"), {"N": 1, "kN": 1000, "lbf": _POUND_FORCE}, 10**9),
    "force_per_length": _kind(
        "a force for each length",
        "N/m",
        ("12 N/m", "0.8 lbf/ft"),
        {"N/m": 1, "lbf/ft": _POUND_FORCE / _FOOT},
        10**9,
    ),
}

Units = Literal["metric", "us_customary"]

# What a value in SI is multiplied by for the pages; °F alone also shifts.
_SHOWN: Mapping[str, Mapping[Units, tuple[float, str]]] = {
    "length": {"metric": (1.0, "m"), "us_customary": (float(1 / _FOOT), "ft")},
    "position": {"metric": (1.0, "m"), "us_customary": (float(1 / _FOOT), "ft")},
    "short_length": {"metric": (1000.0, "mm"), "us_customary": (float(1 / _INCH), "in")},
    "area": {"metric": (1.0, "m²"), "us_customary": (float(1 / _FOOT**2), "ft²")},
    "short_area": {"metric": (1e6, "mm²"), "us_customary": (float(1 / _INCH**2), "in²")},
    "volume": {"metric": (1.0, "m³"), "us_customary": (float(1 / _FOOT**3), "ft³")},
    "mass": {"metric": (1.0, "kg"), "us_customary": (float(1 / _POUND), "lb")},
    "temperature": {"metric": (1.0, "°C"), "us_customary": (1.8, "°F")},
    "temperature_rise": {"metric": (1.0, "K"), "us_customary": (1.8, "°F")},
    "airflow": {"metric": (1.0, "m³/h"), "us_customary": (float(1 / (60 * _FOOT**3)), "ft³/min")},
    "heat_flow": {"metric": (1.0, "BTU/h"), "us_customary": (1.0, "BTU/h")},
    "force": {"metric": (1.0, "N"), "us_customary": (float(1 / _POUND_FORCE), "lbf")},
    "warming": {"metric": (1.0, "K·m/W"), "us_customary": (float(Ratio(9, 5) / _FOOT), "°F·ft/W")},
    "loss_per_length": {"metric": (1.0, "dB/km"), "us_customary": (float(_FOOT), "dB/1,000 ft")},
    "force_per_length": {"metric": (1.0, "N/m"), "us_customary": (float(_FOOT / _POUND_FORCE), "lbf/ft")},
}
_SAME_IN_BOTH: Mapping[str, tuple[float, str]] = {
    "fraction": (100.0, "%"),
    "frequency_mhz": (1e-6, "MHz"),
    "data_rate": (1e-6, "Mbit/s"),
    "port_speed": (1e-6, "Mbit/s"),
    "tap_power": (1.0, "W"),
    "line_loss": (1.0, "dB"),
    "latency": (1000.0, "ms"),
    "small_current": (1000.0, "mA"),
    "yearly_energy": (0.001, "kWh"),
} | {name: (1.0, kind.unit) for name, kind in KINDS.items() if name not in {*_SHOWN, "fraction", "data_rate"}}


def in_units(value: float, kind: str, units: Units) -> tuple[float, str]:
    """Return a value as the project's units show it, and the unit's text.

    value: in the unit the program keeps it in.
    kind: a key of KINDS, or short_length (mm, in), short_area, volume, latency (ms), frequency_mhz,
        small_current (mA), yearly_energy (kWh).
    units: the project's choice.
    """
    factor, unit = _SHOWN[kind][units] if kind in _SHOWN else _SAME_IN_BOTH[kind]
    shift = 32.0 if unit == "°F" and kind == "temperature" else 0.0
    return value * factor + shift, unit
