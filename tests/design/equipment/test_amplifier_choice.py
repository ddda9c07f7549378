"""Amplifiers against brute force over all sets of boxes: every zone a channel that carries its line."""

import random
from decimal import Decimal
from itertools import combinations_with_replacement, permutations

import pytest

from proposal.design.connections.amplifier_channels import amplifier_channels
from proposal.model.project import Project
from proposal.model.rooms import Loudspeaker
from proposal.quantities.money import Money
from tests.design.making import changed, designed, minimal, with_layout
from tests.long_form import cases

HEADROOM = 0.2
AMPLIFIERS = {"T-M1": (1, 20.0, "90"), "T-M2": (2, 60.0, "200"), "T-M4": (2, 200.0, "520")}
"""Channels, watts a channel and cost, of nobody's catalogue."""


def room_of(loads_w: list[float]) -> Project:
    """Return a building of one room with a zone of one loudspeaker for each load, drawn without loss."""
    project = minimal()
    like = next(iter(project.library.amplifiers.values()))
    amplifiers = {
        code: like.model_copy(
            update={
                "channels": channels,
                "line_inputs": channels,
                "channel_power": power_w,
                "total_power": channels * power_w,
                "cost": Money(amount=Decimal(cost), currency=project.brief.currency),
            }
        )
        for code, (channels, power_w, cost) in AMPLIFIERS.items()
    }
    taps = tuple(sorted(set(loads_w), reverse=True))
    code, entry = next(iter(project.library.loudspeakers.items()))
    unit = entry.model_copy(update={"taps_100_v": taps, "transformer_loss": 0.0, "rated_power": 1000.0})
    project = changed(project, "library.amplifiers", amplifiers)
    project = changed(project, "library.loudspeakers", {code: unit})
    hung = {
        f"LS{n}": Loudspeaker(at=(0.5 * n, 1.0), zone=f"z{n}", tap=load_w)
        for n, load_w in enumerate(loads_w, 1)
    }
    return with_layout(project, "meeting", loudspeakers=hung, network="rack", output="mixer")


def carried(boxes: tuple[str, ...], loads_w: list[float]) -> bool:
    """Return whether some order of loads fits the channels of some boxes one by one."""
    channels = [AMPLIFIERS[code][1] * (1 - HEADROOM) for code in boxes for _ in range(AMPLIFIERS[code][0])]
    return len(channels) >= len(loads_w) and any(
        all(load_w <= usable_w + 1e-9 for load_w, usable_w in zip(loads_w, order, strict=True))
        for order in set(permutations(channels, len(loads_w)))
    )


def least(loads_w: list[float]) -> tuple[Decimal, int]:
    """Return cost and number of the best boxes, tried one after the other."""
    return min(
        (sum((Decimal(AMPLIFIERS[code][2]) for code in boxes), Decimal(0)), count)
        for count in range(1, len(loads_w) + 1)
        for boxes in combinations_with_replacement(sorted(AMPLIFIERS), count)
        if carried(boxes, loads_w)
    )


@pytest.mark.independent
@pytest.mark.parametrize("seed", range(cases(12)))
def test_amplifiers_are_the_least_that_carry_every_line(seed: int) -> None:
    chance = random.Random(seed)
    loads_w = [chance.choice([5.0, 16.0, 30.0, 48.0, 100.0, 160.0]) for _ in range(chance.randint(1, 4))]
    project = room_of(loads_w)
    design = designed(project)
    (kind,) = design.kinds
    size = kind.sizing.size("amplifier")
    assert size is not None
    cost = sum((Decimal(AMPLIFIERS[model][2]) for model in size.models), Decimal(0))
    assert (cost, len(size.models)) == least(loads_w)
    # And each zone has a channel of its own there that carries it.
    channels = amplifier_channels(project, design.rooms[0].devices)
    assert len({(one.amplifier, one.number) for one in channels.values()}) == len(loads_w)
    for line in design.loudspeaker_lines:
        assert line.amplifier is not None
        assert not line.overloaded
        assert line.joined.load_w <= line.amplifier.channel_power * (1 - HEADROOM) + 1e-9


def test_a_load_beyond_every_amplifier_gets_the_strongest() -> None:
    """200 W a channel give 160 W with headroom: a line of 161 W is told, not left without an amplifier."""
    design = designed(room_of([161.0]))
    (line,) = design.loudspeaker_lines
    assert line.overloaded
    assert line.usable_w == pytest.approx(160.0)
