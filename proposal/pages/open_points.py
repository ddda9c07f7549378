"""Assumptions, open questions, exclusions; scope and terms; cautions."""

from dataclasses import dataclass
from typing import ClassVar

from proposal.document import formatting
from proposal.document.rows import AssumptionRow, Caution, QuestionRow
from proposal.pages.here import Here
from proposal.pages.markdown import Html, text
from proposal.pages.prose import parts_of_scope, prose_of
from proposal.pages.schedule import Field, schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class AssumptionsPage:
    """What was assumed, what has to be found out, what is left out."""

    template: ClassVar[str] = "assumptions.md.jinja"
    prose: Html | None
    questions: Html | None
    assumptions: Html | None
    exclusions: Html | None


def assumptions_page(here: Here) -> AssumptionsPage:
    """Return the page of assumptions and open questions."""
    document = here.document
    return AssumptionsPage(
        prose=prose_of(document, "assumptions", here.path),
        questions=_questions(here) if document.questions else None,
        assumptions=_assumptions(here) if document.assumptions else None,
        exclusions=prose_of(document, "exclusions", here.path, level=3),
    )


def _value(here: Here, row: AssumptionRow | QuestionRow) -> str:
    return formatting.value_text(row.value, row.kind, here.cover.units, here.cover.locale)


def _assumptions(here: Here) -> Html:
    fields: list[Field[AssumptionRow]] = [
        Field("Number", lambda row: row.number),
        Field("Assumed", lambda row: row.title),
        Field("Applies to", lambda row: here.subject(row.subject)),
        Field("Value", lambda row: _value(here, row)),
        Field("Source", lambda row: row.source),
        Field("Written in", lambda row: row.path),
    ]
    return schedule("Assumptions", fields, here.document.assumptions, identity=lambda row: row.number)


def _questions(here: Here) -> Html:
    fields: list[Field[QuestionRow]] = [
        Field("Number", lambda row: row.number),
        Field("To be found out", lambda row: row.title),
        Field("Applies to", lambda row: here.subject(row.subject)),
        Field("Taken meanwhile", lambda row: _value(here, row)),
        Field("Used by", lambda row: here.numbers(row.used_by)),
        Field("Place in the files", lambda row: row.place),
    ]
    return schedule("Open questions", fields, here.document.questions, identity=lambda row: row.number)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopePage:
    """What the author wrote on scope, warranty, terms and the like.

    parts: heading and prose.
    """

    template: ClassVar[str] = "scope.md.jinja"
    parts: tuple[tuple[Html, Html], ...]


def scope_page(here: Here) -> ScopePage:
    """Return the page of the author's prose that no other page shows."""
    return ScopePage(parts=tuple(parts_of_scope(here.document, here.path).values()))


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionsPage:
    """What can hurt somebody, for those who use the system and for those who do the work.

    use, work: title and text of each caution.
    """

    template: ClassVar[str] = "cautions.md.jinja"
    prose: Html | None
    use: tuple[tuple[Html, Html], ...]
    work: tuple[tuple[Html, Html], ...]


def cautions_page(here: Here) -> CautionsPage:
    """Return the page of cautions."""
    return CautionsPage(
        prose=prose_of(here.document, "cautions", here.path),
        use=_cautions(here.document.cautions),
        work=_cautions(here.document.work_cautions),
    )


def _cautions(cautions: tuple[Caution, ...]) -> tuple[tuple[Html, Html], ...]:
    return tuple((text(caution.title), text(caution.text)) for caution in cautions)
