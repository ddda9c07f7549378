"""Long schedules of devices and cables stand on pages of their own, storey by storey, and nothing is lost."""

import re
from html import unescape
from posixpath import dirname, join, normpath

import pytest

from proposal.document.document import Document
from proposal.document.labels import labels_of
from proposal.document.rows.mains import CircuitRow
from proposal.document.rows.pathways import PathwayRow
from proposal.document.rows.racks import RackPlaceRow, RackRow
from proposal.document.rows.radio import FurtherRow, MarginRow, RadioPlaceRow, RadioSummary
from proposal.document.rows.sound import StreamRow
from proposal.document.rows.takeoff import TakeoffRow
from proposal.editions import edition_of
from proposal.pages import schedule_parts
from proposal.pages.channels import CHANNELS
from proposal.pages.drawing_pages import sheets_of
from proposal.pages.markdown import anchor
from proposal.pages.paths import (
    ASSUMPTIONS,
    BUILD_UP,
    CABLE_RUNS,
    CABLE_SCHEDULE,
    CABLES,
    DEVICES,
    DRAWINGS,
    FURTHER,
    LABELS,
    LABOUR_LINES,
    MAINS,
    MARGIN,
    PATHWAY_LIST,
    PATHWAYS,
    POWER,
    RACKS,
    RADIO,
    RADIO_LEVELS,
    RADIO_PLAN,
    ROOM_LIST,
    ROOMS,
    SHEET_LIST,
    STREAMS,
    TAKEOFF,
    VALUES_TAKEN,
    part_path,
    port_name,
    rack_anchor,
    room_sheet_path,
)
from proposal.pages.rows_on_a_page import MOST_ROWS
from proposal.pages.schedule_parts import _pieces, cable_parts, device_parts, room_margin_parts
from proposal.pages.site_pages import Navigation, SitePages
from tests.pages.site import browsed, pages_for, sample_pages
from tests.sample_document import sample_document

PAGES = tuple(MOST_ROWS)
OVERVIEW = {
    RADIO_LEVELS: RADIO,
    RADIO_PLAN: RADIO,
    ROOM_LIST: ROOMS,
    CABLE_RUNS: CABLES,
    STREAMS: CHANNELS,
    PATHWAY_LIST: PATHWAYS,
    SHEET_LIST: DRAWINGS,
    VALUES_TAKEN: ASSUMPTIONS,
    FURTHER: RADIO,
}
"""Where a schedule stands that has no page of its own while it is short."""
OF_FEW = (POWER, MAINS, MARGIN, RACKS, VALUES_TAKEN)
"""Those of which the sample has few rows, each with much that belongs to it."""
MOST_BYTES = 300_000


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> int:
    """Let three rows stand on one page."""
    monkeypatch.setattr(schedule_parts, "MOST_ROWS", dict.fromkeys(PAGES, 3) | dict.fromkeys(OF_FEW, 1))
    return 3


def paths_in(nav: Navigation) -> list[str]:
    return [path for _, entry in nav for path in ([entry] if isinstance(entry, str) else paths_in(entry))]


def parts_in(site: SitePages, page: str) -> list[str]:
    return [
        path
        for path in site.pages
        if path.startswith(tuple(page.removesuffix(".md") + end for end in ("/", "-elsewhere")))
    ]


def ids_of(site: SitePages, paths: list[str]) -> list[str]:
    return [one for path in paths for one in browsed(site.pages[path]).ids]


def test_a_short_schedule_stands_on_its_page() -> None:
    site = sample_pages("estimator")
    assert all(parts_in(site, page) == [] for page in PAGES)
    document = sample_document()
    assert {part.path for part in device_parts(document)} == {DEVICES}
    assert {part.path for part in cable_parts(document)} == {CABLE_SCHEDULE}


def test_every_row_of_a_long_schedule_stands_on_one_page_of_its_storey(few: int) -> None:
    document = longer()
    site = pages_for(document, "estimator")
    wanted = {
        DEVICES: [anchor(row.tag) for row in document.devices],
        CABLE_SCHEDULE: [anchor(row.identity) for row in document.cables],
        BUILD_UP: [anchor(row.number) for row in document.price_lines],
        TAKEOFF: [anchor(row.number) for row in document.takeoff],
        LABOUR_LINES: [anchor(row.number) for row in document.labour],
        POWER: [anchor(port_name(row.switch, row.port)) for row in document.ports],
        MAINS: [anchor(row.identity) for row in document.circuits],
        RACKS: [rack_anchor(row.tag) for row in document.racks],
        ROOM_LIST: [anchor(row.tag) for row in document.rooms],
        PATHWAY_LIST: [anchor(row.tag) for row in document.pathways],
        SHEET_LIST: [anchor(row.number) for row in sheets_of(document)],
        VALUES_TAKEN: [anchor(row.number) for row in document.assumptions],
    }
    for page, names in wanted.items():
        parts = parts_in(site, page)
        assert len(parts) > 1
        assert sorted(one for one in ids_of(site, parts) if one in names) == sorted(names)
        assert not set(ids_of(site, [OVERVIEW.get(page, page)])) & set(names)
    margins = [row for part in room_margin_parts(document) for row in part.rows]
    assert sorted(row.key for row in margins) == sorted(row.key for row in document.room_prices)
    assert room_margin_parts(edition_of(document, "client").document) == ()
    storeys = {row.tag: row.storey for row in document.devices}
    for part in device_parts(document):
        assert 0 < len(part.rows) <= few
        assert len({storeys[row.tag] for row in part.rows}) == 1


@pytest.mark.usefixtures("few")
def test_every_run_of_cables_and_every_stream_stands_on_one_page() -> None:
    document = longer()
    site = pages_for(document, "estimator")
    runs, streams = parts_in(site, CABLE_RUNS), parts_in(site, STREAMS)
    assert sum(site.pages[path].count("<tr") - 1 for path in runs) == len(document.riser_lines)
    assert "How many cables run" not in site.pages[CABLES]
    printed = [re.findall(r"B\d+ mix", plain_of(site, path)) for path in streams]
    assert sorted(one for some in printed for one in some) == sorted(row.name for row in document.streams)
    assert " mix" not in plain_of(site, CHANNELS)


def test_the_rooms_of_a_common_kind_stand_storey_by_storey(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(schedule_parts, "MOST_OF_A_KIND", 2)
    document = sample_document()
    kind = max(document.room_sheets, key=lambda sheet: len(sheet.rooms))
    assert len(kind.rooms) > 2
    site = pages_for(document, "client")
    page = room_sheet_path(kind.key)
    parts = parts_in(site, page)
    listed = [
        tag for path in parts for tag in re.findall(r'<th scope="row"><a [^>]*>(B\d+)</a>', site.pages[path])
    ]
    assert sorted(listed) == sorted(kind.rooms)
    assert set(parts) <= set(links_on(site, page)) & set(paths_in(site.nav))
    assert all(page in links_on(site, path) for path in parts)
    assert "and their devices" not in site.pages[page]
    assert "B102 Meeting 2" not in plain_of(site, page)


@pytest.mark.usefixtures("few")
def test_every_label_stands_on_one_page() -> None:
    site = pages_for(sample_document(), "estimator")
    parts = parts_in(site, LABELS)
    assert len(parts) > 1
    printed = [site.pages[path].count('<li class="label">') for path in parts]
    assert sum(printed) == len(labels_of(sample_document()))
    assert '<li class="label">' not in site.pages[LABELS]


@pytest.mark.usefixtures("few")
def test_every_link_by_radio_stands_on_one_page() -> None:
    document = longer()
    site = pages_for(document, "estimator")
    tags = [row.microphone for row in document.margins]
    for page, wanted in ((RADIO_LEVELS, tags), (RADIO_PLAN, [*tags, "X9-1"])):
        parts = parts_in(site, page)
        assert len(parts) > 1
        printed = [tag for path in parts for tag in re.findall(r"\bB\d+-M\d\b|X9-1", plain_of(site, path))]
        assert sorted(printed) == sorted(wanted)
    assert not [tag for tag in tags if tag in plain_of(site, RADIO)]


def longer() -> Document:
    """Return the sample document with more lines, a circuit and two microphones a room."""
    document = sample_document()
    rooms = [row.tag for row in document.rooms]
    tags = [(f"{room}-M{n}", f"{room}-AP1") for room in rooms for n in (1, 2)]
    line = document.labour[0]
    return document.model_copy(
        update={
            "circuits": tuple(
                CircuitRow(
                    identity=f"{room}/C1", place=room, verdict="holds", outlets=2, rest_w=1, typical_w=2,
                    full_w=3, voltage_v=230, full_va=4, full_a=0.02, allowed_a=16, breaker="C16", leakage_a=0,
                    leakage_allowed_a=None, residual_a=None, inrush_a=0, inrush_allowed_a=None, steps=0,
                )
                for room in rooms
            ),
            "takeoff": tuple(
                TakeoffRow(number=f"T{n}", section="devices", room=room)
                for n, room in enumerate((*rooms, *rooms, ""), 1)
            ),
            "labour": tuple(
                line.model_copy(update={"number": f"H{n}", "room": room})
                for n, room in enumerate((*rooms, *rooms, ""), 1)
            ),
            "radio": RadioSummary(
                outcome="planned", links=len(tags), access_points=len(rooms), carriers=10, other_links=1,
                missing=0, over="", over_rooms=(), worst_margin_db=3.0,
            ),
            "pathways": tuple(
                PathwayRow(tag=f"T{n}", kind="tray", from_node=f"N{n}", from_storey=document.storeys[0].tag)
                for n in range(4)
            ),
            "further": tuple(FurtherRow(room=room, links=1) for room in rooms),
            "racks": tuple(
                RackRow(tag=f"{row.tag}-RK1", equipment_room=row.tag) for row in document.equipment_rooms
            ),
            "rack_places": tuple(
                RackPlaceRow(rack=f"{row.tag}-RK1", unit=n, units=1, name=f"{row.tag}-PP{n}")
                for row in document.equipment_rooms
                for n in (1, 2)
            ),
            "streams": tuple(
                StreamRow(number=n, name=f"{room} mix", room=room, sender=f"{room}-MX1")
                for n, room in enumerate(rooms, 1)
            ),
            "margins": tuple(
                MarginRow(microphone=tag, room=tag.partition("-")[0], access_point=box) for tag, box in tags
            ),
            "radio_places": (
                *(RadioPlaceRow(identity=tag, kind="link", access_point=box) for tag, box in tags),
                RadioPlaceRow(identity="X9-1", kind="other", access_point="X9"),
            ),
        }
    )  # fmt: skip


def plain_of(site: SitePages, path: str) -> str:
    return unescape(re.sub(r"<[^<>]*>", " ", site.pages[path]))


def test_what_belongs_together_is_cut_only_where_no_page_holds_it() -> None:
    assert _pieces([[1, 1], [2], [3, 3], [4, 4, 4, 4, 4, 4, 4], [5]], 3) == [
        [1, 1, 2],
        [3, 3],
        [4, 4, 4],
        [4, 4, 4],
        [4, 5],
    ]


@pytest.mark.usefixtures("few")
def test_the_schedule_and_the_navigation_lead_to_every_part_and_every_part_back() -> None:
    site = pages_for(longer(), "estimator")
    assert sorted(paths_in(site.nav)) == sorted(site.pages)
    for page in PAGES:
        parts = parts_in(site, page)
        assert parts
        overview = OVERVIEW.get(page, page)
        assert set(parts) <= set(links_on(site, overview))
        for part in parts:
            assert overview in links_on(site, part)


@pytest.mark.usefixtures("few")
def test_links_to_rows_lead_to_the_page_on_which_they_stand() -> None:
    site = pages_for(longer(), "estimator")
    ids = {path: set(browsed(words).ids) for path, words in site.pages.items()}
    followed = 0
    for path, words in site.pages.items():
        for _, attributes in browsed(words).elements:
            target, _, fragment = attributes.get("href", "").partition("#")
            wanted = re.sub(r"\.html$", ".md", normpath(join(dirname(path), target)) if target else path)
            if fragment and wanted in ids:
                followed += fragment in ids[wanted]
                assert fragment in ids[wanted], f"{path} links to {target}#{fragment}"
    assert followed > 50


def links_on(site: SitePages, path: str) -> list[str]:
    found = (attributes.get("href", "") for _, attributes in browsed(site.pages[path]).elements)
    return [
        re.sub(r"\.html$", ".md", normpath(join(dirname(path), target.partition("#")[0])))
        for target in found
        if target
    ]


def many(document: Document, devices: int, cables: int) -> Document:
    """Return a document with so many devices and cables, like those in it."""

    like, like_cable = document.devices, document.cables
    return document.model_copy(
        update={
            "devices": tuple(
                like[n % len(like)].model_copy(update={"tag": f"X{n}-M1"}) for n in range(devices)
            ),
            "cables": tuple(
                like_cable[n % len(like_cable)].model_copy(update={"identity": f"X{n}/N1/RK1"})
                for n in range(cables)
            ),
        }
    )


def test_no_page_of_a_long_schedule_grows_beyond_what_a_browser_takes_easily() -> None:
    devices, cables = (MOST_ROWS[page] * 3 + 1 for page in (DEVICES, CABLE_SCHEDULE))
    document = many(sample_document(), devices, cables)
    site = pages_for(document, "estimator")
    for page in (DEVICES, CABLE_SCHEDULE):
        parts = parts_in(site, page)
        assert len(parts) >= 4
        sizes = {path: len(site.pages[path].encode()) for path in (page, *parts)}
        assert {path: size for path, size in sizes.items() if size > MOST_BYTES} == {}


def test_parts_of_one_storey_never_take_the_page_of_another() -> None:
    assert part_path(DEVICES, "L1", 0) == "devices/L1.md"
    assert part_path(DEVICES, "L1", 2) == "devices/L1/2.md"
    assert part_path(DEVICES, "L1/2", 0) != part_path(DEVICES, "L1", 2)
    assert part_path(BUILD_UP, "", 0) == "price-build-up-elsewhere.md"
