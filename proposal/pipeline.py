"""From a checked project to everything computed from it: a pure function."""

from dataclasses import dataclass

from proposal.design.by_hand import WrongDecision
from proposal.design.design import Design, design
from proposal.errors import InputError, Problem
from proposal.estimate.takeoff import Estimate, estimate
from proposal.model.messages import shown, wanted_one_of
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

    Raises InputError where fixed.yaml decides about something that the design does not have, or chooses a
    model of another kind.
    """
    computed = design(project)
    problems = [_problem(project, wrong) for wrong in computed.wrong_by_hand]
    if problems:
        raise InputError(problems)
    return Computed(
        project=project,
        design=computed,
        estimate=estimate(project, computed),
        findings=findings(project, computed),
    )


def _problem(project: Project, wrong: WrongDecision) -> Problem:
    """Return what is said of a decision by hand that cannot be kept."""
    field = shown(".".join(str(part) for part in wrong.path[1:]))
    return Problem(project.place(*wrong.path), field, wanted_one_of(wrong.found, wrong.known, wrong.wanted))
