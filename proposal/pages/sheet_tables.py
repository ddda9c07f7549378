"""Which schedules hold as tables what a drawing sheet shows."""

from collections.abc import Mapping

from proposal.document.rows.sheets import SheetRow
from proposal.pages import paths
from proposal.pages.channels import CHANNELS, channel_places_of
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext

_LAID = ("devices", "cables", "pathways")
TABLES: Mapping[str, tuple[str, ...]] = {
    "riser overall": ("runs", "pathways"),
    "riser detail": ("devices", "cables"),
    "floor plan": (*_LAID, "mains"),
    "ceiling plan": _LAID,
    "room plan": ("devices", "cables"),
    "portable place": ("devices",),
    "mounting details": ("devices",),
    "device schedule": (*_LAID, "ports", "mains"),
    "signal flow": ("channels", "cables"),
    "charge timeline": ("room",),
    "conduit sections": ("pathways",),
    "rack elevation": ("racks", "mains"),
    "equipment room plan": ("racks", "pathways", "mains"),
    "network": ("network", "ports"),
    "level map": ("radio", "room"),
    "radio neighbours": ("radio",),
    "cut plan": ("reels",),
    "gantt chart": ("programme",),
    "crew loading": ("programme",),
}
"""Schedules that hold what each kind of drawing shows."""


def tables_of(here: PageContext, sheet: SheetRow) -> tuple[Html, ...]:
    """Return links to the schedules that hold as tables what a sheet shows, those that the edition has."""
    document = here.document
    pages = {
        "devices": (paths.DEVICES, "Equipment by device", document.devices),
        "runs": (paths.CABLES, "Cable totals and runs", True),
        "cables": (paths.CABLE_SCHEDULE, "Cable schedule", document.cables),
        "pathways": (paths.PATHWAYS, "Pathways and conduits", document.pathways),
        "mains": (paths.MAINS, "Mains power", document.circuits),
        "ports": (paths.POWER, "Switch ports and power", document.switches),
        "channels": (CHANNELS, "Channels and settings", channel_places_of(document)),
        "racks": (paths.RACKS, "Racks", document.racks),
        "network": (paths.NETWORK, "For the network team", document.network_hosts),
        "radio": (paths.RADIO, "Radio", document.radio),
        "reels": (paths.REELS, "Reels and cut plan", document.reel_orders),
        "programme": (paths.PROGRAMME, "Programme", document.programme and document.activities),
        "room": next(
            (
                (paths.room_sheet_path(kind.key), kind.title, True)
                for kind in document.room_sheets
                if kind.key == sheet.subject
            ),
            ("", "", False),
        ),
    }
    chosen = (pages[name] for name in TABLES.get(sheet.kind, ()))
    return tuple(here.to(path, title) for path, title, held in chosen if held)
