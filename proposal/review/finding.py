"""What a finding is: what a careful reviewer would say, with place, limit, source and remedy."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Literal

from proposal.design.design import Design
from proposal.errors import Place
from proposal.field_classes import dataclass
from proposal.model.project import AcceptedFinding, Path, Project
from proposal.quantities.units import Units, in_units
from proposal.standards.sources import COMMON_PRACTICE, Source

HOUSE_RULES = (
    *("spread-without-lump", "printed-rate", "one-factor", "client-can-compute"),
    *("price-zero", "cost-above-list", "price-expired", "price-expires", "price-awaited"),
    *("price-given-twice", "price-missing", "selling-above-list", "wage-below-rule"),
    *("service-unpriced", "bond-unpriced"),
)
"""Rules whose findings tell of prices, costs and margins: for the house alone."""
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


def error_at(
    where: str,
    place: Place,
    rule: str,
    message: str,
    remedy: str,
    source: Source,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
) -> Finding:
    """Return an error at something.

    where, place: its tag, and where it is written.
    rule, message, remedy, source, value, limit, unit: as a finding has them.
    """
    return Finding(
        rule=rule,
        severity="error",
        where=where,
        place=place,
        message=message,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        remedy=remedy,
    )


def marked(project: Project, found: Iterable[Finding]) -> Iterator[Finding]:
    """Yield findings, each with its acceptance where the designer accepts it."""
    accepted = {(one.rule, one.where): one for one in project.brief.accepted_findings.values()}
    for one in found:
        yield replace(one, accepted=accepted.get((one.rule, one.where)))


def in_order(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings, errors first, then by rule and tag."""
    return tuple(sorted(found, key=lambda one: (SEVERITIES.index(one.severity), one.rule, one.where)))


def open_errors(found: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return the errors that nobody has accepted."""
    return tuple(one for one in found if one.severity == "error" and one.accepted is None)


def unmatched_acceptances(project: Project, found: Iterable[Finding]) -> Iterator[AcceptedFinding]:
    """Yield each acceptance of something that is not among the findings."""
    there = {(one.rule, one.where) for one in found}
    for accepted in project.brief.accepted_findings.values():
        if (accepted.rule, accepted.where) not in there:
            yield accepted


def nothing_to_accept(project: Project, accepted: AcceptedFinding) -> Finding:
    """Return a warning of an acceptance of something that nobody finds any more."""
    names = project.brief.accepted_findings.items()
    name = next(name for name, one in names if one == accepted)
    return Finding(
        rule="nothing-to-accept",
        severity="warning",
        where=accepted.where,
        place=project.place("project", "accepted_findings", name),
        message=f"The accepted finding {accepted.rule} is not found at {accepted.where}.",
        source=COMMON_PRACTICE,
        remedy="Remove the acceptance, or write rule and tag as the findings have them.",
    )


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


_CONVERTED = {"m": "length", "°C": "temperature", "K": "temperature_rise"}


def _figure(value: float, unit: str, units: Units) -> str:
    if unit in _CONVERTED:
        value, unit = in_units(value, _CONVERTED[unit], units)
    number = f"{value:.4g}"
    if not unit:
        return number
    # Counts have a noun for their unit.
    counted = len(unit) > 2 and unit.endswith("s")
    if not counted or number != "1":
        return f"{number} {unit}"
    return f"{number} {unit.removesuffix('es') if unit.endswith('ches') else unit[:-1]}"


def length_words(length_m: float, units: Units) -> str:
    """Return a length for a sentence, in the project's units.

    length_m: length, m.
    """
    value, unit = in_units(length_m, "length", units)
    return f"{value:.1f} {unit}"


def at_least_words(length_m: float, units: Units) -> str:
    """Return a length for a sentence that no rounding makes shorter, in the project's units.

    length_m: length, m.
    """
    value, unit = in_units(length_m, "length", units)
    return f"{math.ceil(value * 10 - 1e-6) / 10:.1f} {unit}"


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
