"""Findings: what a careful reviewer would say about a design, with place, limit, source and remedy."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from proposal.design.design import Design
from proposal.errors import Place
from proposal.model.project import AcceptedFinding, Project
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
    message: what is the matter.
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

    @property
    def line(self) -> str:
        """Return the finding as a terminal prints it: place, severity, rule, tag, message, remedy."""
        numbers = ""
        if self.value is not None and self.limit is not None:
            numbers = f" Found {self.value:.4g} {self.unit}, limit {self.limit:.4g} {self.unit}."
        accepted = f" Accepted: {self.accepted.reason}" if self.accepted else ""
        head = f"{self.place}: {self.severity}: {self.rule}: {self.where}: {self.message}"
        return f"{head}{numbers} {self.remedy}{accepted}"


Rule = Callable[[Project, Design], Iterator[Finding]]


def findings(project: Project, design: Design) -> tuple[Finding, ...]:
    """Return every finding: errors first, then by rule and place, accepted ones marked."""
    from proposal.review.cabling_rules import CABLING_RULES
    from proposal.review.network_rules import NETWORK_RULES
    from proposal.review.room_rules import ROOM_RULES

    rules: tuple[Rule, ...] = (*ROOM_RULES, *CABLING_RULES, *NETWORK_RULES)
    found = [finding for rule in rules for finding in rule(project, design)]
    accepted = {(one.rule, one.where): one for one in project.brief.accepted_findings.values()}
    marked = [replace(one, accepted=accepted.get((one.rule, one.where))) for one in found]
    return tuple(sorted(marked, key=lambda one: (SEVERITIES.index(one.severity), one.rule, one.where)))


def open_errors(found: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return the errors that nobody has accepted."""
    return tuple(one for one in found if one.severity == "error" and one.accepted is None)
