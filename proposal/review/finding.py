"""What a finding is: what a careful reviewer would say, with place, limit, source and remedy."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from proposal.design.design import Design
from proposal.errors import Place
from proposal.model.project import AcceptedFinding, Path, Project
from proposal.quantities.units import Units, in_units
from proposal.standards.working import Source

Severity = Literal["error", "warning", "note"]
SEVERITIES: tuple[Severity, ...] = ("error", "warning", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing a reviewer would say.

    rule: name of the rule, of our own.
    severity: error, warning or note.
    where: tag or identity of what it concerns.
    place: file and line that caused it.
    message: what is the matter; quantities stand in value and limit, where they get the project's units.
    value, limit, unit: what was found against what is wanted, SI; None where it is not a number.
    source: where the rule stands.
    remedy: what would fix it.
    accepted: the designer's acceptance, None where there is none.
    """

    rule: str
    severity: Severity
    where: str
    place: Place
    message: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    source: Source
    remedy: str
    accepted: AcceptedFinding | None = None


Rule = Callable[[Project, Design], Iterator[Finding]]


def open_errors(found: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return the errors that nobody has accepted."""
    return tuple(one for one in found if one.severity == "error" and one.accepted is None)


def written_place(project: Project, *paths: Path) -> Place:
    """Return the place of the first of several values that is written, else of what would hold the last.

    paths: what may have caused a finding, likeliest first.
    """
    for path in paths:
        found = project.places.get(path)
        if found:
            return found
    return project.place(*paths[-1])


def finding_line(finding: Finding, units: Units) -> str:
    """Return a finding as a terminal prints it: place, severity, rule, tag, message, numbers, remedy.

    units: the project's.
    """
    numbers = ""
    if finding.value is not None and finding.limit is not None:
        found = _figure(finding.value, finding.unit, units)
        numbers = f" Found {found}, limit {_figure(finding.limit, finding.unit, units)}."
    accepted = f" Accepted: {finding.accepted.reason}" if finding.accepted else ""
    head = f"{finding.place}: {finding.severity}: {finding.rule}: {finding.where}: {finding.message}"
    return f"{head}{numbers} {finding.remedy}{accepted}"


_CONVERTED = {"m": "length", "°C": "temperature"}


def _figure(value: float, unit: str, units: Units) -> str:
    if unit in _CONVERTED:
        value, unit = in_units(value, _CONVERTED[unit], units)
    number = f"{value:.4g}"
    if not unit:
        return number
    # Counts have a noun for their unit.
    counted = len(unit) > 2 and unit.endswith("s")
    return f"{number} {unit[:-1]}" if counted and number == "1" else f"{number} {unit}"


def length_words(length_m: float, units: Units) -> str:
    """Return a length for a sentence, in the project's units."""
    value, unit = in_units(length_m, "length", units)
    return f"{value:.1f} {unit}"


def counted(number: int, noun: str, *, more: bool = False) -> str:
    """Return a number of things in words that agree, `1 more channel`.

    noun: in the singular.
    """
    between = " more" if more else ""
    return f"{number}{between} {noun}" if number == 1 else f"{number}{between} {noun}s"


def listed(items: Sequence[str]) -> str:
    """Return items as a phrase, `A, B and C`."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"
