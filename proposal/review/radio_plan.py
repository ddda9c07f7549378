"""Rules about the plan of carriers and slots: whether there is one, what it leaves and what it rests on."""

import math
from collections.abc import Iterator

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_arithmetic import Neighbourhood, neighbourhoods
from proposal.design.radio.air_plan import AirPlan
from proposal.design.radio.radio_settings import region
from proposal.design.radio.radio_states import moved_from, opens_to_another
from proposal.design.rooms.room_kinds import RoomKind
from proposal.errors import Place
from proposal.model.equipment.devices import AccessPoint
from proposal.model.project import Project
from proposal.quantities.formatting import count_of, listed
from proposal.review.finding import Finding, Rule, length_words, written_place
from proposal.review.owner_equipment import switches_apart
from proposal.review.radio_words import levers_words, overfull_words, sum_words, would_settle
from proposal.review.switch_links import first_room_without_port, switches_left_alone
from proposal.standards.dect import LISTENING, Listening, transceivers_needed
from proposal.standards.sources import COMMON_PRACTICE, Source

_INTERFERENCE = Source(
    "carrier to interference of the equipment and fade margin", kind="common practice", memory=True
)


def plan_impossible(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each neighbourhood that is too full, with the sum; the first says what helps."""
    radio = design.radio
    if radio.outcome != "impossible":
        return
    helps = levers_words(radio.levers, project.brief.units, radio.planned_alone)
    for number, one in enumerate(radio.too_full):
        several = "radio" if number == 0 else ", ".join(one.rooms)
        alone = one.rooms[0] if len(one.rooms) == 1 else several
        if one.kind == "transceivers":
            yield _transceivers_short(project, design, one)
            continue
        yield Finding(
            rule="radio-impossible",
            severity="error",
            where=alone,
            place=project.place("rooms", next((tag for tag in one.rooms if tag in project.rooms), "")),
            message=in_states(design) + overfull_words(one),
            value=float(one.wanted) if one.over else None,
            limit=float(one.held) if one.over else None,
            unit="slot pairs",
            source=_INTERFERENCE,
            remedy=helps
            if number == 0
            else f"By itself this wants {count_of(one.over_links, 'link')} fewer; what would help in the "
            "fullest neighbourhood is planned for all of them together.",
        )


def in_states(design: Design) -> str:
    """Return in which states a plan was looked for, as words to begin with; none where in all of them."""
    radio = design.radio
    if radio.air is radio.common:
        return ""
    names = next(one.alike.names for one in radio.states if one.air is radio.air)
    return f"In the {'state' if len(names) == 1 else 'states'} {listed(names)}: "


def plan_changes_with_state(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where each state has a plan but none holds in all, with the sums and what changes."""
    radio = design.radio
    if radio.air is radio.common or radio.outcome != "planned":
        return
    together = neighbourhoods(radio.common)[0]
    sums = [f"{listed(one.alike.names)}: {_fullest(one.air)}" for one in radio.states]
    first, *others = radio.states
    changes = [
        f"{count_of(len(moved_from(first.air, one.air)), 'link')} in {listed(one.alike.names)}"
        for one in others
    ]
    yield Finding(
        rule="radio-changes-with-state",
        severity="warning",
        where="radio",
        place=project.place("building", "states"),
        message=f"No one plan was found that holds in all states: {overfull_words(together)} In each state "
        f"there is one ({'; '.join(sums)}). Against {listed(first.alike.names)}, other carriers or slots "
        f"are used by {listed(changes)}.",
        value=float(together.wanted),
        limit=float(together.held),
        unit="slot pairs",
        source=_INTERFERENCE,
        remedy="Let the links settle after each change of state before a meeting begins, and walk-test each "
        "state. "
        + would_settle(radio.levers_for_all_states, project.brief.units, "makes one plan hold in all states"),
    )


def _fullest(air: AirPlan) -> str:
    fullest = neighbourhoods(air)[0]
    return f"{sum_words(fullest)} = {fullest.wanted} of {fullest.held} slot pairs where it is fullest"


def _transceivers_short(project: Project, design: Design, one: Neighbourhood) -> Finding:
    entry = design.entries.get(one.access_point)
    wanted = transceivers_needed(one.links, entry.radio.slot_pairs) if isinstance(entry, AccessPoint) else 0
    return Finding(
        rule="transceivers-short",
        severity="error",
        where=one.access_point,
        place=place_of(project, design, one.access_point),
        message=overfull_words(one),
        value=float(one.wanted),
        limit=float(one.held),
        unit="slot pairs",
        source=Source("ETSI EN 300 175-2"),
        remedy=f"Choose an access point with {wanted} transceivers or more, or serve "
        f"{count_of(one.over_links, 'fewer link')} by it.",
    )


def plan_not_settled(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where some links found no place though no sum rules that out, with what would help."""
    radio = design.radio
    if radio.outcome != "not settled":
        return
    missing = radio.air.missing
    rooms = listed(sorted({link.room for link in missing}, key=natural))
    near_far = sum(one.near_far for one in radio.rooms if one.room in {link.room for link in missing})
    pairs = (
        f"{count_of(near_far, 'pair')} of links there differ too much in level for neighbouring carriers."
        if near_far
        else "No two links there differ too much in level for neighbouring carriers."
    )
    fullest = radio.neighbourhoods[0]
    yield Finding(
        rule="radio-not-settled",
        severity="warning",
        where="radio",
        place=written_place(project, ("building", "radio"), ("building", "storeys")),
        message=f"{in_states(design)}{count_of(len(missing), 'link')} of {len(radio.air.links)} found no "
        f"place on the air, in {rooms}, though no sum rules it out. {pairs} Fullest: "
        f"{overfull_words(fullest)}",
        value=float(fullest.wanted),
        limit=float(fullest.held),
        unit="slot pairs",
        source=_INTERFERENCE,
        remedy=_join_first(project, design)
        + levers_words(radio.levers, project.brief.units, radio.planned_alone),
    )


def _join_first(project: Project, design: Design) -> str:
    """Return that switches are to be joined before the air is changed; empty where all keep one time."""
    if len(set(design.radio.groups.values())) < 2:
        return ""
    rules = (switches_left_alone, first_room_without_port, switches_apart)
    apart = [one for rule in rules for one in rule(project, design)]
    if not apart:
        return ""
    told = listed([f"{one.rule} at {one.where}" for one in apart])
    return (
        f"First join the network ({told}): access points that no network joins share no clock, and each "
        "then disturbs the others more. Only then, where it is still not settled: "
    )


def plan_without_reserve(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for neighbourhoods whose every slot pair is taken: nothing can change its channel."""
    if design.radio.outcome != "planned":
        return
    for one in design.radio.neighbourhoods:
        if one.kind == "carrier" and one.wanted == one.held:
            yield Finding(
                rule="radio-no-reserve",
                severity="warning",
                where=one.rooms[0] if len(one.rooms) == 1 else "radio",
                place=project.place("rooms", next((tag for tag in one.rooms if tag in project.rooms), "")),
                message=f"Every slot pair is taken: {overfull_words(one)}",
                value=float(one.wanted),
                limit=float(one.held),
                unit="slot pairs",
                source=COMMON_PRACTICE,
                remedy="Use one wireless microphone less at once, so that a disturbed link can move.",
            )


def places_not_proven(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning where links may find their places taken, by all that the end that listens hears."""
    rules = region(project).listening
    unproven = design.radio.unproven
    if rules is None or not unproven or design.radio.outcome != "planned":
        return
    rooms = {margin.microphone: margin.room for margin in design.radio.margins}
    where = listed(sorted({rooms[tag] for tag in unproven}, key=natural))
    links = [one for one in design.radio.air.links if one.identity in unproven]
    ends = listed(sorted({f"{one.initiated_by.replace('_', ' ')}s" for one in links}))
    # Their first threshold lies as far under the second one as the margins of both do.
    open_dbm = min(one.refused_dbm for one in links) + rules.open_db - rules.least_interfered_db
    open_words = f"{math.floor(open_dbm * 10) / 10:.1f} dBm".replace("-", "−")
    yield Finding(
        rule="radio-reuse-not-proven",
        severity="warning",
        where="radio",
        place=project.place("building", "radio"),
        message=f"That {count_of(len(unproven), 'link')} in {where} may use places again that others use "
        f"was not proven: their {ends} hear others above the first threshold there, and a quieter place "
        f"elsewhere. Access is tried again every {rules.repeated_after_h:g} h.",
        source=LISTENING,
        remedy=f"Measure with all rooms in use that these {ends} hear {open_words} or less where "
        "they find a place. "
        + would_settle(
            design.radio.listening_levers, project.brief.units, "leaves every microphone a place to take"
        ),
    )


def shares_exceeded(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for devices that hold more of the band than one may, with those close by as one."""
    for one in design.radio.heavy:
        tag, *beside = one.devices
        box = isinstance(design.entries.get(tag), AccessPoint)
        near = f" and {count_of(len(beside), 'device')} close to it hold" if beside else " holds"
        yield Finding(
            rule="radio-share-exceeded",
            severity="warning",
            where=tag,
            place=place_of(project, design, tag),
            message=f"{tag}{near} more of the band than one device may, and devices so close count as one: "
            f"{count_of(one.carriers, 'carrier')} are filled.",
            value=float(one.slot_pairs),
            limit=float(one.most),
            unit="slot pairs",
            source=LISTENING,
            remedy=f"Serve links by it that take {count_of(one.slot_pairs - one.most, 'slot pair')} less, or "
            "choose more access points with fewer channels."
            if box
            else f"Place them more than {length_words(Listening().together_m, project.brief.units)} apart, "
            "or use fewer of them at once.",
        )


def plan_fragile(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note where walls or interference that are off break the plan, and what to measure."""
    if design.radio.outcome != "planned":
        return
    stronger, shift_db = design.radio.cases.stronger.outcome, design.radio.cases.shift_db
    if stronger == "planned":
        # What tolerates so much more from everywhere tolerates walls and floors that lose so much less.
        return
    tolerance = design.radio.tolerance
    walls = tolerance is not None and tolerance.breaks and tolerance.off_db < shift_db
    said = f"With interference {shift_db:g} dB stronger than computed the plan is {stronger}."
    remedy = (
        "Write the walls (radio.walls of building.yaml) and floors (radio.slabs) as they are built, and "
        "measure in the fullest neighbourhood."
    )
    if tolerance is not None and walls:
        said = (
            f"The plan breaks where all walls and floors lose {tolerance.off_db + 1} dB less than computed."
        )
        if tolerance.loss_db is not None:
            remedy = (
                f"Measure between {listed(tolerance.rooms)}: the loss from antenna to antenna must be "
                f"{math.ceil(tolerance.loss_db)} dB or more. Write what is found into building.yaml, as the "
                "loss under radio.walls, of a floor under radio.slabs."
            )
    yield Finding(
        rule="radio-plan-fragile",
        severity="note",
        where="radio",
        place=written_place(project, ("building", "radio"), ("building", "storeys")),
        message=said,
        source=_INTERFERENCE,
        remedy=remedy,
    )


def joined_without_opening(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for rooms that a state joins though no wall at them is written as open in it."""
    for name, state in project.building.states.items():
        for tags in state.join:
            spoken = [tag for tag in tags if project.rooms[tag].layout.microphones]
            closed = [tag for tag in spoken if not opens_to_another(project, name, tag, tags)]
            closed = closed if len(spoken) > 1 else []
            if closed:
                yield Finding(
                    rule="joined-behind-a-wall",
                    severity="warning",
                    where=closed[0],
                    place=project.place("building", "states", name),
                    message=f"The state {name} joins {listed(tags)}, but no wall between {closed[0]} and "
                    "another of them is open in it: radio is planned as if it stood closed.",
                    source=COMMON_PRACTICE,
                    remedy=f"Write the wall between {closed[0]} and another of {listed(tags)} under "
                    f"radio.walls, with open_in: [{name}] and its loss.",
                )


def kind_of(design: Design, room: str) -> RoomKind:
    """Return the kind of a room, by its tag."""
    return next(kind for kind in design.kinds if room in kind.rooms)


def place_of(project: Project, design: Design, tag: str) -> Place:
    """Return where the position of an access point stands, by its tag, or what else it follows from."""
    if tag in project.fixed.devices:
        return project.place("fixed", "devices", tag)
    for room in design.rooms:
        for device in room.devices:
            if device.tag == tag:
                kind = kind_of(design, room.tag)
                if device.code in kind.layout.access_points_at:
                    return project.place(*kind.path, "access_points_at", device.code)
                return project.place(*kind.path)
    return project.place("rooms")


RADIO_PLAN_RULES: tuple[Rule, ...] = (
    plan_impossible,
    plan_not_settled,
    plan_changes_with_state,
    joined_without_opening,
    plan_without_reserve,
    places_not_proven,
    shares_exceeded,
    plan_fragile,
)
