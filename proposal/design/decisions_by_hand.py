"""Decisions by hand that cannot be kept: about things that do not exist, or with models of another kind."""

from collections.abc import Iterator, Sequence

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import cable_entries
from proposal.design.equipment.placed_devices import Placed
from proposal.field_classes import dataclass
from proposal.model.project import Path, Project


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongDecision:
    """A decision of fixed.yaml that cannot be kept.

    path: where it stands.
    wanted: what was wanted, in words; known: the names that would do.
    found: what stands there.
    """

    path: Path
    wanted: str
    known: tuple[str, ...]
    found: str


_CABLE_WORDS = {
    "cable": "a data cable",
    "loudspeaker_cable": "a loudspeaker cable",
    "audio_cable": "an audio cable",
    "fibre_cable": "a fibre cable",
}
_CABLE_KINDS = {
    "network": "cable",
    "loudspeaker line": "loudspeaker_cable",
    "analogue": "audio_cable",
    "fibre": "fibre_cable",
}


def wrong_decisions(
    project: Project, devices: Sequence[Placed], cables: Sequence[Cable]
) -> tuple[WrongDecision, ...]:
    """Return the decisions that cannot be kept, in the order of fixed.yaml's parts.

    devices, cables: all of the design.
    """
    return (*_devices(project, devices), *_cables(project, cables))


def _devices(project: Project, devices: Sequence[Placed]) -> Iterator[WrongDecision]:
    kinds = {device.tag: device.kind for device in devices}
    racks = {device.tag for device in devices if device.kind == "rack"}
    in_racks = {device.tag for device in devices if device.location in racks and device.kind != "rack"}
    for tag, fixed in project.fixed.devices.items():
        if tag not in kinds:
            path: Path = ("fixed", "devices", tag)
            yield WrongDecision(path=path, wanted="a device of this project", known=tuple(kinds), found=tag)
        elif fixed.model and fixed.model not in _models(project, kinds[tag]):
            kind = "PoE source" if kinds[tag] == "network_part" else kinds[tag].replace("_", " ")
            yield WrongDecision(
                path=("fixed", "devices", tag, "model"),
                wanted=f"{'an' if kind[0] in 'aeiou' else 'a'} {kind} of the library",
                known=_models(project, kinds[tag]),
                found=fixed.model,
            )
        if tag in kinds and (fixed.rack or fixed.rack_unit is not None) and tag not in in_racks:
            yield WrongDecision(
                path=("fixed", "devices", tag, "rack" if fixed.rack else "rack_unit"),
                wanted="a device that stands in a rack",
                known=tuple(sorted(in_racks)),
                found=tag,
            )
        elif tag in kinds and fixed.rack and fixed.rack not in racks:
            yield WrongDecision(
                path=("fixed", "devices", tag, "rack"),
                wanted="a rack of this project",
                known=tuple(sorted(racks)),
                found=fixed.rack,
            )


def _models(project: Project, kind: str) -> tuple[str, ...]:
    """Return the models that a device may have by hand: of network parts, PoE sources alone are devices."""
    parts = project.library.network_parts
    models = project.library.of_kind(kind)
    return tuple(code for code in models if code not in parts or parts[code].role == "PoE source")


def _cables(project: Project, cables: Sequence[Cable]) -> Iterator[WrongDecision]:
    signals = {cable.identity: cable.signal for cable in cables}
    taken = {cable.identity: cable.route.pathways for cable in cables}
    entries = cable_entries(project)
    for identity, fixed in project.fixed.cables.items():
        if identity not in signals:
            path: Path = ("fixed", "cables", identity)
            yield WrongDecision(
                path=path, wanted="a cable of this project", known=tuple(signals), found=identity
            )
            continue
        if not set(fixed.route) <= set(taken[identity]):
            yield WrongDecision(
                path=("fixed", "cables", identity, "route"),
                wanted="a cable that leaves its rack, or the switch that it is plugged into",
                known=(),
                found=identity,
            )
        if fixed.type:
            kind = _CABLE_KINDS[signals[identity]]
            known = tuple(code for code, entry in sorted(entries.items()) if entry.kind == kind)
            if fixed.type not in known:
                yield WrongDecision(
                    path=("fixed", "cables", identity, "type"),
                    wanted=f"{_CABLE_WORDS[kind]} of the library",
                    known=known,
                    found=fixed.type,
                )
