"""Rows of what the work needs from the client, and by when."""

import datetime
from collections.abc import Iterator, Sequence
from typing import Annotated, ClassVar

from pydantic import Field

from proposal.document.rows.findings import QuestionRow
from proposal.document.rows.owner_equipment import OwnerEquipmentRow
from proposal.document.rows.programme import ActivityRow, ProgrammeSummary
from proposal.document.schedule import ALL, Row, Schedule, Shows
from proposal.quantities.formatting import count_of

APPROVED = "drawings approved"
SECOND_FIX = "second fix"


class ClientStepRow(Row):
    """Something that the work needs from the client or from others."""

    schedule: ClassVar = Schedule("client_step", subject="programme", key=("key",))

    key: Annotated[str, Shows("key", ALL, "tag")] = Field(
        description="Its own key, the same in every revision."
    )
    what: Annotated[str, Shows("what_is_needed", ALL)] = Field(description="What is needed.")
    by: Annotated[datetime.date | None, Shows("by_when", ALL, "date", empty="with_the_order")] = Field(
        description="Day on which it has to be done at the latest; none without a programme."
    )


def client_steps(
    programme: ProgrammeSummary | None,
    activities: Sequence[ActivityRow],
    questions: Sequence[QuestionRow],
    owners: Sequence[OwnerEquipmentRow],
) -> tuple[ClientStepRow, ...]:
    """Return what the work needs from the client and from others, earliest first.

    programme, activities: None and none where no dates are planned.
    questions: that are open.
    owners: what the owner furnishes.
    """
    order = programme.start if programme is not None else None
    steps = [ClientStepRow(key="order", what="The order", by=order)]
    if questions:
        asked = count_of(len(questions), "open question")
        steps.append(ClientStepRow(key="answers", what=f"Answers to {asked}", by=order))
    if programme is not None:
        steps += _of_programme(programme)
    if owners:
        first = min((one.start for one in activities if one.kind == SECOND_FIX), default=None)
        own = count_of(len(owners), "device")
        steps.append(
            ClientStepRow(key="own equipment", what=f"Equipment of your own in place: {own}", by=first)
        )
    return tuple(sorted(steps, key=lambda one: one.by or order or datetime.date.min))


def _of_programme(programme: ProgrammeSummary) -> Iterator[ClientStepRow]:
    """Yield the approval of the drawings, and what has to be so before work may begin."""
    for event in programme.events:
        if event.key == APPROVED:
            yield ClientStepRow(key=APPROVED, what="Approval of the drawings", by=event.date)
    for day in programme.days_set:
        if day.rule == "begin not before":
            yield ClientStepRow(key=f"day {day.key}", what=day.name, by=day.date)
