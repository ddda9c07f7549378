"""Which cables of the library would do where one does not: all that is asked of a cable, at once."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import FIBRES_OF_A_LINK, CableEntry, cable_entries, marked_for
from proposal.design.connections.jackets import (
    JACKET_WORDS,
    UNKNOWN_CEILING,
    jacket_needs,
    lacking,
    suits_unknown_ceiling,
    unknown_ceiling_words,
)
from proposal.design.design import Design
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import DataCable, FibreCable, LoudspeakerCable
from proposal.model.project import Project
from proposal.review.finding import listed
from proposal.standards.tia568 import HIGHEST_RATE_BIT_S, WARMEST_CABLE_C

MOST_NAMED = 3
"""Models that a remedy names."""
_KINDS = {
    "network": "cable",
    "analogue": "audio_cable",
    "loudspeaker line": "loudspeaker_cable",
    "fibre": "fibre_cable",
}


@dataclass(frozen=True, slots=True)
class _Demand:
    """Something that a cable has to be.

    words: with it, `a screen`.
    """

    words: str
    met: Callable[[CableEntry], bool]


def other_cables(project: Project, design: Design, cable: Cable) -> str:
    """Return what to do about a cable of the wrong make: models that do all that is asked, or what to add.

    A ceiling that nobody described is taken into account as far as the library can.
    """
    firm = list(_demands(project, design, cable))
    every = [*firm, *_of_unknown_ceiling(project, cable)]
    asked = every if _models(project, cable, every) else firm
    return _words(_models(project, cable, asked), asked)


def cables_for_ceiling(project: Project, design: Design, cable: Cable) -> str:
    """Return which models suit a ceiling that nobody described, and all else that is asked of a cable."""
    asked = [*_of_unknown_ceiling(project, cable), *_demands(project, design, cable)]
    return _words(_models(project, cable, asked), asked)


def _models(project: Project, cable: Cable, demands: Sequence[_Demand]) -> list[str]:
    """Return the cables of the library for a signal that meet all demands, in order of their codes."""
    return [
        code
        for code, entry in sorted(cable_entries(project).items())
        if entry.kind == _KINDS[cable.signal] and all(one.met(entry) for one in demands)
    ]


def _words(models: Sequence[str], demands: Sequence[_Demand]) -> str:
    asked = listed([one.words for one in demands])
    if not models:
        return f"Add a cable with {asked} to the project's or the company's library; it has none yet."
    named, rest = models[:MOST_NAMED], len(models) - MOST_NAMED
    if rest > 0:
        return f"Choose {', '.join(named)} or one of {rest} more that have all that is asked: {asked}."
    have = "has" if len(named) == 1 else "have"
    return f"Choose {' or '.join(named)}, which {have} all that is asked: {asked}."


def speed_wanted(design: Design, cable: Cable) -> float | None:
    """Return the speed of the port that a cable begins at, bit/s; None where it has none."""
    device = design.entries.get(cable.start)
    letters = cable.start_port.rstrip("0123456789")
    if device is None or letters not in device.ports:
        return None
    return device.ports[letters].speed


def _demands(project: Project, design: Design, cable: Cable) -> Iterator[_Demand]:
    """Yield all that the rules about cables ask of one."""
    for need in jacket_needs(project, cable.route, rises=cable.start_storey != cable.end_storey):
        if need != UNKNOWN_CEILING:
            yield _Demand(JACKET_WORDS[need], partial(_has_jacket, need))
    if project.brief.rules.cabling.halogen_free:
        yield _Demand("a jacket free of halogens", lambda entry: entry.jacket.low_smoke)
    if cable.signal == "fibre":
        there = cable_entries(project).get(cable.model)
        if isinstance(there, FibreCable):
            yield _Demand(
                f"{FIBRES_OF_A_LINK} fibres {there.fibre}",
                lambda entry: (
                    isinstance(entry, FibreCable)
                    and entry.fibre == there.fibre
                    and entry.fibres >= FIBRES_OF_A_LINK
                ),
            )
    if cable.signal == "network":
        yield from _data_demands(design, cable)
    if cable.signal == "loudspeaker line":
        yield from _line_demands(design, cable)
    warmest_c = WARMEST_CABLE_C if cable.checked else None
    if warmest_c is None or cable.temperature_c <= warmest_c:
        yield _Demand(
            f"a rating of {cable.temperature_c:.0f} °C or more",
            lambda entry: entry.temperature_rating >= cable.temperature_c,
        )


def _line_demands(design: Design, cable: Cable) -> Iterator[_Demand]:
    yield _Demand(
        "conductors of copper",
        lambda entry: isinstance(entry, LoudspeakerCable) and entry.conductor == "copper",
    )
    line = next((one for one in design.loudspeaker_lines if cable in one.cables), None)
    if line and line.amplifier:
        asked = line.amplifier.wiring_class
        yield _Demand(
            f"a marking for {asked} wiring",
            lambda entry: isinstance(entry, LoudspeakerCable) and marked_for(entry, asked),
        )


def _of_unknown_ceiling(project: Project, cable: Cable) -> Iterator[_Demand]:
    if UNKNOWN_CEILING in jacket_needs(project, cable.route, rises=False):
        yield _Demand(
            unknown_ceiling_words(project), lambda entry: suits_unknown_ceiling(project, entry.jacket)
        )


def _has_jacket(need: str, entry: CableEntry) -> bool:
    return not lacking(entry.jacket, (need,))


def _data_demands(design: Design, cable: Cable) -> Iterator[_Demand]:
    yield _Demand(
        "solid conductors of copper",
        lambda entry: (
            isinstance(entry, DataCable) and entry.stranding == "solid" and entry.conductor == "copper"
        ),
    )
    if cable.screened_wanted:
        yield _Demand("a screen", lambda entry: isinstance(entry, DataCable) and entry.screened)
    speed = speed_wanted(design, cable)
    if speed is not None:
        yield _Demand(
            f"a category for {speed / 1e9:g} Gbit/s",
            lambda entry: isinstance(entry, DataCable) and HIGHEST_RATE_BIT_S[entry.category] >= speed,
        )
