"""The projects we ship and test with: they load, come out as they should, and are possible to build.

Where rooms lie is checked with shapely alone, independent of the program's own geometry.
"""

import itertools
from pathlib import Path
from typing import Any, get_args

import pytest
import yaml
from shapely import affinity
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

from proposal.model.labour.labour import Phase
from proposal.model.project import Project
from proposal.model.rooms import Room
from proposal.model.wording.wording import DUTIES
from proposal.pipeline import Computed
from tests.whole_projects import whole_computed

ROOT = Path(__file__).resolve().parent.parent
EXAMPLE = ROOT / "example_project"
STARTER = ROOT / "shared" / "starter"
PROJECTS = ROOT / "tests" / "projects"
GOOD = (
    EXAMPLE,
    STARTER,
    PROJECTS / "minimal",
    PROJECTS / "us_customary",
    PROJECTS / "further_inputs",
    PROJECTS / "states",
    PROJECTS / "portable",
    PROJECTS / "one_room",
    PROJECTS / "two_rooms",
    PROJECTS / "municipal",
    PROJECTS / "university",
    PROJECTS / "hospital",
)
ALL = (*GOOD, PROJECTS / "failing")

# Assembly House: the wing, the core and the chamber's block, as its building.yaml describes them.
FOOTPRINT = unary_union([box(0, 3, 58, 21), box(58, 3, 66, 21), box(66, 0, 90, 24)])

# Every rule the failing project was written to break, and no other.
BROKEN_RULES = {
    "error": {
        "no-link-between-switches",
        *("address-outside", "address-twice", "battery-below-reserve", "network-full"),
        *("cable-too-warm", "channel-too-long", "cords-too-long", "link-too-long", "not-copper"),
        *(
            "channels-short",
            "inputs-short",
            "outputs-short",
            "slots-short",
            "nothing-suits",
            "radio-impossible",
            "mixed-systems",
            "accessory-does-not-fit",
        ),
        *("no-such-port", "no-such-switch", "no-switch-port", "port-fixed-twice"),
        *("poe-budget-short", "poe-class-short", "poe-voltage-low", "screen-missing"),
        *("bend-too-tight", "bends-over-360", "conduit-overfull", "pull-too-hard", "mains-too-near"),
        *("jacket-wrong-for-space", "route-broken"),
        *("owner-ports-short", "owner-not-on-network", "owner-switch-apart"),
        *("circuit-overloaded", "too-warm-for-device"),
        *("loudspeaker-line-overloaded", "loudspeaker-line-not-driven", "loudspeaker-impedance-low"),
        *("tap-missing", "tap-over-rating", "wiring-class-short", "mix-without-mixer"),
        *("assistive-listening-missing", "destination-not-fed"),
    },
    "warning": {
        *(
            *("delivered-too-late", "done-too-late"),
            "joined-behind-a-wall",
            "link-near-limit",
            "metal-ceiling",
            "no-connector",
            "no-mount",
            "no-spares",
            "owner-equipment-unjoined",
        ),
        *("inrush-high", "leakage-high"),
        *("loudspeaker-line-loss", "loudspeaker-too-quiet", "lines-beside-data"),
        "jacket-for-unknown-ceiling",
        *("day-off-work", "invented-models", "no-warranty", "no-latency-limit"),
        "no-label",
        "over-a-ceiling-bar",
        "recorder-without-operator",
        "pull-too-long",
        "sound-not-joined",
        "terms-said-otherwise",
        "sample-text-left",
    },
    "note": {"far-outside-pathways", "few-spares"},
}

by_name = pytest.mark.parametrize("folder", ALL, ids=lambda folder: folder.name)


def loaded(folder: Path) -> Project:
    return computed(folder).project


def computed(folder: Path) -> Computed:
    return whole_computed(folder)


@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_good_project_has_no_error(folder: Path) -> None:
    assert [f"{one.rule} {one.where}: {one.message}" for one in computed(folder).errors] == []


def test_failing_project_breaks_every_rule_it_was_written_to_break() -> None:
    found = {
        severity: {one.rule for one in computed(PROJECTS / "failing").findings if one.severity == severity}
        for severity in BROKEN_RULES
    }
    assert found == BROKEN_RULES


def test_example_is_the_building_it_claims_to_be() -> None:
    project = loaded(EXAMPLE)
    assert len(project.building.storeys) == 3
    assert len(project.building.equipment_rooms) == 2
    types = [room.type for room in project.rooms.values()]
    assert {kind: types.count(kind) for kind in types} == {
        "chamber": 1,
        "committee_room": 2,
        "meeting_room": 6,
        "training_room": 1,
    }
    forms = [position.form for position in project.room_types["chamber"].microphones.values()]
    assert 28 <= len(forms) <= 32
    assert set(forms) == {"gooseneck", "boundary", "handheld", "bodypack"}
    assert forms.count("gooseneck") >= 20
    assert [tag for tag, room in project.rooms.items() if room.changed] == ["A102"]
    meeting_rooms = [room.layout for room in project.rooms.values() if room.type == "meeting_room"]
    assert all(layout == meeting_rooms[0] for layout in meeting_rooms)


def test_example_leaves_questions_open_and_takes_defaults() -> None:
    project = loaded(EXAMPLE)
    assert len(project.questions) >= 2
    assert len(project.assumptions) >= 10
    fixed = project.fixed
    devices = fixed.devices.values()
    assert any(cable.length for cable in fixed.cables.values())
    assert any(device.switch_port for device in devices)
    assert any(device.address for device in devices)
    assert any(device.at for device in devices)


def test_example_comes_near_the_limit_in_one_room_only() -> None:
    near = {
        one.where.partition("-")[0] for one in computed(EXAMPLE).findings if one.rule == "link-near-limit"
    }
    assert near == {"A110"}


def test_us_customary_project_differs_where_it_should() -> None:
    project = loaded(PROJECTS / "us_customary")
    brief = project.brief
    assert (brief.units, brief.currency, brief.locale) == ("us_customary", "USD", "en_US")
    assert brief.region == "north_america"
    assert set(project.room_types).isdisjoint(loaded(EXAMPLE).room_types)
    assert {room.layout.output for room in project.rooms.values()} == {"mixer", "breakout"}
    (agreed,) = (one for one in project.library.access_points.values() if one.layer == "project")
    assert agreed.currency == "USD"


def placed(room: Room, shape: Any) -> Any:
    """Return a shape of a room's own coordinates in the building's: mirrored, turned, moved."""
    mirrored = affinity.scale(shape, xfact=-1 if room.mirrored else 1, origin=(0, 0))
    return affinity.translate(affinity.rotate(mirrored, room.rotation, origin=(0, 0)), room.x, room.y)


@pytest.mark.independent
@by_name
def test_rooms_do_not_overlap_on_a_storey(folder: Path) -> None:
    rooms = [
        (tag, room.storey, placed(room, Polygon(room.layout.outline)))
        for tag, room in loaded(folder).rooms.items()
    ]
    overlaps = [
        (tag, other)
        for n, (tag, storey, shape) in enumerate(rooms)
        for other, other_storey, other_shape in rooms[:n]
        if storey == other_storey and shape.intersection(other_shape).area > 1e-6
    ]
    assert overlaps == []


@by_name
def test_outlines_are_simple_polygons(folder: Path) -> None:
    for tag, room in loaded(folder).rooms.items():
        assert Polygon(room.layout.outline).is_valid, tag
        for code, piece in room.layout.furniture.items():
            assert Polygon(piece.outline).is_valid, (tag, code)


@by_name
def test_everything_of_a_room_lies_inside_it(folder: Path) -> None:
    outside = []
    for tag, room in loaded(folder).rooms.items():
        layout = room.layout
        walls = Polygon(layout.outline)
        points = {f"seat {code}": seat.at for code, seat in layout.seats.items()}
        points |= {f"microphone {code}": position.at for code, position in layout.microphones.items()}
        points |= {f"loudspeaker {code}": unit.at for code, unit in layout.loudspeakers.items()}
        points |= {f"access point {code}": at for code, at in layout.access_points_at.items()}
        points |= {"chargers": layout.charging_at} if layout.charging_at else {}
        outside += [(tag, what) for what, at in points.items() if not walls.contains(Point(at))]
        outside += [
            (tag, f"furniture {code}")
            for code, piece in layout.furniture.items()
            if not walls.covers(Polygon(piece.outline))
        ]
    assert outside == []


@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_table_microphones_stand_on_furniture_and_seats_do_not(folder: Path) -> None:
    wrong = []
    for tag, room in loaded(folder).rooms.items():
        tables = unary_union([Polygon(piece.outline) for piece in room.layout.furniture.values()])
        for code, position in room.layout.microphones.items():
            stands = position.form in ("gooseneck", "boundary")
            if stands and not tables.covers(Point(position.at)):
                wrong.append((tag, code))
        wrong += [(tag, code) for code, seat in room.layout.seats.items() if tables.covers(Point(seat.at))]
    assert wrong == []


@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_ceilings_fit_below_the_cables_of_their_storey(folder: Path) -> None:
    project = loaded(folder)
    for tag, room in project.rooms.items():
        storey = project.building.storeys[room.storey]
        way = storey.pathway_height or storey.slab_to_slab - 0.5
        # Beside a hall whose ceiling may not be touched, cables run above lower ceilings.
        above = storey.slab_to_slab if "ceiling" in room.layout.untouchable else way
        assert room.layout.ceiling.height <= above, tag
        assert way <= storey.slab_to_slab, tag


@by_name
def test_storeys_stand_on_each_other(folder: Path) -> None:
    storeys = sorted(loaded(folder).building.storeys.values(), key=lambda storey: storey.height)
    for below, above in itertools.pairwise(storeys):
        assert below.height + below.slab_to_slab == pytest.approx(above.height, abs=1e-9)


@pytest.mark.independent
def test_example_rooms_and_racks_lie_in_the_building_and_apart() -> None:
    project = loaded(EXAMPLE)
    upper = box(0, 3, 66, 21)
    for tag, within in {"L0": FOOTPRINT, "L1": upper, "L2": upper}.items():
        outline = project.building.storeys[tag].outline
        assert outline is not None
        assert Polygon(outline).equals(within), tag
    for tag, room in project.rooms.items():
        assert FOOTPRINT.covers(placed(room, Polygon(room.layout.outline))), tag
    for tag, place in project.building.equipment_rooms.items():
        assert FOOTPRINT.covers(Point(place.at)), tag
        for other, room in project.rooms.items():
            on_it = placed(room, Polygon(room.layout.outline)).contains(Point(place.at))
            assert not (on_it and room.storey == place.storey), (tag, other)


@pytest.mark.independent
@pytest.mark.parametrize("folder", GOOD, ids=lambda folder: folder.name)
def test_design_puts_microphones_where_shapely_puts_them(folder: Path) -> None:
    project, devices = loaded(folder), {device.tag: device for device in computed(folder).design.devices}
    for tag, room in project.rooms.items():
        for code, position in room.layout.microphones.items():
            where = placed(room, Point(position.at))
            assert devices[f"{tag}-{code}"].at == pytest.approx((where.x, where.y), abs=1e-5)


WORDING = ROOT / "shared" / "wording"


def wording(name: str) -> Any:
    return yaml.safe_load((WORDING / name).read_text(encoding="utf-8"))


def test_cautions_name_readers_and_cover_what_can_hurt() -> None:
    data = wording("cautions.yaml")
    assert data["source"] == "common practice"
    for name, caution in data["cautions"].items():
        assert set(caution) == {"title", "text", "readers"}, name
        assert caution["readers"], name
        assert set(caution["readers"]) <= {"users", "work"}, name
    titles = [caution["title"] for caution in data["cautions"].values()]
    assert len(titles) == len(set(titles))
    text = " ".join(caution["text"] for caution in data["cautions"].values()).lower()
    for subject in (
        *("licensed electricians", "licensed engineer", "five times", "safety wire", "fire-rated", "ladder"),
        *("asbestos", "approved", "test signals", "emergency", "fire alarm", "maker", "consent", "estimates"),
    ):
        assert subject in " ".join((text, *titles)).lower(), subject


def test_responsibilities_name_known_parties_and_duties() -> None:
    data = wording("responsibilities.yaml")
    for row, duties in data["rows"].items():
        assert duties, row
        conditions = {"when", "unless", "before"}
        assert set(duties) - conditions, row
        assert duties.get("before", "first fix") in get_args(Phase), row
        assert set(duties) - conditions <= set(DUTIES), row
        who = {letters for duty in DUTIES for letters in duties.get(duty, "").split(", ") if letters}
        assert who <= set(data["parties"]), row


def test_default_texts_are_lists_of_sentences_with_a_source() -> None:
    data = wording("defaults.yaml")
    assert data["source"] == "common practice"
    for name in ("scope", "exclusions", "assumptions"):
        assert all(line["text"].endswith(".") for line in data[name].values()), name
