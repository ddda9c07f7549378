"""What random edits have found: each once ended in a traceback, or took for ever.

Now each is refused with a message, checked by hand against the text of the file, or is shown.
"""

from pathlib import Path

import pytest

from proposal.errors import InputError
from tests.bad_input.projects import GOOD, Edits, write_project
from tests.bad_input.whole_way import whole_way
from tests.catalogue import model_of, shipped

MEETING = "room_types/meeting.yaml"


def _said(folder: Path, edits: Edits) -> list[str]:
    """Return every message about an edited project; none where it is shown on pages."""
    project, company = write_project(folder / "project", edits=edits), folder / "company"
    company.mkdir()
    (company / "own.yaml").write_text("source: editable default (invented)\n", encoding="utf-8")
    try:
        assert whole_way(project, company, ("estimator",)) > 20
    except InputError as error:
        return [str(problem) for problem in error.problems]
    return []


POINT = model_of(shipped(), "access_point", works_with="Corvenhythe")
CHARGER = model_of(shipped(), "charger", works_with="Corvenhythe")
MICROPHONE = model_of(shipped(), "microphone", works_with="Corvenhythe", form="boundary")
REFUSED: dict[str, tuple[Edits, list[str]]] = {
    "equipment room on no storey": (
        {"building.yaml": ("storey: L0", "storey: ''")},
        ["building.yaml:7:13: equipment_rooms.ER1.storey: wanted a text; found an empty text"],
    ),
    "network without addresses": (
        {"project.yaml": ("network: 192.168.30.0/24", "network: ''")},
        ["project.yaml:14:25: subnets.conference.network: wanted a text; found an empty text"],
    ),
    "microphone that drains nothing while it keeps its link": (
        {"library/own.yaml": f"microphones: {{{MICROPHONE}: {{battery: {{idle: 0 W}}}}}}\n"},
        [
            f"library/own.yaml:1:{34 + len(MICROPHONE)}: microphones.{MICROPHONE}.battery.idle: "
            "wanted more than 0 W; found 0 W"
        ],
    ),
    "access point with more channels than the band": (
        {"library/own.yaml": f"access_points: {{{POINT}: {{channels: 500}}}}\n"},
        [
            f"library/own.yaml:1:{30 + len(POINT)}: access_points.{POINT}.channels: "
            "wanted at most 120; found 500"
        ],
    ),
    "walls of nothing": (
        {MEETING: ("output: breakout\n", "output: breakout\nradio: {walls: ''}\n")},
        [f"{MEETING}:13:16: radio.walls: wanted a text; found an empty text"],
    ),
    "wall of nothing": (
        {
            "building.yaml": GOOD["building.yaml"]
            + "radio: {walls: {W1: {storey: L0, along: [[1 m, 1 m], [1 m, 9 m]], construction: ''}}}\n"
        },
        ["building.yaml:10:81: radio.walls.W1.construction: wanted a text; found an empty text"],
    ),
}


@pytest.mark.pinned
@pytest.mark.parametrize(("edits", "messages"), REFUSED.values(), ids=REFUSED.keys())
def test_what_was_found_is_refused_with_a_message(edits: Edits, messages: list[str], tmp_path: Path) -> None:
    assert _said(tmp_path, edits) == messages


@pytest.mark.pinned
def test_a_key_of_nothing_is_said_to_be_an_empty_text(tmp_path: Path) -> None:
    first, *others = _said(tmp_path, {"library/own.yaml": "consumables:\n  '': {description: Tape}\n"})
    assert first == (
        "library/own.yaml:2:3: consumables: wanted a text of the form ^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$; "
        "found an empty text"
    )
    assert all("; found " in one for one in others)


SHOWN: dict[str, Edits] = {
    # Four bearers each: forty keep more on the air than the band has slot pairs.
    "forty access points that never fall silent": {
        "library/own.yaml": f"access_points: {{{POINT}: {{radio: {{always_on_bearers: 4}}}}}}\n",
        "fixed.yaml": f"rooms: {{B001: {{access_points: {{{POINT}: 40}}}}}}\n",
    },
    "entry of the library without its model code": {
        "library/own.yaml": f"chargers: {{{CHARGER}: {{model: ''}}}}\n",
        "fixed.yaml": f"rooms: {{B001: {{chargers: {{{CHARGER}: 1}}}}}}\n",
    },
}


@pytest.mark.parametrize("edits", SHOWN.values(), ids=SHOWN.keys())
def test_what_was_found_is_shown_on_pages(edits: Edits, tmp_path: Path) -> None:
    assert _said(tmp_path, edits) == []
