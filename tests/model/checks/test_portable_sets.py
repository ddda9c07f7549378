"""Portable sets and their places: each complaint with its line and the nearest name."""

from pathlib import Path

import pytest

from proposal.model.loading import load_project
from tests.bad_input.projects import GOOD, Edits, messages_of, write_project

BUILDING = GOOD["building.yaml"]
ROOMS = "tag,name,room type,storey,x (m),y (m)\nB001,One,meeting,L0,1,1\nP1,Cart,meeting,L0,9,1\n"
LINE = BUILDING.count("\n") + 1
SETS = "portable_sets: {P1: {}}\n"
PLACES = "portable_places: {court: {storey: L0, at: [1 m, -9 m], outlet: true}}\n"
STATES = "states: {garden: {portable: {P1: court}}}\n"


def written(sets: str = SETS, places: str = PLACES, states: str = STATES) -> Edits:
    return {"building.yaml": BUILDING + sets + places + states, "rooms.csv": ROOMS, "rooms/B002.yaml": None}


CASES: dict[str, tuple[Edits, list[str]]] = {
    "set that is no line of the room schedule": (
        written(sets="portable_sets: {P1: {}, P2: {}}\n"),
        [
            f"building.yaml:{LINE}:25: "
            "portable_sets.P2: wanted the tag of a line of rooms.csv: one of B001, P1; "
            "found P2"
        ],
    ),
    "place that is not listed": (
        written(states=STATES.replace("P1: court", "P1: cort")),
        [
            f"building.yaml:{LINE + 2}:34: "
            "states.garden.portable.P1: wanted a place of portable_places: court; "
            "found cort"
        ],
    ),
    "room that is no portable set": (
        written(states=STATES.replace("P1: court", "B001: court")),
        [
            f"building.yaml:{LINE + 2}:30: "
            "states.garden.portable.B001: wanted a portable set of building.yaml: "
            "P1; found B001"
        ],
    ),
    "set in two places at once": (
        written(states=STATES.replace("P1: court", "P1: court, P1: B001")),
        [
            f"building.yaml:{LINE + 2}:41: "
            "states.garden.portable: wanted each name once; found P1 again, first in "
            f"line {LINE + 2}"
        ],
    ),
    "place outdoors without a storey": (
        written(places=PLACES.replace("storey: L0, ", "")),
        [
            f"building.yaml:{LINE + 1}:26: "
            "portable_places.court.storey: wanted the storey on whose height the "
            "ground lies, since court is the tag of no room; found nothing"
        ],
    ),
    "place outdoors on a storey that is not there": (
        written(places=PLACES.replace("L0", "L9")),
        [
            f"building.yaml:{LINE + 1}:35: "
            "portable_places.court.storey: wanted a storey of building.yaml: one "
            "of L0, L1; found L9"
        ],
    ),
    "room with a storey of its own": (
        written(places=PLACES.replace("court", "B001"), states=STATES.replace("court", "B001")),
        [
            f"building.yaml:{LINE + 1}:34: "
            "portable_places.B001.storey: wanted nothing, since B001 is a room; "
            "found L0"
        ],
    ),
    "set as a place": (
        written(places="portable_places: {P1: {at: [1 m, 1 m], outlet: true}}\n", states=""),
        [
            f"building.yaml:{LINE + 1}:23: "
            "portable_places.P1: wanted a room or a place outdoors; found the "
            "portable set P1"
        ],
    ),
    "set joined to a room": (
        written(states="states: {garden: {join: [[B001, P1]]}}\n"),
        [f"building.yaml:{LINE + 2}:33: states.garden.join.1.2: wanted a room; found the portable set P1"],
    ),
    "place that does not say whether it has an outlet": (
        written(places=PLACES.replace(", outlet: true", "")),
        [f"building.yaml:{LINE + 1}:26: portable_places.court.outlet: wanted yes or no; found nothing"],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_each_complaint_has_its_line(tmp_path: Path, case: str) -> None:
    edits, wanted = CASES[case]
    assert messages_of(write_project(tmp_path, edits=edits)) == wanted


def test_a_good_one_loads(tmp_path: Path) -> None:
    project = load_project(write_project(tmp_path, edits=written()))
    assert project.building.states["garden"].portable == {"P1": "court"}
    assert project.building.portable_sets["P1"].mast == 2.0
    titles = [one.title for one in project.assumptions]
    assert any(one.startswith("Access points of a portable set stand on a mast") for one in titles)
