"""Pulling cables through conduits: runs between pull points, their bends, and the tension at the end."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from proposal.design.numbers.numbering import natural
from proposal.design.pathways.cables_in_pathways import CableInPathway
from proposal.design.pathways.pathway_graph import node_position, pathway_length_m
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.quantities import formatting
from proposal.standards import cable_pulling
from proposal.standards.validity import OutOfRange
from proposal.standards.working import Limit, Working, working

MOST_TRIED = 20
"""Pull points beyond the least possible number that are tried before giving up."""


@dataclass(frozen=True, slots=True)
class Part:
    """A straight part of a conduit, and the bend behind it.

    conduit: tag.
    length_m: of the straight part.
    rise_degrees: its slope in the direction of the run, upward positive.
    bend_degrees: the bend behind it, 0 where the conduit ends.
    """

    conduit: str
    length_m: float
    rise_degrees: float
    bend_degrees: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """What is pulled at once: the parts between two pull points.

    degrees, length_m: sums of its bends and lengths.
    tension: working of the tension at the end, pulled in the better direction; None without cables, and
        where the tension passes all that the formulas are good for.
    forward_n, backward_n: tension at the end in the direction of the run, and against it, N; infinite where
        it passes that.
    """

    parts: tuple[Part, ...]
    tension: Working | None
    forward_n: float
    backward_n: float

    @property
    def degrees(self) -> float:
        """Return the sum of its bends, degrees."""
        return sum(part.bend_degrees for part in self.parts)

    @property
    def length_m(self) -> float:
        """Return its length, m."""
        return sum(part.length_m for part in self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class PullRun:
    """Conduits that follow each other without a box or an open pathway between them.

    conduits: tags in order; start, end: tags of the nodes at its ends.
    cables: what lies in it.
    pulls: between its ends and its pull points.
    pull_points: tags of the conduits in which pull points stand, one each, in order.
    wanted_points: least number of pull points that keep every pull to 180° and 30 m.
    written: whether the designer wrote the number of pull points.
    """

    conduits: tuple[str, ...]
    start: str
    end: str
    cables: tuple[CableInPathway, ...]
    pulls: tuple[Pull, ...]
    pull_points: tuple[str, ...]
    wanted_points: int
    written: bool


def pull_runs(project: Project, laid: Mapping[str, Sequence[CableInPathway]]) -> tuple[PullRun, ...]:
    """Return every run of conduits with its pulls.

    laid: the cables in each pathway, by tag.
    """
    return tuple(_run(project, nodes, conduits, laid) for nodes, conduits in _chains(project))


def _chains(project: Project) -> Iterator[tuple[list[str], list[str]]]:
    """Yield nodes and conduits of every run: a plain junction of two conduits lies within one."""
    pathways, nodes = project.building.pathways, project.building.nodes
    at_node: dict[str, list[str]] = {}
    for tag in sorted(pathways, key=natural):
        for name in pathways[tag].between:
            at_node.setdefault(name, []).append(tag)

    def passed(name: str) -> bool:
        meeting = at_node[name]
        conduits = all(pathways[tag].kind == "conduit" for tag in meeting)
        return len(meeting) == 2 and conduits and nodes[name].kind == "junction"

    done: set[str] = set()
    conduits = [tag for tag in sorted(pathways, key=natural) if pathways[tag].kind == "conduit"]
    # Runs begin at an end; what is left after that are rings, cut where the first conduit begins.
    ends = [tag for tag in conduits if not all(passed(name) for name in pathways[tag].between)]
    for first in (*ends, *conduits):
        if first in done:
            continue
        start, here = pathways[first].between
        if passed(start) and not passed(here):
            start, here = here, start
        chain, walked, tag = [first], [start, here], first
        done.add(first)
        while passed(here):
            after = [other for other in at_node[here] if other != tag]
            if not after or after[0] in done:
                break
            tag = after[0]
            ends_of = pathways[tag].between
            here = ends_of[1] if ends_of[0] == here else ends_of[0]
            chain.append(tag)
            walked.append(here)
            done.add(tag)
        yield walked, chain


def _run(
    project: Project,
    nodes: Sequence[str],
    conduits: Sequence[str],
    laid: Mapping[str, Sequence[CableInPathway]],
) -> PullRun:
    parts = [
        part for tag, start in zip(conduits, nodes, strict=False) for part in _parts(project, tag, start)
    ]
    cables = {cable.identity: cable for tag in conduits for cable in laid.get(tag, ())}
    given = [project.building.pathways[tag].pull_points for tag in conduits]
    written = any(count is not None for count in given)
    if written:
        pieces = divided(parts, sum(count or 0 for count in given))
    else:
        pieces = _cut(parts, cable_pulling.PULL_ANGLE_LIMIT.value)
    together = tuple(cables[identity] for identity in sorted(cables, key=natural))
    return PullRun(
        conduits=tuple(conduits),
        start=nodes[0],
        end=nodes[-1],
        cables=together,
        pulls=tuple(_pull(project, piece, together) for piece in pieces),
        pull_points=tuple(piece[0].conduit for piece in pieces[1:]),
        wanted_points=_wanted_points(parts),
        written=written,
    )


def _parts(project: Project, tag: str, start: str) -> Iterator[Part]:
    """Yield the parts of a conduit as walked from a node: its bends stand at equal distances."""
    pathway = project.building.pathways[tag]
    forward = pathway.between[0] == start
    bends = pathway.bends if forward else tuple(reversed(pathway.bends))
    end = pathway.between[1] if forward else pathway.between[0]
    rise_m = node_position(project, end)[2] - node_position(project, start)[2]
    length_m = pathway_length_m(project, tag)
    rise = math.degrees(math.asin(max(-1.0, min(1.0, rise_m / length_m))))
    each_m = length_m / (len(bends) + 1)
    for bend in (*bends, 0.0):
        yield Part(tag, each_m, rise, bend)


def divided(parts: Sequence[Part], points: int) -> list[list[Part]]:
    """Return the parts between a number of pull points that leave the least bends in any pull.

    Points that are left over then halve the longest pulls.
    """
    sums = sorted(
        {
            sum(part.bend_degrees for part in parts[first:last])
            for first in range(len(parts))
            for last in range(first, len(parts) + 1)
        }
    )
    pieces = next(pieces for limit in sums if len(pieces := _cut(parts, limit)) <= points + 1)
    while len(pieces) < points + 1:
        longest = max(range(len(pieces)), key=lambda n: (sum(p.length_m for p in pieces[n]), -n))
        pieces[longest : longest + 1] = _halved(pieces[longest])
    return pieces


def _cut(parts: Sequence[Part], most_degrees: float) -> list[list[Part]]:
    """Return the parts cut as few times as keeps the bends between cuts to a sum; a cut halves a part."""
    pieces: list[list[Part]] = [[]]
    degrees = 0.0
    for part in parts:
        if degrees + part.bend_degrees > most_degrees + 1e-9 and degrees > 0:
            half = Part(part.conduit, part.length_m / 2, part.rise_degrees, 0.0)
            pieces[-1].append(half)
            pieces.append([Part(part.conduit, part.length_m / 2, part.rise_degrees, part.bend_degrees)])
            degrees = part.bend_degrees
        else:
            pieces[-1].append(part)
            degrees += part.bend_degrees
    return pieces


def _halved(parts: Sequence[Part]) -> tuple[list[Part], list[Part]]:
    """Return the parts cut where half of their length is behind."""
    left_m = sum(part.length_m for part in parts) / 2
    for n, part in enumerate(parts):
        if left_m <= part.length_m or n == len(parts) - 1:
            before = Part(part.conduit, left_m, part.rise_degrees, 0.0)
            behind = Part(part.conduit, part.length_m - left_m, part.rise_degrees, part.bend_degrees)
            return [*parts[:n], before], [behind, *parts[n + 1 :]]
        left_m -= part.length_m
    raise ValueError("wanted at least one part; found none")


def _wanted_points(parts: Sequence[Part]) -> int:
    """Return the least number of pull points that keep every pull to the angle and length of TIA-569."""
    angle, length_m = cable_pulling.PULL_ANGLE_WARNING.value, cable_pulling.PULL_LENGTH_WARNING.value
    whole_m = sum(part.length_m for part in parts)
    least = max(len(_cut(parts, angle)), math.ceil(whole_m / length_m - 1e-9)) - 1
    for points in range(least, least + MOST_TRIED):
        pieces = divided(parts, points)
        if all(
            sum(part.bend_degrees for part in piece) <= angle + 1e-9
            and sum(part.length_m for part in piece) <= length_m + 1e-9
            for piece in pieces
        ):
            return points
    return least + MOST_TRIED


@dataclass(frozen=True, slots=True, kw_only=True)
class EasierPulls:
    """What keeps a run of conduits to the tension that its cables take.

    points: least number of pull points that does; friction: highest coefficient that does with the points
    that are there. None where nothing does that was tried.
    """

    points: int | None
    friction: float | None


def easier_pulls(project: Project, run: PullRun) -> EasierPulls:
    """Return how many pull points, or how little friction, a run needs that is too hard to pull through."""
    parts = [part for pull in run.pulls for part in pull.parts]
    now = len(run.pull_points)
    points = (
        count
        for count in range(now + 1, now + MOST_TRIED)
        if all(_borne(_pull(project, piece, run.cables)) for piece in divided(parts, count))
    )
    rules = project.brief.rules
    steps = range(math.ceil(rules.pathways.friction * 100) - 1, 0, -1)
    friction = (
        hundredths / 100
        for hundredths in steps
        if all(
            _borne(_pull(_with_friction(project, hundredths / 100), pull.parts, run.cables))
            for pull in run.pulls
        )
    )
    return EasierPulls(points=next(points, None), friction=next(friction, None))


def _borne(pull: Pull) -> bool:
    return pull.tension is not None and pull.tension.verdict != "fails"


def _with_friction(project: Project, friction: float) -> Project:
    rules = project.brief.rules
    pathways = rules.pathways.model_copy(update={"friction": friction})
    brief = project.brief.model_copy(update={"rules": rules.model_copy(update={"pathways": pathways})})
    return project.model_copy(update={"brief": brief})


def _pull(project: Project, parts: Sequence[Part], cables: Sequence[CableInPathway]) -> Pull:
    forward = _bearable(project, parts, cables, "forward")
    backward = _bearable(project, parts, cables, "backward")
    best = min((forward, backward), key=lambda found: found[0][-1] if found[0] else 0.0)
    return Pull(
        parts=tuple(parts),
        tension=best[1],
        forward_n=forward[0][-1] if forward[0] else 0.0,
        backward_n=backward[0][-1] if backward[0] else 0.0,
    )


def _bearable(
    project: Project,
    parts: Sequence[Part],
    cables: Sequence[CableInPathway],
    direction: Literal["forward", "backward"],
) -> tuple[list[float], Working | None]:
    """Return the tensions, or an infinite one where they pass what the formulas are good for."""
    try:
        return _tensions(project, parts, cables, direction)
    except OutOfRange:
        return [math.inf], None


def _tensions(
    project: Project,
    parts: Sequence[Part],
    cables: Sequence[CableInPathway],
    direction: Literal["forward", "backward"],
) -> tuple[list[float], Working | None]:
    """Return the tension behind each straight part and bend, N, and the working of the last."""
    if not cables:
        return [], None
    rules = project.brief.rules.pathways
    weight = sum(cable.weight_n_per_m for cable in cables)
    tension = rules.back_tension * len(cables)
    tensions = [tension]
    steps: list[tuple[float, float, float]] = [
        (part.length_m, part.rise_degrees, part.bend_degrees) for part in parts
    ]
    if direction == "backward":
        bends = [0.0, *(bend for _, _, bend in steps[:-1])]
        steps = [(length, -rise, bend) for (length, rise, _), bend in zip(steps, bends, strict=True)][::-1]
    for length_m, rise, bend in steps[:-1]:
        tension = cable_pulling.tension_after_straight_n(tension, weight, length_m, rise, rules.friction)
        tensions.append(tension)
        if bend:
            tension = cable_pulling.tension_after_bend_n(tension, rules.friction, bend)
            tensions.append(tension)
    length_m, rise, _ = steps[-1]
    first, last = parts[0].conduit, parts[-1].conduit
    through = first if first == last else f"{first} to {last}"
    units = project.brief.units
    shown = ", ".join(f"{formatting.converted(value, 'force', units):.1f}" for value in tensions)
    shown += f" {formatting.unit_of('force', units)}"
    record = working(
        cable_pulling.tension_after_straight_n,
        title=f"Pull of {len(cables)} through {through}"
        + (", against the order of its nodes" if direction == "backward" else ""),
        limit=Limit(sum(cable.pull_n for cable in cables), "≤", cable_pulling.TIA_568_0),
        uses=("project.rules.pathways.friction", "project.rules.pathways.back_tension"),
        note=f"Tension at the reels, and behind each straight part and bend: {shown}.",
        tension_n=tension,
        weight_n_per_m=weight,
        length_m=length_m,
        rise_degrees=rise,
        friction=rules.friction,
    )
    return [*tensions, record.result], record
