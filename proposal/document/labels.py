"""What is printed on labels: both ends of every cable, and every device.

Organised to support ANSI/TIA-606, which allows any documented scheme: a cable's label is its identity, the
same at both ends and in every schedule, with this end and the far end below it.
"""

from collections.abc import Sequence

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.loudspeaker_lines import LineLoudspeakerRow
from proposal.field_classes import dataclass
from proposal.quantities.formatting import short_quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One label.

    of: cable, device or opening.
    room: tag of the room the thing serves.
    place: tag of where the label is stuck: device, rack or equipment.
    lines: text, the first the largest.
    code: what the QR code says.
    """

    of: str
    room: str
    place: str
    lines: tuple[str, ...]
    code: str


def labels_of(document: Document) -> tuple[Label, ...]:
    """Return the labels of an edition: cables in order of identities, near end then far end, then others."""
    return (*_cable_labels(document.cables), *_device_labels(document), *_opening_labels(document))


def _opening_labels(document: Document) -> list[Label]:
    """Return one label for each opening that is ours to close."""
    return [
        Label(
            of="opening",
            room=one.storey,
            place=one.tag,
            lines=(one.tag, f"rated {one.crosses}", one.pathway),
            code=one.tag,
        )
        for one in document.penetrations
        if one.closed_by == "us"
    ]


def _cable_labels(cables: Sequence[CableRow]) -> list[Label]:
    labels = []
    for cable in cables:
        # From rack to rack a cable begins at a panel; a cord leads on to the switch.
        rack, _, panel_port = cable.from_panel.partition("/")
        begins = (rack, panel_port) if rack else (cable.from_tag, cable.from_port)
        near = " ".join(begins).strip()
        far = f"{cable.to_tag} {cable.to_port}".strip()
        for here, there, place in ((near, far, begins[0]), (far, near, cable.to_tag)):
            lines = (cable.identity, f"here {here}", f"to {there}")
            labels.append(Label(of="cable", room=cable.room, place=place, lines=lines, code=cable.identity))
    return labels


def _device_labels(document: Document) -> list[Label]:
    """Return one label a device; microphones too, since they look alike."""
    taps = {one.loudspeaker: one for one in document.line_loudspeakers}
    labels = []
    for device in document.devices:
        lines = [device.tag, device.model]
        if device.tag in taps:
            lines.append(tap_words(document, taps[device.tag]))
        if device.address:
            lines.append(device.address)
        labels.append(
            Label(of="device", room=device.room, place=device.tag, lines=tuple(lines), code=device.tag)
        )
    return labels


def tap_words(document: Document, row: LineLoudspeakerRow) -> str:
    """Return the tap of a loudspeaker and its line, `tap 2.5 W on 100 V`."""
    if row.tap_w is None:
        return f"no tap for {row.line}"
    tap = short_quantity(row.tap_w, "power", document.cover.units, document.cover.locale)
    return f"{tap}, {row.line}" if row.line == "low impedance" else f"tap {tap} on {row.line}"
