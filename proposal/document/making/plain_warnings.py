"""The warnings of the design review in plain words, those of one kind together."""

from collections.abc import Sequence

from proposal.document.making.plain_words import COUNTED, PLAIN
from proposal.document.rows.plain_warnings import PlainWarningRow
from proposal.quantities.formatting import listed
from proposal.review.finding import Finding

_MOST_PLACES = 6
_RADIO = "radio"
_OTHERWISE = "A point of the design is still to be settled with you. We will tell you more."


def plain_words(rule: str) -> str:
    """Return what a rule of the review means to a client, as a sentence.

    rule: its name.
    """
    return PLAIN.get(rule, _OTHERWISE)


def plain_warnings(findings: Sequence[Finding]) -> tuple[PlainWarningRow, ...]:
    """Return open errors and warnings in plain words, errors first, those of one meaning as one row.

    findings: of the design review, in order.
    """
    places: dict[str, list[str]] = {}
    for one in findings:
        if one.severity != "note" and one.accepted is None:
            places.setdefault(plain_words(one.rule), []).append(one.where)
    return tuple(
        PlainWarningRow(what=_counted(what, tags), where=_places(tags)) for what, tags in places.items()
    )


def _counted(what: str, tags: Sequence[str]) -> str:
    """Return a sentence with the number of its places and the devices there, where it tells them.

    what: the sentence.  tags: of its places, a cable by the devices that it joins.
    """
    if what not in COUNTED:
        return what
    one, several = COUNTED[what]
    where = _places([tag.partition("/")[0] for tag in tags])
    return (one if len(tags) == 1 else several).format(count=len(tags), where=where)


def _places(tags: Sequence[str]) -> str:
    # A finding about several rooms names them all; the radio of a building is what those of its rooms are.
    names = list(dict.fromkeys(name for one in tags for name in one.split(", ")))
    if len(names) > 1 and _RADIO in names:
        names.remove(_RADIO)
    more = len(names) - _MOST_PLACES
    return f"{', '.join(names[:_MOST_PLACES])} and {more} more" if more > 0 else listed(names)
