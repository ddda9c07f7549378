"""The way of the signal through one kind of room: boxes and what passes between them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from proposal.design.numbering import natural
from proposal.design.placing import Placed
from proposal.design.sizing import Sizing, capacity
from proposal.model.entry import Device
from proposal.model.project import Project
from proposal.model.rooms import RoomType


@dataclass(frozen=True, slots=True)
class Node:
    """A box: its code in the room, kind, first line and further lines."""

    code: str
    kind: str
    title: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """What passes from one box to another.

    start, end: codes of boxes.
    signal: radio, networked audio, analogue, USB or loudspeaker line.
    label: what it carries.
    returning: whether it is return audio.
    cable: device and port of the cable, empty where there is none.
    """

    start: str
    end: str
    signal: str
    label: str
    returning: bool = False
    cable: str = ""


@dataclass(frozen=True, slots=True)
class Flow:
    """Boxes and edges in the order of the signal, and the microphones of each box that holds some."""

    nodes: tuple[Node, ...]
    edges: tuple[Edge, ...]
    members: Mapping[str, tuple[str, ...]]


NETWORK = "NET"


def signal_flow(project: Project, layout: RoomType, sizing: Sizing, devices: Sequence[Placed]) -> Flow:
    """Return the signal flow of a kind of room: microphones, radio, network, mix, outputs, return audio.

    layout, sizing: the room's layout and system.
    devices: the devices of one room of the kind.
    """
    nodes: list[Node] = []
    edges: list[Edge] = []
    by_kind: dict[str, list[Placed]] = {}
    for device in devices:
        by_kind.setdefault(device.kind, []).append(device)
    access_points = by_kind.get("access_point", [])
    returning = [code for code, position in layout.microphones.items() if position.return_audio]
    for access_point in access_points:
        _microphones(layout, access_point, nodes, edges)
    channels = {
        device.code: capacity(project.library.entry(device.model))
        for device in devices
        if device.kind in _COUNTED
    }
    for device in access_points:
        used = len(device.serves)
        nodes.append(
            Node(
                device.code,
                "access point",
                device.code,
                (device.model, f"{used} of {channels[device.code]} channels"),
            )
        )
        edges.append(
            Edge(start=device.code, end=NETWORK, signal="networked audio", label=f"{used} channels",
                 cable=_cable(project, device))
        )  # fmt: skip
    for device in by_kind.get("charger", []):
        nodes.append(
            Node(device.code, "charger", device.code, (device.model, f"{channels[device.code]} slots"))
        )
        edges.append(
            Edge(start=device.code, end=NETWORK, signal="networked audio", label="linking and charge state",
                 cable=_cable(project, device))
        )  # fmt: skip
    nodes.append(Node(NETWORK, "network", "Network", (_network_place(sizing, devices),)))
    mixing = by_kind.get("mixer", []) + by_kind.get("breakout", [])
    _outputs(layout, mixing, channels, nodes, edges, project)
    _loudspeakers(layout, by_kind, mixing, nodes, edges)
    if layout.returns and mixing:
        _returns(layout, mixing[0], access_points, returning, nodes, edges)
    members = {
        f"{access_point.code}-{form}": tuple(codes)
        for access_point in access_points
        for form, codes in _by_form(layout, access_point).items()
    }
    return Flow(tuple(nodes), tuple(edges), members)


_COUNTED = ("access_point", "charger", "mixer", "breakout", "amplifier")


def _microphones(layout: RoomType, access_point: Placed, nodes: list[Node], edges: list[Edge]) -> None:
    """Add one box for each form of microphone that an access point serves."""
    for form, codes in _by_form(layout, access_point).items():
        name = f"{access_point.code}-{form}"
        nodes.append(Node(name, "microphones", f"{len(codes)} × {form}", (listed(codes),)))
        label = f"{len(codes)} link{'s' if len(codes) > 1 else ''}"
        edges.append(Edge(start=name, end=access_point.code, signal="radio", label=label))


def _by_form(layout: RoomType, access_point: Placed) -> dict[str, list[str]]:
    """Return the microphones that an access point serves by form, in order."""
    by_form: dict[str, list[str]] = {}
    for code in access_point.serves:
        by_form.setdefault(layout.microphones[code].form, []).append(code)
    return dict(sorted(by_form.items()))


def listed(codes: Sequence[str]) -> str:
    """Return codes as a short list, neighbours joined: M1–M4, M7.

    codes: codes such as M1, any order.
    """
    ordered = sorted(codes, key=natural)
    runs: list[list[str]] = []
    for code in ordered:
        stem = code.rstrip("0123456789")
        number = code[len(stem) :]
        last = runs[-1][-1] if runs else ""
        last_stem = last.rstrip("0123456789")
        last_number = last[len(last_stem) :]
        follows = stem == last_stem and number and last_number and int(number) == int(last_number) + 1
        if runs and follows:
            runs[-1].append(code)
        else:
            runs.append([code])
    return ", ".join(
        run[0] if len(run) == 1 else f"{run[0]}, {run[1]}" if len(run) == 2 else f"{run[0]}–{run[-1]}"
        for run in runs
    )


def _network_place(sizing: Sizing, devices: Sequence[Placed]) -> str:
    host = next((device.code for device in devices if device.model == sizing.own_switch), "")
    return f"switch inside {host}" if sizing.own_switch else "managed switch in the equipment room"


def _cable(project: Project, device: Placed) -> str:
    entry = project.library.entry(device.model)
    ports = entry.ports_carrying("network") if isinstance(entry, Device) else ()
    return f"{device.code}/{ports[0]}" if ports else ""


def _outputs(
    layout: RoomType,
    mixing: Sequence[Placed],
    channels: Mapping[str, int],
    nodes: list[Node],
    edges: list[Edge],
    project: Project,
) -> None:
    """Add mixers or breakouts and the destinations of the mix; further boxes hand on to the first."""
    left = len(layout.microphones)
    for device in mixing:
        kind = "mixer" if device.kind == "mixer" else "breakout"
        taken = min(left, channels[device.code])
        left -= taken
        noun = "inputs" if kind == "mixer" else "channels"
        nodes.append(
            Node(device.code, kind, device.code, (device.model, f"{taken} of {channels[device.code]} {noun}"))
        )
        cable = "" if kind == "mixer" else _cable(project, device)
        edges.append(
            Edge(
                start=NETWORK,
                end=device.code,
                signal="networked audio",
                label=f"{taken} channels",
                cable=cable,
            )
        )
    for device in mixing[1:]:
        if device.kind == "mixer":
            edges.append(
                Edge(
                    start=device.code,
                    end=mixing[0].code,
                    signal="networked audio",
                    label="sub-mix by the network",
                )
            )
    for code, destination in sorted(layout.destinations.items(), key=lambda item: natural(item[0])):
        nodes.append(Node(code, "destination", destination.name, (_count(destination.channels),)))
        sources = mixing[:1] if mixing and mixing[0].kind == "mixer" else mixing
        for device in sources:
            edges.append(
                Edge(
                    start=device.code, end=code, signal=destination.signal, label=_count(destination.channels)
                )
            )


def _loudspeakers(
    layout: RoomType,
    by_kind: Mapping[str, Sequence[Placed]],
    mixing: Sequence[Placed],
    nodes: list[Node],
    edges: list[Edge],
) -> None:
    """Add amplifiers and one box for the loudspeakers of each zone."""
    amplifiers = by_kind.get("amplifier", [])
    if not amplifiers or not mixing:
        return
    zones: dict[str, list[str]] = {}
    for code, loudspeaker in sorted(layout.loudspeakers.items(), key=lambda item: natural(item[0])):
        zones.setdefault(loudspeaker.zone, []).append(code)
    for device in amplifiers:
        nodes.append(Node(device.code, "amplifier", device.code, (device.model,)))
        edges.append(Edge(start=mixing[0].code, end=device.code, signal="analogue", label=_zones(len(zones))))
    for n, (zone, codes) in enumerate(sorted(zones.items())):
        name = f"LS-{zone}"
        nodes.append(Node(name, "loudspeakers", f"Loudspeakers, zone {zone}", (listed(codes),)))
        device = amplifiers[min(n, len(amplifiers) - 1)]
        edges.append(
            Edge(
                start=device.code,
                end=name,
                signal="loudspeaker line",
                label=f"zone {zone}",
                cable=f"{codes[0]}/L1",
            )
        )


def _zones(count: int) -> str:
    return "1 zone" if count == 1 else f"{count} zones"


def _returns(
    layout: RoomType,
    entry_point: Placed,
    access_points: Sequence[Placed],
    returning: Sequence[str],
    nodes: list[Node],
    edges: list[Edge],
) -> None:
    """Add return audio: from its sources by mixer or breakout and the network to those who hear it."""
    for code, source in sorted(layout.returns.items(), key=lambda item: natural(item[0])):
        # A codec that takes the mix and gives return audio is one box.
        if code not in layout.destinations:
            nodes.append(Node(code, "return", source.name, (_count(source.channels),)))
        edges.append(
            Edge(
                start=code,
                end=entry_point.code,
                signal=source.signal,
                label=_count(source.channels),
                returning=True,
            )
        )
    edges.append(
        Edge(
            start=entry_point.code,
            end=NETWORK,
            signal="networked audio",
            label="return audio",
            returning=True,
        )
    )
    for device in access_points:
        hearing = [code for code in device.serves if code in returning]
        if hearing:
            edges.append(
                Edge(
                    start=NETWORK,
                    end=device.code,
                    signal="networked audio",
                    label="return audio",
                    returning=True,
                )
            )
            for form in sorted({layout.microphones[code].form for code in hearing}):
                edges.append(
                    Edge(start=device.code, end=f"{device.code}-{form}", signal="radio", label="return audio",
                         returning=True)
                )  # fmt: skip


def _count(channels: int) -> str:
    return "1 channel" if channels == 1 else f"{channels} channels"
