"""Rules about loudspeaker lines: load, what amplifiers drive, taps, loss and wiring class."""

import math
from collections.abc import Iterator, Sequence

from proposal.design.connections.cable_choice import cable_entries, marked_for
from proposal.design.connections.line_conductors import run_of
from proposal.design.design import Design
from proposal.design.equipment.line_loads import LineUnit, carries
from proposal.design.equipment.zone_lines import line_of_each
from proposal.design.numbers.numbering import device_tag, natural
from proposal.design.sound.loudspeaker_lines import LoudspeakerLine, watts
from proposal.errors import Place
from proposal.model.equipment.materials import LoudspeakerCable
from proposal.model.project import Path, Project
from proposal.quantities.formatting import listed, quantity
from proposal.review.cable_remedies import other_cables
from proposal.review.finding import Finding, Rule, written_place
from proposal.standards import wire
from proposal.standards.loudspeaker_lines import NFPA_70_WIRING
from proposal.standards.reserve import budget_needed_w
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT

_ROUNDING = 1e-9
_THICKEST_AWG = 4


def lines_overloaded(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each line that takes more than its channel may give."""
    for line in design.loudspeaker_lines:
        if not line.driven or not line.overloaded or line.usable_w is None:
            continue
        headroom = project.brief.rules.loudspeakers.headroom
        yield Finding(
            rule="loudspeaker-line-overloaded",
            severity="error",
            where=line.identity,
            place=_place(project, design, line, "tap", "zone"),
            message=f"The loudspeakers of zone {line.zone} draw more than {line.identity} may give with "
            f"{quantity(headroom, 'fraction', project.brief.units, project.brief.locale)} headroom.",
            value=line.joined.load_w,
            limit=line.usable_w,
            unit="W",
            source=EDITABLE_DEFAULT,
            remedy=_less_load(project, line),
        )


def zones_in_parts(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for each zone of a kind of room that has several lines, as no channel carries it whole."""
    for kind in design.kinds:
        names = line_of_each(project, kind.layout)
        for zone in dict.fromkeys(one.zone for one in kind.layout.loudspeakers.values()):
            own = {names[code] for code, one in kind.layout.loudspeakers.items() if one.zone == zone}
            if len(own) < 2:
                continue
            lines = [one for one in design.loudspeaker_lines if one.room == kind.rooms[0] and one.zone in own]
            whole_w = sum(one.joined.load_w for one in lines)
            needed_w = budget_needed_w(whole_w, project.brief.rules.loudspeakers.headroom)
            yield Finding(
                rule="zone-in-parts",
                severity="note",
                where=kind.key,
                place=project.place(*kind.path, "loudspeakers"),
                message=f"No channel of an amplifier in the library carries zone {zone} whole "
                f"({watts(project, whole_w)}). It has {len(lines)} lines that play the same, each with a "
                f"channel and a feed of its own: {_told(project, [one.load.units for one in lines])}.",
                source=EDITABLE_DEFAULT,
                remedy="Write zones of your own where its parts should be others, or add an amplifier to the "
                f"library with {watts(project, math.ceil(needed_w - _ROUNDING))} a channel or more.",
            )


def _less_load(project: Project, line: LoudspeakerLine) -> str:
    """Return what to do about a line that takes too much."""
    ways = []
    stronger = sorted(
        code for code, one in project.library.amplifiers.items() if carries(project, one, line.load)
    )
    if stronger:
        tag = line.channel.amplifier if line.channel else ""
        ways.append(f"fix {' or '.join(stronger[:3])} for {tag} in fixed.yaml")
    parts = _parts(line)
    if len(parts) > 1:
        ways.append(f"make {len(parts)} zones of it, each with a channel of its own: {_told(project, parts)}")
    share_w = (line.usable_w or 0.0) / len(line.load.units)
    lower = [
        tap
        for tap in line.load.units[0].taps_w
        if tap * 10 ** (line.load.units[0].entry.transformer_loss / 10) <= share_w * (1 + _ROUNDING)
    ]
    if lower:
        ways.append(f"write a tap of {watts(project, max(lower))} for each, if that is loud enough")
    ways = ways or ["give some of its loudspeakers a zone of their own, or write less power for each"]
    words = ", or ".join(ways)
    return f"{words[0].upper()}{words[1:]}."


def _parts(line: LoudspeakerLine) -> list[list[LineUnit]]:
    """Return the fewest zones, in the order of the chain, each of which its channel could give what it draws.

    Nothing without transformers, whose load follows from how they are joined, or where one draws too much.
    """
    most_w = (line.usable_w or 0.0) * (1 + _ROUNDING)
    if line.load.voltage_v is None or any(one.draws_w > most_w for one in line.load.units):
        return []
    parts: list[list[LineUnit]] = []
    left_w = 0.0
    for one in line.load.units:
        if not parts or one.draws_w > left_w:
            parts.append([])
            left_w = most_w
        parts[-1].append(one)
        left_w -= one.draws_w
    return parts


def _told(project: Project, parts: Sequence[Sequence[LineUnit]]) -> str:
    """Return what is in each zone and what it draws: `LS1, LS2, LS4 (15 W); LS3 (5 W)`."""
    return "; ".join(
        f"{', '.join(sorted((unit.code for unit in one), key=natural))} "
        f"({watts(project, sum(unit.draws_w for unit in one))})"
        for one in parts
    )


def lines_not_driven(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each line of a voltage that its amplifier lacks, or of too low an impedance."""
    for line in design.loudspeaker_lines:
        amplifier = line.amplifier
        if amplifier is None or line.driven:
            continue
        place = _place(project, design, line, "model", "zone")
        if line.load.voltage_v is not None or amplifier.lowest_impedance is None:
            voltages = [
                quantity(one, "voltage", project.brief.units, project.brief.locale)
                for one in amplifier.line_voltages
            ]
            drives = f"drives lines of {listed(voltages)} only" if voltages else "drives no such line"
            yield Finding(
                rule="loudspeaker-line-not-driven",
                severity="error",
                where=line.identity,
                place=place,
                message=f"{line.identity} is to play zone {line.zone} ({line.load.line}), but it {drives}.",
                source=EDITABLE_DEFAULT,
                remedy=f"{_amplifier_for(project, line, 'drives such a line')}, "
                "or write another loudspeaker_line.",
            )
            continue
        yield Finding(
            rule="loudspeaker-impedance-low",
            severity="error",
            where=line.identity,
            place=place,
            message=f"The loudspeakers of zone {line.zone} are a lower load than {line.identity} takes, in "
            f"parallel and in series.",
            value=line.joined.impedance_ohm,
            limit=amplifier.lowest_impedance,
            unit="Ω",
            source=EDITABLE_DEFAULT,
            # Fewer of them in series, or one alone, would be a lower load still.
            remedy=f"{_amplifier_for(project, line, f'takes {_ohms(line.joined.impedance_ohm)}')}, or write "
            "a line with transformers under loudspeaker_line.",
        )


def _amplifier_for(project: Project, line: LoudspeakerLine, does: str) -> str:
    """Return which amplifiers would carry a line, or what to add to the library where none does.

    does: what the amplifier has to do, in words.
    """
    suiting = [
        code for code, one in sorted(project.library.amplifiers.items()) if carries(project, one, line.load)
    ]
    if not suiting:
        return f"Add an amplifier that {does} to the project's or the company's library"
    tag = line.channel.amplifier if line.channel else line.room
    return f"Fix {' or '.join(suiting[:3])} for {tag} in fixed.yaml"


def _ohms(impedance_ohm: float | None) -> str:
    """Return an impedance that no rounding makes higher, as a load of an amplifier."""
    return f"{math.floor((impedance_ohm or 0.0) * 10 + 1e-6) / 10:g} Ω"


def _highest_tap(project: Project, line: LoudspeakerLine, unit: LineUnit) -> str:
    """Return the highest tap that a loudspeaker can take; its rating where the line has no taps."""
    taps = [tap for tap in unit.taps_w if tap <= unit.entry.rated_power * (1 + _ROUNDING)]
    if line.load.voltage_v is None:
        return f"{watts(project, unit.entry.rated_power)} at most"
    return f"a tap of {watts(project, max(taps))} at most" if taps else "another loudspeaker_line"


def taps_missing(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each loudspeaker without the tap that it is to have, or with one over its rating."""
    for line in design.loudspeaker_lines:
        for unit in line.load.units:
            tag = device_tag(line.room, unit.code)
            place = _place_of(project, design, line, unit)
            known = [watts(project, tap) for tap in sorted(unit.taps_w)]
            if unit.tap_w is not None and unit.tap_w > unit.entry.rated_power * (1 + _ROUNDING):
                yield Finding(
                    rule="tap-over-rating",
                    severity="error",
                    where=tag,
                    place=place,
                    message=f"{tag} ({unit.model}) is to get more power than it can take.",
                    value=unit.tap_w,
                    limit=unit.entry.rated_power,
                    unit="W",
                    source=EDITABLE_DEFAULT,
                    remedy=f"Write {_highest_tap(project, line, unit)}, or take a loudspeaker rated "
                    f"{watts(project, unit.tap_w)} or more.",
                )
            if line.load.voltage_v is None or unit.tap_w in unit.taps_w:
                continue
            has = f"has taps of {listed(known)}" if known else "has no tap at all"
            wanted = f"a tap of {watts(project, unit.tap_w)}" if unit.tap_w is not None else "a tap"
            yield Finding(
                rule="tap-missing",
                severity="error",
                where=tag,
                place=place,
                message=f"{tag} ({unit.model}) is to have {wanted} on its {line.load.line} line, but {has} "
                "for it.",
                source=EDITABLE_DEFAULT,
                remedy="Write one of its taps, or none, so that the least that is loud enough is taken."
                if known
                else "Take a loudspeaker with a transformer for such a line, or write another "
                "loudspeaker_line for the room.",
            )


def loudspeakers_quiet(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each line whose weakest listener hears less than is asked."""
    rules = project.brief.rules.loudspeakers
    asked_db = rules.level + rules.peaks
    for line in design.loudspeaker_lines:
        unit = max(line.load.units, key=lambda one: one.short_db)
        if unit.short_db < 0.05:
            continue
        raised = [tap for tap in sorted(unit.taps_w) if unit.needed_w <= tap <= unit.entry.rated_power]
        yield Finding(
            rule="loudspeaker-too-quiet",
            severity="warning",
            where=line.identity,
            place=_place_of(project, design, line, unit),
            message=f"Zone {line.zone} does not play speech with its peaks as loud as is asked at "
            f"{line.load.weakest.name}, by direct sound alone.",
            value=asked_db - unit.short_db,
            limit=asked_db,
            unit="dB",
            source=COMMON_PRACTICE,
            remedy=_louder(project, unit, raised),
        )


def _louder(project: Project, unit: LineUnit, raised: Sequence[float]) -> str:
    """Return what makes a zone loud enough.

    raised: taps that would do, the least first, W.
    """
    if raised:
        return f"Write a tap of {watts(project, raised[0])}, or none."
    if not unit.taps_w and unit.needed_w <= unit.entry.rated_power:
        return f"Write a power of {watts(project, unit.needed_w)}, or none."
    most_w = min(max(unit.taps_w, default=unit.entry.rated_power), unit.entry.rated_power)
    return (
        f"Each loudspeaker would need {watts(project, unit.needed_w)} and takes {watts(project, most_w)} at "
        "most: hang more of them or nearer ones, or take a model with a higher sensitivity."
    )


def losses_high(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each line that loses more than the rules allow."""
    for line in design.loudspeaker_lines:
        if not line.loses_too_much:
            continue
        gauge_awg = _gauge_that_does(line)
        thicker = (
            f"A cable of {gauge_awg} AWG along the whole line would do: choose one in fixed.yaml"
            if gauge_awg is not None
            else f"No gauge down to {_THICKEST_AWG} AWG would do: let the amplifier stand nearer, or take a "
            "line of higher voltage"
        )
        yield Finding(
            rule="loudspeaker-line-loss",
            severity="warning",
            where=line.identity,
            place=written_place(
                project,
                *(("fixed", "cables", cable.identity, "type") for cable in line.cables),
                *_paths(design, line, line.load.units[-1]),
            ),
            message=f"The line of {line.identity} loses more than is allowed on the way to "
            f"{line.tags[line.run.losses_db.index(line.loss_db)]}.",
            value=line.loss_db,
            limit=line.limit_db,
            unit="dB",
            source=EDITABLE_DEFAULT,
            remedy=f"{thicker}, or give some of its loudspeakers a line of their own.",
        )


def _gauge_that_does(line: LoudspeakerLine) -> int | None:
    """Return the thinnest gauge with which a line keeps to its limit, AWG; None where none does."""
    loads_ohm = [one.impedance_ohm or math.inf for one in line.load.units]
    for gauge_awg in range(24, _THICKEST_AWG - 1, -2):
        ohms = [
            sum(
                2 * part.length_m * wire.conductor_resistance_ohm_per_m(gauge_awg, part.temperature_c)
                for part in cable.warmth
            )
            if cable
            else 0.0
            for cable in line.stretches
        ]
        run = run_of(loads_ohm, ohms, line.joined.voltage_v, series=line.joined.wiring == "series")
        if max(run.losses_db) <= line.limit_db:
            return gauge_awg
    return None


def wiring_classes(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each stretch whose cable is not marked for the class of its amplifier's output."""
    entries = cable_entries(project)
    for line in design.loudspeaker_lines:
        for cable in line.cables:
            entry = entries.get(cable.model)
            if line.amplifier is None or not isinstance(entry, LoudspeakerCable):
                continue
            if marked_for(entry, line.amplifier.wiring_class):
                continue
            yield Finding(
                rule="wiring-class-short",
                severity="error",
                where=cable.identity,
                place=written_place(
                    project,
                    ("fixed", "cables", cable.identity, "type"),
                    *_paths(design, line, line.load.units[0]),
                ),
                message=f"{cable.identity} ({cable.model}) is marked for {entry.wiring_class} wiring; the "
                f"output {line.identity} asks for {line.amplifier.wiring_class}. The adopted code decides.",
                source=NFPA_70_WIRING,
                remedy=other_cables(project, design, cable),
            )


def _place(project: Project, design: Design, line: LoudspeakerLine, *fields: str) -> Place:
    """Return where a line comes from: its amplifier where that is fixed, else what its loudspeakers say."""
    path = _layout(design, line)
    paths = [(*path, "loudspeakers", one.code, field) for field in fields for one in line.load.units]
    amplifier = line.channel.amplifier if line.channel else ""
    return written_place(project, ("fixed", "devices", amplifier, "model"), *paths, (*path, "loudspeakers"))


def _place_of(project: Project, design: Design, line: LoudspeakerLine, unit: LineUnit) -> Place:
    return written_place(project, *_paths(design, line, unit))


def _paths(design: Design, line: LoudspeakerLine, unit: LineUnit) -> tuple[Path, ...]:
    """Return the paths at which a loudspeaker is described, what decides most first."""
    one = (*_layout(design, line), "loudspeakers", unit.code)
    fixed: Path = ("fixed", "devices", device_tag(line.room, unit.code), "model")
    return ((*one, "tap"), fixed, (*one, "model"), one)


def _layout(design: Design, line: LoudspeakerLine) -> Path:
    return next(kind.path for kind in design.kinds if line.room in kind.rooms)


LOUDSPEAKER_LINE_RULES: tuple[Rule, ...] = (
    zones_in_parts,
    lines_overloaded,
    lines_not_driven,
    taps_missing,
    loudspeakers_quiet,
    losses_high,
    wiring_classes,
)
