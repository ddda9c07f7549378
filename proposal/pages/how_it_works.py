"""How a kind of room works, in words made from its design."""

from collections.abc import Sequence

from proposal.document.rows.mute_controls import BY_GROUP
from proposal.document.rows.room_contents import DestinationRow, SizeRow
from proposal.document.rows.rooms import RoomSheet
from proposal.field_classes import dataclass
from proposal.pages.phrases import capital, code_phrase, forms, natural, plural
from proposal.pages.schedule_table import grouped
from proposal.quantities.formatting import count_of, listed


@dataclass(frozen=True, slots=True)
class Part:
    """One step of the signal path: its heading and sentences about it, neither of them escaped."""

    heading: str
    sentences: tuple[str, ...]


def how_it_works(sheet: RoomSheet, equipment_rooms: Sequence[str], at_once: str = "") -> tuple[Part, ...]:
    """Return the signal path through a kind of room, from the talker to every listener.

    equipment_rooms: tags of those that serve rooms of this kind.
    at_once: in a sentence that not all microphones can be in use at once; empty where they can.
    """
    if sheet.nothing_planned:
        return nothing_is_planned(sheet)
    parts = (
        Part("Sources", _sources(sheet, at_once)),
        Part("Radio", _radio(sheet)),
        Part("Charging", _charging(sheet)),
        Part("Network", _network(sheet, equipment_rooms)),
        Part("Processing", _processing(sheet)),
        Part("Outputs", _outputs(sheet)),
        Part("Assistive listening", _listening(sheet)),
        Part("Muting", _muting(sheet)),
        Part("Far end", _far_end(sheet)),
        Part("Other rooms", _joined(sheet)),
    )
    return tuple(part for part in parts if part.sentences)


def nothing_is_planned(sheet: RoomSheet) -> tuple[Part, ...]:
    """Return that a kind of room gets nothing, and why."""
    return (Part("Nothing is planned here", (f"It gets no equipment: {sheet.nothing_planned}.",)),)


def boxes(sizes: Sequence[SizeRow]) -> str:
    """Return boxes as a phrase, `2 access points QA-4 with 4 each`."""
    return listed([f"{row.quantity} × {row.model}" for row in sizes])


def sizes_of(sheet: RoomSheet, kind: str) -> tuple[SizeRow, ...]:
    """Return the sizes of one kind of equipment."""
    return tuple(row for row in sheet.sizes if row.kind == kind)


_NEEDS = {False: "needs no battery", True: "need no battery"}


def _sources(sheet: RoomSheet, at_once: str) -> tuple[str, ...]:
    by_form = {form: len(rows) for form, rows in grouped(sheet.microphones, lambda row: row.form).items()}
    count = count_of(len(sheet.microphones), "wireless microphone")
    system = f" of the system {sheet.system}" if sheet.system else ""
    sentences = []
    if sheet.microphones:
        at = "" if at_once else " may be in use at once"
        sentences.append(f"{count}{system}{at}: {forms(by_form.items())}.")
    elif not sheet.wired_microphones:
        sentences.append("No microphone is in the room: people there listen.")
    if at_once and sheet.microphones:
        sentences.append(at_once)
    if spares := forms(sheet.spare_microphones):
        sentences.append(f"Kept charged as spares: {spares}.")
    if sheet.wired_microphones:
        wired = grouped(sheet.wired_microphones, lambda row: row.form)
        count = count_of(len(sheet.wired_microphones), "microphone")
        told = forms([(form, len(rows)) for form, rows in wired.items()])
        beside = f"Beside them {count}" if sheet.microphones else capital(count)
        sentences.append(f"{beside} on a cable, which {_NEEDS[len(sheet.wired_microphones) > 1]}: {told}.")
    return tuple(sentences)


def has_microphones(sheet: RoomSheet) -> bool:
    """Return whether a kind of room has microphones, on a cable or without."""
    return bool(sheet.microphones or sheet.wired_microphones)


def spare_phrase(count: int) -> str:
    """Return how many are left over, `2 spare` or `none spare`.

    count: how many.
    """
    return f"{count} spare" if count > 0 else "none spare"


def _radio(sheet: RoomSheet) -> tuple[str, ...]:
    points = sizes_of(sheet, "access point")
    if not points:
        return ()
    count = sum(row.quantity for row in points)
    channels = sum(row.quantity * row.capacity for row in points)
    need = count_of(sheet.channels_needed, "channel of access points", "channels of access points")
    spare = channels - sheet.channels_needed
    sentences = [
        f"{capital(count_of(count, 'access point'))} ({boxes(points)}) "
        f"{'receives' if count == 1 else 'receive'} the microphones by licence-exempt radio.",
        f"{need} {'is' if sheet.channels_needed == 1 else 'are'} needed, {channels} provided; "
        f"{spare_phrase(spare)}.",
    ]
    for point, rows in sorted(grouped(sheet.microphones, lambda row: row.access_point).items(), key=_by_name):
        if point:
            codes = code_phrase(sorted((row.code for row in rows), key=natural))
            sentences.append(f"{point} serves {codes}.")
    return tuple(sentences)


def _by_name(item: tuple[str, object]) -> tuple[object, ...]:
    return natural(item[0])


def _charging(sheet: RoomSheet) -> tuple[str, ...]:
    chargers = sizes_of(sheet, "charger")
    if not chargers:
        return ()
    count = sum(row.quantity for row in chargers)
    others = sum(row.quantity * row.other_slots for row in chargers)
    taking = apart = ""
    if others:
        taking = " for microphones of this room"
        apart = (
            f" {count_of(others, 'further slot')} {'takes' if others == 1 else 'take'} other forms of "
            f"microphone only, and {'stays' if others == 1 else 'stay'} free."
        )
    codes = {node.code for node in sheet.flow_nodes if node.kind == "charger"}
    on_network = any(edge.start in codes for edge in sheet.flow_edges)
    one = count == 1
    pairing = f", and {'stays' if one else 'stay'} on the network to pair them with the system"
    return (
        f"{capital(count_of(count, 'charger'))} ({boxes(chargers)}) {'holds' if one else 'hold'} "
        f"the microphones between meetings, spares included{pairing if on_network else ''}.",
        f"{count_of(sheet.slots_needed, 'charge slot')} needed, {chargers[0].provided} provided{taking}; "
        f"{spare_phrase(chargers[0].spare)}.{apart}",
        *(
            f"Not every slot takes every microphone; of one {row.model}: {'; '.join(row.slots_by_form)}."
            for row in chargers
            if row.slots_by_form
        ),
    )


def _network(sheet: RoomSheet, equipment_rooms: Sequence[str]) -> tuple[str, ...]:
    if sheet.apart or sheet.own_switch:
        return (_own_switch(sheet), *_kept_apart(sheet))
    places = listed(list(equipment_rooms))
    where = f" in {places}" if places else ""
    return (
        f"Each device has a data cable of its own to a managed switch{where}, which also powers what is fed "
        "over its data cable.",
        "Sound travels on it as networked audio (AES67).",
    )


def _own_switch(sheet: RoomSheet) -> str:
    if not sheet.own_switch:
        return "No switch joins the room's devices."
    if sizes_of(sheet, "switch"):
        return "A managed switch in the room's furniture joins and powers its devices; no other is needed."
    return "The switch inside the room's breakout joins and powers its devices; no other is needed."


def _kept_apart(sheet: RoomSheet) -> tuple[str, ...]:
    """Return how the network of a room is kept from the building's."""
    if sheet.isolating_port:
        code = sheet.isolating_port.rpartition("-")[2]
        return (
            f"One cable leads to the building, from port {code}, which keeps the building's network off: "
            "nothing there reaches the microphones, and their sound does not leave the room by it.",
        )
    return ("Nothing leads out of the room: its network is joined to no other.",) if sheet.apart else ()


def _processing(sheet: RoomSheet) -> tuple[str, ...]:
    if sheet.output == "mixer":
        mixers = sizes_of(sheet, "mixer")
        named = f" ({boxes(mixers)})" if mixers else ""
        if not has_microphones(sheet):
            return (f"The sound that comes into the room reaches it by a mixer{named}.",)
        way = " over the network" if sheet.microphones else ""
        return (
            f"The microphones reach an automatic mixer{named}{way}.",
            "Of those that are not muted it opens the one that somebody speaks into and keeps the others "
            "closed, so that room sound and feedback stay low.",
        )
    breakouts = sizes_of(sheet, "breakout")
    named = f" ({boxes(breakouts)})" if breakouts else ""
    return (
        f"Breakouts{named} turn the network's sound into analogue signals for the equipment of the room.",
        f"The {'first of them' if len(breakouts) > 1 else 'breakout'} also makes the mix that goes out."
        if _mixes(sheet)
        else "They do not mix: that is done by what they feed.",
    )


def _mixes(sheet: RoomSheet) -> bool:
    """Return whether a breakout of a room makes a mix."""
    return any(row.what == "mixes" and row.given for row in sheet.carried)


def _outputs(sheet: RoomSheet) -> tuple[str, ...]:
    sentences = []
    if sheet.destinations:
        sentences.append(f"The sound goes to {_ends(sheet.destinations)}.")
    if any(node.kind == "loudspeakers" for node in sheet.flow_nodes):
        sentences.append("An amplifier feeds the room's own loudspeakers.")
    return tuple(sentences)


def _ends(rows: Sequence[DestinationRow]) -> str:
    return listed([f"{row.name} ({row.signal}, {_channels(row)})" for row in rows])


def _channels(row: DestinationRow) -> str:
    """Return how many channels something has, and what each carries where that is written."""
    count = count_of(row.channels, "channel")
    each = [f"{n} {source}" for n, source in enumerate(row.carries, 1)]
    return f"{count}: {', '.join(each)}" if each else count


def _listening(sheet: RoomSheet) -> tuple[str, ...]:
    if not sheet.assistive:
        return ()
    row = sheet.assistive[0]
    by = f"{row.carrier} " if row.carrier else ""
    sent = capital(count_of(row.transmitters, f"{by}transmitter"))
    receivers = count_of(row.receivers, "receiver")
    return (
        f"{sent} {'sends' if row.transmitters == 1 else 'send'} the mix to {receivers} "
        f"for {count_of(row.seats, 'seat')}; {row.compatible} of them work with hearing aids.",
    )


def _muting(sheet: RoomSheet) -> tuple[str, ...]:
    every = [(row.mute_group, row.code) for row in sheet.microphones]
    every += [(row.mute_group, row.code) for row in sheet.wired_microphones]
    groups = grouped(every, lambda one: one[0])
    if not groups:
        return ()
    silent = (*_mutes_set_at(sheet), *_switches(sheet), "A muted microphone is heard at none of the outputs.")
    if len(groups) == 1:
        return ("All microphones are one mute group.", *silent)
    told = [
        f"{name}: {code_phrase(sorted((code for _, code in rows), key=natural))}"
        for name, rows in groups.items()
    ]
    return (f"Mute groups of microphones: {'; '.join(told)}.", *silent)


_MUTED_THERE = {"mute": "microphone by microphone", "mute all": "all of its microphones at once"}
"""What is muted at each control point."""


def _mutes_set_at(sheet: RoomSheet) -> tuple[str, ...]:
    """Return at what mutes of several microphones are set, and who furnishes what people touch for it."""
    if not sheet.mute_points:
        return ("Nothing in this proposal mutes a group at once: each microphone has its own switch alone.",)
    points = grouped(sheet.mute_points, lambda one: one[1])
    places = listed(
        [
            f"{code_phrase(code for code, _ in rows)} (control point {name}, {_MUTED_THERE.get(name, name)})"
            for name, rows in points.items()
        ]
    )
    by = listed(list(sheet.mute_controls)) or "control panels, computers or laptops"
    mutes = "Mutes of groups are" if BY_GROUP in points else "The mute of all microphones is"
    return (
        f"{mutes} set over the network at {places}, from {by} of the client's; "
        "these are not part of this proposal.",
    )


_SWITCH_WORDS = {
    "toggle": "People press the switch once to mute and once more to speak",
    "press to speak": "Muted at first: people press the switch once to speak and once more to mute",
    "push to talk": "People hold the switch down for as long as they speak",
    "push to mute": "People hold the switch down for as long as they want to be muted",
    "none": "People have no switch",
}


def _switches(sheet: RoomSheet) -> tuple[str, ...]:
    """Return what people do with the switches of their microphones, a sentence each way."""
    by_switch = grouped([row for row in sheet.microphones if row.switch], lambda row: row.switch)
    told = []
    for switch, rows in by_switch.items():
        codes = code_phrase(sorted((row.code for row in rows), key=natural))
        at = "" if len(by_switch) == 1 else f" at {codes}"
        told.append(f"{_SWITCH_WORDS[switch]}{at}.")
    return tuple(told)


def _far_end(sheet: RoomSheet) -> tuple[str, ...]:
    brought = tuple(row for row in sheet.returns if not row.of_joined_rooms)
    if not brought:
        return ("No sound is brought back into this system.",)
    hearing = sorted((row.code for row in sheet.microphones if row.return_audio), key=natural)
    back = f"Brought back into the system: {_ends(brought)}."
    if not has_microphones(sheet):
        return (back, "It is heard in the room.")
    if not hearing:
        return (back, "It is heard in the room, not at the microphones.")
    kind = plural("microphone") if len(hearing) > 1 else "microphone"
    return (back, f"It can be heard at {kind} {code_phrase(hearing)}.")


def _joined(sheet: RoomSheet) -> tuple[str, ...]:
    """Return what comes from rooms that a state joins to this one; nothing where none does."""
    joined = tuple(row for row in sheet.returns if row.of_joined_rooms)
    if not joined:
        return ()
    heard = listed([row.name for row in joined])
    if any(row.of_joined_rooms for row in sheet.destinations):
        return (f"While the rooms are joined, this one hears {heard}, and is heard there.",)
    return (f"In the states that say so, this room hears {heard}. It is not heard there.",)
