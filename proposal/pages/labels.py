"""Label sheets to print: one page for each room, a QR code on every label."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import ClassVar

from proposal.document.labels import Label, labels_of
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import grouped


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelsPage:
    """All labels, room by room.

    rooms: heading and the labels of each room or equipment room.
    """

    template: ClassVar[str] = "labels.md.jinja"
    rooms: tuple[tuple[Html, Html], ...]


def labels_page(here: PageContext) -> LabelsPage:
    """Return the page of labels."""
    names = {room.tag: room.name for room in here.document.rooms}
    names |= {room.tag: room.name for room in here.document.equipment_rooms}
    by_room = grouped(labels_of(here.document), lambda label: label.room)
    return LabelsPage(
        rooms=tuple(
            (text(f"{room} {names.get(room, '')}".strip()), _sheet(labels))
            for room, labels in by_room.items()
        )
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
