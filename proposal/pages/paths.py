"""Where every page, and what stands on it, is in the site."""

from proposal.document.document import Document
from proposal.pages.markdown import anchor

CHANGES = "changes.md"
COVER, SUMMARY, ROOMS, SYSTEM = "index.md", "summary.md", "rooms.md", "system.md"
STATES, REQUIREMENTS = "states.md", "requirements.md"
DRAWINGS, EQUIPMENT, DEVICES = "drawings.md", "equipment.md", "devices.md"
CABLES, CABLE_SCHEDULE, POWER = "cables.md", "cable-schedule.md", "power.md"
RACKS, MAINS, NETWORK = "racks.md", "mains.md", "network.md"
PATHWAYS, OWNER_EQUIPMENT = "pathways.md", "owner-equipment.md"
CALCULATIONS, FINDINGS, ASSUMPTIONS = "calculations.md", "findings.md", "assumptions.md"
DISCLOSURE = "disclosure.md"
LABELS, TAKEOFF, REELS = "labels.md", "takeoff.md", "reels.md"
PROGRAMME, CALENDAR_FILE = "programme.md", "programme.ics"
DOWNLOADS = "downloads"
"""Folder of the files that a site is handed over with."""
ALTERNATES = "alternates.md"
PRICE, PRICE_ITEMS, UNIT_PRICES = "price.md", "price-items.md", "unit-prices.md"
BUILD_UP, MARGIN, CASH_FLOW = "price-build-up.md", "margin.md", "cash-flow.md"
LATENCY = "latency.md"
RADIO = "radio.md"
LABOUR, LABOUR_LINES = "labour.md", "labour-lines.md"
RADIO_LEVELS, RADIO_PLAN = "radio-levels.md", "radio-plan.md"
ROOM_LIST, CABLE_RUNS, STREAMS = "room-list.md", "cable-runs.md", "streams.md"
SHEET_LIST, FURTHER, VALUES_TAKEN = "drawing-list.md", "radio-further.md", "values-taken.md"
PATHWAY_LIST = "pathway-list.md"
"""Schedules that stand on a page with others; the parts of long ones have pages of their own."""
SCOPE, RESPONSIBILITIES, CAUTIONS = "scope.md", "responsibilities.md", "cautions.md"
GLOSSARY = "glossary.md"


def file_stem(name: str) -> str:
    """Return a tag or key as a file's name; different names never give the same one."""
    # An underscore is as good in a file's name as it is in a tag; in an id it stands for a stroke.
    return anchor(name).replace(".5f.", "\0").replace("_", ".2f.").replace("\0", "_")


def room_sheet_path(key: str) -> str:
    """Return the path of the page of a kind of room.

    key: of the kind of room.
    """
    return f"rooms/{file_stem(key)}.md"


def drawing_path(number: str) -> str:
    """Return the path of the page of a drawing sheet.

    number: of the sheet.
    """
    return f"drawings/{file_stem(number)}.md"


def part_path(page: str, name: str, number: int) -> str:
    """Return the path of the page of a part of a schedule.

    page: path of the schedule.  name: tag of the part, empty for what is of no storey.
    number: of a part of that, 0 where it is whole.
    """
    folder = page.removesuffix(".md")
    # Whatever the tags are: what is of none stands beside the folder, and no stem holds a stroke.
    stem = f"{folder}/{file_stem(name)}" if name else f"{folder}-elsewhere"
    return f"{stem}/{number}.md" if number else f"{stem}.md"


def switch_anchor(tag: str) -> str:
    """Return the id of a switch's own table of ports.

    tag: of the switch.
    """
    return f"ports-{anchor(tag)}"


def rack_anchor(tag: str) -> str:
    """Return the id of a rack's own table of places.

    tag: of the rack.
    """
    return f"places-{anchor(tag)}"


def activity_identity(key: str) -> str:
    """Return the identity of an activity's row, which no tag shares.

    key: of the activity.
    """
    return f"activity/{key}"


def port_name(switch: str, port: str) -> str:
    """Return what calculations and the equipment list call a port of a switch, `ER1-SW1/3`.

    port: its number, or its name on the device.
    """
    return f"{switch}/{port}"


def lists_offer(document: Document) -> bool:
    """Say whether the offer has a page of its own: of rooms alone, the page of the price says it all."""
    return document.price is not None and document.price.client_detail != "room"


def alternate_path(key: str) -> str:
    """Return the path of the page of an alternate.

    key: of the alternate.
    """
    return f"alternates/{file_stem(key)}.md"
