"""What `check` would say of a project with changed figures, and does not say of it now."""

import re
from collections import Counter
from collections.abc import Iterator

from proposal.pipeline import Computed
from proposal.review.finding import HOUSE_RULES, SEVERITIES, Finding, finding_line, open_errors

_FIGURES = re.compile(r"[0-9]+(?:[.,][0-9]+)*")
NOT_WRITTEN = (
    "nothing is written, as these figures bring errors: keep the equipment with --keep-equipment, mend what "
    "is wrong, or take them all the same with --write --with-errors"
)
_NOTHING_NEW = "check finds nothing new with these figures"


def new_findings(before: Computed, after: Computed) -> tuple[Finding, ...]:
    """Return the errors and warnings that changed figures bring, and notes about prices.

    before: as the project is.  after: with the figures, equipment chosen anew.
    A finding that only tells another number than before is no new one, unless it is about a price.
    """
    known = Counter(map(_sort, before.every_finding))
    found = []
    for one in after.every_finding:
        sort = _sort(one)
        if known[sort]:
            known[sort] -= 1
        elif one.severity != "note" or one.rule in HOUSE_RULES:
            found.append(one)
    return tuple(found)


def told_findings(found: tuple[Finding, ...], after: Computed) -> Iterator[str]:
    """Yield what is said of new findings: how many there are, and each as `check` says it.

    found, after: as `new_findings` gives and takes them.
    """
    if not found:
        yield _NOTHING_NEW
        return
    severities = [one.severity for one in found]
    counts = ", ".join(
        f"{count} {severity}{'' if count == 1 else 's'}"
        for severity in SEVERITIES
        if (count := severities.count(severity))
    )
    yield f"check finds with these figures what it does not find now: {counts}"
    yield from (f"  {finding_line(one, after.project.brief.units)}" for one in found)


def brings_errors(found: tuple[Finding, ...]) -> bool:
    """Say whether errors that nobody accepted are among new findings.

    found: as `new_findings` gives them.
    """
    return bool(open_errors(found))


def _sort(one: Finding) -> tuple[str, str, str, str]:
    """Return by what a finding is known again."""
    message = one.message if one.rule in HOUSE_RULES else _FIGURES.sub("", one.message)
    return one.rule, one.severity, one.where, message
