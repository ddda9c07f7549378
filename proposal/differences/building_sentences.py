"""What changed about the building as a whole, in sentences that a client understands."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from proposal.differences.changes import Changes
from proposal.differences.room_sentences import OWNERS_DEVICE
from proposal.document.document import Document
from proposal.document.rows.owner_equipment import OwnerEquipmentRow
from proposal.document.values import values_of
from proposal.quantities import formatting


def building_sentences(changes: Changes) -> tuple[str, ...]:
    """Return what changed about equipment rooms, the client's own equipment and cable.

    changes: of one reader.
    """
    before, after = changes.before.document, changes.after.document
    return (
        *_equipment_rooms(before, after),
        *_owner_equipment(before.owner_equipment, after.owner_equipment),
        *_shared_equipment(before, after),
        *_cables(before, after),
    )


def _equipment_rooms(before: Document, after: Document) -> Iterator[str]:
    then, now = ({row.tag: row.name for row in one.equipment_rooms} for one in (before, after))
    for words, names in (
        ("New equipment rooms", [f"{name} ({tag})" for tag, name in now.items() if tag not in then]),
        ("No longer equipment rooms", [f"{name} ({tag})" for tag, name in then.items() if tag not in now]),
    ):
        if names:
            yield f"{words}: {formatting.listed(names)}."


def _owner_equipment(old: Sequence[OwnerEquipmentRow], new: Sequence[OwnerEquipmentRow]) -> Iterator[str]:
    then, now = {row.tag: row.name for row in old}, {row.tag: row.name for row in new}
    for words, names in (
        ("Equipment of your own that is now joined", [name for tag, name in now.items() if tag not in then]),
        (
            "Equipment of your own that is no longer joined",
            [name for tag, name in then.items() if tag not in now],
        ),
    ):
        if names:
            yield f"{words}: {_counted(Counter(names))}."


def _shared_equipment(before: Document, after: Document) -> Iterator[str]:
    """Yield models of which equipment rooms hold another number."""
    then, now = _in_equipment_rooms(before), _in_equipment_rooms(after)
    more = {name: now[name] - then[name] for name in now if now[name] > then[name]}
    fewer = {name: then[name] - now[name] for name in then if then[name] > now[name]}
    if more:
        yield f"More in the equipment rooms: {_counted(more)}."
    if fewer:
        yield f"Fewer in the equipment rooms: {_counted(fewer)}."


def _in_equipment_rooms(document: Document) -> Counter[str]:
    tags = {row.tag for row in document.equipment_rooms}
    return Counter(
        row.description for row in document.devices if row.room in tags and row.kind != OWNERS_DEVICE
    )


def _cables(before: Document, after: Document) -> Iterator[str]:
    values = values_of(after)
    then, now = (sum(row.length_m for row in one.cable_totals) for one in (before, after))
    shown = [formatting.length(one, values.units, values.locale) for one in (then, now)]
    if shown[0] != shown[1]:
        yield f"All cables together are {shown[1]} long; before, {shown[0]}."
    old, new = ({row.type: row.description for row in one.cable_totals} for one in (before, after))
    come = sorted(name for model, name in new.items() if model not in old)
    gone = sorted(name for model, name in old.items() if model not in new)
    if come:
        instead = f"; no longer used: {'; '.join(gone)}" if gone else ""
        yield f"New types of cable: {'; '.join(come)}{instead}."
    elif gone:
        yield f"Types of cable no longer used: {'; '.join(gone)}."


def _counted(counts: Mapping[str, int]) -> str:
    return formatting.listed([name if count == 1 else f"{count} × {name}" for name, count in counts.items()])
