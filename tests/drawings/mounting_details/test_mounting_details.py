"""Mounting details: every way in which a device is held, with its mount, its weight and its heights."""

from pathlib import Path

from proposal.document.document import Document
from proposal.drawings.mounting_details import MountingSpec, alternative, spec_of, told
from proposal.drawings.mounting_details.layout import render
from proposal.editions import edition_of
from tests.drawings.collisions import collisions
from tests.drawings.shown import texts
from tests.sample_document import sample_document
from tests.whole_projects import whole_document


def made(*devices: tuple[str, str, str, float, str], parts: int = 1, part: int = 1) -> MountingSpec:
    """Return a sheet of devices: room, kind, location, height, mount."""
    sample = sample_document()
    rows = tuple(
        sample.devices[0].model_copy(
            update={
                "tag": f"{room}-X{n}", "room": room, "kind": kind, "location": location, "height_m": height_m,
                "mount": mount, "model": "QX-1", "description": "Thing", "weight_kg": 0.9, "at": (0.0, 0.0),
            }
        )
        for n, (room, kind, location, height_m, mount) in enumerate(devices)
    )  # fmt: skip
    document: Document = sample.model_copy(update={"devices": rows, "pathways": ()})
    sheet = sample.sheets[0].model_copy(update={"kind": "mounting details", "parts": parts, "part": part})
    return spec_of(edition_of(document, "installer"), sheet)


def test_devices_are_told_by_how_they_are_held_with_the_rooms_of_each_height() -> None:
    spec = made(
        ("B102", "access point", "ceiling", 2.7, "MT-1"),
        ("B101", "access point", "ceiling", 2.7, "MT-1"),
        ("B103", "access point", "ceiling", 3.5, "MT-1"),
        ("B101", "charger", "table", 0.75, ""),
        ("B101", "microphone", "hand or body", 1.2, ""),
        ("B101", "microphone", "charger", 0.75, ""),
        ("B101", "loudspeaker", "wall", 2.2, ""),
    )
    held = [(one.kind, one.location, one.count) for one in spec.details]
    assert held == [("access point", "ceiling", 3), ("loudspeaker", "wall", 1), ("charger", "table", 1)]
    points, speakers, chargers = spec.details
    assert points.heights == (("2.7 m", ("B101", "B102")), ("3.5 m", ("B103",)))
    assert points.told_height == "2.7 to 3.5 m"
    assert [one.held_by for one in points.models] == ["on mount MT-1"]
    assert [one.held_by for one in speakers.models] == ["with the fixings that come with it"]
    assert [one.held_by for one in chargers.models] == ["stands there, not fixed"]
    assert "Access point, ceiling: 3 in all. QX-1 Thing, 0.9 kg, on mount MT-1." in alternative(spec)


def test_a_range_of_heights_keeps_the_inches() -> None:
    assert told(["2 ft 6 in", "3 ft"]) == "2 ft 6 in to 3 ft"
    assert told(["9 ft", "11 ft"]) == "9 to 11 ft"


def test_every_detail_stands_on_one_sheet_of_several() -> None:
    devices = [("B101", f"kind {n:02d}", "table", 0.75, "") for n in range(20)]
    shown = [detail.kind for part in (1, 2) for detail in made(*devices, parts=2, part=part).details]
    assert shown == [kind for _, kind, *_ in devices]


def test_a_full_sheet_of_long_heights_touches_nothing() -> None:
    places = ("ceiling", "wall", "table", "under table", "furniture", "cart")
    devices = [
        (f"B{room}", kind, place, 2.0 + room / 1000, "MT-1")
        for kind in ("access point", "loudspeaker")
        for place in places
        for room in range(100, 130)
    ]
    svg = render(made(*devices), "p").decode()
    assert collisions(svg) == []
    # What is too long for a cell is told by the sheets that have it.
    assert "2.1 to 2.13 m" in svg


def test_what_hangs_is_held_twice_and_says_how_far_it_reaches_above() -> None:
    sample = sample_document()
    hanging = sample.devices[0].model_copy(
        update={
            "tag": "B101-LS1", "room": "B101", "kind": "loudspeaker", "location": "ceiling", "height_m": 2.7,
            "mount": "MT-1", "wire": "SW-1", "depth_m": 0.19, "model": "QX-1", "description": "Thing",
        }
    )  # fmt: skip
    document = sample.model_copy(update={"devices": (hanging,)})
    sheet = sample.sheets[0].model_copy(update={"kind": "mounting details", "parts": 1, "part": 1})
    spec = spec_of(edition_of(document, "installer"), sheet)
    (one,) = spec.details[0].models
    assert (one.wire, one.behind) == ("SW-1", "190 mm")
    assert "safety wire SW-1" in alternative(spec)
    drawn = render(spec, "p").decode()
    assert "anchor of its own" in " ".join(texts(drawn))
    assert collisions(drawn) == []


def test_trays_outlets_and_boxes_at_the_foot_of_walls_are_told_as_they_are_counted() -> None:
    document = whole_document(Path(__file__).parents[3] / "example_project")
    found = (one for one in document.detail_sheets if one.kind == "mounting details")
    specs = [spec_of(edition_of(document, "installer"), sheet) for sheet in found]
    details = {one.kind: one for spec in specs for one in spec.details}
    trays = [row for row in document.pathways if row.kind == "tray"]
    assert details["cable tray"].count == len(trays)
    words = " ".join(one.model for one in details["cable tray"].models)
    assert all(row.tag in words and row.size in words for row in trays)
    outlets = [row for row in document.takeoff if row.item == "CC-O1-5" and row.room]
    assert details["data outlet"].count == sum(row.quantity for row in outlets)
    assert details["data outlet"].models[0].model.startswith("CC-O1-5 Outlet, one jack, category 5e; ")
    # The interpreters' desk stands off the wall of the chamber: its cable comes out of the wall at the floor.
    low = details["cable at a wall, over the floor"]
    assert low.count == 1
    assert low.models[0].model.endswith("in A001")
    assert "on the floor in a duct or under a cover" in low.models[-1].held_by
    # The first sheet has the room to say heights room by room.
    told = texts(render(specs[0], "p").decode())
    assert told.count("2.7 m in A201, A202, A203, A204,") == 2
