"""From a checked project to everything computed from it: a pure function."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING, Literal, TypeAlias

from proposal.design.decisions_by_hand import WrongDecision
from proposal.design.design import Design
from proposal.design.whole_design import design
from proposal.errors import InputError, Problem
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.model.steps import Doing, plainly
from proposal.quantities.messages import shown, wanted_one_of
from proposal.review.finding import Finding, Rule, in_order, marked, open_errors
from proposal.review.rules import found_by_rule, judged

if TYPE_CHECKING:
    from proposal.estimate.labour.labour import LabourEstimate
    from proposal.estimate.price.price import PriceEstimate
    from proposal.estimate.programme.programme import ProgrammePlan
    from proposal.estimate.programme.time_on_site import TimeOnSite
    from proposal.estimate.takeoff_and_reels import Estimate
    from proposal.model.price.commercial import Commercial
    from proposal.review.disclosure import Disclosed
    from proposal.review.received import Received
    from proposal.review.requirements.requirements import AnsweredRequirement

Step: TypeAlias = Literal["estimate", "charged_sheets", "labour", "price"]
STEPS: tuple[Step, ...] = ("estimate", "charged_sheets", "labour", "price")
"""The steps from a design to its price, each of which rests on those before it."""


@dataclass(frozen=True, kw_only=True)
class Computed:
    """A project with its design and, once they are asked for, findings, estimate, price and programme."""

    project: Project
    design: Design

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Return what a careful reviewer would say; the programme is planned where days are to be kept."""
        return judged(self.project, self.found, (*self._late, *self._findings_of_requirements))

    @property
    def _late(self) -> Iterator[Finding]:
        """Yield what is over or comes too late; the programme is planned where days are to be kept."""
        from proposal.review.programme import (
            has_days_to_deliver_by,
            has_days_to_keep,
            late_articles,
            late_work,
        )

        if has_days_to_keep(self.project):
            yield from late_work(self.project, self.programme, self.programme_with)
        if has_days_to_deliver_by(self.project):
            from proposal.estimate.programme.late_deliveries import late_deliveries

            deliveries = late_deliveries(self.project, self.estimate, self.programme)
            yield from late_articles(self.project, deliveries)

    @cached_property
    def found(self) -> Mapping[Rule, tuple[Finding, ...]]:
        """Return what each rule finds in the design; answers to requirements read it too."""
        return found_by_rule(self.project, self.design)

    @cached_property
    def answered(self) -> "tuple[AnsweredRequirement, ...]":
        """Return what the client asks for, with what came of its answers; nothing waits for none."""
        if not self.project.requirements:
            return ()
        from proposal.review.requirements.requirements import answered_requirements

        return answered_requirements(self)

    @property
    def _findings_of_requirements(self) -> tuple[Finding, ...]:
        if not self.answered:
            return ()
        from proposal.review.requirements.requirements import requirement_findings

        return tuple(requirement_findings(self.project, self.answered))

    @cached_property
    def estimate(self) -> "Estimate":
        """Return what the design takes and costs; commands that only read findings do not wait for it."""
        from proposal.estimate.takeoff_and_reels import estimate

        return estimate(self.project, self.design)

    @cached_property
    def charged_sheets(self) -> tuple[str, ...]:
        """Return the numbers of the sheets whose hours labour counts."""
        from proposal.estimate.drawing_list import charged_sheets

        return tuple(sheet.number for sheet in charged_sheets(self))

    @cached_property
    def labour(self) -> "LabourEstimate":
        """Return the hours that the design takes."""
        from proposal.estimate.labour.labour import labour_estimate

        brief = self.project.brief
        return labour_estimate(
            self.project,
            self.design,
            self.charged_sheets,
            self.project.labour,
            brief.labour,
            brief.programme.hours_a_day,
        )

    @cached_property
    def price(self) -> "PriceEstimate":
        """Return the price of the design."""
        from proposal.estimate.price.price import price_estimate

        return price_estimate(
            self.project,
            self.design,
            self.estimate,
            self.labour,
            self.project.labour,
            self.project.brief.price,
            self.time_on_site,
        )

    @property
    def whole_price(self) -> Decimal:
        """Return the whole price before tax: no other view of it is computed."""
        if "price" in self.__dict__:
            return self.price.whole.price
        from proposal.estimate.price.price import whole_price

        return whole_price(
            self.project,
            self.estimate,
            self.labour,
            self.project.labour,
            self.project.brief.price,
            self.time_on_site,
        ).price

    @cached_property
    def time_on_site(self) -> "TimeOnSite":
        """Return when people work on site; the programme is planned only where something is counted by it."""
        from proposal.estimate.programme.time_on_site import NO_TIME, time_on_site
        from proposal.quantities.general_conditions import COUNTED_IN_TIME

        brief = self.project.brief
        if not any(one.by in COUNTED_IN_TIME for one in brief.price.surcharges.values()):
            return NO_TIME
        return time_on_site(self.programme)

    @cached_property
    def programme(self) -> "ProgrammePlan":
        """Return when the work is done."""
        return self.programme_with(self.project.brief.commercial)

    def programme_with(self, commercial: "Commercial") -> "ProgrammePlan":
        """Return when the work would be done with another day of order or other crews.

        commercial: which says them.
        """
        from proposal.estimate.programme.programme import programme

        return programme(self.project, self.estimate, self.labour, self.project.labour, commercial)

    @cached_property
    def received(self) -> "Received":
        """Return what a client receives of the price as it stands."""
        from proposal.review.received import received

        return received("", "the whole price", "base", self.project, self.price, self.library_hours)

    @cached_property
    def library_hours(self) -> Mapping[str, Decimal]:
        """Return the hours of each trade that the shared library gives for the design, h."""
        from proposal.estimate.labour.labour import hours_by

        return dict(hours_by(self._usual_labour, "trade"))

    def disclosed(self, others: "Sequence[Received]" = ()) -> "tuple[Disclosed, ...]":
        """Return how far costs, margins and hours stay open to a client, and what would keep them so.

        others: all else that the client receives beside the price as it stands, or ever received.
        """
        for known, found in self._disclosures:
            if known == tuple(others):
                return found
        self._disclosures.append((tuple(others), self._disclosed(others)))
        return self._disclosures[-1][1]

    @cached_property
    def _disclosures(self) -> "list[tuple[tuple[Received, ...], tuple[Disclosed, ...]]]":
        """What was found out already, with what it was asked of."""
        return []

    def _disclosed(self, others: "Sequence[Received]") -> "tuple[Disclosed, ...]":
        from proposal.review.client_knowledge import Known
        from proposal.review.disclosure import Asking
        from proposal.review.disclosure_remedies import with_remedies

        known = Known.of(self.project, self.labour, self.library_hours)
        asking = Asking.of(self.project, self.programme, known)
        return () if asking is None else with_remedies(self.project, asking, self.received, others)

    @cached_property
    def _usual_labour(self) -> "LabourEstimate":
        """Return the work that the shared library gives for the design, without anything of our own."""
        from proposal.estimate.labour.labour import labour_estimate
        from proposal.model.labour.labour_choices import LabourChoices

        project = self.project
        return labour_estimate(
            project,
            self.design,
            self.charged_sheets,
            project.usual_labour,
            LabourChoices(),
            project.brief.programme.hours_a_day,
        )

    def house_findings(self, disclosed: "Sequence[Disclosed]") -> tuple[Finding, ...]:
        """Return the findings about the price, for the house alone.

        disclosed: how far everything stays open to a client.
        """
        from proposal.review.price import open_to_the_client

        told = marked(self.project, open_to_the_client(self.project, disclosed))
        return in_order((*self._price_findings, *told))

    @cached_property
    def _price_findings(self) -> tuple[Finding, ...]:
        """Return the findings about the price alone, whatever a client knows of other prices."""
        from proposal.review.price import price_findings

        return tuple(marked(self.project, price_findings(self.project, self.price, self.estimate.purchases)))

    def again(self, project: Project, design: Design, kept: Iterable[Step]) -> "Computed":
        """Return everything computed of another project, some steps of which are the same as of this one.

        design: of that project.
        kept: the steps that are the same.
        """
        computed = Computed(project=project, design=design)
        for step in kept:
            computed.__dict__[step] = getattr(self, step)
        return computed

    def with_same_equipment(self, project: Project) -> "Computed":
        """Return everything computed of this project at other prices and hours, nothing chosen anew.

        project: the same one with other figures that the price rests on; equipment, reels and programme
            stay, and with it the time on site that is charged for.
        """
        from proposal.estimate.takeoff.reel_orders import at_present_cost
        from proposal.estimate.takeoff_and_reels import estimate_with_reels

        held = Computed(project=project, design=replace(self.design, project=project))
        reels = at_present_cost(project, self.estimate.reels)
        held.__dict__["estimate"] = estimate_with_reels(project, held.design, reels)
        held.__dict__["programme"] = self.programme
        return held

    @property
    def errors(self) -> tuple[Finding, ...]:
        """Return the error findings that nobody has accepted, those for the house alone too."""
        return open_errors(self.every_finding)

    @property
    def every_finding(self) -> tuple[Finding, ...]:
        """Return all findings, those about the price alone too, but not what a client can compute."""
        return in_order((*self.findings, *self._price_findings))


def compute(project: Project, do: Doing = plainly) -> Computed:
    """Return everything computed from a project.

    do: does each step of its design, or knows its result from a project that differs little.

    Raises InputError where fixed.yaml decides about something that the design does not have, or chooses a
    model of another kind.
    """
    computed = design(project, do)
    problems = [_problem(project, wrong) for wrong in computed.wrong_by_hand]
    if problems:
        raise InputError(problems)
    return Computed(project=project, design=computed)


def _problem(project: Project, wrong: WrongDecision) -> Problem:
    """Return what is said of a decision by hand that cannot be kept."""
    field = shown(".".join(str(part) for part in wrong.path[1:]))
    return Problem(project.place(*wrong.path), field, wanted_one_of(wrong.found, wrong.known, wrong.wanted))
