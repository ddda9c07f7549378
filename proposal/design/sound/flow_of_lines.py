"""The part of a room's signal flow that runs on analogue cables: microphones, and assistive listening."""

from collections.abc import Sequence

from proposal.design.equipment.placed_devices import Placed
from proposal.design.sound.audio_ends import AudioEnd
from proposal.design.sound.flow import Edge, Node, listed
from proposal.model.rooms import RoomType


def flow_of_lines(
    devices: Sequence[Placed], layout: RoomType, ends: Sequence[AudioEnd]
) -> tuple[list[Node], list[Edge], dict[str, tuple[str, ...]]]:
    """Return the boxes of wired microphones and of transmitters, their edges, and who is in each box.

    devices: of the room.  layout: of the room.  ends: inputs and outputs of its mixers and breakouts.
    """
    codes = {device.tag: device.code for device in devices}
    models = {device.code: device.model for device in devices}
    taken: dict[tuple[str, str], list[str]] = {}
    sent: dict[str, list[str]] = {}
    for end in ends:
        for tag in end.joined:
            code = codes.get(tag, "")
            if not end.port:
                continue
            if code in layout.wired_microphones and end.direction == "input":
                form = layout.wired_microphones[code].form
                taken.setdefault((end.device, form), []).append(code)
            elif end.direction == "output" and _listens(devices, tag):
                sent.setdefault(end.device, []).append(code)
    nodes, edges, members = [], [], {}
    for (mixing, kind), held in taken.items():
        name = f"{codes[mixing]}-{kind}"
        nodes.append(Node(name, "microphones", f"{len(held)} × {kind} on a cable", (listed(held),)))
        label = "1 cable" if len(held) == 1 else f"{len(held)} cables"
        edges.append(Edge(start=name, end=codes[mixing], signal="analogue", label=label))
        members[name] = tuple(held)
    for mixing, held in sent.items():
        name = f"{codes[mixing]}-listening"
        lines = (listed(held), models[held[0]])
        nodes.append(Node(name, "assistive listening", f"{len(held)} × transmitter", lines))
        label = "1 cable" if len(held) == 1 else f"{len(held)} cables"
        edges.append(Edge(start=codes[mixing], end=name, signal="analogue", label=label))
    return nodes, edges, members


def _listens(devices: Sequence[Placed], tag: str) -> bool:
    """Return whether a device is one for assistive listening."""
    return any(device.tag == tag and device.kind == "assistive_device" for device in devices)
