"""Parties to the work: which a job has, what they are called, and which are the client's own people."""

from collections.abc import Collection, Mapping

from proposal.design.equipment.our_duties import OURSELVES, OWNER
from proposal.document.rows.client_steps import YOU, called_by_client
from proposal.model.project import Project
from proposal.model.wording.wording import DUTIES, Answerer, Fact

_ANSWERERS: Mapping[str, str] = {
    "your network team": "IT",
    "your facilities team": "FM",
    "the electrical contractor": "EC",
}
"""Letters of those to whom questions are put, by what questions.yaml calls them."""


def letters_in(duty: str) -> tuple[str, ...]:
    """Return the letters of a duty, `IT, AV`, one by one."""
    return tuple(one.strip() for one in duty.split(",") if one.strip())


def names_of(project: Project) -> dict[str, str]:
    """Return what the parties are called, by letters: as the project names them, else as is usual."""
    return {**project.standing.responsibilities.parties, **project.brief.responsibilities.parties}


def present(project: Project, held: Collection[Fact]) -> frozenset[str]:
    """Return the letters of the parties that a job has.

    held: the facts that hold.
    """
    changes = project.brief.responsibilities
    duties = (getattr(row, duty) or "" for row in changes.rows.values() for duty in DUTIES)
    where = project.standing.responsibilities.present_where
    return frozenset(
        (
            *(OURSELVES, OWNER, *changes.parties),
            *(letters for duty in duties for letters in letters_in(duty)),
            *(
                one.party
                for owned in project.building.owner_equipment.values()
                for one in owned.values()
                if one.party
            ),
            *(day.party for day in project.brief.programme.dates.values() if day.party),
            *(letters for letters, facts in where.items() if any(fact in held for fact in facts)),
        )
    )


def of_the_client(project: Project) -> tuple[str, ...]:
    """Return the letters of the parties that are the client's own people, whatever they are called."""
    return (*project.standing.responsibilities.of_the_owner, *project.brief.responsibilities.of_the_client)


def answering(project: Project, who: Answerer, there: Collection[str]) -> str:
    """Return what the client calls whoever is asked: a party as the project names it, else the client.

    who: as questions.yaml has it.  there: letters of the parties that the job has.
    """
    letters = _ANSWERERS.get(who, "")
    if not letters:
        return who
    return called_by_client(names_of(project)[letters]) if letters in there else YOU
