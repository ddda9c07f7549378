"""What changed about days, scope and terms, in sentences that a client understands."""

import datetime
from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal

from proposal.differences.changes import Changes
from proposal.document.document import Document
from proposal.document.values import values_of
from proposal.quantities import formatting

ASSUMPTIONS = "Assumptions:"
"""How the sentence begins that counts those that are new, changed or no longer made."""


def day_sentences(changes: Changes) -> tuple[str, ...]:
    """Return the days of the programme, and the validity of the offer, that are others now.

    changes: of one reader.
    """
    before, after = changes.before.document, changes.after.document
    locale = values_of(after).locale
    then, now = _days(before), _days(after)
    said = [
        f"{name}: {formatting.date(day, locale)}, {_later(then[name], day)} than before."
        for name, day in now.items()
        if name in then and then[name] != day
    ]
    valid = before.cover.valid_until, after.cover.valid_until
    if valid[0] != valid[1]:
        said.append(f"The price holds until {formatting.date(valid[1], locale)}.")
    return tuple(said)


def _days(document: Document) -> Mapping[str, datetime.date]:
    programme = document.programme
    if programme is None:
        return {}
    return {row.name: row.date for row in programme.events} | {
        row.name: row.date for row in programme.days_set
    }


def _later(then: datetime.date, now: datetime.date) -> str:
    days = (now - then).days
    return f"{formatting.count_of(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"


def terms_sentences(changes: Changes) -> tuple[str, ...]:
    """Return what changed about scope, assumptions, questions, prices for changes and terms.

    changes: of one reader.
    """
    before, after = changes.before.document, changes.after.document
    return (
        *_standing("scope of work", "scope", before, after),
        *_standing("exclusions", "exclusions", before, after),
        *_standing("standing assumptions", "assumptions", before, after),
        *_standing("papers handed over", "handover", before, after),
        *_texts("passwords, updates and work from afar", before.security, after.security),
        *_texts("table of who does what", _duties(before), _duties(after)),
        *_questions(before, after),
        *_assumptions(before, after),
        *_texts("unit prices for changes", _unit_prices(before), _unit_prices(after)),
        *_texts("yearly charges", _yearly(before), _yearly(after)),
    )


_STANDING: Mapping[str, Callable[[Document], Sequence[str]]] = {
    "scope": lambda document: document.scope,
    "exclusions": lambda document: document.exclusions,
    "assumptions": lambda document: document.standing_assumptions,
    "handover": lambda document: document.handover,
}
"""Standing lines by the name of the author's text that stands in their place."""


def _standing(where: str, name: str, before: Document, after: Document) -> Iterator[str]:
    """Yield what changed in standing lines; nothing where the author's own text stands there now."""
    if not after.wording.get(name, "").strip():
        yield from _texts(where, _STANDING[name](before), _STANDING[name](after))


def _texts(where: str, old: Sequence[str], new: Sequence[str]) -> Iterator[str]:
    come, gone = [one for one in new if one not in old], [one for one in old if one not in new]
    if come:
        yield f"New in the {where}: {_joined(come)}."
    if gone:
        yield f"No longer in the {where}: {_joined(gone)}."


def _joined(texts: Sequence[str]) -> str:
    return "; ".join(one.strip().removesuffix(".") for one in texts)


def _duties(document: Document) -> list[str]:
    return [row.about for row in document.responsibilities]


def _questions(before: Document, after: Document) -> Iterator[str]:
    old, new = (
        {row.key: f"{row.asked or f'{row.title}.'} ({row.subject})" for row in one.questions}
        for one in (before, after)
    )
    come = [words for key, words in new.items() if key not in old]
    gone = [words for key, words in old.items() if key not in new]
    if come:
        yield f"New questions to you: {' '.join(come)}"
    if gone:
        yield f"Questions that are answered: {' '.join(gone)}"


def _assumptions(before: Document, after: Document) -> Iterator[str]:
    old, new = ({row.key for row in one.assumptions} for one in (before, after))
    values = {row.key: row.value for row in before.assumptions}
    other = sum(values.get(row.key, row.value) != row.value for row in after.assumptions)
    parts = [
        f"{count} {words}"
        for count, words in ((len(new - old), "new"), (other, "changed"), (len(old - new), "no longer made"))
        if count
    ]
    if parts:
        yield f"{ASSUMPTIONS} {formatting.listed(parts)}. Their list marks those that are new or changed."


def _unit_prices(document: Document) -> list[str]:
    return [f"{row.description} ({row.to}), {_amount(document, row.price)}" for row in document.unit_prices]


def _yearly(document: Document) -> list[str]:
    return [
        row.description if row.price is None else f"{row.description}, {_amount(document, row.price)}"
        for row in document.yearly
    ]


def _amount(document: Document, amount: Decimal) -> str:
    return formatting.unit_money(amount, document.cover.currency, document.cover.locale)
