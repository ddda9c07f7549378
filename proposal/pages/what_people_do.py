"""What people do and hear in a kind of room, for those who meet there: no codes, no models."""

from collections.abc import Collection, Iterator, Sequence

from proposal.document.rows.mute_controls import mute_groups, mutes_groups
from proposal.document.rows.room_contents import MicrophoneRow
from proposal.document.rows.rooms import RoomSheet
from proposal.pages.how_it_works import Part, has_microphones, nothing_is_planned, sizes_of
from proposal.pages.phrases import plural
from proposal.pages.schedule_table import grouped
from proposal.quantities.formatting import count_of, listed, with_the

_CALLED = {
    "gooseneck": "on a gooseneck",
    "boundary": "flat on the table",
    "handheld": "held in the hand",
    "bodypack": "worn on the body",
    "boundary, ceiling": "on the ceiling",
    "boundary, wall": "on the wall",
    "boundary, stand": "on a stand",
    "boundary, furniture": "let into the furniture",
    "handheld, stand": "on a stand",
    "handheld, table": "on a table stand",
}
"""Where people find a microphone of each form, otherwise held than usual too."""
_FROM_A_PANEL = ", from a control panel, computer or laptop of yours (not part of this proposal)"
_PRESSED = {
    "toggle": "Whoever wants to be silent presses the switch of the microphone once, and once more to speak.",
    "press to speak": "Whoever wants to speak presses the switch of the microphone once, and once more to "
    "be silent; it is muted when a meeting begins.",
    "push to talk": "Whoever wants to speak holds the switch of the microphone down.",
    "push to mute": "Whoever wants to be silent holds the switch of the microphone down.",
    "none": "The microphones have no switch.",
}


LIFTED = {"toggle": True, "press to speak": False, "push to talk": False, "push to mute": True, "none": True}
"""Whether a microphone is on when it leaves its charger, by what its switch does."""


def what_people_do(
    sheet: RoomSheet, at_once: str = "", without_mains: Sequence[str] = ()
) -> tuple[Part, ...]:
    """Return what people do and hear in a kind of room, from speaking to being heard elsewhere.

    at_once: in a sentence that not all microphones can be in use at once; empty where they can.
    without_mains: what happens in its rooms when the mains fails, in sentences.
    """
    if sheet.nothing_planned:
        return nothing_is_planned(sheet)
    parts = (
        Part("Speaking", tuple(_speaking(sheet, at_once))),
        Part("Being silent", tuple(_silent(sheet))),
        Part("Hearing", tuple(_hearing(sheet))),
        Part("Elsewhere", tuple(_elsewhere(sheet))),
        Part("Between meetings", tuple(_between(sheet))),
        Part("When the mains fails", tuple(without_mains)),
    )
    return tuple(part for part in parts if part.sentences)


def _formed(counts: list[tuple[str, int]]) -> str:
    if len(counts) == 1:
        return _CALLED.get(counts[0][0], counts[0][0])
    return listed([f"{count} {_CALLED.get(form, form)}" for form, count in counts if count])


def _found(row: MicrophoneRow) -> str:
    """Return the form of a microphone, with how it is held where that is not as usual for the form."""
    held = f"{row.form}, {row.mounting}"
    return held if held in _CALLED else row.form


def _speaking(sheet: RoomSheet, at_once: str) -> Iterator[str]:
    counts = [(form, len(rows)) for form, rows in grouped(sheet.microphones, _found).items()]
    if counts:
        count = count_of(len(sheet.microphones), "wireless microphone")
        if len(counts) == 1:
            yield f"{count}, {_formed(counts)}{'' if at_once else ', can be in use at once'}."
        else:
            yield f"{count}{'' if at_once else ' can be in use at once'}: {_formed(counts)}."
        if at_once:
            yield at_once
    wired = len(sheet.wired_microphones)
    if wired:
        kind, needs = ("microphone", "needs") if wired == 1 else ("microphones", "need")
        yield f"{wired}{' more' if counts else ''} {kind} on a cable {needs} no battery."
    yield from _lifted({row.switch for row in sheet.microphones}, _unless(sheet))
    if sheet.output == "mixer" and has_microphones(sheet):
        yield _opening({row.switch for row in sheet.microphones}, wired > 0)


def _unless(sheet: RoomSheet) -> str:
    """Return what keeps a microphone silent that is taken from its charger, in words."""
    if mutes_groups(sheet, mute_groups(sheet)):
        return "unless its group is muted"
    return "unless all are muted" if sheet.mute_points else "unless it is muted"


def _lifted(switches: Collection[str], unless: str) -> Iterator[str]:
    """Yield whether microphones are on when they are taken from their chargers.

    switches: what the switches of the wireless ones do; empty for what has none.
    unless: what keeps one silent.
    """
    live = {LIFTED[one or "none"] for one in switches}
    if live == {True}:
        yield f"A microphone is on as soon as it is taken from its charger, {unless}."
    elif live == {False}:
        yield "A microphone is silent when it is taken from its charger, until its switch is used."
    elif live:
        yield (
            "Taken from its charger, a microphone that waits for its switch is silent and any other is on, "
            f"{unless}."
        )


def _opening(switches: set[str], wired: bool) -> str:
    """Return how a microphone opens in a room with an automatic mixer, as its switches allow it.

    switches: what the switches of its wireless microphones do.  wired: whether others hang on cables.
    """
    if switches == {"push to talk"} and not wired:
        return "It opens while its switch is held."
    if switches == {"press to speak"} and not wired:
        return "It opens when its switch is pressed."
    if switches <= {"none", ""}:
        return "The microphone of whoever speaks opens by itself; nobody has to operate anything."
    if switches & {"push to talk", "press to speak"}:
        return "Microphones that nobody has to switch on open by themselves, unless they are muted."
    return "A microphone that is not muted opens by itself for whoever speaks into it."


def _silent(sheet: RoomSheet) -> Iterator[str]:
    switches = grouped([row for row in sheet.microphones if row.switch], lambda row: row.switch)
    for switch, rows in switches.items():
        others = {row.mute_group for row in sheet.microphones if row.switch != switch}
        yield _PRESSED[switch] if len(switches) == 1 else _pressed_there(switch, rows, others)
    groups = mute_groups(sheet)
    by = dict(sheet.mute_operators)
    if mutes_groups(sheet, groups):
        where = _from_where(sheet)
        told = [f"{group} (by {by[group]})" if group in by else group for group in groups]
        yield f"These groups can each be muted together{where}: {listed(told)}."
        if "all" in by:
            yield f"All microphones at once are muted by {by['all']}."
        yield "Whoever mutes several microphones releases them there again."
    elif (by or len(groups) > 1) and sheet.mute_points:
        who = by.get("all") or by.get("".join(groups), "")
        yield f"All microphones can be muted together{f' by {who}' if who else ''}{_from_where(sheet)}."
        yield "Whoever mutes them releases them there again."
    yield from _muted_from_elsewhere(sheet)
    if sheet.microphones:
        yield "A microphone in its charger is silent."
    if sheet.microphones or sheet.wired_microphones:
        yield "A muted microphone is heard nowhere, neither in the room nor outside it."


def _muted_from_elsewhere(sheet: RoomSheet) -> Iterator[str]:
    """Yield what a mute in the conferencing system and the fire alarm silence, and what ends it."""
    if not has_microphones(sheet):
        return
    codes = {row.code for row in sheet.destinations}
    far = listed(list(dict.fromkeys(row.name for row in sheet.returns if row.code in codes)))
    if sheet.far_end_mutes == "room":
        yield (
            f"Whoever mutes in the {far} mutes all microphones in the room with it, by a command over the "
            "network of the microphones; it ends when the mute is released there or by whoever mutes all of "
            "them here."
        )
    elif sheet.far_end_mutes:
        yield (
            f"A mute in the {far} silences the room for those elsewhere alone, until it is released there; "
            "in the room people are still heard."
        )
    if sheet.emergency_mute:
        where = "" if sheet.emergency_mute == "yes" else ", where the building has one that is joined to it"
        yield (
            f"While the contact of the fire alarm is closed{where}, all microphones are muted, and nobody in "
            "the room can release them."
        )


def _from_where(sheet: RoomSheet) -> str:
    """Return from what groups are muted: equipment of the owner that is known, or what is to be chosen."""
    known = listed(list(sheet.mute_controls))
    return f", from your own equipment: {known}" if known else _FROM_A_PANEL


def _pressed_there(switch: str, rows: Sequence[MicrophoneRow], others: Collection[str]) -> str:
    """Return what people do with one of several sorts of switch, and which microphones have it.

    others: groups of microphones with another sort of switch; a group of both names neither.
    """
    groups = list(dict.fromkeys(row.mute_group for row in rows))
    named = "" if "" in groups or set(groups) & set(others) else f" ({listed(groups)})"
    there = f"{count_of(len(rows), 'microphone')}{named}"
    if switch == "none":
        return f"{there} {'has' if len(rows) == 1 else 'have'} no switch."
    return f"At {there}, {_PRESSED[switch][0].lower()}{_PRESSED[switch][1:]}"


def _hearing(sheet: RoomSheet) -> Iterator[str]:
    if any(node.kind == "loudspeakers" for node in sheet.flow_nodes):
        if has_microphones(sheet):
            yield "What is said is heard in the room over loudspeakers."
        else:
            yield "People listen over loudspeakers; the room has no microphones."
        callers = list(dict.fromkeys(row.name for row in sheet.returns if row.announcements))
        if callers:
            yield f"Announcements from {with_the(callers)} are heard over them too."
        else:
            yield "No announcements (paging) can be made over them: no input is planned for that."
    own = list(dict.fromkeys(row.name for row in sheet.destinations if row.heard_in_room))
    if own:
        yield f"What is said is heard in the room over {with_the(own)}, which others furnish."
    if sheet.assistive:
        row = sheet.assistive[0]
        receivers = count_of(row.receivers, "receiver")
        yield f"{receivers} for assistive listening can be borrowed."
        yield f"Of these {row.compatible} work with hearing aids."


def _elsewhere(sheet: RoomSheet) -> Iterator[str]:
    names = list(dict.fromkeys(row.name for row in sheet.destinations if not row.heard_in_room))
    if names:
        yield f"The sound of the room also goes to {with_the(names)}."
        yield from _kept_there(sheet)
    back = list(
        dict.fromkeys(row.name for row in sheet.returns if not row.of_joined_rooms and not row.announcements)
    )
    if back:
        yield f"What comes back from {with_the(back)} is heard in the room."
    joined = [row.name for row in sheet.returns if row.of_joined_rooms]
    if joined:
        if any(row.of_joined_rooms for row in sheet.destinations):
            yield f"While rooms are joined, this one hears {listed(joined)}, and is heard there."
        else:
            rooms = listed([row.code.removeprefix("joined-") for row in sheet.returns if row.of_joined_rooms])
            yield f"In some states of the building people here listen to {rooms}, as the states page tells."


def _kept_there(sheet: RoomSheet) -> Iterator[str]:
    """Yield what of the room's sound is kept elsewhere, who runs it, and how people sit in private."""
    if not has_microphones(sheet):
        return
    away = [row for row in sheet.destinations if not row.heard_in_room and not row.of_joined_rooms]
    if any(LIFTED[row.switch or "none"] for row in sheet.microphones) or sheet.wired_microphones:
        yield "A microphone that is on also sends there what is whispered beside it."
    with_it = grouped([row for row in away if row.with_returns], lambda row: listed(list(row.with_returns)))
    for returns, rows in with_it.items():
        names = listed([row.name for row in rows])
        gets = "gets" if len(rows) == 1 else "get"
        yield f"The {names} also {gets} the voices that come back from the {returns}."
    for row in away:
        if not row.keeps:
            continue
        yield (
            f"The {row.name} is started and stopped by {row.operated_by}."
            if row.operated_by
            else f"Who starts and stops the {row.name} is still to be settled with you."
        )
    if any(row.keeps for row in away):
        yield "No light in the room tells that it runs, and this system neither starts nor stops it."
    if sheet.in_private:
        yield sheet.in_private
    elif sheet.sound_stays:
        yield f"The sound of the room has to stay in it ({sheet.sound_stays}), as is told below."
    elif sheet.far_end_mutes == "far end alone" and len(away) == 1:
        yield f"To be heard in the room alone, people mute in the {away[0].name}."
    elif away:
        yield (
            "A mute silences the room too. For people to be heard in the room alone, what takes its sound "
            "elsewhere is stopped there."
        )


def _between(sheet: RoomSheet) -> Iterator[str]:
    count = sum(row.quantity for row in sizes_of(sheet, "charger"))
    if count:
        kind = "a charger" if count == 1 else f"{count} {plural('charger')}"
        spares = [(number, form) for form, number in sheet.spare_microphones if number]
        total = sum(number for number, _ in spares)
        of_form = listed([f"{number} {_CALLED.get(form, form)}" for number, form in spares])
        beside = f" and {count_of(total, 'spare')} ({of_form})" if spares else ""
        yield f"The microphones{beside} rest in {kind} in the room, and are charged and ready again there."
        without = list(dict.fromkeys(one.form for one in sheet.microphones))
        lacking = [_CALLED.get(one, one) for one in without if one not in {form for _, form in spares}]
        if spares and lacking:
            yield f"No spare is kept of those {listed(lacking)}."
