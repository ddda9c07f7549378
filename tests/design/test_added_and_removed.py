"""What is added after an issue makes nothing worse, and when it is removed again all is as it was.

A building drawn at random is issued; something is added and that is issued too; then it is taken away again.
`PROPOSAL_LONG_TESTS=20` before this file tries hundreds.
"""

import random
import tempfile
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import yaml

from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from proposal.model.project import Numbered
from proposal.review.rules import RULES
from tests.independent.test_generated_buildings import written
from tests.long_form import cases
from tests.random_states import write_states
from tests.test_numbers_stay import whole_register

pytestmark = pytest.mark.usefixtures("little_patience")

Register = Mapping[str, Numbered]


def made(folder: Path, issued: Register) -> Design:
    return design(load_project(folder).model_copy(update={"issued": issued}))


def change(path: Path, edit: Callable[[dict[str, Any]], None]) -> None:
    written_there = yaml.safe_load(path.read_text(encoding="utf-8")) if path.exists() else {}
    edit(written_there)
    path.write_text(yaml.safe_dump(written_there, allow_unicode=True), encoding="utf-8")


def microphone(folder: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((folder / "room_types").iterdir()))
    new = {"form": "handheld", "pattern": "cardioid", "at": ["2.5 m", "2.5 m"]}
    change(path, lambda room: room["microphones"].update({"M40": new}))


def spare(folder: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((folder / "room_types").iterdir()))

    def edit(room: dict[str, Any]) -> None:
        held = room["spare_microphones"]
        form = next(iter(held), next(iter(room["microphones"].values()))["form"])
        held[form] = int(held.get(form, 0)) + 2

    change(path, edit)


def destination(folder: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((folder / "room_types").iterdir()))
    new = {"name": "press feed", "signal": "analogue"}
    change(path, lambda room: room["destinations"].update({"press": new}))


def loudspeaker(folder: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((folder / "room_types").iterdir()))
    new = {"at": ["3.1 m", "2.1 m"], "zone": chance.choice(("front", "middle"))}
    change(path, lambda room: room.setdefault("loudspeakers", {}).update({"LS9": new}))


def recorder(folder: Path, chance: random.Random) -> None:
    room = (folder / "rooms.csv").read_text(encoding="utf-8").splitlines()[1].partition(",")[0]
    ports = {"I": {"signal": "analogue input", "count": 2, "connector": "3-pin terminal block, 3.81 mm"}}
    new = {"kind": "recorder", "name": "Recorder", "serves": ["far-end"], "ports": ports}
    change(
        folder / "building.yaml",
        lambda building: building.setdefault("owner_equipment", {}).update({room: {"OE1": new}}),
    )


def another_room(folder: Path, chance: random.Random) -> None:
    path = folder / "rooms.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    fields = lines[1].split(",")
    fields[0], fields[1], fields[5] = "B009", "Room 9", "80 m"
    path.write_text("\n".join([*lines, ",".join(fields), ""]), encoding="utf-8")


def states(folder: Path, chance: random.Random) -> None:
    """Joined rooms with mixers, an operable wall, kinds of day; a portable set, at times."""
    write_states(folder, chance)


ADDED = (microphone, spare, destination, loudspeaker, recorder, another_room, states)


def things(known: Design) -> dict[str, object]:
    """All that is built and set: devices, joins, cables, cords, ports, channels, streams, addresses."""
    return {
        "devices": known.devices,
        "joins": {
            (one.identity, one.start, one.end, one.first_panel, one.panel, one.cords, one.source)
            for one in known.graph.joins
        },
        "throughs": known.graph.throughs,
        "cables": {
            (one.identity, one.model, round(one.length_m, 9), one.end_port, one.route) for one in known.cables
        },
        "ports": [(one.switch, one.port, one.attached, round(one.drawn_w, 9)) for one in known.ports],
        "channels": known.channels.channels,
        "streams": known.channels.streams,
        "ends": known.ends,
        "addresses": known.addresses.by_tag,
        "racks": [(rack.device.tag, rack.device.model) for rack in known.racks],
    }


def bought(known: Design) -> tuple[Counter[str], dict[str, float], Counter[str]]:
    """Devices and cords by model, and metres of cable by type."""
    metres: dict[str, float] = {}
    for cable in known.cables:
        metres[cable.model] = round(metres.get(cable.model, 0.0) + cable.length_m, 6)
    cords = Counter(model for join in known.graph.network for model in join.cords)
    return Counter(one.model for one in known.devices), metres, cords


def errors(known: Design) -> set[tuple[str, str]]:
    found = (one for rule in RULES for one in rule(known.project, known))
    return {(one.rule, one.where) for one in found if one.severity == "error"}


def before_and_with(folder: Path, seed: int) -> Callable[[Path, random.Random], object]:
    """Write a building twice, the second time with something added, and return what added it."""
    for name in ("before", "with"):
        written(folder / name, seed)
    add = ADDED[seed % len(ADDED)]
    add(folder / "with", random.Random(seed))
    return add


@pytest.mark.parametrize("seed", range(2000, 2000 + cases(30)))
def test_what_is_removed_again_leaves_all_as_it_was(seed: int) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        add = before_and_with(folder, seed)
        first = made(folder / "before", {})
        issued = whole_register(first.project, first)
        more = made(folder / "with", issued)
        both = whole_register(more.project, more)
        again = made(folder / "before", both)
    assert bought(again) == bought(first)
    models = {one.tag: one.model for one in more.devices}
    numbered = [one for one in first.devices if one.kind in ("access_point", "charger")]
    if any(models.get(one.tag) != one.model for one in numbered):
        # Another system was issued in between: microphones keep the channels and slots of that issue.
        return
    switches = {port.attached.tag: port.switch for port in more.ports}
    if any(switches.get(port.attached.tag) != port.switch for port in first.ports if port.attached.tag):
        # A device was issued on another switch in between: its first port is retired then.
        return
    was, now = things(first), things(again)
    # Who had to make room for what was added keeps the slot that the issue in between gave.
    between = {one.microphone: one.berth for one in more.channels.channels}
    moved = {
        one.microphone
        for one in first.channels.channels
        if between.get(one.microphone, one.berth) != one.berth
    }
    for known, made_of in ((first, was), (again, now)):
        made_of["channels"] = [
            replace(one, berth="") if one.microphone in moved else one for one in known.channels.channels
        ]
    for subject, before in was.items():
        assert now[subject] == before, (add.__name__, subject)


@pytest.mark.parametrize("seed", range(3000, 3000 + cases(12)))
def test_what_is_added_after_an_issue_is_as_good_as_if_it_had_been_there(seed: int) -> None:
    """Numbers that are kept cost no error that a design without them would not have."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        add = before_and_with(folder, seed)
        first = made(folder / "before", {})
        later = made(folder / "with", whole_register(first.project, first))
        fresh = made(folder / "with", {})
    assert errors(later) <= errors(fresh), add.__name__
    assert len(later.devices) == len(fresh.devices)
