"""Lines of the schedule of a storey about the devices in its racks: unit, cables that end there, leads."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import pairwise

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.equipment import DeviceRow
from proposal.document.rows.racks import RackPlaceRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.drawings.device_schedule.cables_followed import length, spare
from proposal.drawings.plan.plan_marks import called, code_of, natural
from proposal.quantities import formatting

Texts = dict[str, str]
FLOOR = "floor"
IN_RACK = "in the rack"
OWN_CORD = "of its own"
_STRAIGHT_M = 0.01


def racked_texts(document: Document, racks: Collection[str]) -> Iterator[tuple[str, Sequence[Texts]]]:
    """Yield the tag of each device in racks with its lines: what is said in each column.

    racks: tags of them.
    """
    units = {place.name: place for place in document.rack_places if place.rack in racks}
    cords = _cords(document, racks)
    usual = _usual_cord(cords)
    for row in sorted(document.devices, key=lambda row: (row.location, natural(row.tag))):
        if row.location not in racks or row.kind == "rack":
            continue
        place = units.get(row.tag)
        joined = [*_joined(document, row)] or [{}]
        patched = row.switch_port.replace("/", " port ")
        port, cord = cords.get(row.tag, ("", ""))
        if patched and port:
            patched = f"{port} to {patched}"
        if patched and cord != usual:
            patched += f", cord {cord}" if cord else ""
        device = {
            "Device": row.tag,
            "What": what_of(document, row),
            "Fixed": f"{row.location} {_units(place)} {place.side}".strip() if place else row.location,
            "Patched to": patched,
        }
        yield row.tag, ({**joined[0], **device}, *joined[1:])


def _cords(document: Document, racks: Collection[str]) -> dict[str, tuple[str, str]]:
    """Return the port and the cord to its switch of each device in racks that a cord alone joins to one.

    racks: tags of them.
    """
    cabled = {cable.identity for cable in document.cables}
    inside = {row.tag for row in document.devices if row.location in racks and row.switch_port}
    return {
        patch.device: (patch.device_port, patch.last_cord)
        for patch in document.patches
        if patch.device in inside and patch.identity not in cabled and not patch.source
    }


def _usual_cord(cords: Mapping[str, tuple[str, str]]) -> str:
    """Return the cord to its switch that most devices have; empty where there is none."""
    return _usual({tag: cord for tag, (_, cord) in cords.items()})


def _usual(cords: Mapping[str, str]) -> str:
    """Return the cord that most devices have, which the heading tells; empty where there is none."""
    return max(sorted(set(cords.values())), key=[*cords.values()].count, default="")


def _units(place: RackPlaceRow) -> str:
    """Return the units of a rack that a device takes, from below."""
    return f"U{place.unit}" if place.units < 2 else f"U{place.unit}–{place.unit + place.units - 1}"


def _usual_mains_cord(document: Document, racks: Collection[str]) -> str:
    """Return the mains cord that most things in racks have; empty where there is none."""
    return _usual(
        {place.name: place.cord for place in document.rack_places if place.rack in racks and place.cord}
    )


def _with_length(document: Document, cord: str) -> str:
    """Return a mains cord with its length, where it is one of those in racks."""
    long_m = next((one.cord_m for one in document.rack_places if one.cord == cord and one.cord_m), None)
    return f"{cord} ({length(document, long_m)})" if long_m else cord


def standing_words(document: Document, rack: DeviceRow) -> str:
    """Return how a rack stands: where its front looks, and how far it is from walls that are given."""
    row = next((one for one in document.racks if one.tag == rack.tag), None)
    stands = (row.style if row else "") or FLOOR
    parts = [stands, f"front to the {row.faces}" if row and row.faces else "front to be agreed"]
    if stands != FLOOR:
        parts.append("height to be agreed")
    if rack.at is None:
        return ", ".join(parts)
    near = _from_walls(document, rack.storey, rack.at)
    if len(near) == 1:
        near.append("no wall given across it: from the origin")
    return ", ".join((*parts, *near))


def place_words(document: Document, room: str) -> list[str]:
    """Return how places in an equipment room are told, and from which pathways cables come down to its racks.

    room: its tag.
    """
    racks = {rack for place in document.equipment_rooms if place.tag == room for rack in place.racks}
    last = sorted(
        {cable.pathways[-1] for cable in document.cables if cable.to_tag in racks and cable.pathways}
    )
    told = ["places from the building's origin, of a rack its middle"]
    if last:
        ends_m = next((row.height_m for row in document.devices if row.location in racks), None)
        down = f" to {length(document, ends_m)}" if ends_m else ""
        hooks = hooks_words(document)
        told.append(f"cables leave {', '.join(last)} along x and y{hooks}, and come down at the rack{down}")
    if usual := [
        _with_length(document, cord)
        for cord in (_usual_cord(_cords(document, racks)), _usual_mains_cord(document, racks))
        if cord
    ]:
        told.append(
            f"cords from its devices to switches and to mains where none is named: {', '.join(usual)}"
        )
    return told


def hooks_words(document: Document) -> str:
    """Return on what cables lie outside pathways, as it is counted with the rooms; empty where on nothing."""
    for row in document.takeoff:
        if row.section == "supports" and row.spacing_m:
            return f" on {row.item} every {length(document, row.spacing_m)} (counted with the rooms)"
    return ""


def size_words(document: Document, rack: str) -> str:
    """Return the size of a rack, across and from front to back, in even steps; empty where it is not known.

    rack: its tag.
    """
    row = next((one for one in document.racks if one.tag == rack), None)
    if row is None or row.width_m is None or row.depth_m is None:
        return ""
    units, locale = document.cover.units, document.cover.locale
    step_m = 0.001 if units == "metric" else 0.0254
    wide, deep = (
        formatting.short_quantity(round(size / step_m) * step_m, "short_length", units, locale)
        for size in (row.width_m, row.depth_m)
    )
    return f"{wide.split()[0]} × {deep}"


def _from_walls(document: Document, storey: str, at: tuple[float, float]) -> list[str]:
    """Return how far a point is from the nearest walls that are given along both axes, a text each."""
    row = next((one for one in document.storeys if one.tag == storey), None)
    if row is None:
        return []
    walls = [(tag, points) for tag, _, points in row.walls]
    if row.outline:
        walls.append(("outer wall", (*row.outline, row.outline[0])))
    found = []
    for across, along, ways in ((0, 1, "EW"), (1, 0, "NS")):
        near = min(
            (
                (abs(at[across] - one[across]), tag, at[across] < one[across])
                for tag, points in walls
                for one, two in pairwise(points)
                if abs(one[across] - two[across]) < _STRAIGHT_M
                and min(one[along], two[along]) <= at[along] <= max(one[along], two[along])
            ),
            default=None,
        )
        if near:
            found.append(f"{length(document, near[0])} {ways[near[2]]} of {near[1]}")
    return found


def what_of(document: Document, device: DeviceRow) -> str:
    """Return what a device is, and what feeds it: outlets of its room or rack, or who gives it PoE."""
    named = called(device) if device.model else device.description
    named += f", {size}" if (size := size_words(document, device.tag)) else ""
    fed = _fed(document, device)
    return f"{named}, {fed}" if fed else named


def _fed(document: Document, device: DeviceRow) -> str:
    """Return what feeds a device; empty where nothing does.

    Outlets of a strip or a standby supply in its rack are called as on the sheet of the rack. A strip is no
    device of the schedule. Of cords in a rack those are named that are not the usual one there.
    """
    places = [place for place in document.rack_places if place.name == device.tag and place.outlets]
    usual = _usual_mains_cord(document, {place.rack for place in places})
    fed = [(outlet, place.cord) for place in places for outlet in place.outlets] or [
        (one.mark, one.cord) for one in document.mains_outlets if device.tag in (one.serves, *one.feeds)
    ]
    if fed:
        cords = [
            f"cord {_with_length(document, cord) or OWN_CORD}"
            for _, cord in dict.fromkeys(fed)
            if not cord or cord != usual
        ]
        return ", ".join((f"mains {', '.join(mark for mark, _ in fed)}", *dict.fromkeys(cords)))
    paths = (one.path for one in document.power_paths if one.device == device.tag and one.path)
    source = next(paths, None) if device.poe_class is not None else None
    return f"PoE from {code_of(source[0], device.room)}" if source else ""


def _joined(document: Document, row: DeviceRow) -> Iterator[Texts]:
    """Yield a line for each cable that ends at a device in a rack, and for each lead that begins at it."""
    for cable in document.cables:
        if cable.from_tag == row.tag and not cable.from_panel:
            yield {
                **_cable(document, cable, cable.from_port, cable.from_connector),
                "By way of": cable.route,
                "Ends at": f"{cable.to_tag}/{cable.to_port}",
            }
        elif cable.to_tag == row.location and cable.to_port.startswith(f"{row.tag}/"):
            port = cable.to_port.removeprefix(f"{row.tag}/")
            yield {
                **_cable(document, cable, port, cable.to_connector),
                "By way of": f"comes from {cable.from_tag}",
            }
        elif cable.to_tag == row.tag:
            yield {
                **_cable(document, cable, cable.to_port, cable.to_connector),
                "By way of": f"comes from {cable.from_tag}",
            }
    # Links between switches of one rack, and leads of the owner's devices, have no cable of their own.
    for link in document.switch_links:
        if link.from_switch == row.tag and not any(
            link.identity == cable.identity for cable in document.cables
        ):
            cords = [patch.last_cord for patch in document.patches if patch.identity == link.identity]
            yield {
                "Cable": link.identity,
                "Type": "".join(cords),
                "Length": length(document, link.length_m),
                "At the device": f"{link.from_port}, {_medium(link)}",
                "By way of": IN_RACK,
                "Ends at": f"{link.to_switch}/{link.to_port}",
            }
    for link in document.switch_links:
        if link.to_switch == row.tag:
            yield _arriving(document, link)
    yield from _leads(document, row)


def _arriving(document: Document, link: SwitchLinkRow) -> Texts:
    """Return the line of a link at the switch where it ends: its cable, panel and cord where it has them."""
    told = {"By way of": f"comes from {link.from_switch}/{link.from_port}"}
    port = f"{link.to_port}, {_medium(link)}"
    patch = next((one for one in document.patches if one.identity == link.identity and one.panel), None)
    cable = next((one for one in document.cables if one.identity == link.identity), None)
    if cable is None or patch is None:
        return {"Cable": link.identity, "At the device": port, **told}
    cord = f"cord {patch.last_cord} to " if patch.last_cord else ""
    port = f"{port}, {cord}{patch.panel}"
    return {**_cable(document, cable, port, cable.to_connector), **told}


def _leads(document: Document, row: DeviceRow) -> Iterator[Texts]:
    """Yield a line for each lead of equipment of the owner in the rack of a device, at both its ends."""
    leads = dict.fromkeys(
        (
            (one.device, one.port, one.connector),
            one.signal,
            (one.joined_to, one.joined_port, one.joined_connector),
        )
        for one in document.owner_joins
        if row.tag in (one.device, one.joined_to) and not one.cable and one.signal != "network"
    )
    inside_m = [one.length_m for one in document.cables if one.route == IN_RACK]
    for (device, port, connector), signal, (there, there_port, connector_there) in leads:
        lead = {"Cable": f"{device}/{port}/{there}", "Type": f"{signal}, owner's"}
        lead |= {"Length": length(document, max(inside_m))} if inside_m else {}
        if device == row.tag:
            lead |= {"At the device": _port(port, connector), "By way of": f"{IN_RACK}, its owner brings it"}
            yield lead | {"Ends at": _port(f"{there}/{there_port}", connector_there)}
        else:
            yield lead | {
                "At the device": _port(there_port, connector_there),
                "By way of": f"comes from {device}",
            }


def _medium(link: SwitchLinkRow) -> str:
    """Return what a link between switches is, with the fibre module that each of its ports takes."""
    return f"{link.medium}, module {link.module}" if link.module else link.medium


def _cable(document: Document, cable: CableRow, port: str, connector: str) -> Texts:
    return {
        "Cable": cable.identity,
        "Type": cable.type,
        "Length": length(document, cable.length_m),
        "Spare in it": spare(document, cable),
        "At the device": _port(port, connector),
    }


def _port(port: str, connector: str) -> str:
    """Return a port with its connector, where one is known."""
    return ", ".join(part for part in (port, connector) if part)
