"""How many rows of each schedule stand on one page."""

from collections.abc import Mapping

from proposal.document.readers import Shown
from proposal.document.rows.cabling import CableRow, RiserLine
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.findings import AssumptionRow
from proposal.document.rows.labour import LabourRow
from proposal.document.rows.network import NetworkHostRow
from proposal.document.rows.pathways import PathwayRow
from proposal.document.rows.price import RoomPrice
from proposal.document.rows.price_build_up import PriceLineRow
from proposal.document.rows.radio import FurtherRow, MarginRow, RadioPlaceRow
from proposal.document.rows.rooms import RoomRow
from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.sound import StreamRow
from proposal.document.rows.takeoff import TakeoffRow
from proposal.document.schedule import columns_of
from proposal.pages.paths import (
    BUILD_UP,
    CABLE_RUNS,
    CABLE_SCHEDULE,
    DEVICES,
    FURTHER,
    LABELS,
    LABOUR_LINES,
    MAINS,
    MARGIN,
    NETWORK,
    PATHWAY_LIST,
    POWER,
    RACKS,
    RADIO_LEVELS,
    RADIO_PLAN,
    ROOM_LIST,
    SHEET_LIST,
    STREAMS,
    TAKEOFF,
    VALUES_TAKEN,
)

_AIMED_BYTES = 270_000
"""So large is a page whose rows are as usual; 300 kB are what a browser takes easily."""
_COLUMN_BYTES: Mapping[str, tuple[type[Shown], int]] = {
    ROOM_LIST: (RoomRow, 40),
    DEVICES: (DeviceRow, 32),
    NETWORK: (NetworkHostRow, 58),
    CABLE_SCHEDULE: (CableRow, 39),
    CABLE_RUNS: (RiserLine, 43),
    STREAMS: (StreamRow, 75),
    PATHWAY_LIST: (PathwayRow, 40),
    SHEET_LIST: (SheetRow, 45),
    VALUES_TAKEN: (AssumptionRow, 22),
    FURTHER: (FurtherRow, 54),
    BUILD_UP: (PriceLineRow, 31),
    MARGIN: (RoomPrice, 84),
    TAKEOFF: (TakeoffRow, 24),
    LABOUR_LINES: (LabourRow, 32),
    RADIO_LEVELS: (MarginRow, 60),
    RADIO_PLAN: (RadioPlaceRow, 45),
}
"""What stands in each row of a schedule, and so many bytes that a column of it takes on its page."""
MOST_ROWS: Mapping[str, int] = {
    **{page: _AIMED_BYTES // (size * len(columns_of(part))) for page, (part, size) in _COLUMN_BYTES.items()},
    POWER: 9,
    MAINS: 55,
    RACKS: 20,
    LABELS: 400,
}
"""So many rows of each schedule stand on one page, which thus stays under about 300 kB, codes not counted.

A column more makes them fewer. Of ports so many switches, of mains power so many places, of racks so many,
each with all that belongs to it.
"""
