"""What a signal flow is: boxes, and what passes between them."""

from collections.abc import Mapping, Sequence

from proposal.design.numbers.numbering import natural
from proposal.field_classes import dataclass


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
    signal: radio, networked audio, network (control alone), analogue, USB or loudspeaker line.
    label: what it carries.
    returning: whether it is return audio.
    cable: device and port of the cable, empty where there is none.
    start_port, end_port: at which ports of the two boxes the cable ends; empty where that differs from room
        to room, or no cable is there.
    connector: what it ends in, and the highest level there; empty where there is no cable.
    """

    start: str
    end: str
    signal: str
    label: str
    returning: bool = False
    cable: str = ""
    start_port: str = ""
    end_port: str = ""
    connector: str = ""


@dataclass(frozen=True, slots=True)
class Flow:
    """Boxes and edges in the order of the signal, and the microphones of each box that holds some.

    What takes the mix and gives return audio, such as a codec, is one box.
    """

    nodes: tuple[Node, ...]
    edges: tuple[Edge, ...]
    members: Mapping[str, tuple[str, ...]]


def listed(codes: Sequence[str]) -> str:
    """Return codes as a short list, neighbours joined: M1–M4, M7.

    codes: codes such as M1, any order.
    """
    runs: list[list[str]] = []
    for code in sorted(codes, key=natural):
        if runs and _follows(runs[-1][-1], code):
            runs[-1].append(code)
        else:
            runs.append([code])
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _follows(first: str, second: str) -> bool:
    """Return whether a code is the next one after another: the same letters, the next number."""
    stems = [code.rstrip("0123456789") for code in (first, second)]
    numbers = [code[len(stem) :] for code, stem in zip((first, second), stems, strict=True)]
    return stems[0] == stems[1] and all(numbers) and int(numbers[1]) == int(numbers[0]) + 1
