"""What each field of a row holds, from one closed list."""

from collections.abc import Mapping
from typing import Literal, get_args

Quantity = Literal[
    "text",
    "word",
    "verdict",
    "tag",
    "code",
    "flag",
    "number",
    "count",
    "how many",
    "unit",
    "length",
    "small length",
    "cut length",
    "position",
    "area",
    "coordinates",
    "weight",
    "newtons",
    "degrees",
    "temperature",
    "temperature rise",
    "watts",
    "tap of a loudspeaker",
    "volt-amperes",
    "amperes",
    "milliamperes",
    "kilowatt-hours",
    "BTU an hour",
    "airflow",
    "milliseconds",
    "volts",
    "ohms",
    "hertz",
    "bits per second",
    "speed of a port",
    "dB",
    "loss of a line",
    "loss by length",
    "dBm",
    "whole dB",
    "share",
    "added share",
    "ratio",
    "money",
    "difference",
    "unit price",
    "price by unit",
    "exchange rate",
    "hours",
    "unit hours",
    "minutes",
    "days",
    "working days",
    "by calendar",
    "calendar",
    "date",
    "time of day",
    "figure",
    "by kind",
    "kind",
    "by rule",
    "rule",
    "rows",
    "blank",
]
"""What a value is. Those that are not plain:

word: a coded value, which the table of words spells. verdict: a word that says whether a check holds.
tag: the name by which a thing is known. code: signs to be read one by one, such as an equation or a digest.
number: one that names, and is neither added nor grouped.
how many: of what the row's `unit` says. figure: of a calculation, in the row's `unit`.
cut length: of what is cut to it, so that feet have inches however long it is.
position: along an axis or above a floor, finer than a length of cable.
unit hours: for one unit; a share where the unit is an hour. minutes: a duration. time of day: minutes
after midnight. hertz: shown in MHz. milliseconds: of seconds, shown in ms. share: 0 to 1. added share: added
to a whole or, below 0, taken away. difference: money that something comes to more or, below 0, less. whole
dB: decibels that are not known any closer. unit price, exchange rate: with all their digits.
price by unit: for one of what the row's unit says; where that is a foot, what a foot costs.
by kind, by rule, by calendar: as the row's `kind` (of quantity), `rule` (of the price), `calendar` says.
rows: a schedule of its own. blank: nothing yet, to be filled in on paper.
"""

QUANTITIES: tuple[Quantity, ...] = get_args(Quantity)
# Quantity → the quantity of the field, or of the part, beside it that says how it is written.
BESIDE: Mapping[Quantity, Quantity] = {
    "how many": "unit",
    "figure": "unit",
    "unit hours": "unit",
    "price by unit": "unit",
    "by kind": "kind",
    "by rule": "rule",
    "by calendar": "calendar",
}
# What is written in words, or in many units; a column of all else is right-aligned and sorts by size.
WORDS: frozenset[Quantity] = frozenset(
    {
        "text",
        "word",
        "verdict",
        "tag",
        "code",
        "flag",
        "unit",
        "calendar",
        "kind",
        "by kind",
        "rule",
        "rows",
        "blank",
        "date",
    }
)
