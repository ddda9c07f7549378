"""Drawings stay readable on A3 whatever the size of the building, and their sheets show everything once."""

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from proposal.differences.inputs import inputs_of
from proposal.document.document import Document
from proposal.document.readers import Reader
from proposal.document.schedule import Row, quantities_of
from proposal.drawings.kinds import drawing_of
from proposal.editions import edition_of, with_changes
from proposal.publish.earlier_issue import last_issue
from tests.drawings.buildings import building
from tests.drawings.collisions import collisions
from tests.drawings.shown import printed_pt, svg_in, svg_of, texts
from tests.whole_projects import whole_document

LEAST_PT = 7.0
EXAMPLE = "EX-2031-014"
PLANS = ("floor plan", "ceiling plan", "room plan", "mounting details", "device schedule")
ROOT = Path(__file__).parents[2]
PROJECTS = (
    "example_project",
    "tests/projects/us_customary",
    "tests/projects/failing",
    "tests/projects/states",
)
BUILDINGS = {
    "one room of 150 cables": (1, (150,)),
    "4 rooms of 45 cables": (4, (45,)),
    "12 rooms of 3 to 45 cables": (12, (3, 8, 45, 12)),
    "40 rooms of 3 cables": (40, (3,)),
    "40 rooms of 5 cables on one storey": (40, (5,), 1),
}


@pytest.fixture(scope="module", params=BUILDINGS)
def large(request: pytest.FixtureRequest) -> Document:
    return building(*BUILDINGS[request.param])


@pytest.fixture(scope="module", params=PROJECTS)
def project(request: pytest.FixtureRequest) -> Document:
    return whole_document(ROOT / request.param)


def assert_legible(document: Document) -> None:
    for sheet in [*document.sheets, *document.detail_sheets]:
        shown = svg_of(document, sheet)
        # A sheet laid out at A3 itself holds its size in millionths of a point.
        assert printed_pt(shown) >= LEAST_PT - 1e-6, sheet.number
    for sheet in document.check_sheets:
        assert printed_pt(svg_of(document, sheet, "reviewer")) >= LEAST_PT - 1e-6, sheet.number


def assert_identities_equal_the_schedule(document: Document) -> None:
    scheduled = Counter(cable.identity for cable in document.cables)
    shown = Counter(
        text
        for sheet in document.detail_sheets
        # The schedule of devices, held by its own test, names most of them a second time.
        if sheet.kind != "device schedule"
        for text in texts(svg_of(document, sheet))
        if "/" in text
    )
    assert {identity: shown[identity] for identity in scheduled} == dict(scheduled)


def test_risers_of_large_buildings_print_legibly(large: Document) -> None:
    assert_legible(large)


def test_identities_over_all_sheets_of_a_large_building_equal_the_schedule(large: Document) -> None:
    assert_identities_equal_the_schedule(large)


def test_every_device_stands_on_a_detail_sheet(large: Document) -> None:
    shown = " ".join(
        text for sheet in large.detail_sheets for text in texts(svg_of(large, sheet)) if "/" not in text
    )
    words = set(shown.replace(",", " ").split())
    assert {device.tag for device in large.devices} <= words


def test_every_room_stands_once_on_the_overall_riser(large: Document) -> None:
    shown = Counter(text for sheet in large.sheets for text in texts(svg_of(large, sheet)))
    assert {room.tag: shown[room.tag] for room in large.rooms} == dict.fromkeys(
        (room.tag for room in large.rooms), 1
    )


def test_identities_over_all_sheets_of_a_project_equal_the_schedule(project: Document) -> None:
    assert project.cables
    assert_identities_equal_the_schedule(project)


@pytest.mark.parametrize("reader", ["installer", "client"])
def test_no_text_touches_anything(project: Document, reader: Reader) -> None:
    """Every sheet of the example, plans of two further projects; every sheet of four is in test_frame.py.

    The example has an issued revision: its sheets are marked where they changed, and their legends say so.
    """
    edition = edition_of(project, reader)
    seen = edition.document
    drawn = [*seen.sheets, *seen.detail_sheets]
    if project.cover.number == EXAMPLE:
        earlier = last_issue(ROOT / "example_project", None)
        assert earlier is not None
        edition = with_changes(edition, earlier.before.state, inputs_of(()))
        marked = [drawing_of(edition, sheet).change for sheet in drawn]
        assert {"new", "changed"} <= set(marked)
    else:
        drawn = [sheet for sheet in drawn if sheet.kind in PLANS]
        assert len({sheet.kind for sheet in drawn}) == (5 if reader == "installer" else 3)
    found = {sheet.title: collisions(svg_in(edition, sheet)) for sheet in drawn}
    assert {title: wrong for title, wrong in found.items() if wrong} == {}


@pytest.mark.parametrize("reader", ["installer", "client"])
def test_every_device_that_stands_in_a_room_stands_on_its_plan(project: Document, reader: Reader) -> None:
    shown: dict[str, set[str]] = {}
    for sheet in project.sheets:
        if sheet.kind == "room plan":
            words = set(" ".join(texts(svg_of(project, sheet, reader))).replace(",", " ").split())
            shown |= dict.fromkeys(sheet.members, words)
    racks = {device.tag for device in project.devices if device.kind == "rack"}
    rooms = {room.tag for room in project.rooms}
    missing = [
        device.tag
        for device in project.devices
        if device.room in rooms
        and device.location not in racks
        and device.tag.removeprefix(f"{device.room}-") not in shown[device.room]
    ]
    assert missing == []


def told_on(document: Document, kind: str) -> set[str]:
    """Return the tags that the sheets of a kind tell an installer, whole or as codes within their rooms."""
    kinds_of_room = {row.key: row.rooms for row in document.room_sheets}
    found: set[str] = set()
    for sheet in (*document.sheets, *document.detail_sheets):
        if sheet.kind != kind:
            continue
        codes = set(codes_in(" ".join(texts(svg_of(document, sheet)))))
        rooms = sheet.members if kind == "room plan" else kinds_of_room.get(sheet.subject, ())
        found |= codes | {f"{room}-{code}" for room in rooms for code in codes}
    return found


# Lists that name every device by themselves, or only in passing.
LISTS_OF_DEVICES = {
    "devices", "equipment", "takeoff", "labour", "price_lines", "workings", "findings", "assumptions",
    "requirement_answers",
}  # fmt: skip


def in_schedules(document: Document) -> set[str]:
    """Return the tags that rows of technical schedules name."""
    found: set[str] = set()
    for name in type(document).model_fields:
        rows = getattr(document, name)
        if name in LISTS_OF_DEVICES or not isinstance(rows, tuple):
            continue
        for row in rows:
            if not isinstance(row, Row):
                continue
            for field, held in quantities_of(type(row)).items():
                if "tag" in held and field in type(row).model_fields:
                    found |= set(tags_of(getattr(row, field)))
    return found


def tags_of(value: object) -> Iterator[str]:
    """Yield the texts of a value, whether it holds one or groups of them."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from tags_of(one)


def codes_in(words: str) -> Iterator[str]:
    """Yield tags and codes, those of a range one by one: AP1, LS1–LS4."""
    for one, letters, first, last in re.findall(r"(([A-Z][\w-]*?)(\d+)(?:–\2(\d+))?)(?![\w-])", words):
        if not last:
            yield one
        else:
            yield from (f"{letters}{n}" for n in range(int(first), int(last) + 1))


def test_every_device_stands_on_a_plan_or_riser_and_in_a_flow_or_on_the_network(project: Document) -> None:
    tags = [device.tag for device in project.devices]
    assert len(tags) == len(set(tags))
    placed = told_on(project, "room plan") | told_on(project, "riser detail")
    assert [tag for tag in tags if tag not in placed] == []
    if project.cover.name == "Everything wrong":
        return  # what is broken on purpose is joined to nothing
    scheduled = in_schedules(project)
    assert [tag for tag in tags if tag not in scheduled] == []
    joined = told_on(project, "signal flow") | {host.device for host in project.network_hosts}
    left = [device for device in project.devices if device.tag not in joined]
    # Racks pass no signal, and spare microphones lie in their chargers.
    assert {device.kind for device in left} <= {"rack", "microphone"}
    spares = [device.tag for device in left if device.kind == "microphone"]
    assert all(re.fullmatch(r".*-MS\d+", tag) for tag in spares)
