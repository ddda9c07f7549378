"""The network: switches, what stands on each, the links between them, VLANs, and the owner's network."""

from collections.abc import Mapping, Sequence

from proposal.document.document import Document
from proposal.document.rows.network import NetworkHostRow
from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.drawings import graph
from proposal.drawings.legend import LegendEntry
from proposal.drawings.sheet import TitleBlock, strip_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.quantities import formatting

OWNER = "owner's network"


@dataclass(frozen=True, slots=True)
class NetworkGroup:
    """Devices of one kind on a switch.

    kind, count: what they are, and how many.
    behind: whether they are joined to breakouts, whose port on the switch they share.
    vlans: of their ports, as printed.
    sent, taken: networked audio of all together, as printed; empty where there is none.
    """

    kind: str
    count: int
    vlans: str
    sent: str
    taken: str
    behind: bool = False


@dataclass(frozen=True, slots=True)
class NetworkBox:
    """A switch, the owner's network, or a switch that another sheet shows.

    name: tag, or what the owner's network is called.  lines: place, model and role.
    groups: what stands on it; none on a switch of another sheet.
    """

    name: str
    lines: tuple[str, ...]
    groups: tuple[NetworkGroup, ...]


@dataclass(frozen=True, slots=True)
class NetworkLink:
    """A link between two boxes.

    near, far: names of the boxes, that which is nearer the first switch first.
    near_port, far_port: ports.
    medium, speed: copper or fibre, and the data rate as printed.
    inwards, outwards: what passes towards the near box and away from it, as printed.
    holds: whether its speed suffices.
    """

    near: str
    near_port: str
    far: str
    far_port: str
    medium: str
    speed: str
    inwards: str
    outwards: str
    holds: bool


@dataclass(frozen=True, slots=True)
class NetworkSpec:
    """A sheet of the network.

    vlans: what is said of each VLAN.  isolation: how the system is joined to other networks.
    """

    strip: TitleBlock
    boxes: tuple[NetworkBox, ...]
    links: tuple[NetworkLink, ...]
    vlans: tuple[str, ...]
    isolation: str
    legend: tuple[LegendEntry, ...]


def spec_of(edition: Edition, sheet: SheetRow) -> NetworkSpec:
    """Return what a sheet of the network shows.

    sheet: of kind `network`; its members are tags of switches, none for all.
    """
    document = edition.document
    switches = {row.device for row in document.network_hosts if row.kind == "switch"}
    on = _by_switch(document.network_hosts, switches)
    here = sheet.members or tuple(sorted(on))
    # A link stands on the sheet of its farther switch, so that it stands once.
    links = tuple(_link(document, row) for row in document.switch_links if row.from_switch in here)
    boxes = [
        _box(
            document,
            tag,
            on.get(tag, ()),
            sum(row.to_switch == tag and row.from_switch not in here for row in document.switch_links),
        )
        for tag in here
    ]
    elsewhere = dict.fromkeys(
        name for link in links for name in (link.near, link.far) if name not in here and name != OWNER
    )
    boxes += [NetworkBox(tag, ("on another sheet",), ()) for tag in elsewhere]
    if any(link.near == OWNER for link in links):
        boxes.append(NetworkBox(OWNER, ("furnished by the owner",), ()))
    return NetworkSpec(
        strip=strip_of(edition, sheet),
        boxes=tuple(boxes),
        links=links,
        vlans=tuple(
            f"VLAN {row.vlan}, {row.purpose}: {row.network}, "
            f"{formatting.count_of(row.groups, 'multicast group')}, {_rate(document, row.audio_bit_s)}"
            for row in document.vlans
        ),
        isolation=_isolation(document, switches),
        legend=tuple(
            graph.line_entry({"fibre": "fibre"}.get(medium, "network"), f"link over {medium}")
            for medium in sorted({link.medium for link in links if link.medium})
        ),
    )


def _by_switch(
    hosts: Sequence[NetworkHostRow], switches: set[str]
) -> Mapping[str, tuple[NetworkHostRow, ...]]:
    """Return what leads to each switch, over the one in a breakout too; empty ones are there."""
    leads = {row.device: row.switch_port.rpartition("/")[0] for row in hosts if row.kind != "switch"}
    found: dict[str, list[NetworkHostRow]] = {tag: [] for tag in switches}
    for row in hosts:
        if row.kind == "switch":
            continue
        switch = leads[row.device]
        # A breakout holds a switch of its own, and leads on to one of an equipment room.
        switch = leads.get(switch, switch)
        if switch:
            found.setdefault(switch, []).append(row)
    return {tag: tuple(rows) for tag, rows in found.items()}


def _box(document: Document, tag: str, hosts: Sequence[NetworkHostRow], further: int) -> NetworkBox:
    """Return a switch; `further` links of it stand on other sheets."""
    device = next((row for row in document.devices if row.tag == tag), None)
    rooms = {row.tag: row.name for row in document.equipment_rooms}
    rooms |= {row.tag: row.name for row in document.rooms}
    lines = []
    if device:
        lines.append(rooms.get(device.room, device.room))
        lines.append(device.model or device.description)
    for row in document.vlans:
        if row.querier == tag:
            lines.append(f"multicast querier of VLAN {row.vlan}")
    if further:
        lines.append(f"{formatting.count_of(further, 'further link')} on other sheets")
    kinds: dict[tuple[str, bool], list[NetworkHostRow]] = {}
    for host in hosts:
        behind = host.switch_port.rpartition("/")[0] != tag
        kinds.setdefault((host.kind, behind), []).append(host)
    return NetworkBox(
        name=tag,
        lines=tuple(lines),
        groups=tuple(
            NetworkGroup(
                kind=kind,
                count=len(rows),
                vlans=formatting.listed([str(one) for one in sorted({r.vlan for r in rows if r.vlan})]),
                sent=_some(document, sum(r.sent_bit_s for r in rows)),
                taken=_some(document, sum(r.taken_bit_s for r in rows)),
                behind=behind,
            )
            for (kind, behind), rows in sorted(kinds.items())
        ),
    )


def _load(document: Document, whole: float, streams: int, audio: float, control: float) -> str:
    """Return what passes a link one way, bit/s, and what it is the sum of, in the same unit."""
    said = _rate(document, whole)
    unit = f" {said.rpartition(' ')[2]}"
    parts = (
        [f"{formatting.count_of(streams, 'stream')} {_rate(document, audio).removesuffix(unit)}"]
        if streams
        else []
    )
    parts += [f"control {_rate(document, control).removesuffix(unit)}"] if control else []
    return f"{said} ({', '.join(parts)})" if parts else said


def _link(document: Document, row: SwitchLinkRow) -> NetworkLink:
    return NetworkLink(
        near=row.to_switch or OWNER,
        near_port=row.to_port,
        far=row.from_switch,
        far_port=row.from_port,
        medium=row.medium,
        speed=f"{row.speed_bit_s / 1e9:g} Gbit/s"
        if row.speed_bit_s >= 1e9
        else _rate(document, row.speed_bit_s),
        inwards=_load(document, row.inwards_bit_s, row.streams_in, row.audio_in_bit_s, row.control_bit_s),
        outwards=_load(document, row.outwards_bit_s, row.streams_out, row.audio_out_bit_s, row.control_bit_s),
        holds=row.verdict != "fails",
    )


def _isolation(document: Document, switches: set[str]) -> str:
    owned = sorted({row.to_port for row in document.switch_links if not row.to_switch})
    foreign = {
        row.switch_port.rpartition("/")[0]
        for row in document.network_hosts
        if row.switch_port and row.kind != "switch"
    }
    by_owner = sorted(
        tag for tag in foreign - switches if any(d.tag == tag and not d.model for d in document.devices)
    )
    if not owned and not by_owner:
        return "Isolated: no link leads to the owner's network."
    where = formatting.listed([*owned, *by_owner])
    return f"Joined to the owner's network at {where}; only the VLANs named here pass there."


def _rate(document: Document, bit_s: float) -> str:
    return formatting.quantity(bit_s, "data_rate", document.cover.units, document.cover.locale)


def _some(document: Document, bit_s: float) -> str:
    return _rate(document, bit_s) if bit_s else ""


def alternative(spec: NetworkSpec) -> str:
    """Return what a sheet of the network shows in sentences."""
    sentences = []
    for box in spec.boxes:
        said = [f"{group.count} {kinds_of(group)}{_load_words(group)}" for group in box.groups]
        about = f" ({', '.join(box.lines)})" if box.lines else ""
        sentences.append(f"{box.name}{about}: {'; '.join(said)}." if said else f"{box.name}{about}.")
    for link in spec.links:
        short = "" if link.holds else "; it fails"
        sentences.append(
            f"{link.far} port {link.far_port} is joined to {link.near} port {link.near_port} over "
            f"{link.medium or 'nothing that suits'} at {link.speed}: {link.inwards} towards {link.near}, "
            f"{link.outwards} away from it{short}."
        )
    return " ".join([*sentences, *(f"{line}." for line in spec.vlans), spec.isolation])


def kinds_of(group: NetworkGroup) -> str:
    """Return what a group of devices is called, in the plural where there are several."""
    plural = f"{group.kind[:-1]}ies" if group.kind.endswith("y") else f"{group.kind}s"
    named = group.kind if group.count == 1 else plural
    return f"{named} behind breakouts" if group.behind else named


def _load_words(group: NetworkGroup) -> str:
    words = [f"VLAN {group.vlans}"] if group.vlans else []
    words += [f"sent {group.sent}"] if group.sent else []
    words += [f"taken {group.taken}"] if group.taken else []
    return f", {', '.join(words)}" if words else ""
