"""Scope, exclusions and duties: standing lines the design gives cause for, as the project changes them."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import TypedDict

from proposal.design.design import Design
from proposal.design.equipment.our_duties import OURSELVES, OWNER
from proposal.design.standing_conditions import facts
from proposal.document.making.owner_equipment import brought_by_nobody
from proposal.document.making.parties import letters_in, names_of, of_the_client, present
from proposal.document.rows.terms import ContractTermRow, DutyRow
from proposal.model.labour.labour_choices import OvertimeWork
from proposal.model.price.terms_in_words import terms_in_words
from proposal.model.project import Project
from proposal.model.wording.wording import (
    DUTIES,
    DutyChange,
    DutyLine,
    Fact,
    LineChange,
    StandingLine,
)
from proposal.quantities.currencies import smallest_unit
from proposal.quantities.formatting import listed
from proposal.quantities.rounding import rounded


class StandingParts(TypedDict):
    """Standing lines, parties and duties."""

    scope: tuple[str, ...]
    exclusions: tuple[str, ...]
    contract_terms: tuple[ContractTermRow, ...]
    standing_assumptions: tuple[str, ...]
    handover: tuple[str, ...]
    security: tuple[str, ...]
    parties: tuple[tuple[str, str], ...]
    client_parties: tuple[str, ...]
    responsibilities: tuple[DutyRow, ...]


def standing_parts(design: Design, price: Decimal) -> StandingParts:
    """Return the parts of the document that say what is done, what is not, and by whom.

    price: before tax, in the currency of the project.
    """
    project = design.project
    standing, brief = project.standing, project.brief
    held = facts(design)
    parties = names_of(project)
    rows = duty_rows(
        standing.responsibilities.rows, brief.responsibilities.rows, held, present(project, held)
    )
    named = {letters for row in rows for _, who in row.duties for letters in who.split(", ")}
    return {
        "scope": lines(standing.defaults.scope, brief.scope.work, held),
        "contract_terms": _terms(design.project, price),
        "exclusions": (
            *lines(standing.defaults.exclusions, brief.scope.exclusions, held),
            *_furnished_by_others(design),
        ),
        "standing_assumptions": lines(standing.defaults.assumptions, brief.scope.assumptions, held),
        "handover": lines(standing.defaults.handover, brief.scope.handover, held),
        "security": lines(standing.defaults.security, brief.scope.security, held),
        "parties": tuple((letters, name) for letters, name in parties.items() if letters in named),
        "client_parties": of_the_client(project),
        "responsibilities": rows,
    }


def _furnished_by_others(design: Design) -> Iterator[str]:
    """Yield a line for each thing that sound of a room goes to or comes from and that nobody brings."""
    rooms_of: dict[str, list[str]] = {}
    for kind in design.kinds:
        for name in brought_by_nobody(design.owners, kind):
            rooms_of.setdefault(name, []).append(kind.layout.name)
    for name, rooms in rooms_of.items():
        yield f"{name[:1].upper()}{name[1:]} ({listed(list(dict.fromkeys(rooms)))}): furnished by others."


def lines(
    standing: Mapping[str, StandingLine], changes: Mapping[str, LineChange], held: Collection[Fact]
) -> tuple[str, ...]:
    """Return the lines to print: the standing ones as they are changed, then those that a project adds.

    held: the facts that hold.
    """
    found = []
    for name in dict.fromkeys((*standing, *changes)):
        line, change = standing.get(name), changes.get(name, LineChange())
        when = change.when if change.when is not None else line.when if line else ()
        unless = line.unless if line and change.when is None else ()
        if not change.left_out and _holds(when, held) and not _one_of(unless, held):
            found.append(change.text or (line.text if line else ""))
    return tuple(found)


def duty_rows(
    standing: Mapping[str, DutyLine],
    changes: Mapping[str, DutyChange],
    held: Collection[Fact],
    parties: Collection[str],
) -> tuple[DutyRow, ...]:
    """Return the rows to print: the standing ones as they are changed, then those that a project adds.

    held: the facts that hold.  parties: letters of those that the job has; the owner does what others would.
    """
    found = []
    for about in dict.fromkeys((*standing, *changes)):
        line, change = standing.get(about, DutyLine()), changes.get(about, DutyChange())
        when = line.when if change.when is None else change.when
        unless = line.unless if change.when is None else ()
        if not change.left_out and _holds(when, held) and not _one_of(unless, held):
            found.append(
                DutyRow(
                    about=about,
                    duties=tuple((duty, _there(_who(duty, line, change), parties)) for duty in DUTIES),
                    before=_before(line, change),
                )
            )
    return tuple(found)


def _who(duty: str, line: DutyLine, change: DutyChange) -> str:
    changed = getattr(change, duty)
    who: str = getattr(line, duty) if changed is None else changed
    return ", ".join(letters.strip() for letters in who.split(",") if letters.strip())


def _there(who: str, parties: Collection[str]) -> str:
    """Return the letters of a duty, with the owner in place of whom the job does not have."""
    return ", ".join(dict.fromkeys(one if one in parties else OWNER for one in letters_in(who)))


def _before(line: DutyLine, change: DutyChange) -> str:
    """Return the work before which others have something ready; empty where it is ours."""
    if OURSELVES in _who("furnish", line, change).split(", "):
        return ""
    return line.before if change.before is None else change.before


def _holds(when: Sequence[Fact], held: Collection[Fact]) -> bool:
    return not when or _one_of(when, held)


def _one_of(named: Sequence[Fact], held: Collection[Fact]) -> bool:
    """Return whether one of several facts holds."""
    return any(fact in held for fact in named)


def _terms(project: Project, price: Decimal) -> tuple[ContractTermRow, ...]:
    """Return the terms of the contract that the project has, and what is worked outside normal time.

    What a contract fixes stays as it is: a rise is a term beside the price, told in money, and not in it.
    """
    step = smallest_unit(project.brief.currency)
    risen = iter(
        rounded(price * (1 + Decimal(repr(one.share))), step)
        for one in project.brief.terms.price_rises.values()
    )
    found = terms_in_words(project.brief, project.labour.trades, project.brief.locale)
    rows = [
        ContractTermRow(what=what, words=one, price_then=next(risen) if what == "price rise" else None)
        for what, words in found.items()
        # The time to pay stands with each payment.
        if what != "payment days"
        for one in words
    ]
    rows += [
        ContractTermRow(what="overtime", words=_overtime(one))
        for one in project.brief.labour.overtime_work.values()
    ]
    return tuple(rows)


def _overtime(work: OvertimeWork) -> str:
    where = f" in {', '.join(work.rooms)}" if work.rooms else ""
    reason = f": {work.reason}" if work.reason else ""
    return f"{work.name} ({', '.join(work.phases)}{where}){reason}"
