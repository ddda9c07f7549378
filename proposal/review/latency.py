"""Rules about the time that sound takes from microphones to those who listen."""

from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.network.switch_paths import OWNERS_NETWORK
from proposal.design.sound.delay_path import ELSEWHERE_USE, IN_ROOM_USE, DelayPath
from proposal.design.sound.latency_parts import Part
from proposal.errors import Place
from proposal.model.project import Project
from proposal.quantities.formatting import with_the
from proposal.review.finding import Finding, Rule, counted, listed, written_place
from proposal.standards.sources import EDITABLE_DEFAULT


def delays_too_long(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each kind of room, and each two joined rooms, with a way that takes too long."""
    groups: dict[tuple[str, str], list[DelayPath]] = {}
    for path in design.delays:
        if path.verdict == "fails":
            groups.setdefault((path.spoken_in, path.heard_in), []).append(path)
    for paths in groups.values():
        worst = max(paths, key=lambda path: path.over_s)
        yield Finding(
            rule="joined-delay-long" if worst.heard_in else "delay-long",
            severity="warning",
            where=worst.heard_in or worst.rooms[0],
            place=_place(project, worst),
            message=_message(worst, len(paths) - 1),
            value=1000 * worst.known_s,
            limit=1000 * (worst.limit_s or 0.0),
            unit="ms",
            source=EDITABLE_DEFAULT,
            remedy=_remedy(worst),
        )


def _message(worst: DelayPath, others: int) -> str:
    """Return the way, its sum and its largest part."""
    heard = f"in {worst.heard_in}, which hears {worst.spoken_in}," if worst.heard_in else ""
    more = (
        f" {counted(others, 'other way')} {'is' if others == 1 else 'are'} too long as well."
        if others
        else ""
    )
    states = f", in {listed(worst.states)}" if worst.states else ""
    return (
        f"{_what(worst)} takes {_ms(worst.known_s)} over {' → '.join(worst.way[:-1])} to {worst.listener}"
        f"{' ' + heard.rstrip(',') if heard else ''}{states}; {_largest(worst)} of it.{more}"
    )


def _what(path: DelayPath) -> str:
    return f"Return audio from {path.returned_from}" if path.returned_from else "Sound"


def _largest(path: DelayPath) -> str:
    part = path.largest
    return "" if part is None else f"{_called(part)} takes {_ms(part.delay_s or 0.0)}"


def _remedy(path: DelayPath) -> str:
    """Return how much has to be saved, and where."""
    rule = next((use.rpartition(".")[2] for use in path.uses if use in (IN_ROOM_USE, ELSEWHERE_USE)), "")
    where = f"`rules.latency.{rule}`" if rule else f"`latency_limit` of {path.returned_from or path.listener}"
    return (
        f"Save {_ms(path.over_s)}: choose models that take less, first for {_named(path)}; or agree "
        f"on a longer delay ({where})."
    )


def _named(path: DelayPath) -> str:
    return _called(path.largest) if path.largest else "the slowest part"


def _called(part: Part) -> str:
    return f"{with_the([part.name])} ({listed(part.at)})"


def _ms(delay_s: float) -> str:
    return f"{1000 * delay_s:.2f} ms"


def _place(project: Project, path: DelayPath) -> Place:
    room = path.heard_in or path.rooms[0]
    return written_place(
        project,
        ("project", "rules", "latency", "in_room"),
        ("project", "rules", "latency", "elsewhere"),
        ("rooms", room),
    )


def delays_unknown(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for each model, or the owner's network, of which nobody says how long sound takes."""
    asked: dict[str, list[DelayPath]] = {}
    for path in design.delays:
        for name in dict.fromkeys(part.asked for part in path.unknown):
            asked.setdefault(name, []).append(path)
    for name, paths in sorted(asked.items()):
        owner = name == OWNERS_NETWORK
        yield Finding(
            rule="delay-unknown",
            severity="note",
            where=paths[0].rooms[0],
            place=_place(project, paths[0]),
            message=f"The delay of sound is not stated for {name}: {_open(paths)}.",
            source=EDITABLE_DEFAULT,
            remedy="Ask the owner's network team for the delay of their switches."
            if owner
            else "Ask the maker, and write the delay into the library (`latency`, or `forwarding_delay` of a "
            "switch inside a breakout).",
        )


def _open(paths: Sequence[DelayPath]) -> str:
    return f"{counted(len(paths), 'way')} of sound {'stays' if len(paths) == 1 else 'stay'} without a verdict"


LATENCY_RULES: tuple[Rule, ...] = (delays_too_long, delays_unknown)
