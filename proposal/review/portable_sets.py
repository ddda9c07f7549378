"""Rules about portable sets: places without what a set needs, sets that stand nowhere or find no place."""

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

from proposal.design.design import Design
from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_arithmetic import neighbourhoods
from proposal.design.radio.portable_radio import name_of_place, places_in
from proposal.design.radio.portable_uses import PortableUse, portable_uses
from proposal.design.radio.radio_levers import elsewhere, farther_db
from proposal.design.rooms.portable_devices import mains_devices
from proposal.model.project import Project
from proposal.quantities.formatting import count_of, listed
from proposal.review.finding import Finding, Rule
from proposal.review.radio_words import lever_words, overfull_words
from proposal.standards.sources import COMMON_PRACTICE


def places_without_outlet(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each place without an outlet where a set is used that takes the mains."""
    used: dict[tuple[str, str], list[str]] = defaultdict(list)
    for state in project.building.states:
        for tag, place in places_in(project, state).items():
            used[place, tag].append(state)
    places = project.building.portable_places
    with_outlet = [name_of_place(project, place) for place, one in places.items() if one.outlet]
    for (place, tag), states in sorted(used.items()):
        wanting = mains_devices(project, design.devices, design.entries, tag)
        if places[place].outlet or not wanting:
            continue
        elsewhere = f"; or use it in {' or '.join(with_outlet)}" if with_outlet else ""
        yield Finding(
            rule="portable-set-without-outlet",
            severity="error",
            where=tag,
            place=project.place("building", "portable_places", place, "outlet"),
            message=f"In the {_states(states)} {tag} stands in {name_of_place(project, place)}, where no "
            f"outlet is written, and {listed(wanting)} {'takes' if len(wanting) == 1 else 'take'} the mains.",
            value=0.0,
            limit=1.0,
            unit="outlets",
            source=COMMON_PRACTICE,
            remedy="Have an outlet put in within reach of the set's lead, by the electrical contractor, and "
            f"write outlet: true{elsewhere}.",
        )


def sets_never_used(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each portable set that no state puts anywhere, and a note for idle places."""
    del design
    building = project.building
    used = {(tag, place) for state in building.states for tag, place in places_in(project, state).items()}
    for tag in sorted(building.portable_sets, key=natural):
        if tag not in {one for one, _ in used}:
            yield Finding(
                rule="portable-set-never-used",
                severity="warning",
                where=tag,
                place=project.place("building", "portable_sets", tag),
                message=f"{tag} stands in no place in any state: it is bought, and its radio is not planned.",
                source=COMMON_PRACTICE,
                remedy=f"Write it into a state of building.yaml, such as portable: {{{tag}: "
                f"{next(iter(building.portable_places), 'a place')}}}, or take it out.",
            )
    for place in sorted(building.portable_places, key=natural):
        if place not in {one for _, one in used}:
            yield Finding(
                rule="portable-place-never-used",
                severity="note",
                where=place,
                place=project.place("building", "portable_places", place),
                message=f"No state puts a portable set in {name_of_place(project, place)}.",
                source=COMMON_PRACTICE,
                remedy="Write which set is used there in which state, or take the place out.",
            )


def sets_on_one_another(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for portable sets that a state puts on one and the same spot."""
    del design
    for state in project.building.states:
        spots: dict[str, list[str]] = defaultdict(list)
        for tag, place in places_in(project, state).items():
            spots[place].append(tag)
        for place, tags in spots.items():
            if len(tags) > 1:
                yield Finding(
                    rule="portable-sets-on-one-spot",
                    severity="error",
                    where=tags[1],
                    place=project.place("building", "states", state, "portable", tags[1]),
                    message=f"The state {state} puts {listed(tags)} on one spot of "
                    f"{name_of_place(project, place)}.",
                    value=float(len(tags)),
                    limit=1.0,
                    unit="sets",
                    source=COMMON_PRACTICE,
                    remedy="Write a further place for each, with its own position.",
                )


def sets_without_switch(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each portable set whose devices no switch on the cart joins."""
    for room in design.rooms:
        if room.tag not in project.building.portable_sets or room.host:
            continue
        yield Finding(
            rule="portable-set-without-switch",
            severity="error",
            where=room.tag,
            place=project.place("building", "portable_sets", room.tag),
            message=f"Nothing on the cart joins the devices of {room.tag}: they do not fit on the switch "
            "inside a breakout, and a cart has no cable to an equipment room.",
            source=COMMON_PRACTICE,
            remedy="Let its sound leave through a breakout (output: breakout, network: automatic), without "
            "networked destinations, or part it into two sets.",
        )


def sets_not_planned(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a finding for each place where a set is used while no plan holds for all microphones."""
    for one in portable_uses(project, design.radio):
        if one.outcome == "planned":
            continue
        own, most = len(one.margins), one.most_planned
        fullest = neighbourhoods(one.air)[0]
        rooms = sorted({link.room for link in one.missing}, key=natural)
        yield Finding(
            rule="portable-set-not-planned",
            severity="error" if one.outcome == "impossible" else "warning",
            where=one.set,
            place=project.place("building", "states", one.states[0], "portable", one.set),
            message=f"In the {_states(one.states)}, with {one.set} in {name_of_place(project, one.place)}, "
            f"{count_of(len(one.missing), 'microphone')} of {listed(rooms)} find no place on the air. "
            f"Fullest: {overfull_words(fullest)}",
            value=float(most) if most or one.planned_without else None,
            limit=float(own) if most or one.planned_without else None,
            unit="microphones",
            source=COMMON_PRACTICE,
            remedy="; or ".join([_fewer(one), *_another_place(project, design, one)]) + ".",
        )


def _fewer(one: PortableUse) -> str:
    if not one.most_planned and one.planned_without:
        return f"Leave {one.set} put away in these states"
    if not one.most_planned:
        return (
            f"Do what would help in the rooms first: even with {one.set} put away their microphones do not "
            "all find a place"
        )
    return (
        f"Use {one.most_planned} of the {count_of(len(one.margins), 'microphone')} of {one.set} there at once"
    )


def _another_place(project: Project, design: Design, one: PortableUse) -> Iterator[str]:
    """Yield another place for a set, planned again: one that is written, else how much farther off."""
    asked = replace(design.radio.asked, states=one.states[:1])
    for lever in elsewhere(asked, one.air, (one.set,)):
        without = f" (then {count_of(lever.missing, 'link')} still without a place)" if lever.missing else ""
        yield f"{lever_words(lever, project.brief.units)}{without}"
        if not lever.missing:
            return
    more_db = farther_db(one.air, one.set)
    if more_db is not None:
        others = sorted({link.room for link in one.air.links} - {one.set}, key=natural)
        times = math.ceil(10 ** (more_db / 20))
        yield (
            f"write a place for {one.set} with {more_db} dB more loss between it and {listed(others)} than "
            f"now (in the open: {times} times as far)"
        )


def _states(names: "list[str] | tuple[str, ...]") -> str:
    return f"{'state' if len(names) == 1 else 'states'} {listed(names)}"


PORTABLE_SET_RULES: tuple[Rule, ...] = (
    places_without_outlet,
    sets_never_used,
    sets_on_one_another,
    sets_without_switch,
    sets_not_planned,
)
