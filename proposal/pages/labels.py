"""Label sheets to print: one sheet for each room, a QR code on every label."""

from collections.abc import Sequence
from functools import lru_cache
from typing import ClassVar

from proposal.document.labels import Label, labels_of
from proposal.field_classes import dataclass
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.paths import LABELS
from proposal.pages.schedule_parts import SchedulePart, label_parts, links_to_parts
from proposal.pages.schedule_table import grouped
from proposal.quantities.formatting import count_of


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelsPage:
    """All labels, room by room, or where to find those of each storey.

    rooms: heading and the labels of each room or equipment room.
    parts: of many labels, the way to the page of each part and how many stand there.
    """

    template: ClassVar[str] = "labels.md.jinja"
    rooms: tuple[tuple[Html, Html], ...]
    parts: tuple[Html, ...]


def labels_page(here: PageContext) -> LabelsPage:
    """Return the page of labels."""
    parts = label_parts(here.document)
    links = links_to_parts(parts, LABELS, here.to, lambda labels: count_of(len(labels), "label"))
    return LabelsPage(rooms=() if links else _rooms(here, labels_of(here.document)), parts=links)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelsPartPage:
    """The labels of one storey, or a numbered part of them, room by room."""

    template: ClassVar[str] = "labels-part.md.jinja"
    title: Html
    overview: Html
    rooms: tuple[tuple[Html, Html], ...]


def labels_part_page(here: PageContext, part: SchedulePart[Label]) -> LabelsPartPage:
    """Return the page of a part of the labels.

    part: the labels that stand on it.
    """
    return LabelsPartPage(
        title=text(part.title), overview=here.to(LABELS, "All labels"), rooms=_rooms(here, part.rows)
    )


def _rooms(here: PageContext, labels: Sequence[Label]) -> tuple[tuple[Html, Html], ...]:
    names = {room.tag: room.name for room in here.document.rooms}
    names |= {room.tag: room.name for room in here.document.equipment_rooms}
    by_room = grouped(labels, lambda label: label.room)
    return tuple(
        (text(f"{room} {names.get(room, '')}".strip()), _sheet(own)) for room, own in by_room.items()
    )


def _sheet(labels: Sequence[Label]) -> Html:
    return Html('<ul class="labels">\n' + "\n".join(_label(label) for label in labels) + "\n</ul>")


def _label(label: Label) -> Html:
    first, *rest = (text(line) for line in label.lines)
    more = "".join(f"<span>{line}</span>" for line in rest)
    return Html(f'<li class="label">{_code(label.code)}<div><strong>{first}</strong>{more}</div></li>')


@lru_cache(maxsize=16_384)
def _code(content: str) -> str:
    """Return the QR code of a text (ISO/IEC 18004, error correction M) as an inline drawing without a name.

    The text stands beside it, so readers who cannot see it miss nothing.
    """
    import segno

    matrix = segno.make(content, error="m", micro=False, boost_error=False)
    size = matrix.symbol_size(border=2)[0]
    parts = []
    for y, row in enumerate(matrix.matrix, 2):
        x = 0
        while x < len(row):
            run = x
            while run < len(row) and row[run]:
                run += 1
            if run > x:
                parts.append(f"M{x + 2} {y}h{run - x}v1h-{run - x}z")
            x = max(run, x + 1)
    return (
        f'<svg class="code" viewBox="0 0 {size} {size}" aria-hidden="true" focusable="false">'
        f'<path d="{"".join(parts)}"/></svg>'
    )
