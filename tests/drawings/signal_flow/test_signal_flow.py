"""Signal flows: legible whatever the size of the room, every box once, a line style for each signal."""

from collections import Counter
from functools import partial
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.drawings.colours import stroke
from proposal.drawings.signal_flow.boxes import FlowArrow, FlowBox, with_chargers_joined
from tests.drawings.buildings import large_room
from tests.drawings.shown import SVG, printed_pt, svg_of, texts
from tests.sample_document import sample_document
from tests.whole_projects import whole_document

LEAST_PT = 7.0
DOCUMENT = sample_document()
PROJECTS = Path(__file__).parents[2] / "projects"


ROOMS = {
    "small": (1, 1, 1),
    "many forms": (5, 4, 10),
    "many access points": (20, 2, 20),
    "many chargers": (2, 4, 20),
}


@pytest.mark.parametrize("size", ROOMS)
def test_large_signal_flows_print_legibly_and_show_every_box(size: str) -> None:
    document = large_room(*ROOMS[size])
    detailed = [sheet for sheet in document.sheets if sheet.members or sheet.parts == 1]
    titles = Counter(text for sheet in detailed for text in texts(svg_of(document, sheet)))
    for sheet in document.sheets:
        assert printed_pt(svg_of(document, sheet)) >= LEAST_PT
    alone = [node.code for node in document.room_sheets[0].flow_nodes if node.kind == "access point"]
    assert {code: titles[code] for code in alone} == dict.fromkeys(alone, 1)
    chargers = [node.code for node in document.room_sheets[0].flow_nodes if node.kind == "charger"]
    assert titles[chargers[0] if len(chargers) == 1 else f"{chargers[0]}–{chargers[-1]}"] == 1
    microphones = [node for node in document.room_sheets[0].flow_nodes if node.kind == "microphones"]
    assert titles["microphones"] == len(microphones)


def test_above_three_sheets_a_block_diagram_comes_first() -> None:
    few, many = large_room(*ROOMS["many forms"]), large_room(*ROOMS["many access points"])
    assert 1 < len(few.sheets) <= 3
    assert all(sheet.members for sheet in few.sheets)
    first = many.sheets[0]
    assert len(many.sheets) > 4
    assert not first.members
    shown = texts(svg_of(many, first))
    assert {"20 access points", "AP1–AP20", "20 chargers", "40 microphones"} <= set(shown)
    assert all(sheet.members for sheet in many.sheets[1:])


def test_chargers_that_are_alike_are_one_box_and_others_stand_apart() -> None:
    box = partial(FlowBox, kind="charger", lines=("K1", "8 slots"))
    boxes = [box(code=f"CH{n}", title=f"CH{n}") for n in (1, 2, 3)]
    boxes += [FlowBox("CH4", "charger", "CH4", ("K1", "4 slots")), FlowBox("NET", "network", "Network", ())]
    arrows = [
        FlowArrow(f"CH{n}", "NET", "networked audio", "charge state", f"CH{n}/N1", returning=False)
        for n in (1, 2, 3, 4)
    ]
    joined, between = with_chargers_joined(boxes, arrows)
    assert [(one.kind, one.title, one.lines) for one in joined[:2]] == [
        ("3 chargers", "CH1–CH3", ("K1", "8 slots each")),
        ("charger", "CH4", ("K1", "4 slots")),
    ]
    assert [one.cable for one in between] == ["CH1/N1 to CH3/N1", "CH4/N1"]


def test_ports_connectors_and_levels_stand_at_the_ends_of_cables() -> None:
    """What the cable schedule says of a cable is what its line in the signal flow says."""
    document = whole_document(PROJECTS / "one_room")
    edges = [edge for room in document.room_sheets for edge in room.flow_edges if edge.cable]
    by_identity = {cable.identity: cable for cable in document.cables}
    assert edges
    for edge in edges:
        room = document.room_sheets[0].rooms[0]
        (cable,) = [one for key, one in by_identity.items() if key.startswith(f"{room}-{edge.cable}/")]
        assert edge.connector.startswith(cable.from_connector)
        assert cable.from_port in (edge.start_port, edge.end_port)
    sheet = next(sheet for sheet in document.sheets if sheet.kind == "signal flow")
    shown = texts(svg_of(document, sheet))
    apart = [edge for edge in edges if not edge.start.startswith("CH")]
    assert {port for edge in apart for port in (edge.start_port, edge.end_port) if port} <= set(shown)


def dashes(svg: str, colour: str) -> set[str | None]:
    """Return how the paths of a colour are dashed."""
    return {
        path.get("stroke-dasharray")
        for path in ElementTree.fromstring(svg).iter(f"{SVG}path")
        if path.get("stroke") == colour
    }


def test_return_audio_and_radio_have_line_styles_of_their_own() -> None:
    chamber = svg_of(DOCUMENT, DOCUMENT.sheets[1])
    network = stroke("networked audio").colour
    solid_and_dashed = dashes(chamber, network)
    assert None in solid_and_dashed
    assert len(solid_and_dashed) == 2
    radio = dashes(chamber, stroke("radio").colour)
    assert None not in radio
    assert radio.isdisjoint(solid_and_dashed)
    assert "return audio, networked audio" in texts(chamber)


def test_the_network_names_the_switches_its_rooms_are_patched_to() -> None:
    document = whole_document(Path(__file__).parents[3] / "example_project")
    rooms = {row.tag: row.room for row in document.devices}
    for sheet in (one for one in document.sheets if one.kind == "signal flow"):
        (kind,) = (one for one in document.room_sheets if one.key == sheet.subject)
        switches = {row.switch for row in document.patches if rooms.get(row.device) in kind.rooms}
        named = {one for one in switches if one.startswith("ER")}
        drawn = " ".join(texts(svg_of(document, sheet)))
        assert named
        assert all(one in drawn for one in named), sheet.number
        assert "sheet W-01" in drawn
