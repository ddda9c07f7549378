"""The boxes of a signal flow and what passes between them; boxes that are alike are drawn as one."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from proposal.drawings.plan.plan_marks import shortened
from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True)
class FlowBox:
    """A box.  title: its first line.  lines: further ones."""

    code: str
    kind: str
    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FlowArrow:
    """What passes from one box to another.

    start, end: codes of boxes.  label: what it carries.  cable: identity without the room's tag.
    start_port, end_port: at which ports of the boxes it ends.  connector: there, with its highest level.
    returning: whether it is return audio.
    """

    start: str
    end: str
    signal: str
    label: str
    cable: str
    returning: bool
    start_port: str = ""
    end_port: str = ""
    connector: str = ""


Drawn = tuple[tuple[FlowBox, ...], tuple[FlowArrow, ...]]


def with_chargers_joined(boxes: Sequence[FlowBox], arrows: Sequence[FlowArrow]) -> Drawn:
    """Return boxes and arrows with chargers that are alike as one box.

    Alike are those of one model and size whose arrows carry the same to the same.
    """
    alike: dict[tuple[object, ...], list[FlowBox]] = {}
    for box in boxes:
        if box.kind == "charger":
            carried = tuple(
                (arrow.end, arrow.signal, arrow.label, arrow.connector)
                for arrow in arrows
                if arrow.start == box.code
            )
            alike.setdefault((box.lines, carried), []).append(box)
    first = {box.code: group for group in alike.values() for box in group[:1] if len(group) > 1}
    left_out = {box.code for group in alike.values() for box in group[1:]}
    return (
        tuple(
            _together(box, first[box.code]) if box.code in first else box
            for box in boxes
            if box.code not in left_out
        ),
        tuple(
            _with_cables(arrow, arrows, first[arrow.start]) if arrow.start in first else arrow
            for arrow in arrows
            if arrow.start not in left_out
        ),
    )


def _together(box: FlowBox, group: Sequence[FlowBox]) -> FlowBox:
    return replace(
        box,
        kind=f"{len(group)} chargers",
        title=shortened([one.title for one in group]),
        lines=(box.lines[0], *(f"{line} each" for line in box.lines[1:])) if box.lines else (),
    )


def _with_cables(arrow: FlowArrow, arrows: Iterable[FlowArrow], group: Sequence[FlowBox]) -> FlowArrow:
    codes = {box.code for box in group}
    cables = [one.cable for one in arrows if one.start in codes and one.end == arrow.end and one.cable]
    ends = list(dict.fromkeys(one.end_port for one in arrows if one.start in codes and one.end_port))
    if not cables:
        return arrow
    return replace(
        arrow,
        cable=", ".join(cables) if len(cables) < 3 else f"{cables[0]} to {cables[-1]}",
        end_port=_ports_together(ends),
    )


def _ports_together(ports: Sequence[str]) -> str:
    """Return ports of one box as one text: BO1/N3, N4."""
    if len(ports) < 2:
        return "".join(ports)
    return f"{ports[0]}{', ' if len(ports) == 2 else '–'}{ports[-1].rpartition('/')[2]}"


def by_kind(boxes: Sequence[FlowBox], arrows: Sequence[FlowArrow]) -> Drawn:
    """Return a box for each kind of box, and an arrow for each signal between two kinds: a block diagram."""
    kind = {box.code: box.kind for box in boxes}
    groups: dict[str, list[FlowBox]] = {}
    for box in boxes:
        groups.setdefault(box.kind, []).append(box)
    joined = tuple(
        FlowBox(
            name,
            name,
            group[0].title if len(group) == 1 else f"{len(group)} {_several(name)}",
            (shortened([box.code for box in group]),) if len(group) > 1 and name in _TAGGED else (),
        )
        for name, group in groups.items()
    )
    between: dict[tuple[str, str, str, bool], int] = {}
    for arrow in arrows:
        key = (kind[arrow.start], kind[arrow.end], arrow.signal, arrow.returning)
        if key[0] != key[1]:
            between[key] = between.get(key, 0) + 1
    return joined, tuple(
        FlowArrow(start, end, signal, f"{count} ×" if count > 1 else "", "", returning)
        for (start, end, signal, returning), count in between.items()
    )


def _several(kind: str) -> str:
    return kind if kind.endswith("s") else f"{kind}s"


_TAGGED = ("access point", "charger", "mixer", "breakout", "amplifier")
