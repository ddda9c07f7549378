"""Why open alternates cannot be chosen: errors of their own or together, or nothing that would change."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Protocol

from proposal.document.document import Document
from proposal.document.making.plain_warnings import plain_words
from proposal.document.rows.alternates import CombinationRow
from proposal.model.source import ProjectSource

OVERTAKEN = "It changes nothing: the proposal as it stands holds all that it asks for."
_ASKED = tuple(
    plain_words(rule).rstrip(".") for rule in ("requirement-answer-unknown", "requirement-not-met")
)
"""How the reasons begin that a client's own requirement is not met with an alternate."""
NO_DEDUCTION = "It is meant to lower the price, and does not."


class Found(Protocol):
    """What is read of a finding, whether it is a row already or not."""

    @property
    def rule(self) -> str:
        """Name of the rule."""

    @property
    def severity(self) -> str:
        """How bad it is."""

    @property
    def where(self) -> str:
        """Tag of what it is about."""

    @property
    def accepted(self) -> object:
        """Who accepted it and why, if anybody did."""


_WRITTEN = ("brief", "building", "room_types", "rooms", "fixed")


def why_not_offered(
    source: ProjectSource, key: str, document: Document, alternate: Document
) -> tuple[str, ...]:
    """Return why an alternate cannot be chosen, in sentences that a client reads; none where it can.

    source: makes the project with it.  key: of the alternate.
    document, alternate: of the base, and with the alternate alone, computed in full.
    """
    prices = (document.price, alternate.price)
    before, after = (None if one is None else one.price for one in prices)
    compared = None if before is None or after is None else (before, after)
    return reasons_alone(source, key, (document.findings, alternate.findings), compared)


def reasons_alone(
    source: ProjectSource,
    key: str,
    findings: tuple[Iterable[Found], Iterable[Found]],
    prices: tuple[Decimal, Decimal] | None,
) -> tuple[str, ...]:
    """Return why an alternate by itself cannot be chosen, in sentences; none where it can.

    source, key: as of `why_not_offered`.
    findings, prices: of the base, and with the alternate alone; no prices where nobody may read them.
    """
    if _changes_nothing(source, key):
        return (OVERTAKEN,)
    errors = tuple(errors_in_words(*findings))
    dearer = prices is not None and source.base.alternates[key].deductive and prices[1] >= prices[0]
    return (*errors, NO_DEDUCTION) if dearer else errors


def lines_of_not_offered(source: ProjectSource, alone: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """Yield a line for each alternate that is not offered to the client, to be printed.

    alone: why each by itself is not offered, by key.
    """
    for key, why in alone.items():
        if why:
            name = source.base.alternates[key].name
            asked = any(one.startswith(_ASKED) for one in why)
            yield f"alternates/{key}.yaml: note: “{name}” is not offered to the client. {' '.join(why)}" + (
                " Where the client wants to know what the proposal comes to without that, write the tag of "
                "each such requirement under gives_up there."
                if asked
                else ""
            )


def _changes_nothing(source: ProjectSource, key: str) -> bool:
    chosen = source.project((key,))
    return all(getattr(chosen, name) == getattr(source.base, name) for name in _WRITTEN)


def errors_in_words(known: Iterable[Found], found: Iterable[Found]) -> Iterator[str]:
    """Yield in plain words each error that nobody accepts and that was not there before, with where it is.

    known, found: findings of the base, and of what is chosen.
    """
    before = {(one.rule, one.where) for one in known if one.severity == "error"}
    places: dict[str, list[str]] = {}
    for one in found:
        if one.severity == "error" and not one.accepted and (one.rule, one.where) not in before:
            places.setdefault(plain_words(one.rule), []).append(one.where)
    for words, tags in places.items():
        yield f"{words.rstrip('.')}: {', '.join(dict.fromkeys(tags))}."


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


def with_what_is_to_choose(
    source: ProjectSource, rows: Sequence[CombinationRow], not_offered: Collection[str] = ()
) -> tuple[CombinationRow, ...]:
    """Return combinations with the groups of which one has to be chosen and they hold none.

    not_offered: keys of alternates that cannot be chosen; a group of such alone leaves nothing to choose.
    """
    groups = {
        name: offered for name, keys in groups_of(source).items() if (offered := set(keys) - set(not_offered))
    }
    return tuple(
        row.model_copy(
            update={"to_choose": tuple(name for name, keys in groups.items() if not keys & set(row.chosen))}
        )
        for row in rows
    )


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
