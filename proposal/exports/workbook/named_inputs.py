"""The inputs of the price as named cells, and how formulas refer to them."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal

from proposal.document.rows.price_inputs import PriceInputRow
from proposal.exports.workbook.formulas import number, rounded
from proposal.quantities import formatting

_RULES = ("margin", "markup", "discount")
PREFIX = "in_"


class NamedInputs:
    """Every input with its name, found by its key or by what it is."""

    def __init__(self, rows: Sequence[PriceInputRow], currency: str) -> None:
        """Give every input a name.

        currency: of the project.
        """
        self.rows = tuple(rows)
        self.currency = currency
        self.places = formatting.money_places(currency)
        self.names: Mapping[str, str] = _names(self.rows)
        self._by_key = {row.key: row for row in self.rows}

    def row(self, key: str) -> PriceInputRow | None:
        """Return the input with a key, if there is one."""
        return self._by_key.get(key)

    def name(self, key: str) -> str:
        """Return the name of an input by its key; empty where there is none."""
        return self.names.get(key, "")

    def only(self, what: str, subject: str, value: Decimal | None = None) -> str:
        """Return the key of the one input that is this; empty where there is none, or several.

        what, subject: as its row says.
        value: that it has, where that tells it from others.
        """
        found = [
            row.key
            for row in self.rows
            if (row.what, row.subject) == (what, subject) and (value is None or row.value == value)
        ]
        return found[0] if len(found) == 1 else ""

    def money(self, key: str) -> str:
        """Return the formula of an amount in the currency of the project, not rounded; empty if unknown."""
        row = self.row(key)
        if row is None:
            return ""
        if row.unit == self.currency:
            return self.names[key]
        rate = self.name(f"terms.exchange.{row.unit}.rate")
        return f"{self.names[key]}*{rate}" if rate else ""

    def amount(self, key: str) -> str:
        """Return the formula of an amount in the currency of the project, rounded; empty if unknown."""
        money = self.money(key)
        return rounded(money, self.places) if money else ""

    def value(self, key: str) -> Decimal | None:
        """Return the value of an amount in the currency of the project, not rounded; None if unknown."""
        row = self.row(key)
        if row is None or row.unit == self.currency:
            return None if row is None else row.value
        rate = self.row(f"terms.exchange.{row.unit}.rate")
        return None if rate is None else row.value * rate.value

    def piece(self, key: str) -> str:
        """Return the formula of what one piece costs or lists for; of a pack, its share of it."""
        row, money = self.row(key), self.money(key)
        if row is None or not money or row.pieces == 1:
            return money
        return rounded(f"{money}/{number(row.pieces)}", self.places + 2)

    def piece_value(self, key: str) -> Decimal | None:
        """Return the value of the same."""
        row, value = self.row(key), self.value(key)
        if row is None or value is None or row.pieces == 1:
            return value
        return formatting.rounded(value / row.pieces, self.places + 2)

    def rule(self, key: str) -> tuple[str, str]:
        """Return the sort of a rule and the formula of its value: `stated` for a price, empty at cost."""
        row = self.row(key)
        if row is None:
            return "", ""
        return (row.what, self.names[key]) if row.what in _RULES else ("stated", self.amount(key))


def _names(rows: Sequence[PriceInputRow]) -> dict[str, str]:
    """Return a legal name for each key: letters, digits and underscores, each once."""
    plain = {row.key: PREFIX + re.sub(r"[^A-Za-z0-9_]", "_", row.key)[:200] for row in rows}
    count = Counter(name.casefold() for name in plain.values())
    return {
        key: name if count[name.casefold()] == 1 else f"{name}__{n}"
        for n, (key, name) in enumerate(plain.items(), 1)
    }
