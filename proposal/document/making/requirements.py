"""Rows of what the client asks for, and of what answers it."""

from collections.abc import Iterator, Sequence
from typing import TypedDict

from proposal.document.making.by_name import ByName
from proposal.document.rows.requirements import RequirementAnswerRow, RequirementRow
from proposal.model.requirements.answers import StatementAnswer, sort_of
from proposal.review.requirements.answered import Answered
from proposal.review.requirements.requirements import AnsweredRequirement

_ANSWER = ByName(RequirementAnswerRow, Answered)


class RequirementParts(TypedDict):
    """What the client asks for, and what answers it."""

    requirements: tuple[RequirementRow, ...]
    requirement_answers: tuple[RequirementAnswerRow, ...]


def requirement_parts(found: Sequence[AnsweredRequirement]) -> RequirementParts:
    """Return the parts of the document that say what the client asks for and what answers it."""
    return {
        "requirements": tuple(
            RequirementRow(
                tag=one.tag,
                document=one.requirement.document,
                clause=one.requirement.clause,
                text=" ".join(one.requirement.text.split()),
                verdict=one.verdict,
            )
            for one in found
        ),
        "requirement_answers": tuple(row for one in found for row in _answers(one)),
    }


def _answers(one: AnsweredRequirement) -> Iterator[RequirementAnswerRow]:
    pairs = zip(one.requirement.answers, one.answers, strict=True)
    for number, (written, answer) in enumerate(pairs, 1):
        stated = written if isinstance(written, StatementAnswer) else None
        yield _ANSWER.of(
            answer,
            requirement=one.tag,
            number=number,
            sort=sort_of(written) or "",
            stated_by=stated.by if stated else "",
            stated_on=stated.on if stated else None,
        )
