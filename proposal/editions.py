"""Editions: what one reader may see of a document, decided before anything is shown."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, time
from decimal import Decimal
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin

from proposal.differences import Consequence, Difference, consequences, differences
from proposal.differences.changes import Changes, State, changes_between
from proposal.differences.inputs import Inputs
from proposal.document.document import Document
from proposal.document.readers import Reader, Shown
from proposal.document.rows.alternates import AlternateRow, CombinationRow, Sensitivity
from proposal.document.schedule import Shows
from proposal.document.whole_proposal import OpenAlternate, Proposal
from proposal.field_classes import dataclass

ON_REQUEST = "on request"
HOUSE_READER: Reader = "estimator"
WITHOUT_PRICES: Reader = "reviewer"
"""Who reads everything that a client does but prices."""

P = TypeVar("P", bound=Shown)


@dataclass(frozen=True, slots=True)
class AlternateEdition:
    """An alternate as one reader may see it.

    row: what it is.
    document: all that the proposal would say with it.
    difference: from the base to it, exact to the last field.
    consequences: totals of the base and of it, unchanged ones too.
    """

    row: AlternateRow
    document: Document
    difference: Difference
    consequences: tuple[Consequence, ...]


@dataclass(frozen=True, slots=True)
class Edition:
    """A document as one reader may see it: what is not theirs stands at its default.

    reader: whose edition it is.
    document: the document without what they may not read.
    alternates: what the client may choose instead; each compared as this reader may see it.
    combinations: prices of alternates together, the base first; none where the reader reads no prices.
    sensitivity: what moves the price; None where it is not this reader's.
    changes: what this reader may see of what changed since the last issue; None before the first.
    alternate_names: keys and names of the alternates in the combinations, where the alternates themselves
        are not at hand.
    """

    reader: Reader
    document: Document
    alternates: tuple[AlternateEdition, ...] = ()
    combinations: tuple[CombinationRow, ...] = ()
    sensitivity: Sensitivity | None = None
    changes: Changes | None = None
    alternate_names: tuple[tuple[str, str], ...] = ()


def edition_of(document: Document, reader: Reader) -> Edition:
    """Return the document as `reader` may see it.

    Raises TypeError where a field names no readers, or is restricted and has no default: nothing is shown
    by oversight.
    """
    return Edition(reader=reader, document=_seen(document, reader))


def edition_of_proposal(proposal: Proposal, reader: Reader) -> Edition:
    """Return a whole proposal as `reader` may see it.

    Base and alternates are restricted before they are compared: no difference tells more than they do.
    Raises TypeError as `edition_of` does.
    """
    seen = _seen(proposal, reader)
    return Edition(
        reader=reader,
        document=seen.document,
        alternates=tuple(_alternate_edition(reader, seen.document, one) for one in seen.alternates),
        combinations=seen.combinations,
        sensitivity=seen.sensitivity,
    )


def _alternate_edition(reader: Reader, base: Document, one: OpenAlternate) -> AlternateEdition:
    """Return an alternate as a reader may see it; the house alone reads prices on request, or not offered.

    base, one: restricted to the reader already.
    """
    document = one.document
    if (one.row.price == ON_REQUEST or one.row.not_offered) and reader != HOUSE_READER:
        base, document = _seen(base, WITHOUT_PRICES), _seen(document, WITHOUT_PRICES)
    return AlternateEdition(
        row=one.row,
        document=document,
        difference=differences(base, document),
        consequences=consequences(base, document),
    )


def with_changes(edition: Edition, earlier: State, inputs: Inputs) -> Edition:
    """Return an edition that tells what changed since an earlier state.

    earlier, inputs: whole; they are restricted to the edition's reader before anything is compared.
    """
    now = State(
        label=f"revision {edition.document.cover.revision.identity}",
        document=edition.document,
        date=edition.document.cover.revision.date,
    )
    before = replace(earlier, document=_seen(earlier.document, edition.reader))
    return replace(edition, changes=changes_between(before, now, _seen(inputs, edition.reader)))


def changes_for(reader: Reader, before: State, after: State, inputs: Inputs) -> Changes:
    """Return what a reader may see of what changed between two states.

    before, after, inputs: whole; they are restricted to the reader before anything is compared.
    """
    return changes_between(
        replace(before, document=_seen(before.document, reader)),
        replace(after, document=_seen(after.document, reader)),
        _seen(inputs, reader),
    )


@cache
def readers_of(part: type[Shown]) -> Mapping[str, frozenset[Reader]]:
    """Return the readers of every field of a part of the document.

    part: a class of rows.
    Raises TypeError where a field names none, or is restricted and has no default.
    """
    readers: dict[str, frozenset[Reader]] = {}
    for name, field in part.model_fields.items():
        named = [item.readers for item in field.metadata if isinstance(item, Shows)]
        if len(named) != 1:
            raise TypeError(f"{part.__name__}.{name} must name its readers once")
        readers[name] = named[0]
        if len(named[0]) < 4 and field.is_required():
            raise TypeError(f"{part.__name__}.{name} is restricted and needs a default for the others")
    return readers


def _seen(part: P, reader: Reader) -> P:
    """Return a part with every field that is not the reader's set to its default."""
    kind: Any = type(part)  # a plugin of the type checker would take it for the base class
    if _is_whole(kind, reader):
        return part
    allowed = readers_of(kind)
    held = part.__dict__
    values = {
        name: _seen_value(held[name], reader)
        if reader in allowed[name]
        else field.get_default(call_default_factory=True)
        for name, field in kind.model_fields.items()
    }
    seen: P = kind.model_construct(**values)
    return seen


def _seen_value(value: Any, reader: Reader) -> Any:
    """Return a field's value with the parts inside it restricted too."""
    if isinstance(value, Shown):
        return _seen(value, reader)
    if isinstance(value, tuple):
        return tuple(_seen_value(item, reader) for item in value)
    if isinstance(value, Mapping):
        return {key: _seen_value(item, reader) for key, item in value.items()}
    return value


@cache
def _is_whole(kind: type[Shown], reader: Reader) -> bool:
    """Return whether a reader may see every part of this kind as it is: all fields, and no parts inside."""
    return all(reader in readers for readers in readers_of(kind).values()) and all(
        _holds_single_values(field.annotation) for field in kind.model_fields.values()
    )


_SINGLE = frozenset({str, int, float, bool, Decimal, date, datetime, time, NoneType, Ellipsis})


def _holds_single_values(annotation: Any) -> bool:
    """Return whether an annotation allows nothing but single values and tuples of them."""
    if get_origin(annotation) is Literal:
        return True
    inner = get_args(annotation)
    if inner and get_origin(annotation) in (tuple, Union, UnionType):
        return all(_holds_single_values(one) for one in inner)
    return annotation in _SINGLE
