"""The rules of every subject joined: all that a careful reviewer would say about a design."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from proposal.design.design import Design
from proposal.model.project import Project
from proposal.review.by_hand import BY_HAND_RULES
from proposal.review.cable_ways import WAY_RULES
from proposal.review.cabling import CABLING_RULES
from proposal.review.charging import CHARGING_RULES
from proposal.review.finding import SEVERITIES, Finding, Rule
from proposal.review.network import NETWORK_RULES
from proposal.review.numbers import NUMBER_RULES
from proposal.review.pathways import PATHWAY_RULES
from proposal.review.power import POWER_RULES
from proposal.review.radio import RADIO_RULES
from proposal.review.rooms import ROOM_RULES
from proposal.review.sound import CHANNEL_RULES
from proposal.standards.working import COMMON_PRACTICE

RULES: tuple[Rule, ...] = (
    *ROOM_RULES,
    *CABLING_RULES,
    *WAY_RULES,
    *PATHWAY_RULES,
    *POWER_RULES,
    *NETWORK_RULES,
    *CHARGING_RULES,
    *CHANNEL_RULES,
    *RADIO_RULES,
    *BY_HAND_RULES,
    *NUMBER_RULES,
)


def findings(project: Project, design: Design, more: Sequence[Finding] = ()) -> tuple[Finding, ...]:
    """Return every finding: errors first, then by rule and tag, accepted ones marked.

    more: what was found in what follows from the design, such as the programme.
    """
    found = [finding for rule in RULES for finding in rule(project, design)]
    found += more
    accepted = {(one.rule, one.where): one for one in project.brief.accepted_findings.values()}
    marked = [replace(one, accepted=accepted.get((one.rule, one.where))) for one in found]
    marked += _accepted_in_vain(project, found)
    return tuple(sorted(marked, key=lambda one: (SEVERITIES.index(one.severity), one.rule, one.where)))


def _accepted_in_vain(project: Project, found: Sequence[Finding]) -> Iterator[Finding]:
    """Yield a warning for each acceptance of something that nobody finds any more."""
    there = {(one.rule, one.where) for one in found}
    for name, accepted in project.brief.accepted_findings.items():
        if (accepted.rule, accepted.where) not in there:
            yield Finding(
                rule="nothing-to-accept",
                severity="warning",
                where=accepted.where,
                place=project.place("project", "accepted_findings", name),
                message=f"The accepted finding {accepted.rule} is not found at {accepted.where}.",
                source=COMMON_PRACTICE,
                remedy="Take the acceptance away, or write rule and tag as the findings have them.",
            )
