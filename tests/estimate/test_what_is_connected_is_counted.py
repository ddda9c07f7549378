"""Small buildings drawn at random: what is connected is counted, and what is counted is connected.

`PROPOSAL_LONG_TESTS=50` before this file tries thousands.
"""

import random
import tempfile
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.design.connections.cable_ends import CableEnds
from proposal.design.equipment.mounts import mounted
from proposal.design.patch_table import patches
from proposal.estimate.price.price import room_sums
from proposal.model.loading import load_project
from proposal.pipeline import Computed, compute
from tests.design.making import PROJECTS
from tests.long_form import cases

D = Decimal
MINIMAL = PROJECTS / "minimal"


SIGNALS = ("analogue", "networked audio")


def owned(chance: random.Random, rooms: list[str]) -> str:
    """Return equipment of the owner in some rooms or in the equipment room, with few ports or many."""
    place = chance.choice(["", "meeting", "ER1"])
    if not place:
        return ""
    inputs, on_network = (
        chance.randint(1, 4),
        chance.choice(["", "N: {signal: network, count: 1, connector: jack}"]),
    )
    serves = f"rooms: [{', '.join(rooms)}], " if place == "ER1" else ""
    ports = f"I: {{signal: analogue input, count: {inputs}, connector: '3-pin circular, male'}}, {on_network}"
    return (
        f"owner_equipment:\n  {place}:\n    OE1: {{kind: codec, name: Codec, {serves}serves: [far-end], "
        f"ports: {{{ports}}}}}\n"
    )


def building(folder: Path, seed: int, without: str = "") -> Computed:
    """Return a building of one to three rooms drawn from a seed; one of them left out where it is named."""
    chance = random.Random(seed)
    texts = {path.name: path.read_text(encoding="utf-8") for path in MINIMAL.glob("*.*")}
    layout = (MINIMAL / "room_types" / "meeting.yaml").read_text(encoding="utf-8")
    speakers = "".join(
        f"  LS{n}: {{at: [{chance.randint(10, 50) / 10} m, {chance.randint(10, 40) / 10} m], zone: room}}\n"
        for n in range(1, chance.randint(0, 3) + 1)
    )
    layout += f"loudspeakers:\n{speakers}" if speakers else ""
    network = chance.choice(["", "network: rack\n"])
    rooms = [
        f"B00{n},Meeting Room {n},meeting,L0,{chance.randint(0, 60) / 2} m,{8 * n} m\n"
        for n in range(1, chance.randint(1, 3) + 1)
    ]
    texts["building.yaml"] += owned(chance, [row[:4] for row in rooms if not row.startswith(without or "-")])
    if "far-end" in texts["building.yaml"]:
        ends = f"{{name: codec, signal: {chance.choice(SIGNALS)}, channels: {chance.randint(1, 3)}}}"
        layout = layout.replace("{name: conferencing codec, signal: analogue}", ends)
    rules = chance.choice(["", f"rules: {{takeoff: {{length_tolerance: {chance.randint(0, 9)} %}}}}\n"])
    (folder / "room_types").mkdir(parents=True)
    (folder / "room_types" / "meeting.yaml").write_text(layout + network, encoding="utf-8")
    kept = [row for row in rooms if not without or not row.startswith(without)]
    texts["rooms.csv"] = texts["rooms.csv"].splitlines()[0] + "\n" + "".join(kept)
    texts["project.yaml"] += rules
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    return compute(load_project(folder))


@pytest.mark.parametrize("seed", range(cases(30)))
def test_what_is_connected_is_counted_and_the_reverse(seed: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        computed = building(Path(folder) / "project", seed)
    design, estimate = computed.design, computed.estimate
    lines = estimate.lines
    by_section: dict[str, list[str]] = {}
    for line in lines:
        by_section.setdefault(line.section, []).extend(line.causes)
    cables = sorted(cable.identity for cable in design.cables)
    assert all(cable.model for cable in design.cables)
    assert sorted(by_section["cable"]) == cables
    long_enough = sorted(cable.identity for cable in design.cables if cable.length_m > 0)
    assert sorted(by_section["reels"]) == long_enough
    assert sorted(by_section["equipment"]) == sorted(design.entries)
    hanging = [
        device.tag for device, _, model in mounted(computed.project, design.devices, design.entries) if model
    ]
    # What hangs at a ceiling has a second, independent wire beside its mount.
    wired = [
        device.tag
        for device in design.devices
        if device.location == "ceiling"
        and (device.kind == "access_point" or getattr(design.entries[device.tag], "safety_wire", False))
    ]
    assert sorted(by_section.get("mounts", [])) == sorted(hanging + wired)
    made_off = CableEnds(computed.project, design.devices, design.every_entry)
    ends = Counter(model for cable in design.cables for end in made_off.of(cable) for model in end.models)
    panels = computed.project.library.patch_panels
    counted: Counter[str] = Counter()
    labels = cords = D(0)
    for line in lines:
        if line.section == "termination" and line.model not in panels:
            counted[line.model] += int(line.quantity)
        labels += line.quantity if line.section == "labels" else 0
        cords += line.quantity if line.section == "patching" else 0
    assert counted == ends
    assert labels == 2 * len(cables) + len(design.devices)
    in_racks = sum(not port.attached.cable for port in design.ports)
    between = sum(len(link.cords) for link in design.switch_links if link.cable is None)
    assert cords == sum(len(cable.cords) for cable in design.cables) + in_racks + between


@pytest.mark.parametrize("seed", range(cases(30)))
def test_equipment_of_the_owner_is_used_no_further_than_it_exists(seed: int) -> None:
    """Ports are given once, none beyond those there are; what has none left is an error that says so."""
    with tempfile.TemporaryDirectory() as folder:
        computed = building(Path(folder) / "project", seed)
    design = computed.design
    there = {
        one.device.tag: {
            f"{letters}{n}" for letters, sort in one.written.ports.items() for n in range(1, sort.count + 1)
        }
        for one in design.owners
    }
    used = Counter((one.owner, one.owner_port) for one in design.owner_joins if one.owner_port)
    used += Counter((one.device, one.device_port) for one in patches(design) if one.device in there)
    assert all(port in there[tag] for tag, port in used)
    assert set(used.values()) <= {1}
    # Each channel that leaves for it is joined, or is told of.
    out = [end for end in design.ends if "far-end" in end.joined and end.signal == "analogue" and end.port]
    assert len([one for one in design.owner_joins if one.end.port]) == (len(out) if there else 0)
    short = {one.where for one in computed.findings if one.rule == "owner-ports-short"}
    assert short == {one.owner for one in design.owner_joins if not one.owner_port}
    cables = {cable.identity for cable in design.cables}
    assert {one.cable for one in design.owner_joins if one.owner_port and one.end.port} <= cables
    assert not any(
        line.section == "equipment" and set(line.causes) & set(there) for line in computed.estimate.lines
    )


@pytest.mark.parametrize("seed", range(cases(20)))
def test_rooms_add_to_the_project_by_need_and_in_money(seed: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        computed = building(Path(folder) / "project", seed)
    estimate, price = computed.estimate, computed.price
    need: dict[tuple[str, str], Decimal] = {}
    cost: dict[tuple[str, str], Decimal] = {}
    for line in estimate.lines:
        key = (line.section, line.model)
        need[key] = need.get(key, D(0)) + line.priced
        cost[key] = cost.get(key, D(0)) + line.cost
    bought: dict[tuple[str, str], Decimal] = {}
    paid: dict[tuple[str, str], Decimal] = {}
    for one in estimate.purchases:
        bought[one.key] = bought.get(one.key, D(0)) + one.need
        paid[one.key] = paid.get(one.key, D(0)) + one.cost
    assert {key: need[key] for key in bought} == bought
    assert {key: cost[key] for key in paid} == paid
    rooms = sorted(computed.project.rooms)
    for view in ("building group", "shared out"):
        sums = room_sums(price.lines, rooms, view, D("0.01"))
        assert sum(one.cost for one in sums) == price.whole.cost
        assert sum(one.price for one in sums) == price.whole.price
    assert sum(line.cost for line in price.lines if line.group in ("equipment", "materials")) == sum(
        line.cost for line in estimate.lines
    )


@pytest.mark.parametrize("seed", range(cases(20)))
def test_a_room_taken_away_again_leaves_what_was(seed: int) -> None:
    """Other rooms' needs are the same without it; and with it again, all is as it was."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        whole, again = building(place / "a", seed), building(place / "b", seed)
        assert whole.estimate == again.estimate
        assert whole.price == again.price
        if len(whole.project.rooms) == 1:
            return
        gone = max(whole.project.rooms)
        less = building(place / "c", seed, without=gone)
    sections = ("equipment", "mounts", "cable", "termination", "patching", "labels")
    needs = {
        name: {
            (line.section, line.model, line.room): line.quantity
            for line in found.estimate.lines
            if line.section in sections and line.room in less.project.rooms
        }
        for name, found in (("whole", whole), ("less", less))
    }
    assert needs["whole"] == needs["less"]
    assert not any(line.room == gone for line in less.estimate.lines)
