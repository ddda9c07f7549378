"""How long sound takes: sums by hand, joined rooms, mixers in a row, limits, and what nobody says.

In the round catalogue by hand: microphone 0.5 ms, radio link 10 ms, access point 1 ms, mixer 2.5 ms,
amplifier 1.5 ms; a packet takes 1 ms, a switch 10 µs, and a receiver holds back 1 ms.
"""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from proposal.design.design import Design
from proposal.design.network.switch_paths import OWNERS_NETWORK
from proposal.design.sound.delay_path import DelayPath
from proposal.design.sound.latency_parts import Part
from proposal.document.making.latency import latency_parts
from proposal.model.equipment.entry import Device
from proposal.model.project import Project
from proposal.model.rooms import Destination, Loudspeaker
from proposal.review.latency import delays_too_long, delays_unknown
from tests.design.making import changed, designed, minimal, with_layout
from tests.design.sound.test_joined_rooms import three_rooms

pytestmark = pytest.mark.independent
BEFORE_MS, MIXER_MS, AMPLIFIER_MS = 0.5 + 10 + 1, 2.5, 1.5


def hop_ms(switches: int) -> float:
    return 1 + 0.01 * switches + 1


def switches_of(design: Design) -> Mapping[str, str]:
    return {
        device.tag: one.switch.device.tag for one in design.switches for device in one.switch.ports.values()
    }


def test_a_room_by_itself_adds_up_its_parts() -> None:
    design = three_rooms(2).design
    on = switches_of(design)
    own = [path for path in design.delays if not path.heard_in]
    assert [path.rooms for path in own] == [("B001",), ("B002",), ("B003",)]
    for path in own:
        (room,) = path.rooms
        switches = 1 if on[f"{room}-AP1"] == on[f"{room}-MX1"] else 2
        wanted_ms = BEFORE_MS + hop_ms(switches) + MIXER_MS + AMPLIFIER_MS
        assert 1000 * path.known_s == pytest.approx(wanted_ms, abs=1e-9)
        assert (path.listener, path.verdict, path.states) == ("loudspeakers, zone room", "holds", ())
        assert path.largest is not None
        assert (path.largest.name, path.largest.delay_s) == ("radio link", 0.01)


def test_joined_rooms_add_the_network_and_the_second_mixer_in_their_states_alone() -> None:
    design = three_rooms(2).design
    on = switches_of(design)
    joined = {(path.spoken_in, path.heard_in): path for path in design.delays if path.heard_in}
    assert {rooms: path.states for rooms, path in joined.items()} == {
        ("B001", "B002"): ("west", "all"),
        ("B002", "B001"): ("west", "all"),
        ("B001", "B003"): ("all",),
        ("B003", "B001"): ("all",),
        ("B002", "B003"): ("all",),
        ("B003", "B002"): ("all",),
    }
    for (one, other), path in joined.items():
        first = 1 if on[f"{one}-AP1"] == on[f"{one}-MX1"] else 2
        second = 1 if on[f"{one}-MX1"] == on[f"{other}-MX1"] else 2
        wanted_ms = BEFORE_MS + hop_ms(first) + MIXER_MS + hop_ms(second) + MIXER_MS + AMPLIFIER_MS
        assert 1000 * path.known_s == pytest.approx(wanted_ms, abs=1e-9)
        # 22.02 ms and more, of 20.
        assert path.verdict == "fails"


def test_a_finding_names_path_sum_limit_and_largest_part() -> None:
    computed = three_rooms(2)
    found = list(delays_too_long(computed.project, computed.design))
    assert {(one.rule, one.where) for one in found} == {
        ("joined-delay-long", room) for room in ("B001", "B002", "B003")
    }
    path = next(
        path for path in computed.design.delays if (path.spoken_in, path.heard_in) == ("B001", "B002")
    )
    one = next(one for one in found if "B001-M1" in one.message and one.where == "B002")
    assert one.value == pytest.approx(1000 * path.known_s)
    assert (one.limit, one.unit) == (20.0, "ms")
    assert "B001-AP1" in one.message
    assert "B002-AM1 to loudspeakers, zone room in B002, which hears B001, in west and all" in one.message
    assert "the radio link (B001-AP1) takes 10.00 ms of it" in one.message
    assert f"Save {1000 * path.known_s - 20:.2f} ms" in one.remedy


def test_a_limit_is_a_rule_and_holds_just_at_it() -> None:
    path = next(path for path in three_rooms(2).design.delays if not path.heard_in)
    assert replace(path, limit_s=path.known_s).verdict == "holds"
    assert replace(path, limit_s=path.known_s - 1e-6).verdict == "fails"


def test_mixers_in_a_row_both_take_their_time() -> None:
    # Nine microphones and two mixes take two small mixers, of which the second hands its mix on.
    design = three_rooms(9).design
    own = next(path for path in design.delays if path.spoken_in == "B001" and not path.heard_in)
    assert [part.at[0] for part in own.parts if part.name == "mixer"] == ["B001-MX2", "B001-MX1"]
    assert sum(part.name == "network" for part in own.parts) == 2


def test_a_breakout_takes_the_place_of_a_mixer() -> None:
    design = designed(minimal())
    (path,) = design.delays
    entry = design.entries["B001-BO1"]
    assert [part.name for part in path.parts] == [
        *("microphone", "radio link", "access point", "network", "breakout")
    ]
    # The access point hangs on the switch inside the breakout.
    assert path.parts[3].at == ("B001-BO1",)
    assert path.parts[3].delay_s == pytest.approx(hop_ms(1) / 1000)
    assert path.parts[4].delay_s == entry.latency


def with_entry(project: Project, kind: str, update: dict[str, object]) -> Project:
    """Return a project whose entries of a kind all say something else."""
    entries = {code: one.model_copy(update=update) for code, one in getattr(project.library, kind).items()}
    return changed(project, f"library.{kind}", entries)


def test_what_nobody_says_is_asked_and_never_nothing() -> None:
    project = with_entry(minimal(), "breakouts", {"latency": None})
    design = designed(project)
    (path,) = design.delays
    assert [part.name for part in path.unknown] == ["breakout"]
    assert path.verdict == "open"
    assert path.working.limit is None
    (row,) = latency_parts(design.delays)["latencies"]
    model = design.entries["B001-BO1"].model
    assert (row.mixing_s, row.unknown) == (None, (f"breakout B001-BO1: ask the maker of {model}",))
    (one,) = delays_unknown(project, design)
    assert (one.rule, one.severity, one.where) == ("delay-unknown", "note", "B001")
    assert model in one.message
    # Over the limit by what is known alone, it fails all the same.
    assert replace(path, limit_s=0.001).verdict == "fails"


def test_a_switch_of_which_nobody_says_is_asked_too() -> None:
    def without(entry: Device) -> Device:
        switch = getattr(entry, "switch", None)
        return (
            entry.model_copy(update={"switch": switch.model_copy(update={"forwarding_delay": None})})
            if switch
            else entry
        )

    project = minimal()
    breakouts = {code: without(one) for code, one in project.library.breakouts.items()}
    (path,) = designed(changed(project, "library.breakouts", breakouts)).delays
    assert [part.name for part in path.unknown] == ["network"]
    assert path.unknown[0].asked == designed(project).entries["B001-BO1"].model


def test_a_destination_may_have_a_limit_of_its_own() -> None:
    (path,) = designed(minimal()).delays
    assert path.limit_s == 0.05
    project = minimal()
    layout = project.rooms["B001"].layout
    (code,) = layout.destinations
    strict = layout.destinations[code].model_copy(update={"latency_limit": 0.012})
    (path,) = designed(with_layout(project, "meeting", destinations={code: strict})).delays
    assert (path.limit_s, path.verdict) == (0.012, "fails")
    here = layout.destinations[code].model_copy(update={"heard_in_room": True})
    (path,) = designed(with_layout(project, "meeting", destinations={code: here})).delays
    assert (path.limit_s, path.uses[0]) == (0.02, "project.rules.latency.in_room")


def test_an_echo_canceller_is_on_the_way_to_a_far_end_and_not_to_loudspeakers() -> None:
    project = with_layout(
        minimal(),
        "meeting",
        output="mixer",
        network="rack",
        loudspeakers={"LS1": Loudspeaker(at=(2.0, 2.0))},
        returns={"codec": Destination(name="conferencing codec", signal="USB")},
        destinations={"codec": Destination(name="conferencing codec", signal="USB")},
    )
    paths = designed(project).delays
    assert len({path.listener for path in paths}) == 2
    for path in paths:
        names = {part.name for part in path.parts}
        if path.listener.startswith("loudspeakers"):
            assert "mixer with echo canceller" not in names
        else:
            assert "mixer with echo canceller" in names


def test_the_owners_network_is_asked_of_the_owner() -> None:
    part = Part(name="network", at=("ER1-SW1",), delay_s=None, asked=OWNERS_NETWORK)
    path: DelayPath = replace(designed(minimal()).delays[0], parts=(part,))
    (row,) = latency_parts([path])["latencies"]
    assert row.unknown == ("network ER1-SW1: ask the owner's network team",)
