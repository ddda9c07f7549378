"""Microphone systems: what does not work together is told, accessories count, systems share no frame."""

import re
from decimal import Decimal
from pathlib import Path

import pytest

from proposal.design.sound.muting import mute_points
from proposal.errors import InputError
from proposal.model.loading import load_project
from proposal.model.project import FixedDevice, Project
from proposal.model.rooms import RoomType
from proposal.pipeline import Computed, compute
from proposal.review.microphone_systems import (
    mixed_systems,
    mutes_that_nothing_sets,
    several_systems,
    wrong_accessories,
)
from tests.catalogue import model_of, shipped
from tests.design.making import PROJECTS, changed, designed, minimal, project_of, with_layout
from tests.model.reading.test_removed_keys import told
from tests.review.editing import edited

SYSTEMS = shipped().systems


def message_of(folder: Path) -> str:
    with pytest.raises(InputError) as caught:
        load_project(folder)
    (problem,) = caught.value.problems
    return str(problem)


def with_accessories(project: Project, accessories: tuple[str, ...]) -> Project:
    microphones = {
        code: one.model_copy(update={"accessories": accessories if code == "M1" else ()})
        for code, one in project.room_types["meeting"].microphones.items()
    }
    return with_layout(project, "meeting", microphones=microphones)


def accessory(system: str, form: str) -> str:
    return next(
        code
        for code, one in sorted(shipped().accessories.items())
        if one.works_with == system and form in one.forms
    )


@pytest.mark.parametrize("kind", ["access_point", "charger", "microphone"])
def test_a_device_of_another_system_is_an_error_that_names_both(kind: str) -> None:
    (sized,) = designed(minimal()).kinds
    other = next(system for system in SYSTEMS if system != sized.sizing.system)
    wanted = {"form": "boundary", "pattern": "cardioid"} if kind == "microphone" else {}
    model = model_of(shipped(), kind, works_with=other, **wanted)
    code = {"access_point": "AP1", "charger": "CH1", "microphone": "M1"}[kind]
    project = changed(minimal(), "fixed.devices", {f"B001-{code}": FixedDevice(model=model)})
    (finding,) = mixed_systems(project, designed(project))
    assert (finding.rule, finding.severity, finding.where) == ("mixed-systems", "error", "B001")
    assert f"{other}: {code}" in finding.message
    assert f"{sized.sizing.system}: " in finding.message


@pytest.mark.parametrize("system", SYSTEMS)
def test_what_the_program_chooses_is_of_one_system(system: str) -> None:
    project = with_layout(minimal(), "meeting", system=system)
    assert list(mixed_systems(project, designed(project))) == []


def test_an_accessory_of_another_form_or_system_is_an_error() -> None:
    first, other, *_ = SYSTEMS
    project = with_layout(minimal(), "meeting", system=first)
    fitting = next(
        (
            code
            for code, one in shipped().accessories.items()
            if one.works_with == first and "boundary" in one.forms
        )
    )
    wrong_form = next(
        code
        for code, one in shipped().accessories.items()
        if one.works_with == first and "boundary" not in one.forms
    )
    good = with_accessories(project, (fitting,))
    assert list(wrong_accessories(good, designed(good))) == list(mixed_systems(good, designed(good))) == []
    bad = with_accessories(project, (fitting, wrong_form))
    (finding,) = wrong_accessories(bad, designed(bad))
    assert wrong_form in finding.message
    mixed = with_accessories(project, (model_of(shipped(), "accessory", works_with=other),))
    assert [one.rule for one in mixed_systems(mixed, designed(mixed))] == ["mixed-systems"]


def test_rooms_of_several_systems_that_nobody_chose_are_told_and_the_remedy_ends_it() -> None:
    first = minimal()
    meeting, room = first.room_types["meeting"], first.rooms["B001"]
    mine = designed(first).kinds[0].sizing.system
    other = next(system for system in SYSTEMS if system != mine)

    def of_two(layout: RoomType) -> Project:
        second = room.model_copy(update={"x": 20.0, "type": "second", "layout": layout})
        types = {**first.room_types, "second": layout}
        return first.model_copy(update={"rooms": {**first.rooms, "B002": second}, "room_types": types})

    two = of_two(meeting.model_copy(update={"system": other}))
    assert not list(several_systems(first, designed(first)))
    (finding,) = several_systems(two, designed(two))
    assert (finding.rule, finding.value, finding.limit) == ("several-systems", 2.0, 1.0)
    assert f"{other} in B002" in finding.message
    (named,) = re.findall(r"microphones\.system: (\S+?),? ", finding.remedy)
    one = changed(of_two(meeting), "brief.rules.microphones.system", named)
    assert {kind.sizing.system for kind in designed(one).kinds} == {named}
    assert not list(several_systems(one, designed(one)))
    # Who wrote a system for each room meant it.
    meant = with_layout(two, "meeting", system=mine)
    assert not list(several_systems(meant, designed(meant)))


def test_accessories_are_counted_priced_and_listed_as_equipment() -> None:
    (sized,) = designed(minimal()).kinds
    code = accessory(sized.sizing.system, "boundary")
    before, after = compute(minimal()), compute(with_accessories(minimal(), (code, code)))
    entry = shipped().accessories[code]
    (line,) = (one for one in after.estimate.lines if one.model == code)
    assert line.section == "accessories"
    # Two at the first of two microphones, whatever stands at the other.
    assert (line.model, line.room, line.quantity, line.cost) == (
        code,
        "B001",
        Decimal(2),
        2 * entry.cost.amount,
    )
    assert line.causes == ("B001-M1", "B001-M1")
    assert after.estimate.equipment_cost - before.estimate.equipment_cost == 2 * entry.cost.amount
    (counted,) = (one for one in after.estimate.equipment if one.model == code)
    assert (counted.kind, counted.quantity, counted.rooms) == ("accessory", 2, (("B001", 2),))
    assert _sold(after, code) > 0
    assert _sold(before, code) == 0


def _sold(computed: Computed, item: str) -> Decimal:
    return sum((one.price for one in computed.price.lines if one.item == item), Decimal(0))


def test_systems_of_one_building_share_no_frame() -> None:
    first, other, *_ = SYSTEMS
    project = project_of(PROJECTS / "us_customary")
    one, two = sorted(project.room_types)[:2]
    # Access points that keep in step over the network; what keeps in step by radio does so with its own.
    mixed = with_layout(with_layout(project, one, system=first), two, system=other)
    made = designed(changed(mixed, "fixed.rooms", {}))
    groups: dict[str, set[str]] = {}
    for tag, group in made.radio.groups.items():
        room = tag.partition("-")[0]
        groups.setdefault(mixed.rooms[room].type, set()).add(group)
    assert groups[one].isdisjoint(groups[two])


def test_a_system_or_an_accessory_that_the_library_lacks_is_refused(tmp_path: Path) -> None:
    kind = "room_types/meeting.yaml"
    known = ", ".join(SYSTEMS)
    folder = edited(tmp_path / "one", "minimal", {kind: [("*end*", "system: Nobody\n")]})
    assert f"system: wanted a microphone system of the library: one of {known}; found Nobody" in message_of(
        folder
    )
    rules = {"project.yaml": [("*end*", f"rules:\n  microphones: {{system: {SYSTEMS[0]}x}}\n")]}
    message = message_of(edited(tmp_path / "two", "minimal", rules))
    assert message.endswith(f"found {SYSTEMS[0]}x (did you mean {SYSTEMS[0]}?)")
    hung = {kind: [("at: [2.2 m, 2.5 m]}", "at: [2.2 m, 2.5 m], accessories: [NONE]}")]}
    message = message_of(edited(tmp_path / "three", "minimal", hung))
    assert "microphones.M1.accessories" in message
    assert "wanted an accessory of the library" in message


def test_old_keys_of_chargers_are_told_the_new_ones(tmp_path: Path) -> None:
    code = sorted(shipped().chargers)[0]
    library = (
        "source: editable default\ncharge_slots: {gooseneck: 2}\n"
        f"chargers:\n  '{code}':\n    slots: 8\n    links: yes\n    forms: [handheld]\n"
    )
    problems = told(tmp_path, library)
    assert [one.partition(": ")[2].partition(",")[0] for one in problems] == [
        "wanted no charge_slots any more",
        f"chargers.{code}: wanted no slots any more",
        f"chargers.{code}: wanted no links any more",
        f"chargers.{code}: wanted no forms any more",
    ]
    assert all("slot_groups" in problems[n] for n in (0, 1, 3))
    assert "pairs says whether" in problems[2]


def test_groups_that_nothing_in_the_room_can_mute_alone_are_a_warning() -> None:
    """Breakouts and access points mute all at once, mixers one input each."""
    project = minimal()
    first, *others = project.room_types["meeting"].microphones.items()
    grouped = {first[0]: first[1].model_copy(update={"mute_group": "chair"}), **dict(others)}
    for output, groups, rules in (
        ("breakout", dict([first, *others]), []),
        ("breakout", grouped, ["mute-not-possible"]),
        ("mixer", grouped, []),
    ):
        made = designed(with_layout(project, "meeting", output=output, microphones=groups))
        found = list(mutes_that_nothing_sets(made.project, made))
        assert [one.rule for one in found] == rules
        if output == "breakout":
            remedies = [one.remedy for one in found]
    # The mixer that the room then gets is the one that the remedy names.
    (mixer,) = (one.model for one in made.devices if one.kind == "mixer")
    assert all(f"with 1 × {mixer}, which has a control point `mute`" in one for one in remedies)
    points = mute_points(made.devices, made.entries)
    assert ("MX1", "mute") in points
    assert ("AP1", "mute all") in points
