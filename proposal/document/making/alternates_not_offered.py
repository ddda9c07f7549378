"""Why an open alternate cannot be chosen: errors of its own, or nothing that it would change."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.document.document import Document
from proposal.document.making.plain_warnings import plain_words
from proposal.document.rows.alternates import CombinationRow
from proposal.model.source import ProjectSource

OVERTAKEN = "It changes nothing: the proposal as it stands holds all that it asks for."
NO_DEDUCTION = "It is meant to lower the price, and does not."
_WRITTEN = ("brief", "building", "room_types", "rooms", "fixed")


def why_not_offered(
    source: ProjectSource, key: str, document: Document, alternate: Document
) -> tuple[str, ...]:
    """Return why an alternate cannot be chosen, in sentences that a client reads; none where it can.

    source: makes the project with it.  key: of the alternate.
    document, alternate: of the base, and with the alternate alone, computed in full.
    """
    if _changes_nothing(source, key):
        return (OVERTAKEN,)
    return (*_errors(document, alternate), *_no_deduction(source, key, document, alternate))


def _changes_nothing(source: ProjectSource, key: str) -> bool:
    chosen = source.project((key,))
    return all(getattr(chosen, name) == getattr(source.base, name) for name in _WRITTEN)


def _errors(document: Document, alternate: Document) -> Iterator[str]:
    """Yield in plain words each error that nobody accepts and that the base has not, with where it is."""
    known = {(row.rule, row.where) for row in document.findings if row.severity == "error"}
    found: dict[str, list[str]] = {}
    for row in alternate.findings:
        if row.severity == "error" and not row.accepted and (row.rule, row.where) not in known:
            found.setdefault(plain_words(row.rule), []).append(row.where)
    for words, tags in found.items():
        yield f"{words.rstrip('.')}: {', '.join(dict.fromkeys(tags))}."


def _no_deduction(source: ProjectSource, key: str, document: Document, alternate: Document) -> Iterator[str]:
    prices = (document.price, alternate.price)
    if source.base.alternates[key].deductive and None not in prices:
        before, after = (one.price for one in prices if one is not None)
        if after >= before:
            yield NO_DEDUCTION


def groups_of(source: ProjectSource) -> Mapping[str, tuple[str, ...]]:
    """Return the keys of the open alternates of each group of which one is chosen, by its name."""
    found: dict[str, tuple[str, ...]] = {}
    for key in source.open:
        name = source.base.alternates[key].one_of
        if name:
            found[name] = (*found.get(name, ()), key)
    return found


def exclude_each_other(source: ProjectSource, chosen: Sequence[str]) -> bool:
    """Return whether two of some alternates are of one group, of which one alone is chosen.

    chosen: their keys.
    """
    return any(sum(key in chosen for key in keys) > 1 for keys in groups_of(source).values())


def with_offered_alone(
    rows: Sequence[CombinationRow], not_offered: Mapping[str, Sequence[str]]
) -> tuple[CombinationRow, ...]:
    """Return combinations without the prices of those that hold what cannot be chosen.

    not_offered: why, by the keys of such alternates.
    """
    nothing = {"price": None, "tax": None, "total": None, "cost": None}
    return tuple(
        row.model_copy(update=nothing) if any(key in not_offered for key in row.chosen) else row
        for row in rows
    )
