"""From a checked project to everything computed from it: a pure function."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from proposal.design.by_hand import WrongDecision
from proposal.design.design import Design, design
from proposal.errors import InputError, Problem
from proposal.model.messages import shown, wanted_one_of
from proposal.model.project import Project
from proposal.review.findings import Finding, findings, open_errors

if TYPE_CHECKING:
    from proposal.estimate.takeoff import Estimate


@dataclass(frozen=True, kw_only=True)
class Computed:
    """A project with its design, findings and, once it is asked for, its estimate."""

    project: Project
    design: Design
    findings: tuple[Finding, ...]

    @cached_property
    def estimate(self) -> "Estimate":
        """Return what the design takes and costs; who only reads findings does not wait for it."""
        from proposal.estimate.takeoff import estimate

        return estimate(self.project, self.design)

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
        findings=findings(project, computed),
    )


def _problem(project: Project, wrong: WrongDecision) -> Problem:
    """Return what is said of a decision by hand that cannot be kept."""
    field = shown(".".join(str(part) for part in wrong.path[1:]))
    return Problem(project.place(*wrong.path), field, wanted_one_of(wrong.found, wrong.known, wrong.wanted))
