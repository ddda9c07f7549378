"""What feeds amplifiers: a lead inside the rack from a mixer, a cable to the rack from a breakout.

Families, each traced from both ends:

1. mixer → lead → amplifier in one rack → loudspeaker line
2. breakout in the room → cable → rack → amplifier → loudspeaker line
"""

import random
from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest

from proposal.design.connections.cable_ends import CableEnds
from proposal.design.decisions_by_hand import wrong_decisions
from proposal.model.equipment.entry import Device
from proposal.model.project import FixedCable, Numbered, Project
from proposal.model.rooms import Loudspeaker
from proposal.pipeline import compute
from tests.catalogue import with_round_catalogue
from tests.design.making import (
    EXAMPLE,
    changed,
    designed,
    minimal,
    project_of,
    with_layout,
    with_microphones,
)
from tests.long_form import cases


def room_with(zones: int, output: str, microphones: int = 3, speakers: int = 1) -> Project:
    """Return a building of one room of the small catalogue with so many zones of so many loudspeakers."""
    project = with_microphones(
        with_round_catalogue(minimal()), "meeting", {"boundary": microphones}, spare_microphones={}
    )
    hung = {
        f"LS{n + 1}": Loudspeaker(at=(0.5 + n % 5, 1.0), zone=f"z{n // speakers}")
        for n in range(zones * speakers)
    }
    return with_layout(project, "meeting", output=output, loudspeakers=hung, network="rack")


@pytest.mark.parametrize("seed", range(cases(12)))
def test_every_port_that_a_lead_joins_names_it_and_each_lead_is_counted(seed: int) -> None:
    chance = random.Random(seed)
    project = room_with(
        chance.randint(1, 4), chance.choice(["mixer", "breakout"]), chance.randint(2, 4), chance.randint(1, 3)
    )
    cord_m = chance.choice([0.5, 1.2, 2.0])
    project = changed(project, "brief.rules.cabling.equipment_cord", cord_m)
    computed = compute(project)
    design, lines = computed.design, computed.estimate.lines
    feeds = {
        cable.identity: cable for cable in design.cables if cable.signal == "analogue" and not cable.to_others
    }
    leads = {identity: cable for identity, cable in feeds.items() if cable.in_rack}
    # Both ends are ports that their devices have; none is joined twice.
    joined = []
    for cable in feeds.values():
        end, _, port = f"{cable.end}/{cable.end_port}".rpartition("/")
        end = end.rpartition("/")[2]
        for tag, name in ((cable.start, cable.start_port), (end, port)):
            entry = design.entries[tag]
            assert isinstance(entry, Device)
            wanted = "analogue output" if tag == cable.start else "analogue input"
            counted = tuple(f"line output {n}" for n in range(1, getattr(entry, "line_outputs", 0) + 1))
            assert name in (entry.ports_carrying(wanted) or counted)  # type: ignore[arg-type]
            joined.append((tag, name))
    assert [one for one, count in Counter(joined).items() if count > 1] == []
    # Every output that leads to an amplifier has its cable, and the reverse.
    amplifiers = {device.tag for device in design.devices if device.kind == "amplifier"}
    outputs = {(one.device, one.port) for one in design.ends if set(one.joined) & amplifiers}
    assert outputs == {(cable.start, cable.start_port) for cable in feeds.values()}
    mixers = {device.tag for device in design.devices if device.kind == "mixer"}
    assert set(leads) == {one.identity for one in feeds.values() if one.start in mixers}
    for cable in leads.values():
        assert cable.length_m == cord_m
        assert cable.route.text == "in the rack"
        assert not cable.route.outside_m
    # Counted: cable, reel, connectors, two labels, and the hours of the workshop; nothing is pulled.
    ends = CableEnds(project, design.devices, design.entries)
    for section, each in (("cable", 1), ("reels", 1)):
        counted_for = [cause for line in lines if line.section == section for cause in line.causes]
        assert {identity: counted_for.count(identity) for identity in leads} == dict.fromkeys(leads, each)
    analogue = [cable for cable in design.cables if cable.signal == "analogue"]
    made_off = [model for cable in analogue for end in ends.of(cable) for model in end.models]
    for model, count in Counter(made_off).items():
        found = [line for line in lines if line.section == "termination" and line.model == model]
        assert sum(line.quantity for line in found) == count
    labelled = [line for line in lines if line.section == "labels" and set(line.causes) & set(feeds)]
    assert sum(line.quantity for line in labelled) == 2 * len({cause for x in labelled for cause in x.causes})
    wired = [line for line in computed.labour.lines if line.task == "wire a lead"]
    assert sorted(cause for line in wired for cause in line.causes) == sorted(leads)
    assert sum(line.units for line in wired) == Decimal(len(leads))
    others = [one for one in computed.labour.lines if one.unit == "m" or one.task == "label a cable end"]
    assert not set(leads) & {cause for line in others for cause in line.causes}


def test_a_lead_of_the_example_by_hand() -> None:
    """Room A101 has one zone: its mixer's first output feeds its amplifier; LS6 is nearest to the rack."""
    design = designed(project_of(EXAMPLE))
    (lead,) = [cable for cable in design.cables if cable.room == "A101" and cable.in_rack]
    assert lead.identity == "A101-MX1/O1/A101-AM1"
    assert (lead.start, lead.start_port, lead.end, lead.end_port) == ("A101-MX1", "O1", "A101-AM1", "I1")
    assert (lead.start_connector, lead.end_connector) == ("3-pin terminal block, 3.81 mm",) * 2
    line = next(one for one in design.cables if one.identity == "A101-LS6/L1/ER2-RK1")
    assert line.end_port == "A101-AM1/L1"
    edges = design.flows[next(kind.key for kind in design.kinds if "A101" in kind.rooms)].edges
    assert [edge.cable for edge in edges if edge.end == "AM1"] == ["MX1/O1"]


def test_a_zone_keeps_its_channel_of_the_amplifier_when_one_before_it_is_added() -> None:
    before = designed(room_with(2, "mixer"))
    given = {one.identity: one.number for one in before.amplifier_channels}
    assert list(given.values()) == [1, 2]
    issued = {
        one.identity: Numbered(number=f"{one.amplifier}/{one.number}") for one in before.amplifier_channels
    }
    project = room_with(3, "mixer")
    places = dict(project.room_types["meeting"].loudspeakers)
    places["LS3"] = places["LS3"].model_copy(update={"zone": "a"})
    project = with_layout(project, "meeting", loudspeakers=places).model_copy(update={"issued": issued})
    after = {one.identity: (one.amplifier, one.number) for one in designed(project).amplifier_channels}
    for identity, number in given.items():
        assert after[identity] == (before.amplifier_channels[0].amplifier, number)


def test_an_amplifier_plays_no_more_zones_than_it_has_analogue_inputs() -> None:
    project = room_with(2, "mixer")
    library = project.library
    for code in library.amplifiers:
        library = changed(library, ("amplifiers", code, "line_inputs"), 1)
    design = designed(project.model_copy(update={"library": library}))
    fed = [cable.end for cable in design.cables if cable.in_workshop]
    assert len(fed) == len(set(fed)) == 2


def test_a_type_given_by_hand_to_a_fibre_cable_is_checked() -> None:
    cables = {"ER1-SW1/U1/ER2-RK1": FixedCable(type="CC-A1-R")}
    design = designed(minimal())
    project = design.project.model_copy(
        update={"fixed": design.project.fixed.model_copy(update={"cables": cables})}
    )
    fibre = replace(design.cables[0], identity="ER1-SW1/U1/ER2-RK1", signal="fibre")
    (wrong,) = wrong_decisions(project, design.devices, [fibre])
    assert wrong.wanted == "a fibre cable of the library"
