"""Keys that files once had: whoever still writes one is told what to do instead."""

from collections.abc import Mapping

from pydantic import BaseModel

_UNUSED = "nothing was ever computed from it: remove it"
# Model, by its module and name, and key → what to do.
REMOVED: Mapping[tuple[str, str], str] = {
    ("devices.Charger", "forms"): "slot_groups says how many slots take which forms",
    ("devices.Charger", "links"): "pairs says whether a microphone in a slot is paired with the system",
    ("devices.Charger", "slots"): "slot_groups says how many slots take which forms",
    ("sound_devices.Loudspeaker", "cut_out"): _UNUSED,
    ("sound_devices.Loudspeaker", "highest_frequency"): _UNUSED,
    ("sound_devices.Loudspeaker", "lowest_frequency"): _UNUSED,
    ("devices.Microphone", "highest_frequency"): _UNUSED,
    ("devices.Microphone", "lowest_frequency"): _UNUSED,
    ("standby_supplies.StandbySupply", "conversion"): "transfer_time says it: remove it",
    ("library.Library", "charge_slots"): "slot_groups of each charger says how many slots take which forms",
    ("materials.AudioCable", "capacitance_pf_m"): _UNUSED,
    ("materials.Box", "widest_conduit"): _UNUSED,
    ("materials.Cable", "coldest_installation"): _UNUSED,
    ("materials.Conduit", "coupling_cost"): "conduit_fittings holds the couplings of each trade size",
    ("materials.Conduit", "elbow_cost"): "conduit_fittings holds the elbows of each trade size",
    ("materials.Conduit", "form"): _UNUSED,
    ("materials.Connector", "contact_resistance"): "rules.power.connector_resistance says it: remove it",
    ("materials.Connector", "insertions"): _UNUSED,
    ("materials.FibreCable", "armoured"): _UNUSED,
    ("parts.Radio", "antennas"): _UNUSED,
    ("rooms.RoomType", "spares_linked"): "spares_paired says whether spares keep a radio channel",
}


def removed(model: type[BaseModel], key: str) -> str:
    """Return what to do about a key that a model had once, empty where it never had it."""
    names = (f"{one.__module__.rpartition('.')[2]}.{one.__name__}" for one in model.__mro__)
    return next((REMOVED[name, key] for name in names if (name, key) in REMOVED), "")
