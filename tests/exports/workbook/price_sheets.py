"""The sheets that the price is made of: LibreOffice is done with these in less than half of the time."""

from collections.abc import Sequence

from proposal.exports.table import Table

SHEETS = (
    "overtime",
    "takeoff", "purchases", "labour", "labour-summary", "travel", "trades", "hours-by-room",
    "hours-by-system", "hours-by-phase", "price", "room-prices", "system-prices", "phase-prices",
    "group-prices", "taxes", "payments", "price-lines", "surcharges", "equipment", "yearly",
    "exchange-rates", "takeoff-sums", "quantities-by-room", "quantities-by-phase", "quantities-by-system",
    "quantities-by-storey", "quantities-by-drawing", "quantities-by-supplier", "offer", "cash-flow",
    "unit-costs", "unit-prices",
)  # fmt: skip


def tables_of(tables: Sequence[Table]) -> list[Table]:
    """Return those of all schedules that the price is made of."""
    return [table for table in tables if table.name in SHEETS]
