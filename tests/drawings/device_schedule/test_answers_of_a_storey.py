"""The sheets of one storey answer where each device is, how high, by which way cables go and where they end.

All is read from the texts of the published sheets as somebody on site reads them, and held against the rows.
"""

import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest

from proposal.document.document import Document
from proposal.document.rows.equipment import DeviceRow
from proposal.drawings.plan.plan_marks import code_of
from tests.drawings.shown import SVG, svg_of
from tests.whole_projects import whole_document

EXAMPLE = Path(__file__).resolve().parents[3] / "example_project"
STOREY = "L2"
Line = dict[str, str]
# Texts that stand closer below one another than this are lines of one cell, pt.
ONE_CELL_PT = 10.0
# Sheets print centimetres.
NEAR_M = 0.0051


@pytest.fixture(scope="module")
def document() -> Document:
    return whole_document(EXAMPLE)


def written(document: Document, kind: str, subject: str) -> Iterator[list[tuple[float, float, str]]]:
    """Yield the texts of each sheet of a kind: from the left, from above, what is said.

    subject: the storey, or a room that the sheet shows.
    """
    for sheet in (*document.sheets, *document.detail_sheets):
        if sheet.kind == kind and subject in (sheet.subject, *sheet.members):
            root = ElementTree.fromstring(svg_of(document, sheet))
            yield [
                (float(one.get("x", 0)), float(one.get("y", 0)), "".join(one.itertext()))
                for one in root.iter(f"{SVG}text")
            ]


def schedule(document: Document) -> Iterator[tuple[str, Line]]:
    """Yield the lines of sheets T, each below the heading of its room, by the names of the columns."""
    heading = ""
    device: Line = {}
    for texts in written(document, "device schedule", STOREY):
        top = next((y for _, y, words in texts if words == "Device"), None)
        if top is None:
            continue
        columns = sorted((x, words) for x, y, words in texts if y == top)
        lines: dict[float, Line] = {}
        last = start = top
        for x, y, words in sorted(texts, key=lambda one: (one[1], one[0])):
            if y <= top:
                continue
            if y - last > 2 * ONE_CELL_PT:
                break
            start = y if y - last > ONE_CELL_PT else start
            last = y
            name = max(one for one in columns if one[0] <= x + 0.01)[1]
            line = lines.setdefault(start, {})
            line[name] = f"{line[name]} {words}" if name in line else words
        for line in lines.values():
            first = line.get("Device", "")
            if first == "Pathway" or first == "Opening":
                break
            if set(line) == {"Device"}:
                heading = first
                continue
            device = line if first else device
            yield (
                heading,
                {**{name: device[name] for name in device if name not in ("Cable", *FOLLOWED)}, **line},
            )


FOLLOWED = ("Type", "Length", "At the device", "By way of", "Ends at", "Patched to")


def metres(words: str) -> float:
    found = re.match(r"(-?[\d.]+) m\b", words)
    assert found, words
    return float(found[1])


def origin_of(heading: str) -> tuple[float, float]:
    found = re.search(r"begins ([\d.]+) m E, ([\d.]+) m N", heading)
    return (float(found[1]), float(found[2])) if found else (0.0, 0.0)


def microphones_on_plan(document: Document, room: str) -> dict[str, tuple[float, float]]:
    """Return how far each microphone of a room is from its west and south wall, as sheets M print it."""
    found = {}
    for texts in written(document, "room plan", room):
        (top,) = {y for _, y, words in texts if words == "West"}
        columns = sorted(
            (x, words) for x, y, words in texts if y == top and words in ("Code", "West", "South")
        )
        rows: dict[float, dict[str, str]] = {}
        for x, y, words in texts:
            name = max((one for one in columns if one[0] <= x + 0.01), default=(0.0, ""))[1]
            if y > top and name:
                rows.setdefault(y, {})[name] = words
        for row in rows.values():
            if re.fullmatch(r"M\d+", row.get("Code", "")):
                found[row["Code"]] = metres(row["West"]), metres(row["South"])
    return found


def told_of(document: Document) -> dict[str, list[tuple[str, Line]]]:
    """Return what sheets T say of each device, by tag; lines that name several count for each."""
    found: dict[str, list[tuple[str, Line]]] = {}
    for heading, line in schedule(document):
        room, _, codes = line["Device"].partition("-")
        for part in codes.split(", ") if "–" in codes or "," in codes else [codes]:
            first, _, last = part.partition("–")
            letters = first.rstrip("0123456789")
            numbers = range(int(first[len(letters) :]), int((last or first)[len(letters) :]) + 1)
            for number in numbers:
                found.setdefault(f"{room}-{letters}{number}", []).append((heading, line))
    return found


def place_told(
    row: DeviceRow, heading: str, line: Line, plans: dict[str, dict[str, tuple[float, float]]]
) -> tuple[float, float]:
    """Return where a device is in the building, m.

    plans: where each microphone is by the plan of its room.
    """
    west, south = origin_of(heading)
    if "From west" in line:
        return west + metres(line["From west"]), south + metres(line["From south"])
    x, y = plans[row.room][code_of(row.tag, row.room)]
    return west + x, south + y


def test_each_device_of_a_storey_has_place_height_way_and_end_on_its_sheets(document: Document) -> None:
    told = told_of(document)
    racks = {rack.tag for rack in document.racks}
    standing = [row for row in document.devices if row.storey == STOREY and row.location not in racks]
    held = {row.tag for row in document.devices if row.location in racks and row.location.startswith("ER2")}
    assert {row.tag for row in standing} | held == set(told)
    assert len(standing) > 70
    rooms = [room.tag for room in document.rooms if room.storey == STOREY]
    plans = {tag: microphones_on_plan(document, tag) for tag in rooms}
    cables = 0
    for row in standing:
        heading, line = told[row.tag][0]
        assert row.at is not None
        at = place_told(row, heading, line, plans)
        assert at == pytest.approx(row.at, abs=NEAR_M), row.tag
        assert metres(line["Height"]) == pytest.approx(row.height_m, abs=NEAR_M), row.tag
        leaving = {cable.identity: cable for cable in document.cables if cable.from_tag == row.tag}
        followed = {line["Cable"]: line for _, line in told[row.tag] if "Cable" in line}
        assert followed.keys() == leaving.keys(), row.tag
        for identity, cable in leaving.items():
            cables += 1
            line = followed[identity]
            way = re.findall(r"\b[A-Z]\d+\b", line.get("By way of", ""))
            assert way == list(dict.fromkeys(cable.pathways)), identity
            end = f"{cable.to_tag} {code_of(cable.to_port, cable.to_tag)}"
            assert f"{line['Ends at']} ".startswith(end), identity
            assert metres(line["Length"]) == pytest.approx(cable.length_m, abs=NEAR_M), identity
    assert cables > 60


def test_each_device_in_a_rack_of_a_storey_has_its_unit_and_all_that_is_joined_to_it(
    document: Document,
) -> None:
    units = {place.name: place.unit for place in document.rack_places}
    told = told_of(document)
    inside = [row for row in document.devices if row.location == "ER2-RK1" and row.kind != "rack"]
    assert len(inside) > 12
    for row in inside:
        lines = [line for _, line in told[row.tag]]
        assert lines[0]["Fixed"].startswith(f"ER2-RK1 U{units[row.tag]}"), row.tag
        wanted = {
            cable.identity
            for cable in document.cables
            if f"{cable.to_tag}/{cable.to_port}".startswith((f"{row.tag}/", f"ER2-RK1/{row.tag}/"))
        }
        assert wanted <= {line.get("Cable", "") for line in lines}, row.tag
        if row.switch_port:
            port = row.switch_port.replace("/", " port ")
            ports = [patch.device_port for patch in document.patches if patch.device == row.tag]
            assert lines[0]["Patched to"] in [f"{one} to {port}" for one in ports], row.tag
