"""Answers by the review of a subject: no error may be found in it."""

from collections.abc import Mapping

from proposal.model.requirements.answers import Check, CheckAnswer
from proposal.quantities.formatting import listed
from proposal.review.cable_routes import CABLE_ROUTE_RULES
from proposal.review.cabling import CABLING_RULES
from proposal.review.charging import CHARGING_RULES
from proposal.review.contained_sound import CONTAINED_SOUND_RULES
from proposal.review.cord_lengths import RACK_CORD_RULES
from proposal.review.finding import Rule, counted
from proposal.review.latency import LATENCY_RULES
from proposal.review.mains import MAINS_RULES
from proposal.review.microphone_systems import MICROPHONE_SYSTEM_RULES
from proposal.review.mountings import MOUNTING_RULES
from proposal.review.mounts import MOUNT_RULES
from proposal.review.network import NETWORK_RULES
from proposal.review.pathway_ways import PATHWAY_WAY_RULES
from proposal.review.pathways import PATHWAY_RULES
from proposal.review.power import POWER_RULES
from proposal.review.racks import RACK_RULES
from proposal.review.radio import RADIO_RULES
from proposal.review.requirements.answered import (
    Answered,
    Evidence,
    rooms_of,
    rooms_without_sessions,
    unanswered,
)
from proposal.review.room_networks import ROOM_NETWORK_RULES
from proposal.review.rooms import ROOM_RULES
from proposal.review.sound import CHANNEL_RULES
from proposal.review.switch_links import SWITCH_LINK_RULES
from proposal.review.switch_traffic import SWITCH_TRAFFIC_RULES
from proposal.review.untouchable_walls import UNTOUCHABLE_WALL_RULES

_RULES: Mapping[Check, tuple[Rule, ...]] = {
    "rooms": (*ROOM_RULES, *MICROPHONE_SYSTEM_RULES, *MOUNT_RULES),
    "cabling": (*CABLING_RULES, *CABLE_ROUTE_RULES),
    "pathways": (*PATHWAY_RULES, *PATHWAY_WAY_RULES),
    "power over Ethernet": POWER_RULES,
    "network": (*NETWORK_RULES, *ROOM_NETWORK_RULES, *SWITCH_LINK_RULES, *SWITCH_TRAFFIC_RULES),
    "racks": (*RACK_RULES, *RACK_CORD_RULES),
    "mains": MAINS_RULES,
    "charging": CHARGING_RULES,
    "channels": CHANNEL_RULES,
    "radio": RADIO_RULES,
    "latency": LATENCY_RULES,
    "surfaces not to be touched": (*MOUNTING_RULES, *UNTOUCHABLE_WALL_RULES),
    "sound that stays": CONTAINED_SOUND_RULES,
}


_STRICT: tuple[Check, ...] = ("surfaces not to be touched", "sound that stays", "radio")
"""Subjects of which a warning says that something is not kept or not shown to work: met in part with one.

Warnings of others are about margins and care in the work; they are told with the answer.
"""


def answered_by_check(answer: CheckAnswer, evidence: Evidence) -> Answered:
    """Return what came of the review of a subject; an error that somebody accepts is an error still."""
    missing = _not_written(answer.check, evidence)
    if missing:
        return unanswered(answer.check, missing)
    findings = [finding for rule in _RULES[answer.check] for finding in evidence.found[rule]]
    severities = [finding.severity for finding in findings]
    errors, warnings = severities.count("error"), severities.count("warning")
    said = counted(errors, "error") if errors else "no error"
    if warnings:
        told = f"{said}, {counted(warnings, 'warning')}"
    else:
        told = f"{said}, no warning" if answer.check in _STRICT else said
    if not errors:
        first = [one.message.split(". ")[0].rstrip(".") for one in findings if one.severity == "warning"]
        told = ": ".join([told, *first[:1]])
    return Answered(
        about=answer.check,
        verdict="not met" if errors else "met in part" if warnings and answer.check in _STRICT else "met",
        found=told,
        wanted="no error, no warning" if answer.check in _STRICT else "no error",
    )


def _not_written(check: Check, evidence: Evidence) -> str:
    """Return why a subject cannot be reviewed: no room says what it rests on; empty where one does."""
    layouts = [room.layout for room in evidence.project.rooms.values()]
    if check == "surfaces not to be touched" and not any(one.untouchable for one in layouts):
        return "no room names a surface that may not be touched (untouchable)"
    if check == "sound that stays" and not any(one.sound_stays for one in layouts):
        return "no room says that its sound may not leave it (sound_stays)"
    if check == "charging":
        lacking = rooms_without_sessions(evidence, rooms_of(evidence, ""))
        if lacking:
            says = "says" if len(lacking) == 1 else "say"
            return f"{listed(lacking)} {says} no meetings of a day (sessions)"
    design = evidence.design
    there: Mapping[Check, tuple[object, str]] = {
        "cabling": (design.cables, "no cable is designed"),
        "pathways": (design.pathways, "building.yaml describes no pathways"),
        "power over Ethernet": (design.switches, "no switch feeds anything"),
        "racks": (design.racks, "nothing stands in a rack"),
        "latency": (design.delays, "no way of sound from a microphone to a listener is designed"),
    }
    held, why = there.get(check, (True, ""))
    if not held:
        return why
    asked = [part.asked for path in design.delays for part in path.unknown] if check == "latency" else []
    return f"nobody says how long sound takes in {asked[0]}" if asked else ""
