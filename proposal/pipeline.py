"""From a checked project to everything computed from it: a pure function."""

import difflib
from dataclasses import dataclass

from proposal.design.design import Design, design
from proposal.errors import InputError, Problem
from proposal.estimate.takeoff import Estimate, estimate
from proposal.model.project import Project
from proposal.review.findings import Finding, findings, open_errors


@dataclass(frozen=True, slots=True, kw_only=True)
class Computed:
    """A project with its design, estimate and findings."""

    project: Project
    design: Design
    estimate: Estimate
    findings: tuple[Finding, ...]

    @property
    def errors(self) -> tuple[Finding, ...]:
        """Return the error findings that nobody has accepted."""
        return open_errors(self.findings)


def compute(project: Project) -> Computed:
    """Return everything computed from a project.

    Raises InputError where fixed.yaml decides about something that the design does not have.
    """
    computed = design(project)
    problems = []
    for section, name, known in computed.unknown_by_hand:
        nearest = difflib.get_close_matches(name, known, n=1)
        hint = f" (did you mean {nearest[0]}?)" if nearest else ""
        wanted = "the tag of a device" if section == "devices" else "the identity of a cable"
        place = project.place("fixed", section, name)
        problems.append(
            Problem(place, f"{section}.{name}", f"wanted {wanted} of this project, found {name}{hint}")
        )
    if problems:
        raise InputError(problems)
    return Computed(
        project=project,
        design=computed,
        estimate=estimate(project, computed),
        findings=findings(project, computed),
    )
