"""What a changed row and its fields are called, and under which subject a reader looks for them."""

import datetime
from collections.abc import Mapping

from proposal.differences.difference import Path
from proposal.differences.keys import KEYS, Key
from proposal.differences.places import kind_at, quantities_at
from proposal.document import formatting
from proposal.document.quantities import Quantity, quantities_of

ROOMS, EQUIPMENT, CABLES, LENGTHS, PATHWAYS = "Rooms", "Equipment", "Cables", "Lengths", "Pathways"
PORTS, ADDRESSES, POWER, SOUND, RADIO = "Ports", "Addresses", "Power", "Sound and network", "Radio"
CHECKS, LABOUR, PRICE, PROGRAMME = "Checks", "Labour", "Price", "Programme"
DRAWINGS, WORDING = "Drawings", "Wording and terms"
SUBJECTS = (
    ROOMS,
    EQUIPMENT,
    CABLES,
    LENGTHS,
    PATHWAYS,
    PORTS,
    ADDRESSES,
    POWER,
    SOUND,
    RADIO,
    CHECKS,
    LABOUR,
    PRICE,
    PROGRAMME,
    DRAWINGS,
    WORDING,
)

# Field of the document → subject, and what one row is called; empty where the row's key says it.
FIELDS: Mapping[str, tuple[str, str]] = {
    "schema_version": (WORDING, ""),
    "program_version": (WORDING, ""),
    "cover": (WORDING, "cover"),
    "wording": (WORDING, "prose"),
    "storeys": (ROOMS, "storey"),
    "equipment_rooms": (ROOMS, "equipment room"),
    "room_sheets": (ROOMS, "kind of room"),
    "rooms": (ROOMS, "room"),
    "devices": (EQUIPMENT, "device"),
    "equipment": (EQUIPMENT, "model"),
    "equipment_cost": (PRICE, ""),
    "takeoff": (CABLES, "take-off"),
    "reel_orders": (CABLES, "reels of"),
    "materials_cost": (PRICE, ""),
    "labour": (LABOUR, ""),
    "labour_summary": (LABOUR, "summary"),
    "travel": (LABOUR, "travel"),
    "trades": (LABOUR, "trade"),
    "hours_by_room": (LABOUR, "hours of"),
    "hours_by_system": (LABOUR, "hours of"),
    "hours_by_phase": (LABOUR, "hours of"),
    "labour_conditions": (LABOUR, "condition"),
    "labour_hours": (LABOUR, ""),
    "included_alternates": (PRICE, "alternate"),
    "price_wording": (PRICE, "prose of the price"),
    "price": (PRICE, "price"),
    "offer": (PRICE, "offer"),
    "room_prices": (PRICE, "price of"),
    "system_prices": (PRICE, "price of"),
    "phase_prices": (PRICE, "price of"),
    "group_prices": (PRICE, "price of"),
    "taxes": (PRICE, "tax"),
    "payments": (PRICE, "payment"),
    "unit_prices": (PRICE, "unit price"),
    "yearly": (PRICE, "yearly"),
    "exchange_rates": (PRICE, "exchange rate"),
    "price_lines": (PRICE, "price line"),
    "surcharges": (PRICE, "surcharge"),
    "cash_flow": (PRICE, "cash flow"),
    "riser_lines": (CABLES, "cables of"),
    "cable_totals": (CABLES, "all cables"),
    "cables": (CABLES, "cable"),
    "switches": (POWER, "switch"),
    "nodes": (PATHWAYS, "node"),
    "pathways": (PATHWAYS, "pathway"),
    "pathway_contents": (PATHWAYS, "contents of"),
    "pulls": (PATHWAYS, "pull through"),
    "ports": (PORTS, "port"),
    "channels": (SOUND, "channel of"),
    "streams": (SOUND, "stream"),
    "audio_ends": (SOUND, "audio end"),
    "settings": (SOUND, "setting"),
    "controls": (SOUND, "control point"),
    "radio": (RADIO, "radio"),
    "margins": (RADIO, "level of"),
    "radio_places": (RADIO, "place of"),
    "neighbourhoods": (RADIO, "neighbourhood"),
    "further": (RADIO, "room for more in"),
    "radio_cases": (RADIO, "assumption"),
    "disturbances": (RADIO, "disturbance of"),
    "programme": (PROGRAMME, "programme"),
    "activities": (PROGRAMME, "activity"),
    "crew_loads": (PROGRAMME, "crew"),
    "workings": (CHECKS, "calculation"),
    "finding_count": (CHECKS, "findings"),
    "findings": (CHECKS, "finding"),
    "assumptions": (CHECKS, "assumption"),
    "questions": (CHECKS, "open question"),
    "cautions": (WORDING, "caution"),
    "work_cautions": (WORDING, "caution"),
    "scope": (WORDING, ""),
    "exclusions": (WORDING, ""),
    "standing_assumptions": (WORDING, ""),
    "parties": (WORDING, ""),
    "responsibilities": (WORDING, "who does what"),
    "sheets": (DRAWINGS, "sheet"),
    "detail_sheets": (DRAWINGS, "sheet"),
    "check_sheets": (DRAWINGS, "sheet"),
}
# Fields that belong to another subject than their row: collection and field.
_ELSEWHERE: Mapping[tuple[str, str], str] = {
    ("devices", "address"): ADDRESSES,
    ("devices", "host"): ADDRESSES,
    ("devices", "switch_port"): PORTS,
    ("devices", "typical_w"): POWER,
    ("devices", "maximum_w"): POWER,
    ("devices", "poe_class"): POWER,
    ("devices", "unit_cost"): PRICE,
    ("equipment", "unit_list"): PRICE,
    ("equipment", "unit_cost"): PRICE,
    ("equipment", "cost"): PRICE,
    ("takeoff", "unit_cost"): PRICE,
    ("takeoff", "cost"): PRICE,
    ("reel_orders", "cost"): PRICE,
    ("reel_orders", "bound"): PRICE,
    ("switches", "ports"): PORTS,
    ("switches", "used"): PORTS,
    ("switches", "spare"): PORTS,
    ("switches", "spare_wanted"): PORTS,
    ("streams", "group"): ADDRESSES,
    ("channels", "group"): ADDRESSES,
    ("controls", "address"): ADDRESSES,
}
_MEASURED = ("riser_lines", "cable_totals", "cables", "takeoff", "reel_orders")
_PARTS: Mapping[str, str] = {
    "microphones": "microphone",
    "sizes": "size",
    "destinations": "destination",
    "returns": "return",
    "flow_nodes": "box of the signal flow",
    "flow_edges": "signal",
    "mutes": "mute rule",
    "day": "meeting day",
    "packs": "batteries of",
    "level_map": "level map",
    "history": "revision",
    "revision": "revision",
    "reels": "reel",
    "events": "event",
    "days_off": "days off",
    "days_set": "day set",
}
_LABELS: Mapping[str, str] = {
    "at": "position",
    "limit_m": "limit of the link",
    "estimated_m": "routed length",
    "length_m": "length",
    "levels_dbm": "levels",
    "poe_class": "class of power over Ethernet",
    "vlan": "VLAN",
    "unit_list": "list price",
}
# Quantity → the unit at the end of its fields' names, which no reader is told.
_ENDINGS: Mapping[Quantity, str] = {
    "length": "_m",
    "small length": "_m",
    "area": "_m2",
    "watts": "_w",
    "volts": "_v",
    "ohms": "_ohm",
    "dB": "_db",
    "dBm": "_dbm",
    "hertz": "_hz",
    "bits per second": "_bit_s",
    "weight": "_kg",
    "temperature": "_c",
    "newtons": "_n",
    "hours": "_h",
    "minutes": "_min",
}
_ELECTRICAL: frozenset[tuple[Quantity, ...]] = frozenset({("watts",), ("volts",), ("ohms",)})


def subject_of(path: Path) -> str:
    """Return the subject under which a change at a path is listed.

    path: of a field or a row, its first step a field of the document.
    """
    collection, last = str(path[0]), path[-1]
    if isinstance(last, str):
        found = _ELSEWHERE.get((collection, last))
        if found is not None:
            return found
        held = quantities_at(path)
        if collection in _MEASURED and held == ("length",):
            return LENGTHS
        if collection == "ports" and (held in _ELECTRICAL or last in ("priority", "verdict")):
            return POWER
    return FIELDS.get(collection, (WORDING, ""))[0]


def label_of(field: str, held: tuple[Quantity, ...] = ()) -> str:
    """Return what a field is called, without its unit.

    held: what the field holds.
    """
    if field in _LABELS:
        return _LABELS[field]
    if len(held) == 1:
        field = field.removesuffix(_ENDINGS.get(held[0], ""))
    return field.replace("_", " ")


def name_of(path: Path, titles: Mapping[str, str], locale: str) -> str:
    """Return what a row is called, such as `cable A101-AP1/N1/ER2-RK1`.

    path: of the row, or of a single part of the document.
    titles: of kinds of room, by their keys.
    locale: of the reader, for dates.
    """
    words: list[str] = []
    for place, step in enumerate(path):
        if isinstance(step, tuple):
            shown = _joined(str(path[place - 1]), _in_words(path[: place + 1], step, locale), titles)
            words[-1] = f"{words[-1]} {shown}".strip()
        else:
            words.append(
                FIELDS.get(step, (WORDING, label_of(step)))[1]
                if place == 0
                else _PARTS.get(step, label_of(step))
            )
    return ", ".join(word for word in words if word) or label_of(str(path[0]))


def _in_words(path: Path, key: Key, locale: str) -> Key:
    """Return the key of a row as its reader expects it: dates in words, nothing for one that is not set."""
    row = kind_at(path)
    held = [quantities_of(row)[name] for name in KEYS.get(row, ())]
    return tuple(
        _day(part, locale) if place < len(held) and held[place] == ("date",) else part
        for place, part in enumerate(key)
    )


def _day(part: str, locale: str) -> str:
    return "" if part == str(None) else formatting.date(datetime.date.fromisoformat(part), locale)


def _joined(collection: str, key: tuple[str, ...], titles: Mapping[str, str]) -> str:
    parts = [part for part in key if part]
    if collection == "room_sheets":
        return titles.get(key[0], key[0])
    if collection == "ports":
        return "/".join(parts)
    if collection in ("hours_by_room", "room_prices") and not parts:
        return "the building"
    if collection == "workings":
        return f"{parts[1]}: {' '.join(parts[2:])}" if len(parts) > 2 else " ".join(parts)
    if collection == "flow_edges":
        start, end, signal, returning, *cable = key
        back = ", return audio" if returning == "True" else ""
        return ", ".join([f"{start} to {end}", f"{signal}{back}", *(one for one in cable if one)])
    if collection == "findings":
        return ", ".join(reversed(parts))
    return ", ".join(parts)
