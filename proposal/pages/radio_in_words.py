"""What came of radio, in sentences for readers who know none."""

from collections.abc import Iterator, Sequence

from proposal.document.rows.radio import OverfullRow, RadioStateRow, RadioSummary
from proposal.pages.phrases import capital
from proposal.quantities import formatting


def outcome_words(radio: RadioSummary, states: Sequence[RadioStateRow]) -> str:
    """Return in a sentence whether there is room on the air.

    radio: what came of it.  states: what differs by state of the building.
    """
    links = formatting.count_of(radio.links, "microphone")
    if radio.outcome == "planned" and radio.for_states:
        moving = max(row.elsewhere for row in states)
        return (
            f"There is room on the air in every state of the building, for {links} at once where most are in "
            "use: a plan was found for each state. No single plan holds in all of them: after a change of "
            f"state up to {formatting.count_of(moving, 'link')} must move to another place on the air, "
            "which the equipment does by itself. Let it settle before a meeting begins, and try each state."
        )
    if radio.outcome == "planned":
        return (
            f"There is room on the air for {links} at once: a plan was found in which no microphone disturbs "
            "another, over all rooms and storeys."
        )
    where = f"In {named_states(radio.for_states)} there" if radio.for_states else "There"
    nowhere = radio.for_states and all(row.outcome == "impossible" for row in states)
    found = " In the other states there is no room for all of them either." if nowhere else ""
    if radio.missing:
        found = (
            f" A plan was found for {radio.links - radio.missing} of them; {radio.missing} found no place."
            f"{found}"
        )
    if radio.outcome == "impossible":
        return f"{where} is no room on the air for {links} at once.{found}"
    return (
        f"{where} may be no room on the air for {links} at once: no sum rules it out, and no plan was found."
        f"{found}"
    )


def named_states(names: tuple[str, ...]) -> str:
    """Return states as they are named in a sentence.

    names: of the states.
    """
    quoted = [f"“{name}”" for name in names]
    return f"the {'state' if len(names) == 1 else 'states'} {formatting.listed(quoted)}"


def states_lead(radio: RadioSummary, rows: Sequence[RadioStateRow]) -> Iterator[str]:
    """Yield what the table of states shows, and for which of them the rest of the page is.

    radio: what came of it.  rows: what differs by state of the building.
    """
    if not rows:
        return
    yield (
        "Each line is for states of the building in which the same walls are open and portable sets stand in "
        "the same places. The slot pairs are those of the rooms that together want most."
    )
    if not radio.for_states:
        yield "One plan holds in all states. Everything else on this page is for all of them together."
        return
    named = named_states(radio.for_states)
    yield (
        f"The other figures on this page are for {named}, with two exceptions. What would help tells for "
        "which states it was planned. How well a microphone is received is told for the state in which it "
        "is received worst. “Links elsewhere” counts the links whose place on the air is not the one that "
        f"they have in {named}."
    )


def too_full_words(rows: Sequence[OverfullRow], missing: int) -> Iterator[str]:
    """Yield who has too many microphones; of rooms told already, that theirs are counted there.

    rows: rooms that want more than there is.  missing: microphones that find no place.
    """
    told = 0
    for number, row in enumerate(rows):
        within = any(set(row.rooms) <= set(before.rooms) for before in rows[:number])
        partly = any(set(row.rooms) & set(before.rooms) for before in rows[:number])
        told += 0 if within else row.over_links
        again = "They are" if within else "Some of them are" if partly else ""
        yield _too_full(row, partly and not within) + (f" {again} counted above as well." if again else "")
    if rows and missing > told:
        yield (
            f"{capital(formatting.count_of(missing, 'microphone'))} find no place, more than these sums "
            "show: some places on the air must stay empty beside microphones that would be disturbed there."
        )


def _too_full(row: OverfullRow, part: bool) -> str:
    """Return in everyday words who has too many microphones, and why.

    part: whether it may be a part of the microphones of its rooms.
    """
    rooms = formatting.listed(row.rooms)
    many = formatting.count_of(row.links, "microphone")
    if row.kind == "transceivers":
        return (
            f"{row.access_point} serves {many} and has radio for {row.held // row.slot_pairs}: "
            f"{row.over_links} too many."
        )
    hear = f"Of the microphones in {rooms}, {row.links} hear each other" if part else ""
    hear = hear or f"In {rooms} {many} hear each other"
    if row.kind == "search":
        return (
            f"{hear}. Near an access point a microphone can be so much louder than others that they lose "
            f"even the channels next to its own, so that not every place can be used. Of {many}, "
            f"{row.links - row.over_links} have a place; a complete search found no arrangement for all."
        )
    share = "so that each needs a part of the air for itself"
    if row.kind == "neighbouring":
        share = "and are so loud beside each other that each takes the channel next to its own as well"
    return (
        f"{hear}, {share}. There is room for {row.held // row.slot_pairs} at once: {row.over_links} too many."
    )
