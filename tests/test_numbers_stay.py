"""Numbers of an issued revision stay, whatever is edited after it, and none is ever given to another thing.

A longer run: `PROPOSAL_EDIT_SEQUENCES=500 python -m pytest tests/test_numbers_stay.py -k sequence`.
"""

import ipaddress
import os
from collections.abc import Iterable, Mapping, Sequence

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from proposal.design.design import Design
from proposal.design.number_register import design_numbers, joined
from proposal.errors import Problem
from proposal.model.issued import read_register, register_text
from proposal.model.project import Numbered, Project
from tests.editing import EDITS, Folder

SEQUENCES = int(os.environ.get("PROPOSAL_EDIT_SEQUENCES", "3"))
PHASES = (Phase.explicit, Phase.generate)
"""A step takes a good part of a second: looking for a shorter sequence that fails would take many minutes."""
Register = Mapping[str, Numbered]
NAMES = [edit.__name__ for edit in EDITS]
COUNTING = [
    *("remove_microphones_of_one_side", "add_microphone", "change_spares", "write_positions"),
    *("fix_count", "fix_count", "fix_count", "fix_count", "fix_count", "retype_room"),
]
"""Edits after which there are more or fewer devices."""


def step(names: Sequence[str]) -> st.SearchStrategy[tuple[str, int, int]]:
    """Return an edit by name, and the two numbers that choose what it does."""
    number = st.integers(min_value=0, max_value=60)
    return st.tuples(st.sampled_from(names), number, number)


def whole_register(project: Project, made: Design) -> Register:
    """Return the register that a revision leaves behind, as its file would give it back.

    Without sheets, radio and reels, which take longer than all else and have tests of their own.
    """
    problems: list[Problem] = []
    text = register_text(joined(project.issued, design_numbers(made)))
    found = read_register(text.encode(), "register.json", problems)
    assert not problems
    return found


def check(issued: Register, before: Design, now: Design) -> None:
    """Assert that a design keeps the numbers of the revision issued last.

    issued: its register.  before: its design.
    """
    numbers = design_numbers(now)
    check_surviving(issued, now, numbers)
    check_retired(issued, now, numbers)
    check_apart(now, numbers)
    check_rooms_left_alone(issued, before, now, numbers)
    check_places(issued, now)


def kind_of(identity: str) -> str:
    return identity.partition("/")[0]


def rest_of(identity: str) -> str:
    return identity.partition("/")[2]


def equipment_of(number: str) -> str:
    return number.rpartition("/")[0]


def by_hand(now: Design) -> set[str]:
    """Return addresses and ports that fixed.yaml gives."""
    return {text for one in now.project.fixed.devices.values() for text in (one.address, one.switch_port)}


def check_surviving(issued: Register, now: Design, numbers: Register) -> None:
    """Every thing that is still there has its number, unless that number cannot be any more."""
    devices = {one.tag: one for one in now.devices}
    for identity, before in issued.items():
        here = numbers.get(identity)
        if before.retired or here is None or here.number == before.number:
            continue
        kind = kind_of(identity)
        changed = f"{identity}: {before.number} became {here.number}"
        fixed = by_hand(now)
        if kind == "address":
            network = ipaddress.ip_network(now.addresses.network)
            inside = ipaddress.ip_address(before.number) in network
            gone = not inside or before.number == now.addresses.gateway
            assert gone or before.number in fixed or here.number in fixed, changed
        elif kind == "port":
            switch = equipment_of(before.number)
            power = next((one for one in now.switches if one.switch.device.tag == switch), None)
            moved = equipment_of(here.number) != switch
            smaller = power is not None and int(before.number.rpartition("/")[2]) > power.switch.access_ports
            assert power is None or moved or smaller or {before.number, here.number} & fixed, changed
            if power is not None and moved and here.number not in fixed:
                assert_cause_to_move(issued, now, switch, rest_of(identity), changed)
        elif kind == "channel":
            # It has another access point, or another model stands there.
            models = {one: held.model for one, held in issued.items()}
            tag = equipment_of(before.number)
            same = tag in devices and models.get(f"device/{tag}") == devices[tag].model
            assert equipment_of(here.number) != tag or not same, changed
        elif kind in ("slot", "input", "end"):
            tag = equipment_of(before.number)
            same = tag in devices and issued[f"device/{tag}"].model == devices[tag].model
            microphone = rest_of(identity)
            form = issued.get(f"device/{microphone}")
            other = form is not None and form.model != devices[microphone].model
            assert not same or other or (kind == "input" and "OUT" in before.number), changed
        elif kind == "outlet":
            assert overloaded_as_it_was(issued, now, before.number), changed
        else:
            raise AssertionError(changed)


def overloaded_as_it_was(issued: Register, now: Design, mark: str) -> bool:
    """Return whether a circuit would be too much with all that was on it, or another of its place would."""
    place = mark.split("/")[0]
    outlets = {outlet.serves: outlet for one in now.circuits for outlet in one.outlets}
    loads: dict[str, list[float]] = {}
    for identity, one in issued.items():
        outlet = outlets.get(rest_of(identity))
        if (
            kind_of(identity) == "outlet"
            and not one.retired
            and outlet
            and one.number.startswith(f"{place}/")
        ):
            load = loads.setdefault(equipment_of(one.number), [0.0, 0.0])
            load[0] += outlet.full_va
            load[1] += outlet.leakage_a
    (allowed,) = {one.allowed for one in now.circuits if one.place == place}
    full_va = allowed.continuous.value * now.project.brief.mains_voltage
    return any(va > full_va or leakage > allowed.leakage_a for va, leakage in loads.values())


def assert_cause_to_move(issued: Register, now: Design, switch: str, tag: str, changed: str) -> None:
    """A device leaves a switch that is still there only where others came to its closet, or less is given."""
    closet = next((one for one in now.closets if switch in {held.device.tag for held in one.switches}), None)
    if closet is None or tag not in closet.wanting:
        return
    switches = {held.device.tag: held.device.model for held in closet.switches}
    before = {
        one.number: one.model
        for identity, one in issued.items()
        if identity.startswith(f"device/{closet.equipment_room}-SW") and not one.retired
    }
    came = {one for one in closet.wanting if f"port/{one}" not in issued or issued[f"port/{one}"].retired}
    other_models = any(
        issued[f"device/{one}"].model != now.entries[one].model
        for one in closet.wanting
        if f"device/{one}" in issued
    )
    assert came or other_models or switches != before or by_hand(now) - {""}, changed


def check_retired(issued: Register, now: Design, numbers: Register) -> None:
    """Nothing that is new has a number that was given before, but what is fixed by hand or counted out."""
    owners: dict[tuple[str, str], set[str]] = {}
    for identity, one in issued.items():
        owners.setdefault((space_of(identity), one.number), set()).add(identity)
    written = {
        f"{tag}-{code}"
        for tag, room in now.project.rooms.items()
        for code in (*room.layout.microphones, *room.layout.loudspeakers, *room.layout.access_points_at)
    }
    fixed = by_hand(now)
    for identity, one in numbers.items():
        before = issued.get(identity)
        kind = kind_of(identity)
        if before is not None and not before.retired and before.number == one.number:
            continue
        given = owners.get((space_of(identity), one.number), set())
        if not given or one.number in fixed:
            continue
        said = f"{identity} has {one.number}, which {sorted(given)} had"
        if kind == "device":
            assert one.number in written, said
        elif kind == "cable":
            # Its device, port and end are what they were: it is the same cable.
            assert given == {identity}, said
        elif kind in ("port", "channel", "slot", "input", "end", "join"):
            assert counted_out(issued, now, kind, one.number, numbers), said
        else:
            raise AssertionError(said)


def space_of(identity: str) -> str:
    """Return the space in which a number is given once: panel ports are numbered in each rack."""
    return kind_of(identity)


def counted_out(issued: Register, now: Design, kind: str, number: str, numbers: Register) -> bool:
    """Return whether every place of an equipment was given before or is taken now."""
    tag = equipment_of(number)
    entry = now.entries[tag]
    total = {
        "port": getattr(entry, "access_ports", 0) or getattr(getattr(entry, "switch", None), "ports", 0),
        "channel": getattr(entry, "channels", 0),
        "slot": getattr(entry, "slots", 0),
        "join": getattr(entry, "uplinks", 0),
    }.get(kind)
    if total is None:
        return True
    given = {one.number for identity, one in issued.items() if kind_of(identity) == kind}
    given |= {one.number for identity, one in numbers.items() if kind_of(identity) == kind}
    units: set[int] = set()
    for text in given:
        if equipment_of(text) == tag:
            first, _, last = text.rpartition("/")[2].removeprefix("U").partition("-")
            units |= set(range(int(first), int(last or first) + 1))
    # The first port of a breakout's own switch leads out; two slots begin at an odd one.
    spare = total - len(units)
    return spare <= (0 if kind == "join" else 1)


def check_apart(now: Design, numbers: Register) -> None:
    """No two things have one number."""
    seen: dict[tuple[str, str], str] = {}
    fixed = by_hand(now)
    for identity, one in numbers.items():
        key = (space_of(identity), one.number)
        assert key not in seen or one.number in fixed, f"{identity} and {seen[key]} have {one.number}"
        seen[key] = identity


def check_rooms_left_alone(issued: Register, before: Design, now: Design, numbers: Register) -> None:
    """A room that nobody edited has the same devices, cables and numbers; only its switch may change."""
    if before.project.brief != now.project.brief:
        return
    for tag, room in before.project.rooms.items():
        if now.project.rooms.get(tag) != room or decided(before.project, tag) != decided(now.project, tag):
            continue
        own = {
            identity: one
            for identity, one in issued.items()
            if not one.retired and rest_of(identity).startswith(f"{tag}-")
        }
        for identity, one in own.items():
            if kind_of(identity) in ("port", "sheet", "radio", "cut"):
                assert identity in numbers or kind_of(identity) != "port", identity
                continue
            assert numbers.get(identity) == one, f"{tag} was left alone, but {identity} changed from {one}"
        more = [
            identity
            for identity in numbers
            if identity not in own and rest_of(identity).startswith(f"{tag}-") and kind_of(identity) != "port"
        ]
        assert not more, f"{tag} was left alone, but has {more}"


def check_places(issued: Register, now: Design) -> None:
    """An access point where one of its model hung is that one, unless the designer places or names any."""
    hung = [one for one in now.devices if one.kind == "access_point"]
    for one in hung:
        room = now.project.rooms[one.room]
        if room.layout.access_points_at or decided(now.project, one.room)[1]:
            continue
        stem = f"device/{one.room}-AP"
        there = [
            before.number
            for identity, before in issued.items()
            if identity.startswith(stem)
            and not before.retired
            and (before.at, before.model) == (one.own_at, one.model)
        ]
        beside = [
            other
            for other in hung
            if other.room == one.room and (other.own_at, other.model) == (one.own_at, one.model)
        ]
        assert len(there) != 1 or len(beside) != 1 or one.tag == there[0], (
            f"{one.tag} hangs where {there} hung"
        )


def decided(project: Project, tag: str) -> tuple[object, ...]:
    fixed = project.fixed
    return (
        fixed.rooms.get(tag),
        {name: one for name, one in fixed.devices.items() if name.startswith(f"{tag}-")},
        {name: one for name, one in fixed.cables.items() if name.startswith(f"{tag}-")},
        # What is fixed in another room may take this one's address or port.
        sorted(one.address for one in fixed.devices.values()),
        sorted(one.switch_port for one in fixed.devices.values()),
    )


def follow(folder: Folder, steps: Iterable[tuple[tuple[str, int, int], bool]]) -> None:
    """Issue a folder, edit it step by step, and check each time; issue it again where a step says so."""
    edits = dict(zip(NAMES, EDITS, strict=True))
    made = folder.designed({})
    assert made is not None
    issued = whole_register(made.project, made)
    last = made
    for (name, n, m), issue in steps:
        edited = folder.copy()
        edits[name](edited, made, n, m)
        now = edited.designed(issued)
        if now is None:
            continue
        folder, made = edited, now
        check(issued, last, made)
        if issue:
            issued = whole_register(made.project, made)
            again = folder.designed(issued)
            assert again is not None
            assert design_numbers(again) == design_numbers(made), "a revision that is issued stays as it is"
            last = again


@settings(max_examples=SEQUENCES, phases=PHASES)
@given(st.lists(st.tuples(step(NAMES), st.booleans()), min_size=1, max_size=6))
def test_after_any_sequence_of_edits_issued_numbers_stay(
    steps: list[tuple[tuple[str, int, int], bool]],
) -> None:
    follow(Folder.example(), steps)


@settings(max_examples=2 * SEQUENCES, phases=PHASES)
@given(st.lists(step(COUNTING), min_size=5, max_size=8))
def test_after_any_sequence_of_more_and_fewer_devices_issued_numbers_stay(
    steps: list[tuple[str, int, int]],
) -> None:
    # Each is issued, so that what goes and what comes back meet.
    follow(Folder.example().of_rooms("A101", "A201"), ((one, True) for one in steps))
