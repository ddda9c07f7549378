"""Numbered points of the document: workings, findings, assumptions and open questions."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from proposal.design.design import Design
from proposal.document.rows import AssumptionRow, FindingCount, FindingRow, QuestionRow, WorkingRow
from proposal.model.project import Path, Project
from proposal.review.findings import Finding


@dataclass(frozen=True, slots=True)
class Numbers:
    """The numbers of assumptions and questions, by dotted path."""

    assumptions: Mapping[str, str]
    questions: Mapping[str, str]

    @classmethod
    def of(cls, project: Project) -> "Numbers":
        """Return the numbers of a project's assumptions and questions, in order of their paths."""
        return cls(
            {dotted(one.path): f"A{n}" for n, one in enumerate(project.assumptions, 1)},
            {dotted(one.path): f"Q{n}" for n, one in enumerate(project.questions, 1)},
        )


def dotted(path: Path) -> str:
    """Return a path as text; project.yaml's own keys begin with `project`."""
    parts = [str(part) for part in path]
    return ".".join(["project", *parts[1:]] if parts[:1] == ["brief"] else parts)


def working_rows(design: Design, numbers: Numbers) -> tuple[WorkingRow, ...]:
    """Return the workings, numbered, each with the assumptions and questions it rests on."""
    return tuple(
        WorkingRow(
            number=f"W{n}",
            chapter=noted.chapter,
            subject=noted.subject,
            title=noted.working.title,
            equation=noted.working.equation,
            substituted=noted.working.substituted,
            values=tuple((v.symbol, v.meaning, v.number, v.unit) for v in noted.working.values),
            result=noted.working.result,
            unit=noted.working.unit,
            limit=noted.working.limit,
            comparison=noted.working.comparison,
            verdict=noted.working.verdict,
            source=str(noted.working.source),
            assumptions=tuple(numbers.assumptions[u] for u in noted.working.uses if u in numbers.assumptions),
            questions=tuple(numbers.questions[u] for u in noted.working.uses if u in numbers.questions),
            note=noted.working.note,
        )
        for n, noted in enumerate(design.workings, 1)
    )


def finding_rows(findings: Sequence[Finding]) -> tuple[FindingRow, ...]:
    """Return the findings, numbered, errors first."""
    return tuple(
        FindingRow(
            number=f"F{n}",
            rule=one.rule,
            severity=one.severity,
            where=one.where,
            place=str(one.place),
            message=one.message,
            value=one.value,
            limit=one.limit,
            unit=one.unit,
            source=str(one.source),
            remedy=one.remedy,
            accepted=f"{one.accepted.reason} ({one.accepted.accepted_by}, {one.accepted.date.isoformat()})"
            if one.accepted
            else "",
        )
        for n, one in enumerate(findings, 1)
    )


def finding_count(findings: Sequence[Finding]) -> FindingCount:
    """Return how many findings there are of each severity, accepted ones apart."""
    still = [one.severity for one in findings if one.accepted is None]
    return FindingCount(
        errors=still.count("error"),
        warnings=still.count("warning"),
        notes=still.count("note"),
        accepted=len(findings) - len(still),
    )


def assumption_rows(project: Project, numbers: Numbers) -> tuple[AssumptionRow, ...]:
    """Return the defaults taken, numbered."""
    return tuple(
        AssumptionRow(
            number=numbers.assumptions[dotted(one.path)],
            title=one.title,
            subject=subject_of(project, one.path),
            value=_value(one.value),
            kind=one.kind,
            source=one.source,
            path=dotted(one.path),
        )
        for one in project.assumptions
    )


def question_rows(
    project: Project, numbers: Numbers, workings: Sequence[WorkingRow]
) -> tuple[QuestionRow, ...]:
    """Return the open questions, numbered, each with the workings that rest on it."""
    rows = []
    for one in project.questions:
        number = numbers.questions[dotted(one.path)]
        rows.append(
            QuestionRow(
                number=number,
                title=one.title,
                subject=subject_of(project, one.path),
                value=_value(one.value),
                kind=one.kind,
                used_by=tuple(row.number for row in workings if number in row.questions),
                place=str(one.place),
            )
        )
    return tuple(rows)


def subject_of(project: Project, path: Path) -> str:
    """Return what a path is about: the project, the building, a kind of room, a room."""
    if path[0] == "room_types" and path[1] in project.room_types:
        return project.room_types[str(path[1])].name
    if path[0] == "rooms":
        return str(path[1])
    if path[0] == "building" and len(path) > 3:
        return str(path[2])
    return "Building" if path[0] == "building" else "Project"


def _value(value: object) -> float | str | bool | None:
    """Return a default as the rows hold it; one that is not a plain value reads as nothing."""
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, str):
        return value or None
    return float(value) if isinstance(value, int | float | Decimal) else None
