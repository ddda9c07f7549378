"""Published cases kept as CSV: a formula of `proposal.standards`, what goes in, what is printed."""

import csv
import importlib
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

FOLDER = Path(__file__).parent
COLUMNS = (
    "case",
    "source",
    "memory",
    "function",
    "inputs",
    "expected",
    "tolerance",
    "why this tolerance",
    "note",
)
OF_THE_DESIGN = frozenset({"cutting_stock.csv", "iso_4217.csv", "merge_patch_rfc_7396.csv"})
HALF_DIGIT = "half the last printed digit"


@dataclass(frozen=True, slots=True)
class Case:
    """One published value.

    expected: as printed, so that its last digit is known
    tolerance: how far the formula may be from it
    """

    file: str
    name: str
    source: str
    memory: str
    function: str
    inputs: dict[str, float]
    expected: str
    tolerance: float
    reason: str

    def computed(self) -> float:
        """Return what the formula gives, times the factor behind a `*` after its name."""
        path, _, factor = self.function.partition("*")
        module, _, name = path.partition(".")
        function = getattr(importlib.import_module(f"proposal.standards.{module}"), name)
        return float(function(**self.inputs)) * float(factor or 1)

    def misses_by(self, value: float) -> float:
        """Return how much farther a value is from the printed one than the tolerance; 0 or less is good."""
        noise = 1e-9 * max(1.0, abs(value))  # a printed 22.5 that is rounded to 22 lies on the very edge
        return abs(value - float(self.expected)) - self.tolerance - noise


def half_last_digit(printed: str) -> float:
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return float(Decimal(5).scaleb(exponent - 1))


def read_cases() -> list[Case]:
    """Return the cases of every file that holds formulas; what a design shows stands in files of its own."""
    cases = []
    for path in sorted(FOLDER.glob("*.csv")):
        if path.name in OF_THE_DESIGN:
            continue
        with path.open(encoding="utf-8", newline="") as file:
            rows = csv.DictReader(file)
            assert tuple(rows.fieldnames or ()) == COLUMNS, path.name
            for row in rows:
                pairs = (pair.split("=") for pair in row["inputs"].split())
                cases.append(
                    Case(
                        file=path.name,
                        name=row["case"],
                        source=row["source"],
                        memory=row["memory"],
                        function=row["function"],
                        inputs={name: float(number) for name, number in pairs},
                        expected=row["expected"],
                        tolerance=float(row["tolerance"]),
                        reason=row["why this tolerance"],
                    )
                )
    return cases
