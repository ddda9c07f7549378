"""The graph of ports, joins and throughs against all that is computed before it or beside it.

Random buildings, every second with states, and the shipped projects; what is read from the graph itself
(patch table, cords of the take-off, ways of frames and of sound, who keeps in step) is held against ports,
cables, streams and ends.

    microphone ~~ access point — cable — switch — cable — mixer — lead — amplifier — line — loudspeakers
"""

import random
import tempfile
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import networkx
import pytest

from proposal.design.connections.cable_ends import CableEnds
from proposal.design.connections.line_cables import LOUDSPEAKER_PORT
from proposal.design.connections.ports_and_joins import RADIO, Join, Port
from proposal.design.design import Design
from proposal.design.equipment.audio_needs import NETWORKED
from proposal.design.power.port_power import powered_port
from proposal.design.sound.flow import Edge
from proposal.design.whole_design import design
from proposal.estimate.takeoff.material_lines import cord_lines
from proposal.model.equipment.entry import Device
from proposal.model.loading import load_project
from proposal.standards import aes67
from tests.design.making import EXAMPLE, PROJECTS, project_of
from tests.independent.test_generated_buildings import written
from tests.long_form import cases
from tests.random_states import write_states

SHIPPED = ("us_customary", "municipal", "portable", "two_rooms", "further_inputs", "states", "university")
SEEDS = range(1000, 1000 + cases(60))

pytestmark = pytest.mark.usefixtures("little_patience")


@lru_cache(maxsize=1)
def made(which: str | int) -> Design:
    if isinstance(which, str):
        return design(project_of(PROJECTS / which))
    with tempfile.TemporaryDirectory() as folder:
        written(Path(folder), which)
        if which % 2:
            write_states(Path(folder), random.Random(f"states {which}"))
        return design(load_project(Path(folder)))


def of_cable(known: Design) -> Mapping[str, Join]:
    return {join.cable.identity: join for join in known.graph.joins if join.cable}


def ports_hold_one_join(known: Design) -> None:
    """A loudspeaker hands its line on by the same terminals, USB carries all on one lead."""
    for port, joins in known.graph.at.items():
        line = sum(one.signal == "loudspeaker line" for one in joins)
        assert line <= 2, port
        others = [one for one in joins if one.signal not in ("loudspeaker line", "USB")]
        if known_here(known, port.device) and port.name:
            assert len(others) <= 1, (port, joins)


def known_here(known: Design, tag: str) -> bool:
    return tag in known.every_entry


def named_ports_are_there(known: Design) -> None:
    for join in known.graph.joins:
        for port in (join.start, join.end):
            entry = known.every_entry.get(port.device)
            if entry is None or not entry.ports or port.device in known.graph.switches:
                continue
            if join.signal == "network":
                assert port.name in entry.ports_carrying("network"), join
            elif join.signal in ("analogue", "loudspeaker line"):
                assert not port.name or port.name in names_of(entry) or port.name.startswith("line "), join


def names_of(entry: Device) -> set[str]:
    """A loudspeaker has terminals, whatever the library lists."""
    listed = {f"{letters}{n}" for letters, ports in entry.ports.items() for n in range(1, ports.count + 1)}
    return listed | {LOUDSPEAKER_PORT}


def cables_are_joins(known: Design) -> None:
    counted = Counter(join.cable.identity for join in known.graph.joins if join.cable)
    assert counted == Counter(cable.identity for cable in known.cables)
    for join in known.graph.joins:
        assert join.cable is None or join.identity == join.cable.identity
    twice = [name for name, n in Counter(join.identity for join in known.graph.joins).items() if n > 1]
    assert not twice, twice


def the_port_map_is_the_joins_at_switches(known: Design) -> None:
    mapped = set()
    for port in known.ports:
        cable = of_cable(known).get(port.attached.cable)
        if cable and cable.start.device == port.switch:
            # The way out of a room by its breakout.
            assert cable.end.device != port.switch
            continue
        entry = known.entries.get(port.switch)
        inside = any(room.host == port.switch for room in known.rooms)
        name = entry.ports_carrying("network")[port.port - 1] if inside and entry else str(port.port)
        mapped.add((port.attached.tag, port.attached.cable, port.switch, name, port.attached.injector))
    links = {link.identity for link in known.switch_links}
    joined = {
        (
            one.start.device, one.cable.identity if one.cable else "", one.end.device, one.end.name,
            one.source,
        )
        for one in known.graph.network
        if one.end.device and one.identity not in links
    }  # fmt: skip
    assert joined == mapped


def power_goes_by_the_joins(known: Design) -> None:
    """The loop that a port feeds is made of the cable of its join and of the cords there."""
    cables = {join.cable.identity: join.cable for join in known.graph.network if join.cable}
    ports = {(port.switch, port.port): port for port in known.ports}
    for budget in known.switches:
        for number in budget.switch.ports:
            again = powered_port(known.project, budget.switch, number, cables, known.every_entry)
            assert again == ports[budget.switch.device.tag, number]
    for join in known.graph.network:
        if join.cable and join.signal == "network" and join.led_on:
            assert Counter(one.model for one in join.cable.cords) == Counter(join.cords), join


def both_ends_of_a_cable_are_made_off_where_it_is_joined(known: Design) -> None:
    ends = CableEnds(known.project, known.devices, known.every_entry)
    racks = {device.tag for device in known.devices if device.kind == "rack"}
    for join in known.graph.joins:
        if join.cable is None:
            continue
        panels = {f"{join.cable.start_rack}/{join.cable.start_panel}", join.panel}
        for end in ends.of(join.cable):
            place = Port(end.tag, end.port)
            assert place in (join.start, join.end) or f"{end.tag}/{end.port}" in panels or end.tag in racks


def cords_are_taken_off(known: Design) -> None:
    taken = Counter[str]()
    for line in cord_lines(known.project, known.graph):
        taken[line.model] += int(line.quantity)
    cords = Counter(one.model for cable in known.cables if cable.signal == "network" for one in cable.cords)
    cords.update(
        one.model for link in known.switch_links if link.cable is None or link.medium == "fibre"
        for one in link.cords
    )  # fmt: skip
    for join in known.graph.network:
        if join.cable is None and join.identity not in {link.identity for link in known.switch_links}:
            cords.update(join.cords)
            assert join.last_cord or not known.project.library.patch_cords, join
    assert taken == cords


def streams_and_ends_have_a_way(known: Design) -> None:
    graph = known.graph
    tags = {device.tag for device in known.devices}
    for one in known.channels.channels:
        if one.mixing and one.access_point:
            assert graph.way([Port(one.microphone, RADIO)], one.mixing) is not None, one
    for stream in known.channels.streams:
        for receiver in stream.receivers:
            if stream.sender in tags and receiver in tags:
                ends = [port for join in graph.network for port in (join.start, join.end)]
                ports = [port for port in ends if port.device == stream.sender]
                assert graph.way(ports, receiver) is not None, stream
    for end in known.ends:
        if end.signal == NETWORKED or not end.port or end.direction != "output":
            continue
        for joined in end.joined:
            if joined in tags:
                way = graph.way([Port(end.device, end.port)], joined)
                assert way, end
                assert way[0].start == Port(end.device, end.port), end


def every_end_of_audio_is_joined(known: Design) -> None:
    """What has a port and something at its other end; a wired port whose far end found none has no join."""
    left = {(one.end.device, one.end.port) for one in known.owner_joins if not one.owner_port}
    unfed = {(end.device, end.port) for end in known.ends if not end.joined}
    for end in known.ends:
        place = end.device, end.port
        if end.signal != NETWORKED and end.port and place not in left | unfed:
            joins = known.graph.at.get(Port(*place), ())
            assert joins, end
            assert {join.signal for join in joins} == {end.signal}, end


def every_talker_is_heard_from_every_loudspeaker_of_the_room(known: Design) -> None:
    """Where its zone has an amplifier channel and an output, as findings say where it has none."""
    fed = {
        end.name.rpartition("zone ")[2]: end for end in known.ends if end.name.startswith("loudspeakers, ")
    }
    for room in known.rooms:
        heard = [one for one in known.channels.of_room(room.tag) if one.mixing and one.access_point]
        layout = known.project.rooms[room.tag].layout
        for device in room.devices:
            if device.kind != "loudspeaker" or not heard:
                continue
            line = of_cable(known).get(next((c.identity for c in room.cables if c.start == device.tag), ""))
            zone = layout.loudspeakers[device.code].zone
            if line is None or zone not in fed or not line.start.name:
                continue
            way = known.graph.way([Port(heard[0].microphone, RADIO)], device.tag)
            assert way, device.tag
            assert way[-1].end.device == device.tag
            assert way[-1].signal == "loudspeaker line"


def frames_go_by_the_joins(known: Design) -> None:
    """Switches on the shortest way of the joins, by another library's search."""
    plain = networkx.Graph()
    for join in known.graph.network:
        if join.led_on and not join.isolated:
            plain.add_edge(join.start.device, join.end.device)
    for stream in known.channels.streams:
        for receiver in stream.receivers:
            if stream.sender not in plain or receiver not in plain:
                continue
            way = networkx.shortest_path(plain, stream.sender, receiver)
            passed = known.switch_ways.between(stream.sender, receiver)
            assert passed is not None
            through = [tag for tag in way[1:-1] if tag in known.graph.switches]
            assert [tag for tag in passed if tag not in (stream.sender, receiver)] == through, stream


def uplinks_carry_what_passes_their_join(known: Design) -> None:
    """The graph is cut at the link: streams from one side to the other, and all of them to the querier."""
    for link, load in zip(known.switch_links, known.uplink_loads, strict=True):
        cut = networkx.Graph()
        for join in known.graph.network:
            if join.identity != link.identity and join.led_on and not join.isolated:
                cut.add_edge(join.start.device, join.end.device)
        cut.add_node(link.join.start)
        far = networkx.node_connected_component(cut, link.join.start)
        owned = {
            (room, code): one.device.tag
            for one in known.owners for room in one.rooms for code in one.written.serves
        }  # fmt: skip
        inwards = []
        for stream in known.channels.streams:
            if any(room.tag == stream.room and room.apart for room in known.rooms):
                continue
            sender = owned.get((stream.room, stream.sender), stream.sender)
            takers = {owned.get((stream.room, one), one) for one in stream.receivers}
            if sender in far and (takers - far or known.querier not in far):
                inwards.append(aes67.tagged_bandwidth_bit_per_s(stream.bandwidth_bit_per_s))
        controls = sum(
            entry.network.control_rate for tag, entry in known.entries.items() if tag in far and entry.network
        )
        assert load.inwards.result == pytest.approx(sum(inwards) + controls), link.identity


def those_in_step_are_joined(known: Design) -> None:
    """Access points in step by the network share a group only where joins lead from one to the other."""
    groups: dict[str, list[str]] = {}
    for tag, group in known.radio.groups.items():
        entry = known.entries[tag]
        if getattr(getattr(entry, "radio", None), "synchronisation", "") == "network":
            groups.setdefault(group, []).append(tag)
    for first, *others in groups.values():
        for other in others:
            assert known.switch_ways.between(first, other) is not None, (first, other)


def one_clock_and_one_querier_reach_every_switch(known: Design) -> None:
    if not known.querier:
        return
    for closet in known.closets:
        for switch in closet.switches:
            tag = switch.device.tag
            if tag not in known.switch_joins.left and not switch.offered:
                assert tag == known.querier or known.switch_ways.between(tag, known.querier) is not None


def drawn_signals_are_joins(known: Design) -> None:
    """Every cable of a signal flow leads from one of its boxes to the other in the graph."""
    for kind in known.kinds:
        room = kind.rooms[0]
        for edge in known.flows[kind.key].edges:
            if not edge.cable:
                continue
            code, _, name = edge.cable.rpartition("/")
            places = ((f"{room}-{code}", name), (code, name))
            joins = [
                one
                for one in known.graph.joins
                if one.cable and (one.cable.start, one.cable.start_port) in places
            ]
            assert len(joins) == 1, edge
            (join,) = joins
            ends = {join.start.device, join.end.device}
            if "BUILDING" in (edge.start, edge.end):
                leads_from_the_breakout_to_outside(known, room, edge, join)
                continue
            boxes = {f"{room}-{edge.start}", f"{room}-{edge.end}", edge.start, edge.end}
            # What others furnish is drawn as the destination or return that it is.
            boxes |= {
                one.device.tag
                for one in known.owners
                if room in one.rooms and {edge.start, edge.end} & set(one.written.serves)
            }
            assert ends & boxes, edge


def leads_from_the_breakout_to_outside(known: Design, room: str, edge: Edge, join: Join) -> None:
    """NET stands for the breakout that holds the room's switch, BUILDING for a device outside the room."""
    (here,) = [one for one in known.rooms if one.tag == room]
    inside = {one.tag: one.kind for one in here.devices}
    assert (edge.start, edge.end) == ("NET", "BUILDING"), edge
    assert inside[here.host] == "breakout", edge
    assert join.signal == "network", edge
    ends = {join.start.device, join.end.device}
    assert here.host in ends, edge
    (far,) = ends - {here.host}
    assert far not in inside, edge
    assert far in known.graph.switches or known_here(known, far), edge


HOLDS = (
    ports_hold_one_join,
    named_ports_are_there,
    cables_are_joins,
    the_port_map_is_the_joins_at_switches,
    power_goes_by_the_joins,
    both_ends_of_a_cable_are_made_off_where_it_is_joined,
    cords_are_taken_off,
    streams_and_ends_have_a_way,
    every_end_of_audio_is_joined,
    every_talker_is_heard_from_every_loudspeaker_of_the_room,
    frames_go_by_the_joins,
    uplinks_carry_what_passes_their_join,
    those_in_step_are_joined,
    one_clock_and_one_querier_reach_every_switch,
    drawn_signals_are_joins,
)


@pytest.mark.independent
@pytest.mark.parametrize("which", [*SHIPPED, *SEEDS])
def test_all_that_is_computed_beside_the_graph_is_in_it(which: str | int) -> None:
    known = made(which)
    for holds in HOLDS:
        holds(known)


@pytest.mark.parametrize("other", ["AP1/N1", "BO1/A1", "C102-AP1/N1"])
def test_the_building_is_led_to_by_no_other_cable(other: str) -> None:
    """One that ends at the breakout, an analogue one that leaves it, and one of another room."""
    known = replace(made("us_customary"))
    (kind,) = [one for one in known.kinds if "C101" in one.rooms]
    flow = known.flows[kind.key]
    assert "BUILDING" in {edge.end for edge in flow.edges}
    edges = tuple(replace(one, cable=other) if one.end == "BUILDING" else one for one in flow.edges)
    known.__dict__["flows"] = {**known.flows, kind.key: replace(flow, edges=edges)}
    with pytest.raises(AssertionError, match=f"BUILDING.*cable='{other}'"):
        drawn_signals_are_joins(known)


@pytest.mark.parametrize("signal", ["network", "fibre", "analogue", "loudspeaker line", "USB", "radio"])
def test_a_join_that_is_missing_does_not_hold(signal: str) -> None:
    known = replace(design(project_of(EXAMPLE if signal in ("fibre", "USB") else PROJECTS / "us_customary")))
    graph = known.graph
    gone = next(one for one in graph.joins if one.signal == signal)
    known.__dict__["graph"] = replace(graph, joins=tuple(one for one in graph.joins if one is not gone))
    failed = []
    for holds in HOLDS:
        try:
            holds(known)
        except AssertionError:
            failed.append(holds)
    assert failed
