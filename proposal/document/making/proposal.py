"""The whole proposal is made: the base, every open alternate computed in full, prices of combinations."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from itertools import combinations
from typing import TypeAlias

from pydantic import BaseModel, ConfigDict, Field

from proposal.document.document import Document
from proposal.document.making.alternates_not_offered import (
    errors_in_words,
    exclude_each_other,
    reasons_alone,
    why_not_offered,
    with_offered_alone,
    with_what_is_to_choose,
)
from proposal.document.making.document import alternate_row, document_of
from proposal.document.making.price import payment_rows
from proposal.document.readers import READERS, Reader
from proposal.document.rows.alternates import CombinationRow, Sensitivity
from proposal.document.whole_proposal import MOST_IN_PAIRS, MOST_TICKED, OpenAlternate, Proposal
from proposal.errors import InputError
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed, compute
from proposal.review.received import Received, State, received


class Combined(BaseModel):
    """Some alternates together: their price, and what the client receives with it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    row: CombinationRow = Field(description="Their price.")
    received: Received | None = Field(description="The same as received; None where they are not offered.")
    alone: tuple[str, ...] = Field(default=(), description="Why one by itself is not offered, in words.")


def proposal_of(
    source: ProjectSource,
    document: Document,
    alternates: Mapping[str, Document],
    prices: Iterable[CombinationRow],
    sensitivity: Sensitivity | None,
) -> Proposal:
    """Return the proposal from its parts.

    document: the base, with what a client can work out of all its prices.
    alternates: document of each open alternate, by key.
    prices: rows of `combination`, for each of `combinations_of`.
    sensitivity: None where nobody asked for it.
    """
    reasons = {key: why_not_offered(source, key, document, alternates[key]) for key in source.open}
    not_offered = {key: why for key, why in reasons.items() if why}
    return Proposal(
        document=document,
        alternates=tuple(
            OpenAlternate(
                row=alternate_row(key, source.base.alternates[key], reasons[key]), document=alternates[key]
            )
            for key in source.open
        ),
        combinations=with_what_is_to_choose(
            source, with_reasons(with_offered_alone(tuple(prices), not_offered)), not_offered
        ),
        sensitivity=sensitivity,
    )


def combinations_of(keys: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Return every combination of alternates: none, each alone, then in pairs, and so on.

    Where there are more than five, only none, each alone and each two; of more than seven no two.
    """
    largest = len(keys) if len(keys) <= MOST_TICKED else 2 if len(keys) <= MOST_IN_PAIRS else 1
    return tuple(chosen for size in range(largest + 1) for chosen in combinations(keys, size))


def computed_with(source: ProjectSource, chosen: Sequence[str]) -> Computed:
    """Return everything computed of the project with some of its alternates.

    Raises InputError, which names one of them, where they cannot be chosen together.
    """
    project = source.project(chosen)
    try:
        return compute(project)
    except InputError as error:
        raise source.caused(chosen, error) from None


Computing: TypeAlias = Callable[[ProjectSource, Sequence[str]], Computed]
"""Computes a project with some of its alternates, as `computed_with` does, or knows it already."""


def each_once(base: Computed) -> Computing:
    """Return what computes each choice of one project's alternates once.

    base: the project with none of them.
    """
    found: dict[tuple[str, ...], Computed] = {(): base}

    def computing(source: ProjectSource, chosen: Sequence[str]) -> Computed:
        keys = tuple(chosen)
        if keys not in found:
            found[keys] = computed_with(source, keys)
        return found[keys]

    return computing


def alternate_document(
    source: ProjectSource,
    key: str,
    computing: Computing = computed_with,
    readers: Collection[Reader] = READERS,
) -> Document:
    """Return the document of one alternate alone, computed in full.

    key: of the alternate.  computing: computes a project with some alternates.
    readers: whose editions are made of it.
    """
    return document_of(computing(source, (key,)), readers)


def combination(source: ProjectSource, chosen: Sequence[str]) -> CombinationRow:
    """Return the price of some alternates together; nothing but prices is computed."""
    return combined(source, chosen).row


def combined(source: ProjectSource, chosen: Sequence[str], computing: Computing = computed_with) -> Combined:
    """Return the price of some alternates together, and what the client receives with it.

    chosen: keys of the alternates.  computing: computes a project with some alternates.
    Several have no price where the design with them has errors that nobody accepts and the base has not.
    """
    if exclude_each_other(source, chosen):
        return Combined(row=CombinationRow(chosen=tuple(chosen)), received=None)
    try:
        computed = computing(source, chosen)
        errors = _errors_together(source, chosen, computing, computed)
        if errors:
            return Combined(row=CombinationRow(chosen=tuple(chosen), not_offered=errors), received=None)
        price = computed.price
    except InputError as error:
        if len(chosen) < 2:
            raise
        row = CombinationRow(chosen=tuple(chosen), problems=tuple(str(problem) for problem in error.problems))
        return Combined(row=row, received=None)
    return Combined(
        row=CombinationRow(
            chosen=tuple(chosen),
            price=price.whole.price,
            tax=price.whole.tax,
            total=price.whole.total,
            cost=price.whole.cost,
            acceptance=computed.programme.finish if computed.programme else None,
            latest_order=computed.programme.latest_order if computed.programme else None,
            payments=payment_rows(computed),
        ),
        received=_received(source, chosen, computed),
    )


def combined_and_why(
    source: ProjectSource, chosen: Sequence[str], computing: Computing = computed_with
) -> Combined:
    """Return alternates together as `combined` does; of one by itself with why it is not offered, too.

    chosen, computing: as of `combined`.
    """
    one = combined(source, chosen, computing)
    if len(chosen) != 1:
        return one
    base, alternate = computing(source, ()), computing(source, chosen)
    prices = base.price.whole.price, alternate.price.whole.price
    found = (base.findings, alternate.findings)
    return one.model_copy(update={"alone": reasons_alone(source, chosen[0], found, prices)})


def _errors_together(
    source: ProjectSource, chosen: Sequence[str], computing: Computing, computed: Computed
) -> tuple[str, ...]:
    """Return the errors of several alternates together; those of one alone are told beside it."""
    if len(chosen) < 2:
        return ()
    return tuple(errors_in_words(computing(source, ()).findings, computed.findings))


def _received(source: ProjectSource, chosen: Sequence[str], computed: Computed) -> Received:
    """Return what the client receives of the price with some alternates; of the base where there are none."""
    if not chosen:
        return computed.received
    state: State = "alternate" if len(chosen) == 1 else "combination"
    label = _label(source, chosen)
    hours = computed.library_hours
    return received(" ".join(chosen), label, state, computed.project, computed.price, hours)


def _label(source: ProjectSource, chosen: Sequence[str]) -> str:
    return " with ".join(source.base.alternates[key].name for key in chosen)


def named_anew(source: ProjectSource, one: Combined) -> Combined:
    """Return alternates together as their names are now: nothing else of what is received is a word.

    source: makes the project, perhaps with other words than when the price was computed.
    one: possible together, or not.
    """
    if one.received is None or not one.row.chosen:
        return one
    label = _label(source, one.row.chosen)
    return one.model_copy(update={"received": one.received.model_copy(update={"label": label})})


def with_reasons(rows: Sequence[CombinationRow]) -> tuple[CombinationRow, ...]:
    """Return the combinations, the impossible ones with the fewest alternates that make them so."""
    excluded = [row for row in rows if row.price is None]
    few = {
        row.chosen: next(one for one in excluded if set(one.chosen) <= set(row.chosen)) for row in excluded
    }
    return tuple(
        row
        if row.price is not None
        else row.model_copy(
            update={"impossible": few[row.chosen].chosen, "not_offered": few[row.chosen].not_offered}
        )
        for row in rows
    )
