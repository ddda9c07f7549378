"""The price of a project that differs little from another: what reads no difference is not computed again.

The steps are design, take-off, labour and price. While one project is computed it is noted what each step
reads of the project and of the design. For another project a step is the same where it reads nothing in which
the two differ, and all steps before it that it rests on are the same.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from decimal import Decimal

from proposal.design.design import Design
from proposal.model.project import Project
from proposal.model.reads import Differing, Reads, differing, reads_noted
from proposal.pipeline import STEPS, Computed, Step, compute

_OF_THE_DESIGN = frozenset(field.name for field in fields(Design)) - {"project"}
"""What a design holds; what follows from it later is part of the step that first asks for it."""


@dataclass(frozen=True, slots=True)
class _Noted:
    """What a step reads of the project, and which parts of the design."""

    reads: Reads
    parts: frozenset[str]


class PriceAgain:
    """Prices of projects that differ little from one."""

    def __init__(self, project: Project) -> None:
        """Compute a project and note what each step reads.

        Raises InputError as `compute` does.
        """
        with reads_noted(Design) as taken:
            computed = compute(project)
            self._design = taken()
            # What already followed from the design follows again from the same design without it.
            self._base = Computed(project=project, design=replace(computed.design))
            taken()
            self._steps: dict[Step, _Noted] = {}
            for step in STEPS:
                getattr(self._base, step)
                reads = taken()
                self._steps[step] = _Noted(reads, reads.names(self._base.design) & _OF_THE_DESIGN)

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
        kept: list[Step] = []
        for step, noted in self._steps.items():
            if not self._is_same(noted, changed, design):
                break
            kept.append(step)
        return self._base.again(project, design, kept).price.whole.price

    def _design_of(self, project: Project, changed: Sequence[Differing]) -> Design:
        if any(self._design.hold(one) or not _is_of_money(one, self._base.project) for one in changed):
            return compute(project).design
        return replace(self._base.design, project=project)

    def _is_same(self, noted: _Noted, changed: Sequence[Differing], design: Design) -> bool:
        """Say whether a step is the same where all before it are."""
        base = self._base.design
        return not any(noted.reads.hold(one) for one in changed) and all(
            getattr(base, part) == getattr(design, part) for part in noted.parts
        )


def _is_of_money(one: Differing, project: Project) -> bool:
    """Say whether a field belongs to a part of a project that no design holds on to."""
    brief = project.brief
    parts = (brief.price, brief.programme, brief.rules.takeoff, brief.labour, project.labour)
    return any(model is part for model in one.models for part in parts)
