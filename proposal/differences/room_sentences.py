"""What changed about a room, in sentences that a client understands."""

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from math import hypot

from proposal.differences.inputs import PLACED, AskedRow
from proposal.document.document import Document
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.room_contents import DestinationRow, MicrophoneRow, Point
from proposal.document.rows.rooms import RoomRow, RoomSheet
from proposal.document.values import Values, values_of
from proposal.quantities import formatting

OWNERS_DEVICE = "owner's device"
_LEAST_MOVE_M = 0.05
"""A shorter way is no move that a client would see, m."""
_TOLD_ELSEWHERE = frozenset({"microphone", OWNERS_DEVICE})
"""Kinds of device that other sentences tell of."""


def room_sentences(tag: str, before: Document, after: Document, asked: Sequence[AskedRow]) -> tuple[str, ...]:
    """Return what changed about a room, a sentence each; nothing where nothing did that a client asks after.

    tag: of the room.
    before, after: documents of one reader.
    asked: what was asked for; devices that were placed come first.
    """
    then, now = _room(before, tag), _room(after, tag)
    if now is None:
        return ("This room is no longer part of the proposal.",)
    if then is None:
        seats = formatting.count_of(now.seats, "seat")
        microphones = formatting.count_of(now.microphones, "microphone")
        return (f"This room is new: {now.type}, {seats}, {microphones}.",)
    old, new = _sheet(before, then), _sheet(after, now)
    devices = _devices(before, tag), _devices(after, tag)
    values = values_of(after)
    # What stands in a rack has its place there; what was placed by hand has a sentence of its own.
    racks = {row.tag for row in after.devices}
    passed_over = {one.name for one in asked if one.kind == PLACED} | {
        row.tag for row in devices[1].values() if row.location in racks
    }
    return (
        *_placed(devices, asked, values),
        *_place(then, now, after, values),
        *_moved(devices, (then, now), passed_over, values),
        *(_contents(old, new, values) if old is not None and new is not None else ()),
        *_equipment(devices, values),
    )


def _room(document: Document, tag: str) -> RoomRow | None:
    return next((row for row in document.rooms if row.tag == tag), None)


def _sheet(document: Document, room: RoomRow) -> RoomSheet | None:
    return next((sheet for sheet in document.room_sheets if sheet.key == room.sheet), None)


def _devices(document: Document, room: str) -> Mapping[str, DeviceRow]:
    return {row.tag: row for row in document.devices if row.room == room}


def _way(start: Point, end: Point) -> float:
    return hypot(end[0] - start[0], end[1] - start[1])


def _placed(
    devices: tuple[Mapping[str, DeviceRow], Mapping[str, DeviceRow]],
    asked: Sequence[AskedRow],
    values: Values,
) -> Iterator[str]:
    """Yield devices that were placed by hand; how far they moved is told to those who read positions."""
    then, now = devices
    for tag in (one.name for one in asked if one.kind == PLACED):
        if tag not in now:
            continue
        kind = _capital(now[tag].kind)
        start, end = then[tag].at if tag in then else None, now[tag].at
        far = (
            ""
            if start is None or end is None
            else f", {_length(_way(start, end), values)} from its old place"
        )
        yield f"{kind} {tag} was placed by agreement{far}."


def _place(then: RoomRow, now: RoomRow, after: Document, values: Values) -> Iterator[str]:
    """Yield what changed about the room itself."""
    if then.name != now.name:
        yield f"It is now called {now.name}; before, {then.name}."
    if then.type != now.type:
        yield f"It is now a room of the kind {now.type}; before, {then.type}."
    if then.storey != now.storey:
        names = {row.tag: row.name for row in after.storeys}
        yield f"The room is now on this storey: {names.get(now.storey, now.storey)}."
    elif _way(then.origin, now.origin) >= _LEAST_MOVE_M:
        yield f"The room moved by {_length(_way(then.origin, now.origin), values)}."
    if then.seats != now.seats:
        yield f"It has {formatting.count_of(now.seats, 'seat')}; before, {then.seats}."
    if then.equipment_room != now.equipment_room:
        yield f"It is now served from {now.equipment_room}; before, from {then.equipment_room}."


def _moved(
    devices: tuple[Mapping[str, DeviceRow], Mapping[str, DeviceRow]],
    rooms: tuple[RoomRow, RoomRow],
    passed_over: Container[str],
    values: Values,
) -> Iterator[str]:
    """Yield devices that have other places in the room, kind by kind; some tags are passed over."""
    then, now = devices
    (was_x, was_y), (is_x, is_y) = (one.corner for one in rooms)
    farthest: dict[str, float] = {}
    stands: dict[tuple[str, str, str], list[str]] = {}
    moved: dict[str, list[str]] = {}
    for tag in now:
        if tag not in then or tag in passed_over:
            continue
        old, new = then[tag], now[tag]
        if old.kind in _TOLD_ELSEWHERE or new.kind in _TOLD_ELSEWHERE:
            continue
        if old.location != new.location:
            stands.setdefault((new.kind, old.location, new.location), []).append(tag)
        elif old.at is not None and new.at is not None:
            far = hypot((new.at[0] - is_x) - (old.at[0] - was_x), (new.at[1] - is_y) - (old.at[1] - was_y))
            if far >= _LEAST_MOVE_M:
                moved.setdefault(new.kind, []).append(tag)
                farthest[new.kind] = max(farthest.get(new.kind, 0.0), far)
    for kind, tags in moved.items():
        way, noun = _length(farthest[kind], values), values.words.value(kind)
        if len(tags) == 1:
            yield f"{_capital(noun)} {tags[0]} is now {way} from its old place in the room."
        else:
            many = formatting.count_of(len(tags), noun)
            yield f"{many} are now up to {way} from their old places in the room."
    for (kind, was, stands_now), tags in stands.items():
        many = formatting.count_of(len(tags), values.words.value(kind))
        places = values.words.value(stands_now), values.words.value(was)
        yield f"{many}: {places[0]} now, {places[1]} before."


def _contents(old: RoomSheet, new: RoomSheet, values: Values) -> Iterator[str]:
    """Yield what changed about microphones, meetings and where the sound goes."""
    yield from _microphones(old.microphones, new.microphones)
    spares = dict(old.spare_microphones), dict(new.spare_microphones)
    if spares[0] != spares[1]:
        yield f"Spare microphones: {_counted(spares[1])}; before, {_counted(spares[0])}."
    if abs(old.area_m2 - new.area_m2) >= 0.05:
        area = formatting.quantity(new.area_m2, "area", values.units, values.locale)
        was = formatting.quantity(old.area_m2, "area", values.units, values.locale)
        yield f"Its floor area is {area}; before, {was}."
    if old.surfaces != new.surfaces:
        yield f"Finishes: {'; '.join(f'{surface}: {finish}' for surface, finish in new.surfaces)}."
    if old.sessions != new.sessions:
        yield "Its meetings are at other times of the day."
    yield from _ends(
        "Its sound now also goes to", "Its sound no longer goes to", old.destinations, new.destinations
    )
    yield from _ends("Sound now also comes from", "Sound no longer comes from", old.returns, new.returns)


def _microphones(old: Sequence[MicrophoneRow], new: Sequence[MicrophoneRow]) -> Iterator[str]:
    then, now = {row.code: row for row in old}, {row.code: row for row in new}
    for words, here, there in (
        ("New at their places", now, then),
        ("No longer there", then, now),
    ):
        forms: dict[str, list[str]] = {}
        for code, row in here.items():
            if code not in there:
                forms.setdefault(row.form, []).append(code)
        for form, codes in forms.items():
            noun = formatting.count_of(len(codes), f"{form} microphone")
            yield f"{words}: {noun} ({formatting.listed(codes)})."
    both = [code for code in now if code in then]
    moved = [code for code in both if _way(then[code].at, now[code].at) >= _LEAST_MOVE_M]
    if moved:
        noun = "Microphone" if len(moved) == 1 else "Microphones"
        yield f"{noun} {formatting.listed(moved)} moved to other places in the room."
    for code in both:
        if then[code].form != now[code].form:
            yield f"Microphone {code} is now of another form: {now[code].form}; before, {then[code].form}."


def _ends(
    came: str, gone: str, old: Sequence[DestinationRow], new: Sequence[DestinationRow]
) -> Iterator[str]:
    then, now = [one.name for one in old], [one.name for one in new]
    for words, names in (
        (came, [one for one in now if one not in then]),
        (gone, [one for one in then if one not in now]),
    ):
        if names:
            yield f"{words}: {formatting.listed(names)}."


def _equipment(
    devices: tuple[Mapping[str, DeviceRow], Mapping[str, DeviceRow]], values: Values
) -> Iterator[str]:
    """Yield kinds of equipment of which there are other models or numbers; microphones are told before."""
    then, now = (_by_kind(one.values()) for one in devices)
    for kind in sorted({*then, *now} - _TOLD_ELSEWHERE):
        old, new = then.get(kind, Counter()), now.get(kind, Counter())
        come, gone = new - old, old - new
        if come or gone:
            yield f"{_capital(values.words.value(kind))}: {_exchanged(come, gone)}."


def _exchanged(come: Mapping[str, int], gone: Mapping[str, int]) -> str:
    if come and gone:
        return f"{_counted(come)} instead of {_counted(gone)}"
    return f"{_counted(come)} more" if come else f"{_counted(gone)} less"


def _by_kind(devices: Iterable[DeviceRow]) -> dict[str, Counter[str]]:
    found: dict[str, Counter[str]] = {}
    for row in devices:
        found.setdefault(row.kind, Counter())[row.description] += 1
    return found


def _counted(counts: Mapping[str, int]) -> str:
    return formatting.listed([f"{count} × {name}" for name, count in counts.items() if count]) or "none"


def _length(length_m: float, values: Values) -> str:
    return formatting.length(length_m, values.units, values.locale)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
