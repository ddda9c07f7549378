"""Every requirement of the client with what came of its answers, and what a reviewer says of that."""

from collections.abc import Iterator, Sequence

from proposal.field_classes import dataclass
from proposal.model.project import Project
from proposal.model.requirements.answers import (
    AgreedAnswer,
    Answer,
    CableAnswer,
    CheckAnswer,
    ConditionAnswer,
    ConnectionAnswer,
    CountAnswer,
    DateAnswer,
    FigureAnswer,
    MeasuredAnswer,
    OvertimeAnswer,
    PriceAnswer,
    SiteClosedAnswer,
    StateAnswer,
    StatementAnswer,
    TermAnswer,
)
from proposal.model.requirements.requirements import Requirement
from proposal.quantities import formatting
from proposal.review.finding import Finding
from proposal.review.requirements.agreed_terms import answered_by_agreed_term, answered_by_overtime
from proposal.review.requirements.answered import Answered, Evidence, Verdict, worst
from proposal.review.requirements.cable_categories import answered_by_data_cable
from proposal.review.requirements.counts import answered_by_count
from proposal.review.requirements.days import answered_by_closed_site, answered_by_day
from proposal.review.requirements.joined_destinations import answered_by_connection
from proposal.review.requirements.reviewed_subjects import answered_by_check
from proposal.review.requirements.statements import answered_by_measuring, answered_by_statement
from proposal.review.requirements.states import answered_by_state
from proposal.review.requirements.sums import answered_by_sum
from proposal.review.requirements.terms import answered_by_term
from proposal.review.requirements.work_conditions import answered_by_condition
from proposal.review.requirements.worst_figures import answered_by_figure
from proposal.standards.sources import COMMON_PRACTICE


@dataclass(frozen=True, slots=True, kw_only=True)
class AnsweredRequirement:
    """A requirement with what came of its answers.

    tag: of the requirement.  answers: in the order written.  verdict: the worst of theirs.
    """

    tag: str
    requirement: Requirement
    answers: tuple[Answered, ...]
    verdict: Verdict


def answered_requirements(evidence: Evidence) -> tuple[AnsweredRequirement, ...]:
    """Return every requirement of a project with what came of its answers, in the order written."""
    return tuple(
        _answered(tag, requirement, evidence) for tag, requirement in evidence.project.requirements.items()
    )


def _answered(tag: str, requirement: Requirement, evidence: Evidence) -> AnsweredRequirement:
    answers = tuple(answered(answer, evidence) for answer in requirement.answers)
    verdict = worst([one.verdict for one in answers])
    return AnsweredRequirement(tag=tag, requirement=requirement, answers=answers, verdict=verdict)


def answered(answer: Answer, evidence: Evidence) -> Answered:
    """Return what came of one answer."""
    match answer:
        case CountAnswer():
            return answered_by_count(answer, evidence)
        case FigureAnswer():
            return answered_by_figure(answer, evidence)
        case CheckAnswer():
            return answered_by_check(answer, evidence)
        case ConnectionAnswer():
            return answered_by_connection(answer, evidence)
        case PriceAnswer():
            return answered_by_sum(answer, evidence)
        case MeasuredAnswer():
            return answered_by_measuring(answer, evidence)
        case DateAnswer():
            return answered_by_day(answer, evidence)
        case TermAnswer():
            return answered_by_term(answer, evidence)
        case CableAnswer():
            return answered_by_data_cable(answer, evidence)
        case StateAnswer():
            return answered_by_state(answer, evidence)
        case ConditionAnswer():
            return answered_by_condition(answer, evidence)
        case SiteClosedAnswer():
            return answered_by_closed_site(answer, evidence)
        case OvertimeAnswer():
            return answered_by_overtime(answer, evidence)
        case AgreedAnswer():
            return answered_by_agreed_term(answer, evidence)
        case StatementAnswer():
            return answered_by_statement(answer, evidence)


def requirement_findings(project: Project, found: Sequence[AnsweredRequirement]) -> Iterator[Finding]:
    """Yield what a reviewer says of requirements that are not met, and of those that nothing answers.

    found: every requirement of the project with what came of its answers.
    No finding names a sum: who reads findings need not read prices.
    """
    for one in found:
        if not one.answers:
            yield Finding(
                rule="requirement-unanswered",
                severity="warning",
                where=one.tag,
                place=project.place("requirements", one.tag),
                message=f"Nothing answers {_where_said(one)}: {_short(one.requirement.text)}",
                source=COMMON_PRACTICE,
                remedy="Write which figure answers it (answers), or state what is offered.",
            )
        for place, (written, answer) in enumerate(zip(one.requirement.answers, one.answers, strict=True)):
            yield from _of_answer(project, one, place, written, answer)


def _of_answer(
    project: Project, one: AnsweredRequirement, place: int, written: Answer, answer: Answered
) -> Iterator[Finding]:
    where = project.place("requirements", one.tag, "answers", place)
    if answer.nothing:
        yield Finding(
            rule="requirement-answer-unknown",
            severity="error",
            where=one.tag,
            place=where,
            message=f"The answer to {_where_said(one)} names nothing: {answer.nothing}.",
            source=COMMON_PRACTICE,
            remedy="Name what there is, or answer it otherwise.",
        )
    elif answer.verdict == "not met" and isinstance(written, StatementAnswer):
        yield Finding(
            rule="requirement-declined",
            severity="warning",
            where=one.tag,
            place=where,
            message=f"{_where_said(one)} is stated not to be met: {_short(one.requirement.text)}",
            source=COMMON_PRACTICE,
            remedy="Agree with the client that it is left out, or change the design so that it is met.",
        )
    elif answer.verdict == "not met":
        unit, factor = _UNITS.get(answer.kind, ("", 1.0))
        compared = answer.value is not None and answer.limit is not None
        what = ", ".join(part for part in (answer.about, answer.at or answer.where) if part)
        yield Finding(
            rule="requirement-not-met",
            severity="error",
            where=one.tag,
            place=where,
            message=f"The design does not meet {_where_said(one)} ({what}): {_short(one.requirement.text)}"
            f"{'' if compared else _in_words(answer, project.brief.locale)}",
            value=answer.value * factor if answer.value is not None and compared else None,
            limit=answer.limit * factor if answer.limit is not None and compared else None,
            unit=unit if compared else "",
            source=COMMON_PRACTICE,
            remedy="Change the design until it is met, or state what is offered instead.",
        )


_UNITS = {
    "length": ("m", 1.0),
    "level": ("dB", 1.0),
    "fraction": ("%", 100.0),
    "sound_level": ("dB SPL", 1.0),
    "latency": ("ms", 1000.0),
}
_LONGEST = 120


def _in_words(answer: Answered, locale: str) -> str:
    """Return what is there and what is wanted, where both are days or words; empty where nothing is."""
    if answer.date is not None and answer.limit_date is not None:
        wanted, found = (formatting.date(day, locale) for day in (answer.limit_date, answer.date))
        return f" Wanted {wanted} at the latest; by the programme it is {found}."
    if not answer.found or not answer.wanted:
        return ""
    return f" Wanted {answer.wanted}; the proposal has {answer.found}."


def _where_said(one: AnsweredRequirement) -> str:
    """Return where the client says it, as a phrase."""
    clause = f", {one.requirement.clause}" if one.requirement.clause else ""
    return f"{one.tag} ({one.requirement.document}{clause})"


def _short(text: str) -> str:
    """Return the client's words in quotation marks, cut where they are long, as the end of a sentence."""
    text = " ".join(text.split())
    cut = text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
    return f"“{cut}”" if cut.endswith((".", "…", "!", "?")) else f"“{cut}”."
