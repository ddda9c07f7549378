"""The price of a project that differs little from another: what reads no difference is not computed again.

The steps are those of the design, then take-off, labour and price. While one project is computed it is noted
what each step reads of the project and of the design. For another project a step is the same where it reads
nothing in which the two differ, and all steps before it that it rests on have the same results.
"""

from collections.abc import Sequence
from dataclasses import fields, replace
from decimal import Decimal
from functools import cached_property

from proposal.design.design import Design
from proposal.design.pathways.routing import Router
from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.model.reads import Differing, Reads, differing, reads_noted
from proposal.model.steps import NotedSteps
from proposal.pipeline import STEPS, Computed, Step, compute

_OF_THE_DESIGN = frozenset(field.name for field in fields(Design)) - {"project"}
"""What a design holds."""
_LATER = frozenset(name for name, value in vars(Design).items() if isinstance(value, cached_property))
"""What follows from it when it is first asked for; that is part of the step that first asks."""


@dataclass(frozen=True, slots=True)
class _Noted:
    """What a step reads of the project, and which parts of the design.

    later: parts that had followed already, as a step before it asked for them; what they read is not its own.
    """

    reads: Reads
    parts: frozenset[str]
    later: frozenset[str]


class PriceAgain:
    """Prices of projects that differ little from one."""

    def __init__(self, project: Project) -> None:
        """Compute a project and note what each step reads.

        Raises InputError as `compute` does.
        """
        with reads_noted(Design) as taken:
            self._noted = NotedSteps(taken, sharing=(Router,))
            computed = compute(project, self._noted.do)
            self._design = self._noted.reads()
            # What already followed from the design follows again from the same design without it.
            self._base = Computed(project=project, design=replace(computed.design))
            taken()
            self._steps: dict[Step, _Noted] = {}
            for step in STEPS:
                followed = _LATER & vars(self._base.design).keys()
                getattr(self._base, step)
                reads = taken()
                names = reads.names(self._base.design)
                self._steps[step] = _Noted(reads, names & _OF_THE_DESIGN, names & followed)

    def price(self, project: Project) -> Decimal:
        """Return the price before tax of another project.

        Raises InputError as `compute` does.
        """
        everything = (self._design, *(step.reads for step in self._steps.values()))
        changed = [
            one
            for one in differing(self._base.project, project)
            if any(reads.hold(one) for reads in everything)
        ]
        if not changed:
            return self._base.price.whole.price
        design = self._design_of(project, changed)
        computed = self._base.again(project, design, ())
        done_again = False
        for step, noted in self._steps.items():
            known = getattr(self._base, step)
            if not self._is_same(noted, changed, design, later=done_again):
                done_again = True
                # Nothing rests on the last step, of which the whole price alone is asked for.
                if step == STEPS[-1] or getattr(computed, step) != known:
                    break
            computed.__dict__[step] = known
        return computed.whole_price

    def _design_of(self, project: Project, changed: Sequence[Differing]) -> Design:
        if any(self._design.hold(one) or not _is_of_money(one, self._base.project) for one in changed):
            return compute(project, self._noted.again(changed)).design
        return replace(self._base.design, project=project)

    def _is_same(self, noted: _Noted, changed: Sequence[Differing], design: Design, *, later: bool) -> bool:
        """Say whether a step is the same where all before it have the same results.

        later: whether one of them was done again, so that what it asked for may be other than before.
        """
        if any(noted.reads.hold(one) for one in changed):
            return False
        base, parts = self._base.design, noted.parts | noted.later if later else noted.parts
        return all(getattr(base, part) == getattr(design, part) for part in parts)


def _is_of_money(one: Differing, project: Project) -> bool:
    """Say whether a field belongs to a part of a project that no design holds on to."""
    brief = project.brief
    parts = (brief.price, brief.programme, brief.rules.takeoff, brief.labour, project.labour)
    return any(model is part for model in one.models for part in parts)
