"""What the schedule of a storey says of a cable: how it begins, its way, and where it ends."""

from collections.abc import Mapping
from itertools import groupby

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.patch_table import PatchRow
from proposal.drawings.plan.plan_marks import code_of
from proposal.drawings.plan.storey_pathways import HIGH_M
from proposal.drawings.plan.storey_runs import rising_at
from proposal.quantities import formatting
from proposal.quantities.floor_runs import ALONG_FURNITURE_M

JACK = "jack"
ABOVE_THE_CEILING = "on hooks above the ceiling"
_SAME_M = 0.005
NEAR_LIMIT = 0.95
"""From this share of its limit on, the limit of a cable is told beside its length."""


def followed(
    document: Document,
    cable: CableRow,
    patches: Mapping[str, PatchRow],
    corner: tuple[float, float] | None,
) -> tuple[str, ...]:
    """Return what is said of a cable: from how it begins to where it ends and what it is patched to.

    patches: by the identity of the cable.
    corner: south-western, of its room, m; from it is told where the cable enters its pathway. None: untold.
    """
    patch = patches.get(cable.identity)
    begins = [cable.from_port, cable.from_connector]
    if patch and patch.first_cord:
        begins.append(f"cord {patch.first_cord}")
    begins += _tap(document, cable.from_tag)
    if cable.from_panel:
        cord = f"cord {patch.first_cord} to " if patch and patch.first_cord else ""
        module = _module(document, cable)
        begins = [cable.from_port, *module, f"{cord}{cable.from_panel}", cable.from_connector]
    way = [tag for tag, _ in groupby(cable.pathways)]
    ends = " ".join(part for part in (cable.to_tag, code_of(cable.to_port, cable.to_tag)) if part)
    ends += _unit(document, cable) or _plugged(cable)
    if cable.to_storey != cable.from_storey:
        ends += f", {cable.to_storey}"
    patched = ""
    if patch and patch.switch and patch.switch != cable.to_tag:
        patched = f"{patch.switch} port {patch.switch_port}"
        patched += f", over {patch.source}" if patch.source else ""
        cords = [cord for cord in (patch.last_cord, patch.source_cord) if cord]
        if len(cords) > 1 and len(set(cords)) == 1:
            patched += f", {len(cords)} cords {cords[0]}"
        elif cords:
            patched += f", cord {' and '.join(cords)}"
    return (
        cable.identity,
        cable.type,
        length(document, cable.length_m) + _at_most(document, cable),
        spare(document, cable),
        ", ".join(part for part in begins if part),
        ", ".join([_entered(document, cable, way[0], corner), *way[1:]])
        if way
        else _open_way(document, cable),
        ends,
        patched,
    )


def _module(document: Document, cable: CableRow) -> list[str]:
    """Return the fibre module in the port of a switch at which a cable begins, as an item of a list."""
    modules = [one.module for one in document.switch_links if one.identity == cable.identity]
    return [f"module {one}" for one in modules if one]


def _tap(document: Document, tag: str) -> list[str]:
    """Return the tap of a loudspeaker, as an item of a list; none for one without a transformer.

    tag: of the device.
    """
    units, locale = document.cover.units, document.cover.locale
    return [
        f"tap {formatting.short_quantity(row.tap_w, 'tap_power', units, locale)}"
        for row in document.line_loudspeakers
        if row.loudspeaker == tag and row.tap_w is not None
    ]


def _at_most(document: Document, cable: CableRow) -> str:
    """Return how long a cable may be, where it is nearly so long; else nothing."""
    if cable.limit_m is None or cable.length_m < NEAR_LIMIT * cable.limit_m:
        return ""
    return f", at most {length(document, cable.limit_m)}"


def spare(document: Document, cable: CableRow) -> str:
    """Return what of the length of a cable is kept where it begins, where it ends, and for terminating.

    Empty where its length holds nothing to spare.
    """
    if cable.measured:
        return "measured on site, spare in it"
    if not cable.slack_m:
        return ""
    first_m, last_m = cable.slack_from_m or 0.0, cable.slack_to_m or 0.0
    parts = [length(document, part_m) for part_m in (first_m, last_m, cable.slack_m - first_m - last_m)]
    if all(part.endswith(" m") for part in parts):
        parts = [*(part.removesuffix(" m") for part in parts[:-1]), parts[-1]]
    return " + ".join(parts)


def _unit(document: Document, cable: CableRow) -> str:
    """Return the unit of the rack in which a cable ends, from below; empty where it ends in none."""
    name = cable.to_port.rpartition("/")[0] or cable.to_port
    places = (
        place.unit
        for place in document.rack_places
        if place.rack == cable.to_tag and place.name in (name, f"{cable.to_tag}/{name}")
    )
    unit = next(places, None)
    return "" if unit is None else f" (U{unit})"


def _plugged(cable: CableRow) -> str:
    """Return how a cable ends in the port of a device, where it does so otherwise than it begins."""
    made = cable.to_connector
    if made.endswith(JACK):
        return ", plug"
    return f", {made}" if made and made != cable.from_connector else ""


def _entered(document: Document, cable: CableRow, first: str, corner: tuple[float, float] | None) -> str:
    """Return the first pathway of a cable, with where it enters that, seen from the corner of its room.

    first: tag of the pathway.  corner: of the room; None where it need not be told.
    Of a pathway above it is told at which wall the cable goes up.
    """
    room = next((one for one in document.rooms if one.tag == cable.room), None)
    if room is None or not cable.turns:
        return first
    if corner is None:
        return f"{_high(document, cable.first_run_m)}into {first}" if cable.first_run_m else first
    x, y = cable.turns[0]
    up = rising_at(document, cable)
    if up is not None:
        into = f"{_high(document, cable.first_run_m)}into {first}"
        return f"{_up(document, cable, up)}, {into}"
    if boxed := _boxed(document, cable, first):
        return boxed
    far_m = cable.floor_m if cable.floor_m > ALONG_FURNITURE_M else 0.0
    if far_m:
        first = f"{_floor(document, cable)} to {first}"
    far = max(one[0] for one in room.outline), max(one[1] for one in room.outline)
    if not (corner[0] <= x <= far[0] and corner[1] <= y <= far[1]):
        return first
    into = first if far_m else f"into {first}"
    return f"{into} at {length(document, x - corner[0])} and {length(document, y - corner[1])}"


def _boxed(document: Document, cable: CableRow, first: str) -> str:
    """Return at which box a cable enters its first pathway, and how far that is from its device; else empty.

    first: tag of the pathway.
    """
    box = next(
        (node for node in document.nodes if node.kind != "junction" and node.at == cable.turns[0]), None
    )
    device = next((row for row in document.devices if row.tag == cable.from_tag), None)
    if box is None or device is None or device.at is None:
        return ""
    aside_m = sum(abs(a - b) for a, b in zip(device.at, box.at, strict=True))
    aside = f"{length(document, aside_m)} aside, " if aside_m > _SAME_M else ""
    return f"{aside}box {box.tag} at {_from_corner(document, cable, box.at)}, {first}"


def _open_way(document: Document, cable: CableRow) -> str:
    """Return what is said of a cable that lies in no pathway."""
    up, down = cable.rises_at, cable.comes_down_at
    if cable.from_storey != cable.to_storey:
        way = f"no pathway given, to storey {cable.to_storey}"
    elif up is None and down is None and not _at_the_ceiling(document, cable):
        return f"no pathway: {cable.route}{_level(document, cable)}"
    else:
        way = f"{_high(document, cable.first_run_m)}along x and y, no pathway"
        way = ABOVE_THE_CEILING if _at_the_ceiling(document, cable) else way
    told = [_up(document, cable, up)] if up else []
    told.append(way)
    told += [f"down the wall at {_at_the_wall(document, cable, down)}"] if down else []
    told += [_floor(document, cable)] if cable.floor_m and not up else []
    return ", ".join(told)


def _level(document: Document, cable: CableRow) -> str:
    """Return how high a cable outside pathways runs overhead, after its route; else nothing."""
    high = cable.first_run_m is not None and cable.first_run_m > HIGH_M
    return f", level at {length(document, cable.first_run_m or 0.0)}" if high else ""


def _at_the_ceiling(document: Document, cable: CableRow) -> bool:
    """Return whether a cable outside pathways runs at the height of its device on the ceiling."""
    device = next((row for row in document.devices if row.tag == cable.from_tag), None)
    return device is not None and device.location == "ceiling" and cable.first_run_m == device.height_m


def _up(document: Document, cable: CableRow, up: tuple[float, float]) -> str:
    """Return how a cable comes to the wall at which it goes up, along the floor or its furniture."""
    device = next((row for row in document.devices if row.tag == cable.from_tag), None)
    far_m = sum(abs(a - b) for a, b in zip(device.at, up, strict=True)) if device and device.at else 0.0
    first = ""
    if cable.floor_m:
        first = f"{_floor(document, cable)}, "
    elif far_m > _SAME_M:
        first = f"{length(document, far_m)} along its furniture, "
    return f"{first}up the wall at {_at_the_wall(document, cable, up)}"


def _at_the_wall(document: Document, cable: CableRow, at: tuple[float, float]) -> str:
    """Return where a cable goes up or down a wall, from the corner of its room, and in which conduit."""
    size = f" in conduit {cable.conduit.partition(' for ')[0]}" if cable.conduit else ""
    return f"{_from_corner(document, cable, at)}{size}"


def _from_corner(document: Document, cable: CableRow, at: tuple[float, float]) -> str:
    """Return how far a point is from the west and from the south wall of the room of a cable."""
    outline = next((one.outline for one in document.rooms if one.tag == cable.room), ((0.0, 0.0),))
    corner = min(x for x, _ in outline), min(y for _, y in outline)
    return " and ".join(length(document, far - by) for far, by in zip(at, corner, strict=True))


def _high(document: Document, height_m: float | None) -> str:
    """Return how high a run outside pathways is, before what is said of it; empty for one that has none."""
    return f"at {length(document, height_m)} " if height_m else ""


def _floor(document: Document, cable: CableRow) -> str:
    """Return how far a cable goes along the floor; what it lies in there, a note of the sheet tells."""
    return f"{length(document, cable.floor_m)} on the floor"


def length(document: Document, value_m: float) -> str:
    """Return a length of a line as it is written.

    value_m: in metres.
    """
    return formatting.short_quantity(value_m, "length", document.cover.units, document.cover.locale)
