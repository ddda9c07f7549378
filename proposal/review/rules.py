"""The rules of every subject joined: all that a careful reviewer would say about a design."""

from collections.abc import Mapping, Sequence

from proposal.design.design import Design
from proposal.model.project import Project
from proposal.review.before_issue import BEFORE_ISSUE_RULES
from proposal.review.cable_routes import CABLE_ROUTE_RULES
from proposal.review.cabling import CABLING_RULES
from proposal.review.charging import CHARGING_RULES
from proposal.review.contained_sound import CONTAINED_SOUND_RULES
from proposal.review.contract_terms import CONTRACT_TERM_RULES
from proposal.review.cord_lengths import RACK_CORD_RULES
from proposal.review.decisions_by_hand import BY_HAND_RULES
from proposal.review.destinations import DESTINATION_RULES
from proposal.review.finding import (
    HOUSE_RULES,
    Finding,
    Rule,
    in_order,
    marked,
    nothing_to_accept,
    unmatched_acceptances,
)
from proposal.review.holidays import HOLIDAY_RULES
from proposal.review.latency import LATENCY_RULES
from proposal.review.loudspeaker_lines import LOUDSPEAKER_LINE_RULES
from proposal.review.mains import MAINS_RULES
from proposal.review.microphone_systems import MICROPHONE_SYSTEM_RULES
from proposal.review.mountings import MOUNTING_RULES
from proposal.review.mounts import MOUNT_RULES
from proposal.review.network import NETWORK_RULES
from proposal.review.numbers import NUMBER_RULES
from proposal.review.operable_walls import OPERABLE_WALL_RULES
from proposal.review.owner_equipment import OWNER_EQUIPMENT_RULES
from proposal.review.pathway_ways import PATHWAY_WAY_RULES
from proposal.review.pathways import PATHWAY_RULES
from proposal.review.phantom_power import PHANTOM_POWER_RULES
from proposal.review.portable_sets import PORTABLE_SET_RULES
from proposal.review.power import POWER_RULES
from proposal.review.racks import RACK_RULES
from proposal.review.radio import RADIO_RULES
from proposal.review.room_networks import ROOM_NETWORK_RULES
from proposal.review.rooms import ROOM_RULES
from proposal.review.sound import CHANNEL_RULES
from proposal.review.standby import STANDBY_RULES
from proposal.review.switch_links import SWITCH_LINK_RULES
from proposal.review.switch_traffic import SWITCH_TRAFFIC_RULES
from proposal.review.temperatures import TEMPERATURE_RULES
from proposal.review.terms_in_prose import TERMS_IN_PROSE_RULES
from proposal.review.untouchable_walls import UNTOUCHABLE_WALL_RULES

RULES: tuple[Rule, ...] = (
    *ROOM_RULES,
    *MICROPHONE_SYSTEM_RULES,
    *MOUNT_RULES,
    *MOUNTING_RULES,
    *OPERABLE_WALL_RULES,
    *UNTOUCHABLE_WALL_RULES,
    *CABLING_RULES,
    *CABLE_ROUTE_RULES,
    *PATHWAY_RULES,
    *PATHWAY_WAY_RULES,
    *POWER_RULES,
    *NETWORK_RULES,
    *ROOM_NETWORK_RULES,
    *SWITCH_LINK_RULES,
    *SWITCH_TRAFFIC_RULES,
    *OWNER_EQUIPMENT_RULES,
    *RACK_RULES,
    *RACK_CORD_RULES,
    *MAINS_RULES,
    *STANDBY_RULES,
    *TEMPERATURE_RULES,
    *CHARGING_RULES,
    *CHANNEL_RULES,
    *PHANTOM_POWER_RULES,
    *LOUDSPEAKER_LINE_RULES,
    *DESTINATION_RULES,
    *CONTAINED_SOUND_RULES,
    *LATENCY_RULES,
    *RADIO_RULES,
    *PORTABLE_SET_RULES,
    *HOLIDAY_RULES,
    *CONTRACT_TERM_RULES,
    *TERMS_IN_PROSE_RULES,
    *BEFORE_ISSUE_RULES,
    *BY_HAND_RULES,
    *NUMBER_RULES,
)


def findings(project: Project, design: Design, more: Sequence[Finding] = ()) -> tuple[Finding, ...]:
    """Return every finding: errors first, then by rule and tag, accepted ones marked.

    more: what was found in what follows from the design, such as the programme.
    """
    return judged(project, found_by_rule(project, design), more)


def found_by_rule(project: Project, design: Design) -> Mapping[Rule, tuple[Finding, ...]]:
    """Return what each rule finds in a design, as it is found."""
    return {rule: tuple(rule(project, design)) for rule in RULES}


def judged(
    project: Project, by_rule: Mapping[Rule, Sequence[Finding]], more: Sequence[Finding] = ()
) -> tuple[Finding, ...]:
    """Return all that was found: errors first, then by rule and tag, accepted ones marked.

    by_rule: what each rule found in the design.
    more: what was found in what follows from it.
    """
    found = [finding for one in by_rule.values() for finding in one]
    found += more
    others = (one for one in unmatched_acceptances(project, found) if one.rule not in HOUSE_RULES)
    in_vain = [nothing_to_accept(project, one) for one in others]
    return in_order((*marked(project, found), *in_vain))
