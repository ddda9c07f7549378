"""The equipment library: every entry by kind and model code, and how its layers are laid together.

A library file holds `source:` and, for each kind, entries by model code. Three layers are laid over one
another: the shared library that ships with the program, a company's own, a project's own.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from proposal.model.base import Written
from proposal.model.equipment.devices import (
    DEVICE_FIELDS,
    Accessory,
    AccessPoint,
    Breakout,
    Charger,
    Microphone,
    Mount,
    NetworkPart,
    Rack,
    RackPart,
    Switch,
)
from proposal.model.equipment.entry import (
    AWAITED,
    PRICE_FIELDS,
    UNKNOWN,
    Entry,
    Layer,
    ModelCode,
    awaited_of,
)
from proposal.model.equipment.materials import (
    MATERIAL_FIELDS,
    AudioCable,
    Box,
    Conduit,
    ConduitFitting,
    Connector,
    Consumable,
    DataCable,
    FibreCable,
    Label,
    LoudspeakerCable,
    Outlet,
    PatchCord,
    PatchPanel,
    Plate,
    Support,
    Tray,
)
from proposal.model.equipment.sound_devices import (
    Amplifier,
    AssistiveDevice,
    Loudspeaker,
    Mixer,
    WiredMicrophone,
)
from proposal.model.equipment.standby_supplies import StandbySupply

KIND_OF_FIELD: Mapping[str, str] = {
    field: entry.model_fields["kind"].default for field, entry in {**DEVICE_FIELDS, **MATERIAL_FIELDS}.items()
}
FIELD_OF_KIND: Mapping[str, str] = {kind: field for field, kind in KIND_OF_FIELD.items()}


class Library(Written):
    """Every entry there is, by kind and model code."""

    microphones: Mapping[ModelCode, Microphone] = Field(default={}, description="Microphones.")
    wired_microphones: Mapping[ModelCode, WiredMicrophone] = Field(
        default={}, description="Wired microphones."
    )
    accessories: Mapping[ModelCode, Accessory] = Field(default={}, description="What goes with microphones.")
    access_points: Mapping[ModelCode, AccessPoint] = Field(default={}, description="Access points.")
    chargers: Mapping[ModelCode, Charger] = Field(default={}, description="Chargers.")
    breakouts: Mapping[ModelCode, Breakout] = Field(default={}, description="Breakouts.")
    mixers: Mapping[ModelCode, Mixer] = Field(default={}, description="Automatic mixers.")
    switches: Mapping[ModelCode, Switch] = Field(default={}, description="Network switches.")
    amplifiers: Mapping[ModelCode, Amplifier] = Field(default={}, description="Amplifiers.")
    loudspeakers: Mapping[ModelCode, Loudspeaker] = Field(default={}, description="Loudspeakers.")
    racks: Mapping[ModelCode, Rack] = Field(default={}, description="Racks.")
    rack_parts: Mapping[ModelCode, RackPart] = Field(default={}, description="Parts for racks.")
    standby_supplies: Mapping[ModelCode, StandbySupply] = Field(default={}, description="Standby supplies.")
    assistive_devices: Mapping[ModelCode, AssistiveDevice] = Field(
        default={}, description="Assistive listening."
    )
    mounts: Mapping[ModelCode, Mount] = Field(default={}, description="Mounts.")
    network_parts: Mapping[ModelCode, NetworkPart] = Field(
        default={}, description="Fibre modules, PoE sources."
    )
    cables: Mapping[ModelCode, DataCable] = Field(default={}, description="Data cables.")
    loudspeaker_cables: Mapping[ModelCode, LoudspeakerCable] = Field(
        default={}, description="Loudspeaker cables."
    )
    audio_cables: Mapping[ModelCode, AudioCable] = Field(default={}, description="Analogue audio cables.")
    fibre_cables: Mapping[ModelCode, FibreCable] = Field(default={}, description="Fibre cables.")
    patch_cords: Mapping[ModelCode, PatchCord] = Field(default={}, description="Patch cords.")
    connectors: Mapping[ModelCode, Connector] = Field(default={}, description="Connectors.")
    patch_panels: Mapping[ModelCode, PatchPanel] = Field(default={}, description="Patch panels.")
    outlets: Mapping[ModelCode, Outlet] = Field(default={}, description="Outlets.")
    plates: Mapping[ModelCode, Plate] = Field(default={}, description="Plates.")
    boxes: Mapping[ModelCode, Box] = Field(default={}, description="Wall, floor and table boxes.")
    labels: Mapping[ModelCode, Label] = Field(default={}, description="Labels.")
    supports: Mapping[ModelCode, Support] = Field(default={}, description="Hooks and straps.")
    conduits: Mapping[ModelCode, Conduit] = Field(default={}, description="Conduit.")
    conduit_fittings: Mapping[ModelCode, ConduitFitting] = Field(
        default={}, description="Couplings and elbows of conduit."
    )
    trays: Mapping[ModelCode, Tray] = Field(default={}, description="Cable trays.")
    consumables: Mapping[ModelCode, Consumable] = Field(default={}, description="Consumables.")

    def of_kind(self, kind: str) -> Mapping[str, Entry]:
        """Return the entries of one kind by model code, in the order of the codes.

        kind: such as `access_point`, a key of FIELD_OF_KIND; KeyError where there is no such kind.
        """
        entries: Mapping[str, Entry] = getattr(self, FIELD_OF_KIND[kind])
        return dict(sorted(entries.items()))

    def entry(self, model: str) -> Entry:
        """Return the entry with a model code, unique over all kinds; KeyError where there is none."""
        for field in KIND_OF_FIELD:
            entries: Mapping[str, Entry] = getattr(self, field)
            if model in entries:
                return entries[model]
        raise KeyError(model)

    @property
    def systems(self) -> tuple[str, ...]:
        """Return the names of the systems that have microphones or access points, in order."""
        devices = (*self.microphones.values(), *self.access_points.values())
        return tuple(sorted({entry.works_with for entry in devices}))

    def entries(self) -> Iterator[Entry]:
        """Yield every entry, kind by kind, in the order of the codes."""
        for kind in FIELD_OF_KIND:
            yield from self.of_kind(kind).values()

    @model_validator(mode="after")
    def _codes_are_unique(self) -> "Library":
        """Refuse a model code that stands under two kinds, or that its entry contradicts."""
        kinds: dict[str, str] = {}
        for field in KIND_OF_FIELD:
            entries: Mapping[str, Entry] = getattr(self, field)
            for code, entry in entries.items():
                if code in kinds:
                    wanted = f"a model code of one kind; found {code} under {kinds[code]} and {field}"
                    raise PydanticCustomError("wanted", "{message}", {"message": f"wanted {wanted}"})
                if entry.model not in ("", code):
                    wanted = f"{code}, the key of the entry; found {entry.model}"
                    raise PydanticCustomError("wanted", "{message}", {"message": f"wanted {wanted}"})
                kinds[code] = field
        return self

    @model_validator(mode="after")
    def _packs_are_there(self) -> "Library":
        """Refuse a standby supply whose battery pack is no rack part with that role."""
        for code, supply in self.standby_supplies.items():
            part = self.rack_parts.get(supply.pack)
            if supply.pack and (part is None or part.role != "battery pack"):
                wanted = f"a rack part with the role battery pack under pack of {code}; found {supply.pack}"
                raise PydanticCustomError("wanted", "{message}", {"message": f"wanted {wanted}"})
        return self


def merge_patch(target: Any, patch: Any) -> Any:
    """Return `target` changed by a merge patch (RFC 7396): mappings merge, None removes, others replace."""
    if not isinstance(patch, Mapping):
        return patch
    merged = dict(target) if isinstance(target, Mapping) else {}
    for key, value in patch.items():
        if value is None:
            merged.pop(key, None)
        else:
            merged[key] = merge_patch(merged.get(key), value)
    return merged


def layered(files: Iterable[tuple[Layer, Mapping[str, Any]]]) -> dict[str, Any]:
    """Return the untyped library that results from laying files over one another.

    files: layer and content of each library file, lowest layer first. An entry with a known model code is a
        merge patch on it, so that it need name only what differs; an unknown code is an entry of its own;
        None in place of an entry takes it away.
    The result is ready for `Library.model_validate`: each entry has its model code, the highest layer that
    touched it, and its source word: its own, else the one at the top of the file that brought it in. What is
    malformed is passed on as it is, for validation to report.
    """
    library: dict[str, Any] = {}
    for layer, content in files:
        source = content.get("source")
        for field, patch in content.items():
            if field == "source":
                continue
            known = library.get(field)
            if field in KIND_OF_FIELD and isinstance(patch, Mapping):
                library[field] = _entries(known if isinstance(known, Mapping) else {}, patch, layer, source)
            else:
                library[field] = patch
    return library


def _entries(known: Mapping[str, Any], patch: Mapping[str, Any], layer: Layer, source: Any) -> dict[str, Any]:
    """Return the entries of one kind after one file."""
    entries = dict(known)
    for code, changed in patch.items():
        if changed is None:
            entries.pop(code, None)
        elif isinstance(changed, Mapping):
            before = entries.get(code)
            start = before if isinstance(before, Mapping) else _sourced(source)
            entry = _with_last_prices(start, merge_patch(start, changed), changed)
            entries[code] = {**entry, "model": entry.get("model") or code, "layer": layer}
        else:
            entries[code] = changed
    return entries


def _with_last_prices(
    before: Mapping[str, Any], entry: dict[str, Any], changed: Mapping[str, Any]
) -> dict[str, Any]:
    """Return an entry in which prices that are awaited are those of the layers below, where these have any.

    before, changed: the entry before a file, and what the file says of it.
    """
    said = [name for name in PRICE_FIELDS if name in changed]
    kept = [name for name in said if changed[name] == UNKNOWN and before.get(name) not in (None, UNKNOWN)]
    awaited = awaited_of(before)
    still = [name for name in awaited if name not in said]
    if not said or not (kept or awaited):
        return entry
    return {**entry, **{name: before[name] for name in kept}, AWAITED: tuple(sorted((*still, *kept)))}


def _sourced(source: Any) -> dict[str, Any]:
    return {} if source is None else {"source": source}


def file_schema() -> dict[str, Any]:
    """Return the JSON Schema of a library file; nothing is required in it, since an entry may be a patch."""
    schema: dict[str, Any] = Library.model_json_schema()
    for part in (schema, *schema["$defs"].values()):
        part.pop("required", None)
    for field in ("model", "layer"):
        for part in schema["$defs"].values():
            if "kind" in part.get("properties", {}):
                part["properties"].pop(field, None)
    for field in KIND_OF_FIELD:
        by_code = schema["properties"][field]["patternProperties"]
        for pattern, entry in by_code.items():
            by_code[pattern] = {"anyOf": [entry, {"type": "null"}]}  # None takes an entry away.
    schema["title"] = "Library file"
    schema["properties"] = {
        "source": {"type": "string", "description": "Where the figures of this file come from."},
        **schema["properties"],
    }
    return schema
