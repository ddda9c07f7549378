"""No sheet shows less of a room than another sheet of its edition, where both show a kind of device."""

from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import pytest

from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.sheets import SheetRow
from proposal.drawings.plan.plan_marks import code_of
from proposal.editions import edition_of
from tests.drawings.shown import svg_of, texts
from tests.drawings.test_sheets import codes_in
from tests.whole_projects import whole_document

ROOT = Path(__file__).parents[2]
PROJECTS = (
    "example_project",
    "tests/projects/us_customary",
    "tests/projects/failing",
    "tests/projects/university",
    "tests/projects/states",
)
READERS: tuple[Reader, ...] = ("installer", "client")
# What a level map names: it shows where sound is sent from, not where it is heard.
ON_LEVEL_MAPS = {"access point", "charger", "microphone"}


@pytest.fixture(scope="module", params=PROJECTS)
def project(request: pytest.FixtureRequest) -> Document:
    return whole_document(ROOT / request.param)


def named_on(project: Document, sheets: Iterable[SheetRow], reader: Reader) -> Counter[str]:
    """Return how often sheets name each code or tag; a range names each that it holds.

    What tells heights, how codes are made, and where a cable goes on names them beside their marks, and is
    not counted.
    """
    return Counter(
        code
        for sheet in sheets
        for text in texts(svg_of(project, sheet, reader))
        if " at " not in f"{text} " and not text.startswith(("Codes follow", "up to ", "down to "))
        for code in codes_in(text)
    )


def standing(document: Document) -> list[DeviceRow]:
    """Return the devices that stand at a place of a room, none in a rack or carried along in a charger."""
    rooms = {room.tag for room in document.rooms}
    racks = {device.tag for device in document.devices if device.kind == "rack"}
    return [
        row for row in document.devices
        if row.room in rooms and row.at is not None and row.location not in {*racks, "charger"}
    ]  # fmt: skip


def codes(rows: Iterable[DeviceRow]) -> Counter[str]:
    return Counter(code_of(row.tag, row.room) for row in rows)


@pytest.mark.parametrize("reader", READERS)
def test_plans_of_a_storey_name_what_plans_of_its_rooms_name(project: Document, reader: Reader) -> None:
    seen = edition_of(project, reader).document
    devices = standing(seen)
    assert devices
    for storey in {row.storey for row in devices}:
        here = [row for row in devices if row.storey == storey]
        # What hangs on a wall stands on the one or the other, by its height.
        for kinds, wanted in (
            ({"ceiling plan"}, codes(row for row in here if row.location == "ceiling")),
            ({"floor plan", "ceiling plan"}, codes(here)),
        ):
            sheets = [sheet for sheet in seen.sheets if sheet.kind in kinds and sheet.subject == storey]
            assert {sheet.kind for sheet in sheets} == kinds, storey
            named = named_on(project, sheets, reader)
            assert {code: named[code] for code in wanted} == dict(wanted), (kinds, storey)
    for room in {row.room for row in devices}:
        sheets = [sheet for sheet in seen.sheets if sheet.kind == "room plan" and room in sheet.members]
        named = named_on(project, sheets, reader)
        assert set(codes(row for row in devices if row.room == room)) <= set(named), room


@pytest.mark.parametrize("reader", READERS)
def test_level_maps_and_radio_neighbours_name_what_room_plans_name(project: Document, reader: Reader) -> None:
    seen = edition_of(project, reader).document
    devices = standing(seen)
    rooms_of = {row.key: row.rooms for row in seen.room_sheets}
    maps = [sheet for sheet in seen.sheets if sheet.kind == "level map"]
    assert maps
    for sheet in maps:
        named = set(named_on(project, [sheet], reader))
        for room in rooms_of[sheet.subject]:
            wanted = codes(row for row in devices if row.room == room and row.kind in ON_LEVEL_MAPS)
            assert set(wanted) <= named, (sheet.number, room)
    if reader == "installer":
        neighbours = [sheet for sheet in seen.detail_sheets if sheet.kind == "radio neighbours"]
        for sheet in neighbours:
            here = (row for row in devices if row.storey == sheet.subject and row.kind == "access point")
            named_here, wanted = named_on(project, [sheet], reader), codes(here)
            assert {code: named_here[code] for code in wanted} == dict(wanted), sheet.number
        assert neighbours
