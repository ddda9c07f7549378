"""The register of numbers: every number that a design gives, by what it is given to.

An identity begins with what kind of number it has:

| Identity | Number |
|---|---|
| device/B101-AP1 | its tag; with its model, and its place in the room where the program chose it |
| cable/B101-AP1/N1/ER1-RK1 | the cable's identity |
| panel/B101-AP1/N1/ER1-RK1 | rack, patch panel and port |
| panel/ER2-SW1/U1/ER1-RK1/start | rack, panel and port where a cable from rack to rack begins |
| port/B101-AP1 | switch and port |
| join/ER2-SW1/ER1-SW1 | uplink port of a switch by which it is joined to another |
| address/B101-AP1, address/B101-AP1/2 | a network address |
| stream/B101-AP1/1, group/B101-AP1/1 | number and multicast group of a stream |
| channel/B101-M1, input/B101-M1, slot/B101-M1 | channel, input or output, charge slots of a microphone |
| end/B101-MX1/output/zone-A | what else is at an input or output |
| end/B101/amplifier/zone-A/1 | the channel of an amplifier that plays a zone |
| outlet/ER1-RK1/PS1 | mark of the outlet of the building that something is plugged into, with its circuit |
| injector/B101-AP1 | the PoE source that feeds it in place of its switch port |
| question/building.storeys.L2.slab_to_slab | an open question, by the path of the value it asks for |
| sheet/S/boardroom/1 | a drawing sheet |
| reel/CAT6A/3 | a reel of the cut plan of a type of cable, with the length it is bought in |
| radio/B101-M1, cut/B101-AP1/N1/ER1-RK1 | carrier and slot, reel: plans, which may change |

A number that was given up while its thing stays is kept as `<identity> was <number>`, retired.
"""

from collections.abc import Iterator, Mapping

from proposal.design.connections.patching import PANELS, UPLINK, start_of
from proposal.design.design import Design
from proposal.design.network.injectors import identity_of as injector_identity
from proposal.design.network.switch_joins import uplink_identity
from proposal.design.numbers.numbering import (
    OUTLET,
    PANEL,
    PLANS,
    PORT,
    REGISTER_WAS,
    multicast_group,
    question_numbers,
)
from proposal.design.radio.earlier_plan import RADIO, planned_cells
from proposal.model.project import Numbered


def design_numbers(design: Design) -> dict[str, Numbered]:
    """Return every number that a design gives, by identity, but for sheets, which only documents ask for."""
    found = {
        f"device/{one.tag}": Numbered(number=one.tag, at=one.own_at, model=one.model)
        for one in design.devices
    }
    plain: dict[str, str] = {}
    for cable in design.cables:
        plain[f"cable/{cable.identity}"] = cable.identity
    plain |= dict(_panel_ports(design))
    plain |= dict(_switch_ports(design))
    plain |= dict(_uplink_ports(design))
    for tag, given in design.addresses.by_tag.items():
        plain |= {f"address/{tag}" + (f"/{n}" if n > 1 else ""): one for n, one in enumerate(given, 1)}
    plain |= design.channels.numbers
    for identity, number in design.channels.numbers.items():
        kind, _, rest = identity.partition("/")
        if kind == "stream":
            plain[f"group/{rest}"] = multicast_group(int(number))
    plain |= {end.identity: f"{end.device}/{end.port}" for end in design.ends if end.identity}
    plain |= {
        injector_identity(one.feeds): one.device.tag
        for sources in (*(one.injectors for one in design.closets), *(one.injectors for one in design.rooms))
        for one in sources
    }
    plain |= {one.identity: f"{one.amplifier}/{one.number}" for one in design.amplifier_channels}
    plain |= {
        f"{OUTLET}/{outlet.serves}": mark
        for one in design.circuits
        for outlet, mark in zip(one.outlets, one.marks, strict=True)
    }
    plain |= {one.identity: f"{one.owner}/{one.owner_port}" for one in design.owner_joins if one.owner_port}
    plain |= question_numbers([one.path for one in design.project.questions], design.project.issued)
    return found | {identity: Numbered(number=number) for identity, number in plain.items()}


def radio_numbers(design: Design) -> dict[str, Numbered]:
    """Return carrier and slot of every radio link that is planned, by identity."""
    planned = planned_cells(design.radio.air.cells)
    return {f"{RADIO}/{identity}": Numbered(number=number) for identity, number in planned.items()}


def _panel_ports(design: Design) -> Iterator[tuple[str, str]]:
    for cable in design.cables:
        if cable.signal in PANELS and cable.end_port.startswith(("PP", "FP")):
            yield f"{PANEL}/{cable.identity}", f"{cable.end}/{cable.end_port}"
        if cable.start_panel:
            yield f"{PANEL}/{start_of(cable.identity)}", f"{cable.start_rack}/{cable.start_panel}"


def _switch_ports(design: Design) -> Iterator[tuple[str, str]]:
    for closet in design.closets:
        for switch in closet.switches:
            for number, device in switch.ports.items():
                yield f"{PORT}/{device.tag}", f"{switch.device.tag}/{number}"
    for room in design.rooms:
        if room.own_switch:
            for number, device in room.own_switch.ports.items():
                if number != UPLINK or not room.equipment_room:
                    yield f"{PORT}/{device.tag}", f"{room.own_switch.device.tag}/{number}"


def _uplink_ports(design: Design) -> Iterator[tuple[str, str]]:
    for join in design.switch_joins.joins:
        yield uplink_identity(join.start, join.end), f"{join.start}/{join.start_port}"
        if join.end:
            yield uplink_identity(join.end, join.start), f"{join.end}/{join.end_port}"


def joined(issued: Mapping[str, Numbered], given: Mapping[str, Numbered]) -> dict[str, Numbered]:
    """Return the register after a revision, in order of identities: what it gives, and all numbers before.

    issued: numbers given by issued revisions.
    given: numbers that this one gives.
    """
    found = dict(given)
    for identity, before in issued.items():
        now = given.get(identity)
        if now is None:
            found[identity] = before.model_copy(update={"retired": True})
        elif now.number != before.number and not identity.startswith(PLANS):
            found[f"{identity}{REGISTER_WAS}{before.number}"] = Numbered(number=before.number, retired=True)
    for identity, now in given.items():
        found.pop(f"{identity}{REGISTER_WAS}{now.number}", None)
    return dict(sorted(found.items()))
