"""In which order the sheets of an edition stand: those of its reader's job first, then all others."""

from collections.abc import Mapping, Sequence

from proposal.document.readers import Reader
from proposal.exports.table import Table

JOBS: Mapping[Reader, tuple[str, ...]] = {
    "client": (
        *("rooms", "offer", "price", "room-prices", "taxes", "payments", "unit-prices", "yearly"),
        *("programme", "activities", "client-steps", "responsibilities", "equipment", "devices"),
        *("network-hosts", "network-uses", "network-questions", "questions", "assumptions"),
    ),
    "reviewer": (
        *("findings", "questions", "assumptions", "rooms", "equipment", "devices", "cables", "takeoff"),
        *("purchases", "reel-orders", "labour", "labour-summary", "workings", "margins", "switches", "ports"),
        *("racks", "rack-places", "circuits", "programme", "activities"),
    ),
    "estimator": (
        *("price", "group-prices", "surcharges", "takeoff", "takeoff-sums", "purchases", "reel-orders"),
        *("labour", "labour-summary", "overtime", "travel", "trades", "labour-conditions"),
        *("price-lines", "room-prices"),
        *("system-prices", "phase-prices", "taxes", "payments", "cash-flow", "offer", "unit-prices"),
        *("unit-costs", "yearly", "exchange-rates", "equipment", "hours-by-room", "hours-by-system"),
        *("hours-by-phase", "quantities-by-room", "quantities-by-phase", "quantities-by-system"),
        *("quantities-by-storey", "quantities-by-drawing", "quantities-by-supplier"),
        *("disclosure", "house-findings"),
    ),
    "installer": (
        *("rooms", "devices", "takeoff", "takeoff-sums", "quantities-by-room", "quantities-by-storey"),
        *("quantities-by-drawing", "purchases", "reel-orders", "reel-orders-reels", "cables"),
        *("cable-totals", "pathways", "pathway-contents", "penetrations", "pulls", "patches", "racks"),
        *("rack-places", "circuits", "mains-outlets", "ports", "network-hosts", "settings", "channels"),
        *("controls", "work-cautions", "activities", "crew-weeks"),
    ),
}
"""Schedules that each reader works with, in the order in which they are worked through."""


def in_order(tables: Sequence[Table], reader: Reader) -> tuple[Table, ...]:
    """Return the schedules of an edition in the order of its reader's job; others follow as they were.

    reader: whose edition it is.
    """
    order = {name: n for n, name in enumerate(JOBS[reader])}
    return tuple(sorted(tables, key=lambda table: order.get(table.name, len(order))))
