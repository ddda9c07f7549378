"""Rules about pathways: fill, jamming, bundles, separation, bends and pulls."""

import math
from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.pathways.cables_in_pathways import CableInPathway
from proposal.design.pathways.fill import LOUDSPEAKER_LINE, PathwayDesign
from proposal.design.pathways.pulling import Pull, PullRun, easier_pulls
from proposal.model.pathways.pathways import OPEN_KINDS, ROUND_KINDS
from proposal.model.project import Project
from proposal.review.finding import Finding, Rule, Severity, counted, length_words, written_place
from proposal.review.pathway_remedies import (
    larger_pathway,
    next_size,
    pathway_beside,
    second_tray,
    short_words,
    size_without_jam,
    stronger_hooks,
)
from proposal.standards.bundle_warming import HIGHEST_RISE, greatest_current_a
from proposal.standards.cable_pulling import (
    PULL_ANGLE_LIMIT,
    PULL_ANGLE_WARNING,
    PULL_LENGTH_WARNING,
    TIA_568_0,
)
from proposal.standards.ieee8023 import CLASSES
from proposal.standards.nfpa70 import (
    BUNDLED_POWER,
    FILL_TABLE,
    JAM_NOTE,
    JAM_RATIOS,
    MAINS_DISTANCE,
)
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source
from proposal.standards.working import Limit

EUROPEAN_SEPARATION = Source("EN 50174-2", clause="separation from power cabling", memory=True)
EUROPEAN_DISTANCE_M = 0.05
WET_LOCATIONS = Source("NFPA 70", clause="Article 100, and 800 for cables that enter a building", memory=True)
WET_PLACES = {
    "outdoors": (
        "in it leave the building.",
        "Give them jackets for outdoors, and protect both ends against surges where they enter.",
    ),
    "slab on grade": (
        "in it lie in a slab on grade, which is a wet location.",
        "Give them jackets for wet locations, or take them above the slab.",
    ),
}
LINES_APART = Source("NFPA 70", clause="640.9(C)", memory=True)


def fills(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for pathways that are overfull or overloaded, a note where nothing more fits."""
    for one in design.pathways:
        place = project.place("building", "pathways", one.tag)
        if one.fill is not None and one.fill.verdict == "fails":
            yield Finding(
                rule=f"{'conduit' if one.kind in ROUND_KINDS else one.kind}-overfull",
                severity="error",
                where=one.tag,
                place=place,
                message=f"{counted(len(one.cables), 'cable')}{_beside_the_owners(one)} fill more of it "
                "than is allowed.",
                value=one.fill.result * 100,
                limit=(one.fill.limit or 0.0) * 100,
                unit="%",
                source=FILL_TABLE if one.kind in ROUND_KINDS else COMMON_PRACTICE,
                remedy=pathway_beside(one)
                if project.building.pathways[one.tag].existing
                else larger_pathway(one),
            )
        elif one.spare == 0:
            yield Finding(
                rule="no-spare-capacity",
                severity="note",
                where=one.tag,
                place=place,
                message="Not one more cable of the widest type would keep within the limit.",
                source=COMMON_PRACTICE,
                remedy=next_size(one),
            )
        if one.hung_n is not None and one.carried_n is not None and one.hung_n > one.carried_n:
            tray = one.kind == "tray"
            yield Finding(
                rule="tray-overloaded" if tray else "hooks-overloaded",
                severity="error",
                where=one.tag,
                place=place,
                message="The cables on a metre of tray weigh more than it carries."
                if tray
                else "The cables between two hooks weigh more than a hook carries.",
                value=one.hung_n,
                limit=one.carried_n,
                unit="N",
                source=EDITABLE_DEFAULT,
                remedy=second_tray(one, one.hung_n, one.carried_n)
                if tray
                else stronger_hooks(project, one, one.hung_n),
            )


def _beside_the_owners(one: PathwayDesign) -> str:
    """Return in words the cables of the owner that lie in a pathway; nothing where there are none."""
    count = len(one.owner_cables_m)
    return f" and {counted(count, 'cable')} of the owner" if count else ""


def jams(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for conduits in which three cables can jam."""
    for one in design.pathways:
        if one.jams and one.jam is not None:
            yield Finding(
                rule="conduit-jams",
                severity="warning",
                where=one.tag,
                place=project.place("building", "pathways", one.tag),
                message="Its three cables can jam, as they do at ratios from "
                f"{JAM_RATIOS[0]} to {JAM_RATIOS[1]}.",
                value=one.jam.result,
                limit=JAM_RATIOS[1],
                source=JAM_NOTE,
                remedy=size_without_jam(one),
            )


def bundles(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for bundles that power over Ethernet warms too much, a warning for more than 60 W."""
    for one in design.pathways:
        place = project.place("building", "pathways", one.tag)
        bundle = one.bundle
        if bundle is not None and bundle.rise is not None and not bundle.holds:
            yield Finding(
                rule="bundle-too-warm",
                severity="error",
                where=one.tag,
                place=written_place(
                    project,
                    ("building", "pathways", one.tag, "bundle"),
                    ("project", "rules", "pathways", "bundle"),
                    ("building", "pathways", one.tag),
                ),
                message=f"Power over Ethernet warms {counted(bundle.tied, 'cable')} tied together too much.",
                value=bundle.rise.result,
                limit=HIGHEST_RISE.value,
                unit="K",
                source=HIGHEST_RISE.source,
                remedy=f"Tie at most {bundle.most} of them in one bundle."
                if bundle.most
                else "Use cables with thicker conductors, or take some of them by another route.",
            )
        unmarked = [cable.source_w for cable in one.cables if not _is_marked(project, cable)]
        strongest = max(unmarked, default=0.0)
        if strongest > BUNDLED_POWER.value and len(one.cables) > 1:
            yield Finding(
                rule="bundle-ampacity",
                severity="warning",
                where=one.tag,
                place=place,
                message="Bundled cables carry power over Ethernet above 60 W.",
                value=strongest,
                limit=BUNDLED_POWER.value,
                unit="W",
                source=BUNDLED_POWER.source,
                remedy="Check the bundle's size against the ampacity table of the adopted electrical code, "
                f"or use cables marked for {math.ceil(100 * _conductor_a(strongest)) / 100:g} A or more "
                "per conductor.",
            )


def _is_marked(project: Project, cable: CableInPathway) -> bool:
    """Return whether the marking of a data cable allows the current of its conductors."""
    entry = project.library.cables.get(cable.model)
    return bool(entry and entry.rated_current and entry.rated_current >= _conductor_a(cable.source_w))


def _conductor_a(source_w: float) -> float:
    """Return the current of one conductor at the classes above 60 W, A: four of them out and four back."""
    return greatest_current_a(source_w, CLASSES[8].source_voltage_min_v) / 4


def separations(project: Project, design: Design) -> Iterator[Finding]:
    """Yield findings for loudspeaker lines beside other cables, and for mains that come near."""
    for one in design.pathways:
        yield from _lines_apart(project, one)
        yield from _mains_apart(project, one)


def _lines_apart(project: Project, one: PathwayDesign) -> Iterator[Finding]:
    """Yield an error or a warning where loudspeaker lines lie beside other cables.

    In tubing the adopted code forbids it; on trays and hooks it is common practice to keep a distance.
    """
    signals = {cable.signal for cable in one.cables}
    if LOUDSPEAKER_LINE not in signals or len(signals) == 1:
        return
    rules = project.brief.rules.pathways
    place = project.place("building", "pathways", one.tag)
    if one.kind in ROUND_KINDS:
        american = project.brief.region == "north_america"
        yield Finding(
            rule="lines-beside-data",
            severity="error" if american else "warning",
            where=one.tag,
            place=place,
            message="Loudspeaker lines share it with other cables.",
            source=LINES_APART if american else COMMON_PRACTICE,
            remedy="Keep a conduit for loudspeaker lines: write what each one carries.",
        )
    elif (
        one.kind in OPEN_KINDS and rules.line_distance > 0 and not project.building.pathways[one.tag].divided
    ):
        yield Finding(
            rule="lines-near-data",
            severity="warning",
            where=one.tag,
            place=place,
            message="Loudspeaker lines lie on it with other cables.",
            source=COMMON_PRACTICE,
            remedy=f"Keep {short_words(project, rules.line_distance)} between them: by a divider in a tray, "
            "or hooks of their own.",
        )


def _mains_apart(project: Project, one: PathwayDesign) -> Iterator[Finding]:
    """Yield an error where mains come nearer than the adopted code allows without a barrier."""
    pathway = project.building.pathways[one.tag]
    distance_m = pathway.mains_distance
    if not one.cables or one.kind not in OPEN_KINDS or distance_m is None or pathway.barrier:
        return
    american = project.brief.region == "north_america"
    limit_m = MAINS_DISTANCE.value if american else EUROPEAN_DISTANCE_M
    place = project.place("building", "pathways", one.tag, "mains_distance")
    if distance_m < limit_m - 1e-9:
        yield Finding(
            rule="mains-too-near",
            severity="error",
            where=one.tag,
            place=place,
            message="Mains cables run nearer to it than is allowed without a barrier.",
            value=distance_m,
            limit=limit_m,
            unit="m",
            source=MAINS_DISTANCE.source if american else EUROPEAN_SEPARATION,
            remedy=f"Move it {short_words(project, limit_m - distance_m)} farther away, or put a barrier or "
            "a raceway between.",
        )
    elif not american:
        yield Finding(
            rule="mains-beside",
            severity="note",
            where=one.tag,
            place=place,
            message="Mains cables run along it.",
            source=EUROPEAN_SEPARATION,
            remedy="Check the distance against the standard's table for these cables and circuits.",
        )


def wet_places(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each pathway that leads its cables outdoors or through a slab on grade."""
    for one in design.pathways:
        space = project.building.spaces.get(one.space)
        if not one.cables or space is None or space.location not in WET_PLACES:
            continue
        message, remedy = WET_PLACES[space.location]
        yield Finding(
            rule="cables-outdoors" if space.location == "outdoors" else "cables-in-slab",
            severity="warning",
            where=one.tag,
            place=project.place("building", "spaces", one.space, "location"),
            message=f"{counted(len(one.cables), 'cable')} {message}",
            source=WET_LOCATIONS,
            remedy=remedy,
        )


def bends(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for conduits whose bends are tighter than their cables take under tension."""
    for one in design.pathways:
        widest = max((cable.pulling_radius_m for cable in one.cables), default=0.0)
        if one.radius_m is not None and one.radius_m < widest - 1e-9:
            yield Finding(
                rule="bend-too-tight",
                severity="error",
                where=one.tag,
                place=project.place("building", "pathways", one.tag, "bends"),
                message="Its bends are tighter than its cables allow while they are pulled.",
                value=one.radius_m,
                limit=widest,
                unit="m",
                source=TIA_568_0,
                remedy=f"Use elbows with a radius of {short_words(project, widest)} or more.",
            )


def pulls(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for pulls over the tension or 360°, warnings for those over 180° or 30 m."""
    for run in design.pull_runs:
        if run.cables:
            hardest = max(run.pulls, key=lambda pull: min(pull.forward_n, pull.backward_n))
            yield from _tension(project, run, hardest)
            yield from _angle(project, run)


def _tension(project: Project, run: PullRun, pull: Pull) -> Iterator[Finding]:
    beyond = min(pull.forward_n, pull.backward_n) == math.inf
    if beyond or (pull.tension is not None and pull.tension.verdict == "fails"):
        yield Finding(
            rule="pull-too-hard",
            severity="error",
            where=run.conduits[0],
            place=project.place("building", "pathways", run.conduits[0]),
            message="Even in the easier direction the tension is too high "
            f"for {counted(len(run.cables), 'cable')}.",
            value=pull.tension.result if pull.tension else None,
            limit=pull.tension.limit if pull.tension else None,
            unit="N" if pull.tension else "",
            source=TIA_568_0,
            remedy=_easier(project, run),
        )


def _easier(project: Project, run: PullRun) -> str:
    """Return how many pull points, or what friction, keep a run to the tension; nothing that cannot help."""
    found = easier_pulls(project, run)
    ways = []
    if found.points is not None:
        ways.append(f"{counted(found.points, 'pull point')} (`pull_points`) would keep every pull to it")
    if found.friction is not None:
        ways.append(
            f"a lubricant that brings friction to {found.friction:.2f} would do "
            "(`rules.pathways.friction`; ask its maker)"
        )
    remedy = "; or ".join(ways) or "lead some of the cables another way, or use fewer bends"
    return f"{remedy[0].upper()}{remedy[1:]}."


def _angle(project: Project, run: PullRun) -> Iterator[Finding]:
    degrees = max(pull.degrees for pull in run.pulls)
    longest_m = max(pull.length_m for pull in run.pulls)
    place = project.place("building", "pathways", run.conduits[0], "bends")
    farthest = length_words(PULL_LENGTH_WARNING.value, project.brief.units)
    points = counted(run.wanted_points, "pull point")
    wanted = f"{points} would keep every pull to 180° and {farthest}."
    of_turns: tuple[tuple[str, Severity, Limit, str], ...] = (
        ("bends-over-360", "error", PULL_ANGLE_LIMIT, "a full turn"),
        ("bends-over-180", "warning", PULL_ANGLE_WARNING, "half a turn"),
    )
    over = next((one for one in of_turns if degrees > one[2].value), None)
    if over:
        rule, severity, limit, turn = over
        yield Finding(
            rule=rule,
            severity=severity,
            where=run.conduits[0],
            place=place,
            message=f"Between pull points from {run.start} to {run.end} the bends exceed {turn}.",
            value=degrees,
            limit=limit.value,
            unit="°",
            source=limit.source,
            remedy=wanted,
        )
    if longest_m > PULL_LENGTH_WARNING.value + 1e-9:
        yield Finding(
            rule="pull-too-long",
            severity="warning",
            where=run.conduits[0],
            place=project.place("building", "pathways", run.conduits[0]),
            message=f"Pull points from {run.start} to {run.end} are farther apart than they should be.",
            value=longest_m,
            limit=PULL_LENGTH_WARNING.value,
            unit="m",
            source=PULL_LENGTH_WARNING.source,
            remedy=wanted,
        )


PATHWAY_RULES: tuple[Rule, ...] = (fills, jams, bundles, separations, wet_places, bends, pulls)
