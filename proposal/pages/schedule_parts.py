"""Schedules of every device and cable on pages of their own, storey by storey, where they get too long."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from proposal.document.document import Document
from proposal.document.rows.cabling import CableRow
from proposal.document.rows.equipment import DeviceRow
from proposal.pages.paths import CABLE_SCHEDULE, DEVICES, part_path

Row = TypeVar("Row")

MOST_ROWS: Mapping[str, int] = {DEVICES: 350, CABLE_SCHEDULE: 200}
"""So many rows of each schedule stand on one page, which thus stays under about 300 kB."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SchedulePart(Generic[Row]):
    """A storey of a schedule, or a numbered part of one.

    path: of the page on which it stands.  title: not escaped.
    """

    path: str
    title: str
    rows: tuple[Row, ...]


def device_parts(document: Document) -> tuple[SchedulePart[DeviceRow], ...]:
    """Return the schedule of devices storey by storey.

    document: as its reader may see it.
    """
    return _parts(DEVICES, document, document.devices, lambda row: row.storey)


def cable_parts(document: Document) -> tuple[SchedulePart[CableRow], ...]:
    """Return the schedule of cables by the storey on which their devices stand.

    document: as its reader may see it.
    """
    return _parts(CABLE_SCHEDULE, document, document.cables, lambda row: row.from_storey)


def on_own_pages(parts: Sequence[SchedulePart[Row]], page: str) -> bool:
    """Say whether a schedule's parts have pages of their own.

    parts: of the schedule.  page: its path.
    """
    return any(part.path != page for part in parts)


def _parts(
    page: str, document: Document, rows: Sequence[Row], storey: Callable[[Row], str]
) -> tuple[SchedulePart[Row], ...]:
    """Return a schedule's rows storey by storey from the lowest up, then those of no storey."""
    by_storey: dict[str, list[Row]] = {}
    for row in rows:
        by_storey.setdefault(storey(row), []).append(row)
    names = {row.tag: f"{row.tag} {row.name}" for row in document.storeys}
    known = [row.tag for row in document.storeys if row.tag in by_storey]
    others = [tag for tag in by_storey if tag not in names]
    most = MOST_ROWS[page]
    found: list[SchedulePart[Row]] = []
    for tag in (*known, *others):
        own, title = by_storey[tag], names.get(tag, tag)
        if len(rows) <= most:
            found.append(SchedulePart(path=page, title=title, rows=tuple(own)))
            continue
        count = -(-len(own) // most)
        for number in range(count):
            found.append(
                SchedulePart(
                    path=part_path(page, tag, number + 1 if count > 1 else 0),
                    title=title if count == 1 else f"{title}, part {number + 1} of {count}",
                    rows=tuple(own[number * most : (number + 1) * most]),
                )
            )
    return tuple(found)
