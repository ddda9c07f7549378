"""What goes on in each room, and for how long, and what goes down when the mains fails, in words."""

from collections.abc import Iterator, Mapping, Sequence

from proposal.document.document import Document
from proposal.document.rows.standby import RoomWithoutMainsRow
from proposal.quantities.code_runs import code_phrase
from proposal.quantities.formatting import count_of, listed

_SOUND_ENDS = "amplifier"
"""Kind of device without which nothing is heard over loudspeakers."""
ALL_STOPS = "everything stops until the mains is back."


def mains_failure(document: Document) -> Iterator[str]:
    """Yield sentences on what goes on, and for how long, and what goes down when the mains fails.

    document: with its rooms, devices and what each room keeps without mains.
    """
    names = {row.tag: row.name for row in document.rooms}
    told = without_mains(document)
    for words, tags in told.items():
        if words == ALL_STOPS and len(told) == 1:
            yield f"Everywhere {words}"
        else:
            yield f"In {code_phrase(names[tag] for tag in tags)} {words}"


def without_mains(document: Document) -> Mapping[str, tuple[str, ...]]:
    """Return the tags of the rooms by what happens in them when the mains fails, those that stop last.

    document: with its rooms, devices and what each room keeps without mains.
    """
    names = {row.tag for row in document.rooms}
    rows = [row for row in document.rooms_without_mains if row.place in names]
    kinds = {row.tag: row.kind for row in document.devices}
    kinds |= {row.tag: "your own equipment" for row in document.owner_equipment}
    down = {tag for row in document.rooms_without_mains for tag in row.goes}
    elsewhere = [row for row in document.owner_equipment if row.tag in down]
    grouped: dict[str, tuple[str, ...]] = {}
    for row in sorted(rows, key=lambda row: row.keeps == "all goes down"):
        gone = (*row.goes, *(one.tag for one in elsewhere if row.place in one.serves))
        words = ALL_STOPS if row.keeps == "all goes down" else _kept(document, row, gone, kinds)
        grouped[words] = (*grouped.get(words, ()), row.place)
    return grouped


def _kept(document: Document, row: RoomWithoutMainsRow, gone: Sequence[str], kinds: Mapping[str, str]) -> str:
    """Return what the standby supply keeps going in a room, and what stops."""
    goes = _of_kinds(gone, kinds)
    ending = f", while {goes} stop" if goes else ""
    silent = any(kinds.get(tag) == _SOUND_ENDS for tag in gone)
    then = " Nobody is heard there until the mains is back; what is kept going need not start again."
    return (
        f"the standby supply keeps {_of_kinds(row.stays, kinds)} going{_lasting(document, row)}{ending}."
        f"{then if silent else ''}"
    )


def _lasting(document: Document, row: RoomWithoutMainsRow) -> str:
    """Return for how long what stays up in a room does, at the usual load and at the highest."""
    if row.lasts_min is None:
        return ""
    feeding = [one for one in document.standby_supplies if set(one.feeds) & set(row.stays)]
    full_min = min((one.full_min for one in feeding if one.full_min is not None), default=row.lasts_min)
    usual = f" for about {count_of(int(row.lasts_min), 'minute')}"
    if full_min >= row.lasts_min:
        return usual
    return f"{usual} at the usual load and {count_of(int(full_min), 'minute')} at the highest"


def _of_kinds(tags: Sequence[str], kinds: Mapping[str, str]) -> str:
    """Return the kinds of some devices as a phrase: what people know, loudspeakers for their amplifier."""
    found = dict.fromkeys(kinds[tag] for tag in tags if tag in kinds)
    words = ["loudspeakers" if one == _SOUND_ENDS else one for one in found]
    return listed([one if one.endswith("s") or one.startswith("your") else f"{one}s" for one in words])
