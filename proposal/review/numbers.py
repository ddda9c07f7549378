"""Rules about numbers of issued revisions: what could not be kept, and what was given up and is back.

Numbers are kept wherever they can be. Where one cannot be any more, its thing has the lowest number never
used, and a note says so, because the old number may stand on a label, in a switch or in somebody's head.
"""

import ipaddress
from collections.abc import Iterator, Mapping, Sequence

from proposal.design.design import Design
from proposal.design.number_register import design_numbers
from proposal.design.numbers.numbering import INJECTOR, OUTLET, PANEL, PORT, REGISTER_WAS, natural
from proposal.errors import Place
from proposal.model.project import Numbered, Project
from proposal.review.finding import Finding, Rule, counted, listed
from proposal.standards.sources import COMMON_PRACTICE

MOST_NAMED = 4
_KINDS: Mapping[str, tuple[str, str]] = {
    "address": ("address", "addresses"),
    PORT: ("switch port", "switch ports"),
    PANEL: ("panel port", "panel ports"),
    "stream": ("stream number", "stream numbers"),
    "channel": ("radio channel", "radio channels"),
    "input": ("input or output", "inputs or outputs"),
    "slot": ("charge slot", "charge slots"),
    "end": ("input or output", "inputs or outputs"),
    OUTLET: ("mains outlet", "mains outlets"),
    INJECTOR: ("PoE source", "PoE sources"),
}
"""Kinds of numbers that are judged: one of them and several, in words."""
_COUNTED_OUT = (PORT, "channel", "input", "slot", "end")


def numbers_changed(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for numbers of issued revisions that things still there could not keep.

    What fixed.yaml gives another address or port is no news; who has to make way for it is.
    """
    if not project.issued:
        return
    changed: dict[tuple[str, str], list[tuple[str, str, str]]] = {}
    for identity, now in design_numbers(design).items():
        before = project.issued.get(identity)
        kind, _, named = identity.partition("/")
        if before is None or before.retired or before.number == now.number or kind not in _KINDS:
            continue
        if not _by_hand(project, kind, named):
            where = _where(project, design, kind, named, before.number)
            changed.setdefault((kind, where), []).append((named, before.number, now.number))
    for (kind, where), ones in sorted(changed.items(), key=lambda item: (item[0][0], natural(item[0][1]))):
        ones.sort(key=lambda one: natural(one[0]))
        words = _KINDS[kind][len(ones) > 1]
        told = ones
        if kind == PORT:
            told = [(named, _port_called(design, old), _port_called(design, new)) for named, old, new in ones]
        one = f"{'The ' if len(ones) == 1 else f'{len(ones)} '}{words} of the last issue"
        reason = _reason(design, kind, ones)
        yield Finding(
            rule="number-changed",
            severity="note",
            where=where,
            place=_place(project, design, kind, where),
            message=f"{one} could not be kept{reason}: "
            f"{_named([f'{named} had {old} and has {new} now' for named, old, new in told])}.",
            source=COMMON_PRACTICE,
            remedy="Change labels and settings made from the last issue, or undo what caused it"
            f"{'; fixed.yaml can hold a number, too' if kind in ('address', PORT) else ''}.",
        )


def _by_hand(project: Project, kind: str, named: str) -> bool:
    fixed = project.fixed.devices.get(named.partition("/")[0])
    return fixed is not None and bool(
        (kind == "address" and fixed.address) or (kind == PORT and fixed.switch_port)
    )


def _where(project: Project, design: Design, kind: str, named: str, number: str) -> str:
    """Return the tag of what has the numbers: the network, the switch or rack, the room."""
    if kind == "address":
        return min(project.brief.subnets)
    if kind in (PORT, PANEL, OUTLET):
        return number.split("/")[0]
    tag = named.split("/")[0]
    return next((one.room for one in design.devices if one.tag == tag), tag)


def _place(project: Project, design: Design, kind: str, where: str) -> Place:
    if kind == "address":
        return project.place("project", "subnets", where, "network")
    if where in project.rooms:
        return project.place("rooms", where)
    owner = where if kind == OUTLET else where.rpartition("-")[0]
    if owner in project.building.equipment_rooms:
        return project.place("building", "equipment_rooms", owner)
    return project.place("rooms", owner)


def _reason(design: Design, kind: str, ones: Sequence[tuple[str, str, str]]) -> str:
    """Return why numbers could not be kept, where it is plain and alike for all of them."""
    olds = [old for _, old, _ in ones]
    if kind == "address":
        network = ipaddress.ip_network(design.addresses.network)
        if all(not _inside(old, network) for old in olds):
            return f", as {network} does not hold {'it' if len(olds) == 1 else 'them'}"
    if kind == PORT:
        switch = olds[0].rpartition("/")[0]
        power = next((one for one in design.switches if one.switch.device.tag == switch), None)
        if power is None:
            return f", as {switch} is no longer there"
        ports = power.switch.numbers
        numbers = [old.rpartition("/")[2] for old in olds]
        if all(number.isdecimal() and int(number) not in ports for number in numbers):
            return f", as {switch} now has {counted(len(ports), 'port')}"
    if kind == OUTLET:
        circuits = {old.rpartition("/")[0] for old in olds}
        verb = "carries" if len(circuits) == 1 else "carry"
        return f", as {listed(sorted(circuits, key=natural))} {verb} no more"
    if kind in ("channel", "slot", "input", "end"):
        tags = {one.tag for one in design.devices}
        boxes = {old.rpartition("/")[0] for old in olds}
        if boxes.isdisjoint(tags):
            verb = "is" if len(boxes) == 1 else "are"
            return f", as {listed(sorted(boxes, key=natural))} {verb} no longer there"
        if kind == "channel" and all(
            old.rpartition("/")[0] != new.rpartition("/")[0] for _, old, new in ones
        ):
            return f", as {'another access point' if len(ones) == 1 else 'other access points'} now serve"
    return ""


def _port_called(design: Design, number: str) -> str:
    """Return what a switch port is called on its switch, which the register knows by its number."""
    switch, _, port = number.rpartition("/")
    power = next((one for one in design.switches if one.switch.device.tag == switch), None)
    return f"{switch}/{power.switch.port_name(int(port))}" if power and port.isdecimal() else number


def _inside(address: str, network: ipaddress.IPv4Network | ipaddress.IPv6Network) -> bool:
    try:
        return ipaddress.ip_address(address) in network
    except ValueError:
        return False


def _named(items: Sequence[str]) -> str:
    """Return the first few items as a phrase, and how many more there are."""
    if len(items) <= MOST_NAMED:
        return listed(items)
    return f"{', '.join(items[:MOST_NAMED])} and {len(items) - MOST_NAMED} more"


def tags_used_again(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a warning for each tag that an issued revision retired and that is written again.

    The program gives no such tag; only what a designer writes can be one: microphones, loudspeakers, racks,
    positions of access points.
    """
    for device in design.devices:
        before = project.issued.get(f"device/{device.tag}")
        if before is not None and before.retired:
            path = ("rooms", device.room) if device.room in project.rooms else ("building", "equipment_rooms")
            yield Finding(
                rule="tag-used-again",
                severity="warning",
                where=device.tag,
                place=project.place(*path),
                message=f"The tag {device.tag} is used again, which an issued revision gave to something "
                "that was taken away after it.",
                source=COMMON_PRACTICE,
                remedy="Give it a code that was never used, unless the same thing has come back.",
            )


def numbers_given_again(project: Project, design: Design) -> Iterator[Finding]:
    """Yield a note for places of equipment that have a second owner, since all others were given before."""
    if not project.issued:
        return
    owners: dict[tuple[str, str], str] = {}
    for identity, one in project.issued.items():
        kind, _, named = identity.partition("/")
        if kind in _COUNTED_OUT:
            owners[kind, one.number] = named.partition(REGISTER_WAS)[0]
    again: dict[tuple[str, str], list[str]] = {}
    for identity, now in design_numbers(design).items():
        kind, _, named = identity.partition("/")
        before = project.issued.get(identity)
        owner = owners.get((kind, now.number))
        if owner is None or owner == named or (before is not None and _kept(before, now)):
            continue
        if not _by_hand(project, kind, named):
            words = f"{now.number} of {owner} now is {named}'s"
            again.setdefault((kind, now.number.rpartition("/")[0]), []).append(words)
    for (kind, where), ones in sorted(again.items(), key=lambda item: (item[0][0], natural(item[0][1]))):
        yield Finding(
            rule="number-given-again",
            severity="note",
            where=where,
            place=_place(project, design, kind, where),
            message=f"Every {_KINDS[kind][0]} of {where} was given in an issued revision, so that some are "
            f"given a second time: {_named(sorted(ones, key=natural))}; what had them is gone or moved.",
            source=COMMON_PRACTICE,
            remedy="Change labels and settings made from earlier issues.",
        )


def _kept(before: Numbered, now: Numbered) -> bool:
    return not before.retired and before.number == now.number


NUMBER_RULES: tuple[Rule, ...] = (numbers_changed, tags_used_again, numbers_given_again)
