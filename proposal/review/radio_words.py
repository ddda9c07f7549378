"""What is said of carriers and slots, in words: the sum of slot pairs, who has too many, what would help."""

from collections.abc import Mapping, Sequence

from proposal.design.radio.air_arithmetic import Neighbourhood
from proposal.design.radio.radio_levers import Lever, LeverName
from proposal.quantities.formatting import count_of, listed
from proposal.quantities.units import Units
from proposal.review.finding import length_words
from proposal.standards.dect import SLOT_PAIRS

MOST_NAMED = 24
"""So many microphones are named for a change; of more, how many there are in which room."""


def sum_words(one: Neighbourhood) -> str:
    """Return how the slot pairs that a neighbourhood wants come about, such as `33 × 3 + 1 × 1`."""
    return " + ".join(f"{count} × {pairs}" for count, pairs in one.terms)


def held_words(one: Neighbourhood) -> str:
    """Return how many slot pairs there are for a neighbourhood, and why not all where some are no use."""
    name = "transceiver" if one.kind == "transceivers" else "carrier"
    plain = one.carriers * SLOT_PAIRS
    there = f"{count_of(one.carriers, name)} of {SLOT_PAIRS} slot pairs each have {plain}"
    if one.held == plain:
        return there
    return f"{there}, of which whole links can use {one.held}"


def overfull_words(one: Neighbourhood) -> str:
    """Return the sum that shows how a neighbourhood is too full, in one unit, and what that means."""
    rooms = listed(one.rooms)
    why = {
        "carrier": f"{rooms} hear each other, so that no two of their links can share a carrier and a slot. "
        if len(one.rooms) > 1
        else f"The links of {rooms} cannot share a carrier and a slot. ",
        "neighbouring": f"Links in {rooms} differ so much in level that no two of them can use even "
        "neighbouring carriers in one slot. ",
        "transceivers": f"{one.access_point} serves them all. ",
        "search": f"A complete search found no plan for the links of {rooms} together. ",
    }[one.kind]
    idle = f" and {count_of(one.bearers, 'idle access point')}" if one.bearers else ""
    links = count_of(one.links, "link")
    wanted = f"{links}{idle} want {sum_words(one)} = {one.wanted} slot pairs"
    if not one.over:
        return f"{why}{wanted}; {held_words(one)}."
    many = "1 link" if one.over_links == 1 else f"{one.over_links} links"
    return f"{why}{wanted}, but {held_words(one)}: {one.over} too many, which is {many}."


def lever_words(lever: Lever, units: Units) -> str:
    """Return what to do, in words.

    lever: what would help; units: in which positions are written.
    """
    rooms = listed(lever.rooms)
    by_room = listed(
        [f"{amount} in {room}" for room, amount in zip(lever.rooms, lever.amounts, strict=False)]
    )
    fewer = listed(
        [f"{amount} fewer in {room}" for room, amount in zip(lever.rooms, lever.amounts, strict=False)]
    )
    return {
        "lower power": lambda: (
            "set the radio to less power (radio.power): "
            + listed(
                [
                    f"{power:g} dBm in {room}"
                    for power, room in zip(lever.powers_dbm, lever.rooms, strict=True)
                ]
            )
        ),
        "access points moved": lambda: (
            "hang "
            + listed(
                [
                    f"{tag} at {length_words(x, units)}, {length_words(y, units)}"
                    for tag, (x, y) in lever.places
                ]
            )
            + " (the program's own choice: leave their written positions out)"
        ),
        "portable set elsewhere": lambda: listed(
            [f"use {tag} in {other} instead of {place}" for tag, place, other in lever.stands]
        ),
        "fewer slot pairs": lambda: (
            f"take equipment with {count_of(lever.amount or 1, 'slot pair')} a link "
            + (
                f"({listed(lever.models)})"
                if lever.models
                else "(the library has no access point of that kind)"
            )
        ),
        "wired microphones": lambda: (
            f"wire gooseneck and boundary microphones, which stay at one seat: {by_room}{_named(lever)}"
        ),
        "more loss": lambda: (
            f"have walls and floors between {rooms} stop radio by {lever.amount} dB more than computed, "
            f"to be measured{_without_wall(lever)}"
        ),
        "fewer microphones": lambda: f"use fewer wireless microphones at once: {fewer}{_named(lever)}",
    }[lever.name]()


_WRITTEN: Mapping[LeverName, str] = {
    "lower power": "",
    "access points moved": "fixed.yaml: devices",
    "portable set elsewhere": "building.yaml: states, portable",
    "fewer slot pairs": "project.yaml: rules.microphones.system, or system in the room type",
    "wired microphones": "the room type: wired_microphones in place of microphones",
    "more loss": "building.yaml: loss under radio.walls, of a floor under radio.slabs",
    "fewer microphones": "the room type: microphones",
}
"""Where a change of the project is written; empty where the words of the change name it."""


def written_lever(lever: Lever, units: Units) -> str:
    """Return what to do, in words, and in which field of which file it is written.

    lever: what would help; units: in which positions are written.
    """
    where = _WRITTEN[lever.name]
    return lever_words(lever, units) + (f" (written in {where})" if where else "")


def _named(lever: Lever) -> str:
    """Return which microphones it is that were planned without; none where they are too many to name."""
    named = lever.microphones
    if len(lever.rooms) == 1:
        named = tuple(tag.removeprefix(f"{lever.rooms[0]}-") for tag in named)
    return f" ({listed(named)})" if len(named) <= MOST_NAMED else ""


def _without_wall(lever: Lever) -> str:
    pairs = listed([f"between {one} and {other}" for one, other in lever.without_wall])
    return f" (in some state no wall stands {pairs})" if pairs else ""


def levers_words(levers: Sequence[Lever], units: Units, alone: tuple[str, ...] = ()) -> str:
    """Return all that would help as one remedy, the most helpful first.

    levers: in order; units: in which positions are written.
    alone: rooms that were planned without the rest of the building; none where all of it was.
    """
    where = f" in {listed(alone)}, planned without the rest of the building" if alone else ""
    if not levers:
        return (
            f"Nothing that was tried{where} leaves a place for every link: survey on site, and plan with "
            "fewer links."
        )
    said = [
        f"({number}) {written_lever(one, units)}"
        + ("" if one.missing == 0 else f" (then {count_of(one.missing, 'link')} still without a place)")
        for number, one in enumerate(levers, 1)
    ]
    return (
        f"What would help{where}, each planned again with all else as it is, the most helpful first: "
        f"{'; '.join(said)}."
    )


def would_settle(levers: Sequence[Lever], units: Units, what: str) -> str:
    """Return what would settle a thing wholly, as the end of a remedy; that nothing tried does where none is.

    levers: in order; units: in which positions are written; what: is settled, in words.
    """
    if not levers:
        return f"Nothing that was planned again {what}."
    if len(levers) == 1:
        return f"Planned again, this {what}: {written_lever(levers[0], units)}."
    said = [f"({number}) {written_lever(one, units)}" for number, one in enumerate(levers, 1)]
    return f"Planned again, each of these {what}: {'; '.join(said)}."
