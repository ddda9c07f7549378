"""Where everything that carries a name stands in a site, so that pages can lead to it."""

from collections.abc import Iterable, Mapping
from typing import Literal

from proposal.document.document import Document
from proposal.document.rows.sheets import THE_PROGRAMME
from proposal.pages.markdown import anchor
from proposal.pages.paths import (
    ASSUMPTIONS,
    DISCLOSURE,
    EQUIPMENT,
    FINDINGS,
    PATHWAY_LIST,
    PATHWAYS,
    POWER,
    PRICE_ITEMS,
    PROGRAMME,
    REQUIREMENTS,
    ROOM_LIST,
    ROOMS,
    VALUES_TAKEN,
    activity_identity,
    drawing_path,
    lists_offer,
    port_name,
    room_sheet_path,
    switch_anchor,
)
from proposal.pages.schedule_parts import (
    cable_parts,
    device_parts,
    labour_parts,
    mains_parts,
    pathway_parts,
    price_line_parts,
    room_parts,
    switch_parts,
    takeoff_parts,
    value_parts,
)

Space = Literal[
    "tag", "switch", "room", "sheet", "number", "drawing", "model", "page", "activity", "alternate"
]

Targets = Mapping[tuple[Space, str], str]


def targets_of(document: Document, calculation_paths: Mapping[str, str]) -> Targets:
    """Return where everything that carries a name stands, for as much as the edition holds.

    calculation_paths: path of the page of each working by its number.
    """
    found: dict[tuple[Space, str], str] = {}

    def stands(space: Space, names: Iterable[str], path: str) -> None:
        for name in names:
            found.setdefault((space, name), f"{path}#{anchor(name)}")

    for rooms in room_parts(document):
        stands("tag", (row.tag for row in rooms.rows), ROOMS if rooms.path == ROOM_LIST else rooms.path)
    stands("tag", (row.tag for row in document.equipment_rooms), ROOMS)
    stands("tag", (row.tag for row in document.storeys), ROOMS)
    for part in device_parts(document):
        stands("tag", (row.tag for row in part.rows), part.path)
    for cables in cable_parts(document):
        stands("tag", (row.identity for row in cables.rows), cables.path)
    for ways in pathway_parts(document):
        stands("tag", (row.tag for row in ways.rows), PATHWAYS if ways.path == PATHWAY_LIST else ways.path)
    page_of = {switch.tag: part.path for part in switch_parts(document) for switch in part.rows}
    for port in document.ports:
        stands("tag", (port_name(port.switch, port.port),), page_of.get(port.switch, POWER))
    for tag, path in page_of.items():
        found["switch", tag] = f"{path}#{switch_anchor(tag)}"
    page_of = {place: places.path for places in mains_parts(document) for place in places.rows}
    for circuit in document.circuits:
        stands("tag", (circuit.identity,), page_of[circuit.place])
    stands("tag", (row.tag for row in document.requirements), REQUIREMENTS)
    for values in value_parts(document):
        path = ASSUMPTIONS if values.path == VALUES_TAKEN else values.path
        stands("number", (row.number for row in values.rows), path)
    stands("number", (row.number for row in document.questions), ASSUMPTIONS)
    stands("number", (row.number for row in document.findings), FINDINGS)
    stands("number", (row.number for row in document.house_findings), DISCLOSURE)
    for quantities in takeoff_parts(document):
        stands("number", (row.number for row in quantities.rows), quantities.path)
    for work in labour_parts(document):
        stands("number", (row.number for row in work.rows), work.path)
    if lists_offer(document):
        stands("number", (row.number for row in document.offer), PRICE_ITEMS)
    for lines in price_line_parts(document):
        stands("number", (row.number for row in lines.rows), lines.path)
    for activity in document.activities:
        found["activity", activity.key] = f"{PROGRAMME}#{anchor(activity_identity(activity.key))}"
    stands("model", (row.model for row in document.equipment), EQUIPMENT)
    if document.programme is not None:
        found["tag", THE_PROGRAMME] = PROGRAMME
    for number, path in calculation_paths.items():
        found["number", number] = f"{path}#{anchor(number)}"
    for sheet in document.room_sheets:
        found["sheet", sheet.key] = room_sheet_path(sheet.key)
        for tag in sheet.rooms:
            found["room", tag] = room_sheet_path(sheet.key)
    for drawing in (*document.sheets, *document.detail_sheets, *document.check_sheets):
        found["drawing", drawing.number] = drawing_path(drawing.number)
    return found
