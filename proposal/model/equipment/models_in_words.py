"""The models of a library as a list to read: what can be written where a model code is wanted."""

from collections.abc import Iterator

from proposal.model.equipment.devices import AccessPoint, Charger, Microphone, SystemDevice
from proposal.model.equipment.entry import Device, Entry
from proposal.model.equipment.library import FIELD_OF_KIND, Library
from proposal.model.equipment.sound_devices import WiredMicrophone


def models_in_words(library: Library) -> Iterator[str]:
    """Yield the lines of a list of all models, kind by kind: code, what it is, and what it needs.

    library: with all its layers.
    """
    yield f"systems of microphones: {', '.join(library.systems)}"
    for kind in FIELD_OF_KIND:
        entries = library.of_kind(kind)
        if not entries:
            continue
        yield ""
        yield f"{FIELD_OF_KIND[kind].replace('_', ' ')} ({kind})"
        width = max(map(len, entries))
        for code, entry in entries.items():
            told = "; ".join(filter(None, (entry.description, *_told(entry))))
            yield f"  {code:<{width}}  {told}"


def _told(entry: Entry) -> Iterator[str]:
    """Yield what else decides on a model, a phrase each: its system, what it takes, where it can stand."""
    if isinstance(entry, SystemDevice):
        yield f"system {entry.works_with}"
    if isinstance(entry, Microphone | WiredMicrophone):
        yield f"form {entry.form}"
    if isinstance(entry, Charger):
        yield f"{entry.slots} slots"
    if isinstance(entry, AccessPoint):
        pairs = entry.radio.slot_pairs
        yield f"{pairs} slot pair{'s' if pairs > 1 else ''} a link"
    if isinstance(entry, Device):
        yield from _needs(entry)


def _needs(entry: Device) -> Iterator[str]:
    if entry.poe is not None:
        yield f"PoE class {entry.poe.device_class}"
    if entry.mains is not None:
        yield f"mains {entry.mains.maximum:g} W"
    if entry.rack_units:
        yield f"{entry.rack_units} rack unit{'s' if entry.rack_units > 1 else ''}"
    if entry.mounting:
        yield f"mounting {' or '.join(entry.mounting)}"
