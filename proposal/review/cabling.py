"""Rules about cables: link, channel, cords, screen, conductor, jacket, temperature."""

import math
from collections.abc import Iterator

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_checks import LinkChecks
from proposal.design.connections.cable_choice import cable_entries
from proposal.design.connections.cable_ends import CableEnds, label_of
from proposal.design.connections.patch_cords import Cord, cord, longest_cord_m
from proposal.design.design import Design
from proposal.errors import Place
from proposal.model.equipment.materials import DataCable
from proposal.model.project import Path, Project
from proposal.quantities.units import in_units
from proposal.review.cable_remedies import other_cables
from proposal.review.finding import Finding, Rule, at_least_words, counted, length_words, written_place
from proposal.review.link_remedies import LinkRemedies
from proposal.standards.sources import COMMON_PRACTICE, EDITABLE_DEFAULT, Source
from proposal.standards.tia568 import (
    CHANNEL_LIMIT,
    CORD_TABLE,
    FROM_TEMPERATURE_RISE,
    TIA_568_2,
    WARMEST_CABLE_C,
)

THICKEST_CORD_AWG = 24
"""Of the gauges that cords may have."""
COPPER_CLAD = Source("ANSI/TIA-568.2-D", clause="conductors of copper", memory=True)


def links(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each link, channel or cords over the limit, a warning for links near it."""
    remedies = LinkRemedies(project, design)
    for cable in design.cables:
        if cable.checked:
            yield from _link(project, remedies, cable, cable.checked)
            yield from _channel(project, remedies, cable, cable.checked)
            yield from _cords(project, cable, cable.checked)


def _link(project: Project, remedies: LinkRemedies, cable: Cable, checked: LinkChecks) -> Iterator[Finding]:
    if checked.link.verdict == "fails":
        yield Finding(
            rule="link-too-long",
            severity="error",
            where=cable.identity,
            place=_length_place(project, cable),
            message="The permanent link is longer than its temperature allows.",
            value=cable.length_m,
            limit=checked.limit_m,
            unit="m",
            source=FROM_TEMPERATURE_RISE if any(rise.result for rise in checked.rises) else TIA_568_2,
            remedy=remedies.remedy(cable),
        )
    elif _near_limit(project, cable, checked.limit_m):
        yield Finding(
            rule="link-near-limit",
            severity="warning",
            where=cable.identity,
            place=_length_place(project, cable),
            message="The permanent link comes close to its limit; a detour on site, or an estimate that is "
            "too short, would break it.",
            value=cable.length_m,
            limit=checked.limit_m,
            unit="m",
            source=COMMON_PRACTICE,
            remedy="Keep to the route that was measured."
            if cable.measured
            else _to_keep(project, cable, checked.limit_m),
        )


def _to_keep(project: Project, cable: Cable, limit_m: float) -> str:
    """Return what to measure on site, and how much longer the cable may turn out."""
    spare_m = min(limit_m, CHANNEL_LIMIT.value - cable.cords_m) - cable.length_m
    value, unit = in_units(max(0.0, spare_m), "length", project.brief.units)
    return (
        "Measure the route on site before ordering, and keep to it: it may turn out "
        f"{math.floor(value * 10 + 1e-6) / 10:.1f} {unit} longer at most."
    )


def _near_limit(project: Project, cable: Cable, limit_m: float) -> bool:
    """Say whether a link comes close to its limit, or passes one where its estimate is too short."""
    if limit_m - cable.length_m < project.brief.rules.review.near_limit * limit_m:
        return True
    longest_m = cable.length_m * (1 + project.brief.rules.takeoff.length_tolerance)
    longest_channel_m = longest_m + cable.cords_m
    return not cable.measured and (longest_m > limit_m or longest_channel_m > CHANNEL_LIMIT.value)


def _channel(
    project: Project, remedies: LinkRemedies, cable: Cable, checked: LinkChecks
) -> Iterator[Finding]:
    if checked.channel.verdict == "fails":
        only_cords = checked.link.verdict != "fails" and cable.cords_m > cable.channel_m - CHANNEL_LIMIT.value
        over = at_least_words(cable.channel_m - CHANNEL_LIMIT.value, project.brief.units)
        yield Finding(
            rule="channel-too-long",
            severity="error",
            where=cable.identity,
            place=_length_place(project, cable),
            message="Link and cords together are too long.",
            value=cable.channel_m,
            limit=CHANNEL_LIMIT.value,
            unit="m",
            source=TIA_568_2,
            remedy=f"Use cords that are {over} shorter together." if only_cords else remedies.remedy(cable),
        )


def _cords(project: Project, cable: Cable, checked: LinkChecks) -> Iterator[Finding]:
    """Yield an error for cords together, else for the one at the device, that the link does not allow."""
    at_device_m = sum(one.length_m for one in cable.cords if one.at == "device")
    held = (
        (checked.cords, cable.cords_m, "The cords are longer than the link allows."),
        (checked.device_cord, at_device_m, "The cord at the device is longer than is allowed for it."),
    )
    for check, found_m, message in held:
        if check is None or check.verdict != "fails":
            continue
        rules: Path = ("project", "rules", "cabling")
        over = at_least_words(found_m - check.result, project.brief.units)
        yield Finding(
            rule="cords-too-long",
            severity="error",
            where=cable.identity,
            place=written_place(
                project,
                (*rules, "device_cord"),
                (*rules, "equipment_cord"),
                (*rules, "cord_gauge"),
                ("rooms", cable.room),
            ),
            message=message,
            value=found_m,
            limit=check.result,
            unit="m",
            source=CORD_TABLE,
            remedy=f"Use cords that are {over} shorter, or some with conductors thicker than "
            f"{project.brief.rules.cabling.cord_gauge} AWG (cord_gauge)."
            if project.brief.rules.cabling.cord_gauge > THICKEST_CORD_AWG
            else f"Use cords that are {over} shorter.",
        )
        return


def _length_place(project: Project, cable: Cable) -> Place:
    if cable.measured:
        return project.place("fixed", "cables", cable.identity, "length")
    return written_place(project, ("fixed", "devices", cable.start, "at"), ("rooms", cable.room))


def _model_place(project: Project, cable: Cable) -> Place:
    """Return where the cable's model was chosen, else the room that the cable serves."""
    return written_place(
        project,
        ("fixed", "cables", cable.identity, "type"),
        *((("project", "rules", "cabling", "data_cable"),) if cable.signal == "network" else ()),
        ("rooms", cable.room),
    )


def materials(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for cables of the wrong make: none, no screen, not copper, no riser jacket, too warm."""
    entries = cable_entries(project)
    free = " free of halogens" if project.brief.rules.cabling.halogen_free else ""
    for cable in design.cables:
        entry = entries.get(cable.model)
        if entry is None:
            yield Finding(
                rule="no-cable",
                severity="error",
                where=cable.identity,
                place=project.place("rooms", cable.room),
                message=f"The library has no cable{free} that suits this {_signal_words(cable)}.",
                source=EDITABLE_DEFAULT,
                remedy=other_cables(project, design, cable),
            )
            continue
        place = _model_place(project, cable)
        if isinstance(entry, DataCable):
            yield from _make(cable, entry, place, other_cables(project, design, cable))
        if cable.start_storey != cable.end_storey and not entry.jacket.riser:
            yield Finding(
                rule="jacket-not-for-risers",
                severity="error",
                where=cable.identity,
                place=place,
                message=f"The cable changes storeys; the jacket of {cable.model} is not for that.",
                source=COMMON_PRACTICE,
                remedy=other_cables(project, design, cable),
            )
        warmest_c = min(entry.temperature_rating, WARMEST_CABLE_C if cable.checked else 1000.0)
        if cable.temperature_c > warmest_c:
            yield Finding(
                rule="cable-too-warm",
                severity="error",
                where=cable.identity,
                place=written_place(
                    project,
                    ("building", "ceiling_temperature"),
                    ("project", "rules", "pathways", "bundle"),
                    ("building",),
                ),
                message="The cable gets warmer than it is rated for, or than the standard covers.",
                value=cable.temperature_c,
                limit=warmest_c,
                unit="°C",
                source=TIA_568_2,
                remedy=other_cables(project, design, cable)
                if cable.temperature_c > entry.temperature_rating
                else _cooler(design, cable, cable.temperature_c - warmest_c),
            )


def _cooler(design: Design, cable: Cable, over_k: float) -> str:
    """Return what makes a cable cooler: another way, and smaller bundles where these warm it so much.

    over_k: by how much it is too warm, K.
    """
    rises = [
        (one.bundle.rise.result, one.tag)
        for one in design.pathways
        if one.bundle and one.bundle.rise and any(other.identity == cable.identity for other in one.cables)
    ]
    rise_k, tag = max(rises, default=(0.0, ""))
    way = f"Take a way through spaces that are {over_k:.1f} K cooler or more"
    return f"{way}, or tie smaller bundles in {tag}." if rise_k > over_k else f"{way}."


def _signal_words(cable: Cable) -> str:
    return {"network": "network link", "analogue": "analogue line", "fibre": "fibre link"}.get(
        cable.signal, cable.signal
    )


def _make(cable: Cable, entry: DataCable, place: Place, remedy: str) -> Iterator[Finding]:
    if cable.screened_wanted and not entry.screened:
        yield Finding(
            rule="screen-missing",
            severity="error",
            where=cable.identity,
            place=place,
            message=f"{cable.start} asks for a screened cable; {cable.model} has no screen.",
            source=COMMON_PRACTICE,
            remedy=remedy,
        )
    if entry.conductor != "copper":
        yield Finding(
            rule="not-copper",
            severity="error",
            where=cable.identity,
            place=place,
            message=f"The conductors of {cable.model} are {entry.conductor}.",
            source=COPPER_CLAD,
            remedy=remedy,
        )
    if entry.stranding != "solid":
        yield Finding(
            rule="not-solid",
            severity="error",
            where=cable.identity,
            place=place,
            message=f"{cable.model} is stranded; permanent links take solid conductors.",
            source=TIA_568_2,
            remedy=remedy,
        )


def cords(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each room with cords that the library does not have."""
    rules: Path = ("project", "rules", "cabling")
    lacking: dict[tuple[str, Cord], list[str]] = {}
    for cable in design.cables:
        for one in cable.cords:
            if not one.model:
                lacking.setdefault((cable.room, one), []).append(cable.identity)
    room_of = {device.tag: device.room for device in design.devices}
    in_rack = cord(project, "rack", None)
    if in_rack and not in_rack.model:
        for port in design.ports:
            if not port.attached.cable:
                lacking.setdefault((room_of[port.attached.tag], in_rack), []).append(port.attached.tag)
    for (room, one), causes in lacking.items():
        field = "equipment_cord" if one.at == "rack" else "device_cord"
        screen = ", screened" if one.screened else ""
        wanted = length_words(one.wanted_m, project.brief.units)
        yield Finding(
            rule="no-cord",
            severity="error",
            where=room,
            place=written_place(project, (*rules, field), (*rules, "cord_gauge"), ("project",)),
            message=f"The library has no patch cord of category {one.category}{screen}, with conductors of "
            f"{project.brief.rules.cabling.cord_gauge} AWG or thicker and {wanted} or longer, for "
            f"{counted(len(causes), 'end')} at the {one.at}.",
            source=EDITABLE_DEFAULT,
            remedy=_such_a_cord(project, one, f"rules.cabling.{field}", wanted),
        )


def _such_a_cord(project: Project, one: Cord, rule: str, wanted: str) -> str:
    """Return which cord to add, and to what the rule may be lowered where a shorter one would suit.

    rule: that asks for its length.  wanted: that length, in words.
    """
    longest_m = longest_cord_m(project, one)
    units = project.brief.units
    lower = f", or write {rule}: {length_words(longest_m, units)}" if longest_m else ""
    return f"Add a patch cord {wanted} long or longer to the project's or the company's library{lower}."


def ends(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each end of a cable for which the library has no connector or outlet."""
    made_off = CableEnds(project, design.devices, design.every_entry)
    for cable in design.cables:
        for end in made_off.of(cable):
            if end.bought and not end.models:
                yield Finding(
                    rule="no-connector",
                    severity="warning",
                    where=cable.identity,
                    place=_model_place(project, cable),
                    message=f"The library has no {end.wanted} that takes {cable.model} at {end.tag}: none is "
                    "counted or priced.",
                    source=EDITABLE_DEFAULT,
                    remedy=_fitting_remedy(project, cable.signal),
                )


_CONNECTORS_FOR = {"analogue": "analogue audio", "loudspeaker line": "loudspeaker"}
"""What the library calls the signal of a connector, by what a cable carries."""


def _fitting_remedy(project: Project, signal: str) -> str:
    """Return what helps where no connector fits: those that the library has for a signal are named."""
    carried = _CONNECTORS_FOR.get(signal, signal)
    forms = sorted({one.form for one in project.library.connectors.values() if one.signal == carried})
    named = f", or write one that it has as the connector: {'; '.join(forms)}" if forms else ""
    return f"Add a fitting one to the project's or the company's library, or choose another cable{named}."


def labels(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each type of cable that no label of the library goes round."""
    entries = cable_entries(project)
    without: dict[str, list[Cable]] = {}
    for cable in design.cables:
        entry = entries.get(cable.model)
        if entry is not None and not label_of(project, entry):
            without.setdefault(cable.model, []).append(cable)
    for model, cables in sorted(without.items()):
        yield Finding(
            rule="no-label",
            severity="warning",
            where=model,
            place=_model_place(project, cables[0]),
            message=f"The library has no label that goes round {model}: the labels of "
            f"{counted(len(cables), 'cable')} are neither counted nor priced.",
            source=EDITABLE_DEFAULT,
            remedy="Add a label for cables of this diameter to the project's or the company's library.",
        )


CABLING_RULES: tuple[Rule, ...] = (links, materials, cords, ends, labels)
