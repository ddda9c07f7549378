"""Numbered points of the document: workings, findings, assumptions and open questions."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from decimal import Decimal

from proposal.design.calculations import calculations
from proposal.design.design import Design
from proposal.design.numbers.numbering import device_tag, question_numbers
from proposal.document.headings import Words
from proposal.document.making.asked_questions import asked, meanwhile
from proposal.document.making.by_name import ByName
from proposal.document.making.composed_texts import words_of
from proposal.document.making.foremost_assumptions import foremost, in_words
from proposal.document.making.parties import answering
from proposal.document.making.serials import owners_of, serials
from proposal.document.making.workings_in_units import in_units
from proposal.document.rows.findings import AssumptionRow, FindingCount, FindingRow, QuestionRow, WorkingRow
from proposal.estimate.programme.planned_order import order_day
from proposal.field_classes import dataclass
from proposal.model.project import AcceptedFinding, Path, Project
from proposal.quantities import formatting
from proposal.review.finding import Finding
from proposal.standards.working import Working

_WORKING = ByName(WorkingRow, Working, "values", "source")
_FINDING = ByName(FindingRow, Finding, "place", "source", "accepted")


@dataclass(frozen=True, slots=True)
class Numbers:
    """The numbers of assumptions and questions, by dotted path."""

    assumptions: Mapping[str, str]
    questions: Mapping[str, str]

    @classmethod
    def of(cls, project: Project) -> "Numbers":
        """Return the numbers of a project's assumptions and questions, in order of their paths."""
        asked = [one.path for one in project.questions]
        numbers = question_numbers(asked, project.issued)
        return cls(
            _numbered("A", [one.path for one in project.assumptions]),
            dict(zip((dotted(path) for path in asked), numbers.values(), strict=True)),
        )


def _numbered(letter: str, paths: Sequence[Path]) -> dict[str, str]:
    """Return the number of each path, counted within the part of the project that it belongs to."""
    return {
        dotted(path): number for path, number in zip(paths, serials(letter, map(_group, paths)), strict=True)
    }


def _group(path: Path) -> str:
    """Return the kind of room, room, part of the building or group of rules that a path belongs to."""
    if path[0] in ("room_types", "rooms") or len(path) < 4:
        return str(path[1]) if len(path) > 2 else ""
    return str(path[2])


def dotted(path: Path) -> str:
    """Return a path as text; project.yaml's own keys begin with `project`."""
    parts = [str(part) for part in path]
    return ".".join(["project", *parts[1:]] if parts[:1] == ["brief"] else parts)


def working_rows(design: Design, numbers: Numbers) -> tuple[WorkingRow, ...]:
    """Return the workings, numbered room by room, each with the assumptions and questions it rests on."""
    owners = owners_of(design)
    found = calculations(design)
    told = [in_units(one.working, design.project.brief.units) for one in found]
    return tuple(
        _WORKING.of(
            working,
            number=number,
            chapter=one.chapter,
            subject=one.subject,
            values=tuple((v.symbol, v.meaning, v.number, v.unit) for v in working.values),
            source=str(working.source),
            assumptions=tuple(numbers.assumptions[u] for u in working.uses if u in numbers.assumptions),
            questions=tuple(numbers.questions[u] for u in working.uses if u in numbers.questions),
        )
        for number, one, working in zip(
            serials("W", (owners.get(one.subject, "") for one in found)), found, told, strict=True
        )
    )


def finding_rows(design: Design, findings: Sequence[Finding]) -> tuple[FindingRow, ...]:
    """Return the findings, numbered room by room, errors first."""
    owners = owners_of(design)
    numbers = serials("F", (owners.get(one.where, "") for one in findings))
    return _finding_rows(numbers, findings, design.project.brief.locale)


def house_finding_rows(findings: Sequence[Finding], locale: str) -> tuple[FindingRow, ...]:
    """Return findings about the price, numbered by themselves: they count in no other edition.

    locale: as whose people dates are written.
    """
    return _finding_rows(serials("FP", ("" for _ in findings)), findings, locale)


def _finding_rows(numbers: Iterable[str], findings: Sequence[Finding], locale: str) -> tuple[FindingRow, ...]:
    return tuple(
        _FINDING.of(
            one,
            number=number,
            place=str(one.place),
            source=str(one.source),
            accepted=_accepted(one.accepted, locale) if one.accepted else "",
        )
        for number, one in zip(numbers, findings, strict=True)
    )


def _accepted(one: AcceptedFinding, locale: str) -> str:
    """Return why a finding is accepted, by whom and when."""
    return f"{one.reason} ({one.accepted_by}, {formatting.date(one.date, locale)})"


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
    words, places = words_of(project), foremost(project.assumptions)
    return tuple(
        AssumptionRow(
            number=numbers.assumptions[dotted(one.path)],
            title=one.title,
            subject=subject_of(project, one.path, words),
            value=_value(one.value),
            kind=one.kind,
            source=one.source,
            foremost=places.get(tuple(map(str, one.path)), 0),
            in_words=in_words(one, words),
            path=dotted(one.path),
        )
        for one in project.assumptions
    )


def question_rows(
    project: Project, numbers: Numbers, workings: Sequence[WorkingRow], there: Collection[str]
) -> tuple[QuestionRow, ...]:
    """Return the open questions, numbered, each with the workings that rest on it.

    there: letters of the parties that the job has.
    """
    rows, words = [], words_of(project)
    for one in project.questions:
        number = numbers.questions[dotted(one.path)]
        question, who = asked(one, project.standing.questions)
        said = meanwhile(one, project.standing.questions)
        rows.append(
            QuestionRow(
                number=number,
                title=one.title,
                asked=question,
                who=answering(project, who, there),
                by=order_day(project, project.brief.programme),
                subject=subject_of(project, one.path, words),
                value=said or _value(one.value),
                kind="" if said else one.kind,
                used_by=tuple(row.number for row in workings if number in row.questions),
                place=str(one.place),
                key=dotted(one.path),
            )
        )
    return tuple(rows)


def subject_of(project: Project, path: Path, words: Words) -> str:
    """Return what a path is about: the project, the building, a kind of room, a room."""
    if path[0] == "room_types" and path[1] in project.room_types:
        return project.room_types[str(path[1])].name
    if path[0] == "rooms":
        return str(path[1])
    if path[:2] == ("building", "owner_equipment") and len(path) > 3:
        place, code = str(path[2]), str(path[3])
        if place in project.room_types:
            return f"{project.room_types[place].name}: {code}"
        return device_tag(place, code)
    if path[:3] == ("building", "radio", "other_users") and len(path) > 4:
        return project.building.radio.other_users[str(path[3])].name
    if path[0] == "building" and len(path) > 3:
        return str(path[2])
    return words.text("subject.building" if path[0] == "building" else "subject.project")


def _value(value: object) -> float | str | bool | None:
    """Return a default as the rows hold it: in words where it is no plain value, None where there is none."""
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, str):
        return value or None
    if isinstance(value, int | float | Decimal):
        return float(value)
    return "as is usual" if value else None
