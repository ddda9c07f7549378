"""Rules about decisions by hand: ports that do not exist, decisions without effect, unsuitable models."""

from collections.abc import Iterator, Sequence

from proposal.design.design import Design
from proposal.design.equipment.device_capacity import works_here
from proposal.design.equipment.microphone_choice import MOUNTED
from proposal.design.equipment.placed_devices import Placed
from proposal.design.network.port_demand import port_named
from proposal.model.equipment.devices import Microphone
from proposal.model.equipment.entry import Device
from proposal.model.microphone_positions import MicrophonePosition
from proposal.model.project import FixedDevice, Path, Project
from proposal.review.finding import Finding, Rule, listed, written_place
from proposal.standards.sources import COMMON_PRACTICE

PORT_REMEDY = "Write each port once, as the tag of a switch and a number, such as ER1-SW1/4."


def switch_ports(project: Project, design: Design) -> Iterator[Finding]:
    """Yield an error for each port that two devices are fixed to, or that does not exist."""
    there = {switch.device.tag: switch.numbers for closet in design.closets for switch in closet.switches}
    wanted: dict[tuple[str, str] | str, list[str]] = {}
    for tag, device in sorted(project.fixed.devices.items()):
        if device.switch_port:
            wanted.setdefault(port_named(device.switch_port) or device.switch_port, []).append(tag)
    for port, tags in wanted.items():
        written = project.fixed.devices[tags[-1]].switch_port
        are = "is" if len(tags) == 1 else "are"
        rule, message = "", ""
        switch, number = port if isinstance(port, tuple) else ("", "0")
        if switch not in there:
            rule = "no-such-switch"
            message = f"{listed(tags)} {are} fixed to a port of a switch that is not there."
        elif int(number) not in there[switch]:
            rule, message = (
                "no-such-port",
                f"{listed(tags)} {are} fixed to a port that {switch} does not have.",
            )
        elif len(tags) > 1:
            rule, message = "port-fixed-twice", f"{listed(tags)} are fixed to the same port."
        if rule:
            no_port = rule == "no-such-port"
            yield Finding(
                rule=rule,
                severity="error",
                where=written,
                place=project.place("fixed", "devices", tags[-1], "switch_port"),
                message=message,
                value=float(number) if no_port else None,
                limit=float(max(there[switch])) if no_port else None,
                source=COMMON_PRACTICE,
                remedy=PORT_REMEDY,
            )


def without_effect(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each decision about a device that changes nothing."""
    by_tag = {device.tag: device for device in design.devices}
    on_switches = {tag for closet in design.closets for tag in closet.wanting}
    for tag, fixed in sorted(project.fixed.devices.items()):
        for field, why in _idle(fixed, by_tag[tag], design, tag in on_switches):
            yield _idle_finding(project, ("fixed", "devices", tag, field), tag, f"The {why}.")
    for tag, sizes in sorted(project.fixed.rooms.items()):
        other = "breakouts" if project.rooms[tag].layout.output == "mixer" else "mixers"
        if getattr(sizes, other):
            leaves = project.rooms[tag].layout.output
            message = f"The {other} have no effect: the room's audio leaves through a {leaves}."
            yield _idle_finding(project, ("fixed", "rooms", tag, other), tag, message)


def _idle(fixed: FixedDevice, device: Placed, design: Design, on_switch: bool) -> Iterator[tuple[str, str]]:
    """Yield field and reason of each decision about a device that has no effect."""
    if fixed.address and device.tag not in design.addresses.by_tag:
        yield "address", "address has no effect: the device takes none"
    if fixed.switch_port and not on_switch:
        yield "switch_port", "switch port has no effect: the device is not on a switch of an equipment room"
    in_rack = device.kind in ("mixer", "amplifier", "switch")
    for field, value in (("at", fixed.at), ("height", fixed.height)):
        if value is not None and in_rack:
            words = "position" if field == "at" else "height"
            yield field, f"{words} has no effect: the device is in a rack"


def _idle_finding(project: Project, path: Path, where: str, message: str) -> Finding:
    return Finding(
        rule="decision-without-effect",
        severity="warning",
        where=where,
        place=project.place(*path),
        message=message,
        source=COMMON_PRACTICE,
        remedy="Remove the line, or correct it.",
    )


def models_by_hand(project: Project, design: Design) -> Iterator[Finding]:
    """Yield errors for models chosen by hand for another region, or for another kind of microphone."""
    for device in design.devices:
        entry = design.entries.get(device.tag)
        if entry is None:
            continue
        place = written_place(
            project,
            ("fixed", "devices", device.tag, "model"),
            ("fixed", "rooms", device.room),
            ("rooms", device.room),
        )
        if not works_here(project, entry):
            yield Finding(
                rule="wrong-region",
                severity="error",
                where=device.tag,
                place=place,
                message=f"{device.model} may not be used in the project's radio region.",
                source=COMMON_PRACTICE,
                remedy=f"{_either(_approved(project, entry), 'a model that is approved for the region')}, or "
                "leave the choice to the program.",
            )
        position = (
            project.rooms[device.room].layout.microphones.get(device.code)
            if isinstance(entry, Microphone) and device.room in project.rooms
            else None
        )
        if position is None or not isinstance(entry, Microphone):
            continue
        fits = position.mounting in (None, *entry.mounting)
        differs = [
            words
            for words, same in (
                (f"a {entry.form}", entry.form == position.form),
                (entry.pattern, entry.pattern == position.pattern),
                ("without return audio", entry.hears_return or not position.return_audio),
                (f"not {MOUNTED[position.mounting]}" if position.mounting else "", fits),
            )
            if not same
        ]
        if differs:
            yield Finding(
                rule="microphone-differs",
                severity="error",
                where=device.tag,
                place=place,
                message=f"{device.model} is {listed(differs)}, which is not what the position asks for.",
                source=COMMON_PRACTICE,
                remedy=f"{_either(_fitting(project, entry, position), 'a model of its form and pattern')}, "
                "or change the position.",
            )


def _either(models: Sequence[str], wanted: str) -> str:
    """Return that one of some models is to be chosen, or what has to be added where there is none."""
    return f"Choose {' or '.join(models[:3])}" if models else f"Add {wanted} to the library"


def _approved(project: Project, entry: Device) -> list[str]:
    """Return the models of a device's kind that may be used in the region."""
    alike = project.library.of_kind(entry.kind)
    return sorted(code for code, one in alike.items() if works_here(project, one))


def _fitting(project: Project, entry: Microphone, position: MicrophonePosition) -> list[str]:
    """Return the models of a microphone's system that a position asks for."""
    return sorted(
        code
        for code, one in project.library.of_kind("microphone").items()
        if isinstance(one, Microphone)
        and (one.works_with, one.form, one.pattern) == (entry.works_with, position.form, position.pattern)
        and (one.hears_return or not position.return_audio)
        and position.mounting in (None, *one.mounting)
        and works_here(project, one)
    )


BY_HAND_RULES: tuple[Rule, ...] = (switch_ports, without_effect, models_by_hand)
