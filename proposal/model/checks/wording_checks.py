"""Names in a project's changes of the standing wording that name nothing, and lines without words."""

from collections.abc import Iterator, Mapping

from proposal.model.owner_equipment import OwnerEquipment
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
        "handover": (standing.defaults.handover, brief.scope.handover),
        "security": (standing.defaults.security, brief.scope.security),
    }
    for part, (known, changes) in lines.items():
        for name, change in changes.items():
            if name not in known and change.left_out:
                yield ("scope", part, name), wanted_one_of(name, known, "a standing line"), True
            elif name not in known and not change.text.strip():
                message = "wanted a text for a line that is not among the standing ones; found none"
                yield ("scope", part, name), message, True
    yield from _wrong_duties(brief, standing)


def wrong_parties(
    equipment: Mapping[str, Mapping[str, OwnerEquipment]], brief: Brief, standing: Standing
) -> Iterator[tuple[Path, str]]:
    """Yield path and message of each party to equipment of the owner that nobody names.

    equipment: of building.yaml.  brief: project.yaml.  standing: the wording that it changes.
    """
    parties = _parties(brief, standing)
    for place, items in equipment.items():
        for code, one in items.items():
            if one.party and one.party not in parties:
                path = ("building", "owner_equipment", place, code, "party")
                yield path, wanted_one_of(one.party, parties, "letters of a party")


def _parties(brief: Brief, standing: Standing) -> tuple[str, ...]:
    """Return the letters of the standing parties, then of those that a project adds."""
    return tuple(dict.fromkeys((*standing.responsibilities.parties, *brief.responsibilities.parties)))


def _wrong_duties(brief: Brief, standing: Standing) -> Iterator[tuple[Path, str, bool]]:
    changes, known = brief.responsibilities, standing.responsibilities
    parties = _parties(brief, standing)
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
