"""Inputs and outputs beside the microphones', and configuration sheets and control points."""

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.model.loading import load_project
from tests.design.sound.test_channels import EACH, designed

ROOT = Path(__file__).resolve().parents[3]


@cache
def example() -> Design:
    return design(load_project(ROOT / "example_project"))


@EACH
def test_no_port_is_used_twice_but_by_usb(folder: str) -> None:
    _, found = designed(folder)
    uses = Counter((one.device, one.direction, one.port) for one in found.ends if one.signal == "analogue")
    assert [use for use, count in uses.items() if count > 1 and use[2]] == []


@pytest.mark.independent
def test_what_the_chamber_sends_and_takes() -> None:
    # Three zones on analogue outputs, three networked destinations, one networked return.
    ends = [one for one in example().ends if one.device == "A001-MX1"]
    assert [(one.port, one.name) for one in ends if one.signal == "analogue"] == [
        ("O1", "loudspeakers, zone gallery"),
        ("O2", "loudspeakers, zone members"),
        ("O3", "loudspeakers, zone presiding"),
    ]
    networked = {(one.direction, one.name, one.channels) for one in ends if one.stream}
    assert networked == {
        ("input", "return audio from conferencing codec", 1),
        ("output", "mix for conferencing codec", 1),
        ("output", "mix for interpreters' console", 2),
        ("output", "mix for sound archive recorder", 2),
    }


@cache
def without_analogue_ports() -> Design:
    """The example with a mixer in its chamber of which the library lists no analogue outputs."""
    project = load_project(ROOT / "example_project")
    (model,) = {one.model for one in example().devices if one.tag == "A001-MX1"}
    entry = project.library.mixers[model]
    ports = {letters: one for letters, one in entry.ports.items() if one.signal != "analogue output"}
    assert len(ports) == len(entry.ports) - 1
    mixers = {**project.library.mixers, model: entry.model_copy(update={"ports": ports})}
    library = project.library.model_copy(update={"mixers": mixers})
    return design(project.model_copy(update={"library": library}))


def test_outputs_that_the_library_only_counts_are_numbered_from_one() -> None:
    ends = [
        one for one in without_analogue_ports().ends if one.device == "A001-MX1" and one.signal == "analogue"
    ]
    assert [one.port for one in ends] == ["line output 1", "line output 2", "line output 3"]


def test_the_level_of_analogue_outputs_is_set_where_there_are_any() -> None:
    def names(found: Design) -> set[str]:
        return {one.name for one in found.settings if one.device == "A001-MX1"}

    assert names(example()) - names(without_analogue_ports()) >= {"Analogue level"}
    assert "Analogue level" not in names(without_analogue_ports())
    assert "Networked level" in names(without_analogue_ports())


@pytest.mark.independent
def test_usb_carries_both_ways_on_one_port() -> None:
    ends = [one for one in example().ends if one.device == "A110-MX1" and one.signal == "USB"]
    assert [(one.direction, one.port) for one in ends] == [("input", "U1"), ("output", "U1")]


@EACH
def test_every_device_on_the_network_has_a_sheet_with_its_address(folder: str) -> None:
    _, found = designed(folder)
    sheets: dict[str, list[tuple[str, str]]] = {}
    for one in found.settings:
        sheets.setdefault(one.device, []).append((one.name, one.value))
    owners = {one.device.tag for one in found.owners}
    for tag, addresses in found.addresses.by_tag.items():
        if tag in owners:
            # Its owner sets it; the page of what the owner furnishes tells the address.
            continue
        values = {value.partition("/")[0] for name, value in sheets[tag] if name.startswith("Address")}
        assert set(addresses) <= values
    for tag, entry in found.entries.items():
        if entry.network:
            assert ("Host name", tag.lower()) in sheets[tag]


def test_steps_of_a_sheet_are_numbered_from_one_and_switches_come_first() -> None:
    devices = [one.device for one in example().settings]
    for device in set(devices):
        steps = [one.step for one in example().settings if one.device == device]
        assert steps == list(range(1, len(steps) + 1))
    kinds = {device.tag: device.kind for device in example().devices}
    order = list(dict.fromkeys(kinds[device] for device in devices))
    assert order[:4] == ["switch", "access_point", "charger", "microphone"]


def test_one_switch_of_the_project_is_the_querier() -> None:
    values = [one.value for one in example().settings if one.name == "IGMP querier"]
    assert len(values) == sum(device.kind == "switch" for device in example().devices)
    assert sum(value.startswith("on") for value in values) == 1


@pytest.mark.independent
def test_an_access_point_lists_every_channel_taken_or_free() -> None:
    project, found = designed("example_project")
    points = [one for one in found.devices if one.tag.startswith("A001-AP")]
    free = 0
    for point in points:
        sheet = {one.name: one.value for one in found.settings if one.device == point.tag}
        channels = project.library.access_points[point.model].channels
        told = [sheet[f"Channel {n}"] for n in range(1, channels + 1)]
        assert f"Channel {channels + 1}" not in sheet
        assert {one.partition(" ")[0] for one in told} - {"free"} == {f"A001-{code}" for code in point.serves}
        free += told.count("free")
        assert sheet["Address mode"] == "static"
        assert sheet["VLAN"] == "408"
    every = sum(project.library.access_points[point.model].channels for point in points)
    assert free == every - len(project.rooms["A001"].layout.microphones)
    first = {one.name: one.value for one in found.settings if one.device == "A001-AP1"}
    assert first["Channel 1"] == "A001-M1 M1 presiding officer"


def test_a_microphone_is_told_its_slot_channel_name_switch_and_group() -> None:
    sheet = [(one.name, one.value) for one in example().settings if one.device == "A001-M1"]
    assert sheet == [
        ("Place in slot", "A001-CH1/1"),
        ("Pair with", "A001-AP1, channel 1, in its charge slot"),
        ("Name", "M1 presiding officer"),
        # It can toggle, and nobody asked for a button that has to be held.
        ("Switch", "toggle"),
        ("Mute group", "presiding"),
        ("Return audio", "off"),
        ("Mounting", "table"),
    ]


@EACH
def test_control_points_are_those_of_the_library(folder: str) -> None:
    _, found = designed(folder)
    assert Counter(one.device for one in found.controls) == Counter(
        {tag: len(entry.control_points) for tag, entry in found.entries.items() if entry.control_points}
    )


def test_a_microphone_answers_through_its_access_point() -> None:
    found = next(one for one in example().controls if one.device == "A001-M1" and one.point == "mute")
    assert found.through == "A001-AP1"
    assert found.address == example().addresses.by_tag["A001-AP1"][0]
    spare = next(one for one in example().controls if one.device == "A001-MS1")
    assert (spare.through, spare.address) == ("", "")


@EACH
def test_the_sheet_of_a_charger_tells_the_microphone_of_each_of_its_slots(folder: str) -> None:
    _, found = designed(folder)
    chargers = {one.tag for one in found.devices if one.kind == "charger"}
    told = {
        f"{one.device}/{one.name.removeprefix('Slot ')}": one.value.partition(" ")[0]
        for one in found.settings
        if one.device in chargers and one.name.startswith("Slot ")
    }
    assert told
    assert told == {one.berth: one.microphone for one in found.channels.channels if one.berth}
