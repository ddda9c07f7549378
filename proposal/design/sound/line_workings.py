"""The workings of loudspeaker lines: power that is needed, load, impedance, headroom and loss."""

from collections.abc import Iterator, Sequence

from proposal.design.sound.loudspeaker_lines import LoudspeakerLine
from proposal.model.project import Project
from proposal.standards import loudspeaker_lines
from proposal.standards.reserve import usable_power_w
from proposal.standards.sources import EDITABLE_DEFAULT
from proposal.standards.working import Limit, Working, working

RULES = "project.rules.loudspeakers"
LEVEL_USES = (f"{RULES}.line", f"{RULES}.level", f"{RULES}.peaks", f"{RULES}.ear_height")
HEADROOM_USE, LOSS_USE, TOLERANCE_USE = (
    f"{RULES}.headroom",
    f"{RULES}.loss",
    f"{RULES}.impedance_tolerance",
)


def line_workings(project: Project, lines: Sequence[LoudspeakerLine]) -> Iterator[tuple[str, Working]]:
    """Yield the workings of every line, each with the tag of what it is about: its amplifier, or its room."""
    for line in lines:
        about = line.channel.amplifier if line.channel else line.room
        for one in _of_line(project, line):
            yield about, one


def _of_line(project: Project, line: LoudspeakerLine) -> Iterator[Working]:
    load, rules = line.load, project.brief.rules.loudspeakers
    named = f"zone {line.zone}"
    first = load.units[0]
    yield working(
        loudspeaker_lines.needed_power_w,
        title=f"Power that each loudspeaker needs for its weakest listener, {load.weakest.name}: {named}",
        uses=LEVEL_USES,
        level_db=rules.level + rules.peaks,
        sensitivity_db=first.entry.sensitivity,
        off_axis_db=load.weakest.off_axis_db,
        distance_m=load.weakest.distance_m,
    )
    if load.voltage_v is not None:
        taps = dict.fromkeys((one.tap_w, one.entry.transformer_loss) for one in load.units if one.tap_w)
        for tap_w, loss_db in taps:
            yield working(
                loudspeaker_lines.tap_draw_w,
                title=f"Power that a tap draws from its line: {named}",
                uses=LEVEL_USES,
                tap_w=tap_w or 0.0,
                loss_db=loss_db,
            )
    limit = None if line.usable_w is None else Limit(line.usable_w, "≤", EDITABLE_DEFAULT)
    powers_w = [one.draws_w for one in load.units]
    if load.voltage_v is None:
        # All get as much as the one that needs most, or more.
        powers_w = [line.joined.load_w]
    yield working(
        loudspeaker_lines.line_load_w,
        title=f"Load of a loudspeaker line: {named}",
        limit=limit,
        uses=(*LEVEL_USES, HEADROOM_USE),
        powers_w=powers_w,
    )
    yield from _channel(project, line, named)
    if load.voltage_v is not None and line.joined.load_w:
        yield working(
            loudspeaker_lines.line_impedance_ohm,
            title=f"Impedance of a loudspeaker line: {named}",
            uses=LEVEL_USES,
            voltage_v=load.voltage_v,
            power_w=line.joined.load_w,
        )
    if line.joined.impedance_ohm:
        for share in (-rules.impedance_tolerance, rules.impedance_tolerance):
            yield working(
                loudspeaker_lines.allowed_impedance_ohm,
                title=f"{'Least' if share < 0 else 'Most'} that a measurement may show: {named}",
                uses=(*LEVEL_USES, TOLERANCE_USE),
                impedance_ohm=line.joined.impedance_ohm,
                tolerance=share,
            )
    if line.cables:
        worst = line.run.losses_db.index(line.loss_db) + 1
        stretches, onward = line.run.stretches_ohm[:worst], line.run.onward_s[:worst]
        if line.joined.wiring == "series":
            stretches, onward = (sum(line.run.stretches_ohm),), onward[:1]
        yield working(
            loudspeaker_lines.line_loss_db,
            title=f"Loss of a loudspeaker line to {line.tags[worst - 1]}: {named}",
            limit=Limit(line.limit_db, "≤", EDITABLE_DEFAULT),
            uses=(
                *LEVEL_USES,
                LOSS_USE,
                *dict.fromkeys(use for cable in line.cables for use in cable.uses),
            ),
            stretches_ohm=stretches,
            onward_s=onward,
        )


def _channel(project: Project, line: LoudspeakerLine, named: str) -> Iterator[Working]:
    """Yield what the channel of a line may give it."""
    headroom, rated_w = project.brief.rules.loudspeakers.headroom, line.rated_w
    if rated_w is None or line.amplifier is None:
        return
    title = f"Power that a channel gives a line, with headroom: {named}"
    lowest_ohm, impedance_ohm = line.amplifier.lowest_impedance, line.joined.impedance_ohm
    if line.load.voltage_v is not None or not lowest_ohm or not impedance_ohm:
        yield working(usable_power_w, title=title, uses=(HEADROOM_USE,), budget_w=rated_w, headroom=headroom)
        return
    yield working(
        loudspeaker_lines.usable_power_w,
        title=title,
        uses=(HEADROOM_USE, *LEVEL_USES),
        headroom=headroom,
        rated_w=rated_w,
        rated_ohm=lowest_ohm,
        impedance_ohm=impedance_ohm,
    )
