"""Names in a project's changes of the standing wording that name nothing, and lines without words."""

from collections.abc import Iterator, Mapping

from proposal.model.project import Brief
from proposal.model.reading.tree import Path
from proposal.model.wording.wording import DUTIES, LineChange, Standing, StandingLine
from proposal.quantities.messages import wanted_one_of


def wrong_standing(brief: Brief, standing: Standing) -> Iterator[tuple[Path, str, bool]]:
    """Yield path below project.yaml, message, and whether the key itself is wrong.

    brief: project.yaml, valid by itself.  standing: the wording that it changes.
    """
    lines: Mapping[str, tuple[Mapping[str, StandingLine], Mapping[str, LineChange]]] = {
        "work": (standing.defaults.scope, brief.scope.work),
        "exclusions": (standing.defaults.exclusions, brief.scope.exclusions),
        "assumptions": (standing.defaults.assumptions, brief.scope.assumptions),
    }
    for part, (known, changes) in lines.items():
        for name, change in changes.items():
            if name not in known and change.left_out:
                yield ("scope", part, name), wanted_one_of(name, known, "a standing line"), True
            elif name not in known and not change.text.strip():
                message = "wanted a text for a line that is not among the standing ones; found none"
                yield ("scope", part, name), message, True
    yield from _wrong_duties(brief, standing)


def _wrong_duties(brief: Brief, standing: Standing) -> Iterator[tuple[Path, str, bool]]:
    changes, known = brief.responsibilities, standing.responsibilities
    parties = (*known.parties, *(letters for letters in changes.parties if letters not in known.parties))
    for key, day in brief.programme.dates.items():
        if day.party and day.party not in parties:
            yield (
                ("programme", "dates", key, "party"),
                wanted_one_of(day.party, parties, "letters of a party"),
                False,
            )
    for about, change in changes.rows.items():
        path = ("responsibilities", "rows", about)
        if about not in known.rows and change.left_out:
            yield path, wanted_one_of(about, known.rows, "a standing row"), True
        for duty in DUTIES:
            for letters in (getattr(change, duty) or "").replace(" ", "").split(","):
                if letters and letters not in parties:
                    yield (*path, duty), wanted_one_of(letters, parties, "letters of a party"), False
