"""Mixers and breakouts are sized by everything that they take and send, and chosen by the one objective."""

import itertools
from collections.abc import Mapping
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proposal.design.equipment.audio_needs import Carried, audio_needs
from proposal.design.equipment.mixing_choice import first_box, least_mixing
from proposal.design.equipment.sizing import Sizing, size_room
from proposal.model.equipment.devices import Breakout
from proposal.model.equipment.sound_devices import Mixer
from proposal.model.project import FixedRoom, Project
from proposal.model.rooms import Destination, Loudspeaker
from proposal.quantities.money import Money
from tests.catalogue import (
    BREAKOUT,
    BREAKOUT_THAT_MIXES,
    BREAKOUT_WITH_SWITCH,
    LARGE_AP,
    MIXER,
    SMALL_AP,
    SMALL_MIXER,
    with_round_catalogue,
)
from tests.design.making import changed, minimal, with_microphones
from tests.long_form import cases


def ends(*wanted: tuple[str, int]) -> dict[str, Destination]:
    """Return destinations or sources of return audio of a signal with so many channels each."""
    return {
        f"end-{n}": Destination(name=f"end {n}", signal=signal, channels=channels)  # type: ignore[arg-type]
        for n, (signal, channels) in enumerate(wanted, 1)
    }


def zones(count: int) -> dict[str, Loudspeaker]:
    return {f"LS{n}": Loudspeaker(at=(0.5 * n, 1.0), zone=f"z{n}") for n in range(1, count + 1)}


def room(microphones: int, output: str = "mixer", **values: object) -> Project:
    """Return a building of one room with so many boundary microphones and nothing else but what is given."""
    layout = {"destinations": {}, "returns": {}, "network": "rack", "spare_microphones": {}} | values
    return with_microphones(
        with_round_catalogue(minimal()), "meeting", {"boundary": microphones}, output=output, **layout
    )


def sizing_of(project: Project, fixed: FixedRoom | None = None) -> Sizing:
    return size_room(project, project.room_types["meeting"], fixed or FixedRoom())


def boxes_of(project: Project, kind: str, fixed: FixedRoom | None = None) -> Mapping[str, int]:
    size = sizing_of(project, fixed).size(kind)
    assert size is not None
    return dict(size.boxes)


NET, LINE, USB = "networked audio", "analogue", "USB"


@pytest.mark.pinned
@pytest.mark.parametrize(
    ("microphones", "values", "mixers"),
    [
        # Ten inputs hold ten microphones; the eleventh takes a larger mixer (2200), or a second small one: 20
        # inputs less the one that the second hands on to are 19, for 2000.
        (10, {}, {SMALL_MIXER: 1}),
        (11, {}, {SMALL_MIXER: 2}),
        (19, {}, {SMALL_MIXER: 2}),
        # 20 microphones need three small ones (28 inputs, 3000) or one of 25 for 2200.
        (20, {}, {MIXER: 1}),
        # Return audio by the network takes an input for each of its channels.
        (8, {"returns": ends((NET, 2))}, {SMALL_MIXER: 1}),
        (9, {"returns": ends((NET, 2))}, {SMALL_MIXER: 2}),
        # Spare microphones that are paired for use at once need an input, those that are not need none.
        (9, {"spare_microphones": {"boundary": 2}}, {SMALL_MIXER: 1}),
        (9, {"spare_microphones": {"boundary": 2}, "spares_paired": True}, {SMALL_MIXER: 2}),
        # Ten networked outputs.
        (2, {"destinations": ends((NET, 4), (NET, 6))}, {SMALL_MIXER: 1}),
        (2, {"destinations": ends((NET, 4), (NET, 7))}, {MIXER: 1}),
        # Two analogue outputs: a destination and a zone; a second zone is one too many.
        (2, {"destinations": ends((LINE, 1)), "loudspeakers": zones(1)}, {SMALL_MIXER: 1}),
        (2, {"destinations": ends((LINE, 1)), "loudspeakers": zones(2)}, {MIXER: 1}),
        # Two analogue inputs.
        (2, {"returns": ends((LINE, 2))}, {SMALL_MIXER: 1}),
        (2, {"returns": ends((LINE, 2), (LINE, 1))}, {MIXER: 1}),
        # Two channels each way over USB, which take no analogue and no networked port.
        (10, {"destinations": ends((USB, 2)), "returns": ends((USB, 2))}, {SMALL_MIXER: 1}),
        # Only the first box has to have the analogue outputs; 26 inputs are needed, and the one that the
        # second hands on to: 25 and 10 for 3200, three times 10 would be too few for 27 and lack outputs.
        (26, {"destinations": ends((LINE, 3))}, {SMALL_MIXER: 1, MIXER: 1}),
    ],
)
def test_a_mixer_is_sized_by_all_that_it_takes_and_sends(
    microphones: int, values: dict[str, object], mixers: dict[str, int]
) -> None:
    project = room(microphones, **values)
    assert boxes_of(project, "mixer") == mixers
    assert sizing_of(project).unmet == ()


@pytest.mark.pinned
def test_a_mixer_that_takes_whole_streams_needs_room_for_channels_that_it_does_not_use() -> None:
    # Nine microphones at an access point of 20 channels, which sends streams of 8, 8 and 4: two streams hold
    # them, 16 channels, more than ten; two small mixers take one each. At two of 5 they are in two of 5: ten.
    one_large, whole = FixedRoom(access_points={LARGE_AP: 1}), with_whole_streams(room(9))
    assert boxes_of(whole, "mixer", one_large) == {SMALL_MIXER: 2}
    assert boxes_of(whole, "mixer", FixedRoom(access_points={SMALL_AP: 2})) == {SMALL_MIXER: 1}
    # Where a part of a stream can be taken, nine channels are received.
    assert boxes_of(room(9), "mixer", one_large) == {SMALL_MIXER: 1}
    # Seventeen are in all three streams, and two small mixers have no place for the third.
    assert boxes_of(with_whole_streams(room(17)), "mixer", one_large) == {MIXER: 1}
    assert boxes_of(room(17), "mixer", one_large) == {SMALL_MIXER: 2}


def with_whole_streams(project: Project) -> Project:
    mixers = {
        code: one.model_copy(update={"network": one.network.model_copy(update={"whole_streams": True})})
        for code, one in project.library.mixers.items()
        if one.network
    }
    return changed(project, "library.mixers", mixers)


@pytest.mark.pinned
def test_what_a_mixer_chosen_by_hand_lacks_is_counted() -> None:
    project = room(9, destinations=ends((LINE, 4)), returns=ends((NET, 3)), loudspeakers=zones(1))
    size = sizing_of(project, FixedRoom(mixers={SMALL_MIXER: 1})).size("mixer")
    assert size is not None
    # Nine microphones and three channels of return audio against ten inputs; five outputs against two.
    assert size.lacking == (Carried("networked inputs", 12, 10), Carried("analogue outputs", 5, 2))
    assert (size.need, size.given, size.models) == (12, 10, (SMALL_MIXER,))


@pytest.mark.pinned
@pytest.mark.parametrize(
    ("microphones", "values", "breakouts"),
    [
        # Ten outputs for ten microphones.
        (10, {}, {BREAKOUT: 1}),
        (11, {}, {BREAKOUT: 2}),
        # A destination with fewer channels than microphones needs a mix, at an output of its own.
        (9, {"destinations": ends((LINE, 1))}, {BREAKOUT_THAT_MIXES: 1}),
        (9, {"destinations": ends((LINE, 2))}, {BREAKOUT_THAT_MIXES: 1, BREAKOUT: 1}),
        (9, {"loudspeakers": zones(2)}, {BREAKOUT_THAT_MIXES: 1, BREAKOUT: 1}),
        # One with a channel for each microphone needs none.
        (5, {"destinations": ends((LINE, 5))}, {BREAKOUT: 1}),
        (1, {"loudspeakers": zones(1)}, {BREAKOUT: 1}),
    ],
)
def test_a_breakout_has_an_output_for_every_microphone_destination_and_zone(
    microphones: int, values: dict[str, object], breakouts: dict[str, int]
) -> None:
    assert boxes_of(room(microphones, "breakout", **values), "breakout") == breakouts


def test_a_mix_that_no_breakout_can_make_is_missed_and_all_else_chosen() -> None:
    project = room(3, "breakout", destinations=ends((LINE, 1)))
    library = {BREAKOUT: project.library.breakouts[BREAKOUT]}
    size = sizing_of(changed(project, "library.breakouts", library)).size("breakout")
    assert size is not None
    assert (dict(size.boxes), size.lacking) == ({BREAKOUT: 1}, (Carried("mixes", 1, 0),))


def test_the_switch_inside_a_breakout_does_not_choose_one_that_cannot_mix() -> None:
    project = room(3, "breakout", destinations=ends((LINE, 1)), network="automatic")
    # The one with a switch does not mix: with one that does it is 1500, and the mixing one alone costs 900.
    sizing = sizing_of(project)
    assert sizing.own_switch == ""
    assert dict(sizing.size("breakout").boxes) == {BREAKOUT_THAT_MIXES: 1}  # type: ignore[union-attr]
    direct = sizing_of(room(3, "breakout", network="automatic"))
    assert direct.own_switch == BREAKOUT_WITH_SWITCH


MIXERS = st.lists(
    st.tuples(
        st.integers(2, 12), st.integers(0, 4), st.integers(0, 4), st.integers(0, 4), st.integers(1, 30)
    ),
    min_size=1,
    max_size=3,
)


def serves(mixers: list[Mixer], layout_needs: dict[str, int]) -> bool:
    """Say anew whether mixers serve: one takes and sends all, the others hand on to it."""
    for n, first in enumerate(mixers):
        others = mixers[:n] + mixers[n + 1 :]
        for_microphones = first.inputs - layout_needs["back"] - len(others)
        if for_microphones < 0 or any(one.networked_outputs < 1 for one in others):
            continue
        if (
            for_microphones + sum(one.inputs for one in others) >= layout_needs["microphones"]
            and first.networked_outputs >= layout_needs["sent"]
            and first.line_outputs >= layout_needs["lines"]
        ):
            return True
    return False


@pytest.mark.independent
@settings(max_examples=cases(20), deadline=None)
@given(MIXERS, st.integers(1, 20), st.integers(0, 3), st.integers(0, 3), st.integers(0, 3))
def test_the_choice_of_mixers_is_that_of_trying_every_set(
    made: list[tuple[int, int, int, int, int]], microphones: int, back: int, sent: int, lines: int
) -> None:
    project = room(
        microphones,
        destinations={
            **({"net": Destination(name="net", signal="networked audio", channels=sent)} if sent else {}),
            **({"line": Destination(name="line", signal="analogue", channels=lines)} if lines else {}),
        },
        returns={"far": Destination(name="far", signal="networked audio", channels=back)} if back else {},
    )
    like = project.library.mixers[MIXER]
    assert like.network is not None
    mixers = {
        f"X{n}": like.model_copy(
            update={
                "model": f"X{n}",
                "inputs": inputs,
                "networked_outputs": networked,
                "line_outputs": line,
                "cost": Money(amount=Decimal(100 * cost), currency="EUR"),
                "network": like.network.model_copy(update={"sent_channels": 64, "received_channels": 64}),
            }
        )
        for n, (inputs, networked, line, _, cost) in enumerate(made)
    }
    project = changed(project, "library.mixers", mixers)
    needs = audio_needs(project.room_types["meeting"], [])
    chosen = least_mixing(project, "mixer", needs)
    wanted = {"microphones": microphones, "back": back, "sent": sent, "lines": lines}
    best: tuple[object, ...] | None = None
    for numbers in itertools.product(range(6), repeat=len(mixers)):
        boxes = [one for n, one in zip(numbers, mixers.values(), strict=True) for _ in range(n)]
        if len(boxes) <= 6 and serves(boxes, wanted):
            key = (
                sum(one.cost.amount for one in boxes),
                len(boxes),
                sum(one.inputs for one in boxes),
                tuple(-n for n in numbers),
            )
            best = key if best is None or key < best else best  # type: ignore[operator]
    if best is None:
        # More than six boxes are not tried here.
        assert chosen is None or sum(count for _, count in chosen) > 5
        return
    assert chosen is not None
    assert tuple(-dict(chosen).get(code, 0) for code in mixers) == best[3]


def test_the_first_of_several_is_the_one_that_can_send_to_all() -> None:
    project = room(12, destinations=ends((LINE, 4)))
    library = project.library
    boxes = [library.mixers[SMALL_MIXER], library.mixers[MIXER]]
    found = first_box(audio_needs(project.room_types["meeting"], []), boxes)
    assert (found.number, found.lacking) == (1, ())
    direct = room(12, "breakout", destinations=ends((LINE, 1)))
    two: list[Breakout] = [library.breakouts[BREAKOUT], library.breakouts[BREAKOUT_THAT_MIXES]]
    # Neither takes twelve microphones into a mix; the one that mixes lacks least.
    assert first_box(audio_needs(direct.room_types["meeting"], []), two).number == 1
