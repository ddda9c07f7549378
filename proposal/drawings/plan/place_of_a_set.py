"""Where a portable set stands beside the rooms of a storey, and what its microphones are set to there."""

from dataclasses import dataclass

from proposal.drawings.canvas import Canvas
from proposal.drawings.colours import BAND, FRAME, INK, MUTED, PAPER
from proposal.drawings.label_ground import Box, Ground
from proposal.drawings.label_placement import Label, placed_labels
from proposal.drawings.lettering import plain, wrapped
from proposal.drawings.plan.field import NORMAL, SMALL, table, table_size
from proposal.drawings.plan.marking import closed, draw_label

Point = tuple[float, float]
Link = tuple[str, str, str, str, str]
_HEADINGS = ("Microphone", "States", "Access point", "Carrier", "Slot pairs")
_LEAST, _MOST_ROWS = 110.0, 24
"""Height of the picture of the storey below which it says nothing, pt; rows that a sheet has places for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPlace:
    """A place of a portable set.

    told: what stands below the title of the sheet.  where: how far it is from what is near, in words.
    rooms: tag and corners of each room of the storey, in the building, m.  stand: corners of the set.
    links: of each microphone in each state: tag, states, access point, carrier, slot pairs; none where the
        reader sees no radio.
    left_out: how many of these there are besides.
    """

    told: str
    where: str
    rooms: tuple[tuple[str, tuple[Point, ...]], ...]
    stand: tuple[Point, ...]
    links: tuple[Link, ...] = ()
    left_out: int = 0


def of_links(links: tuple[Link, ...]) -> tuple[tuple[Link, ...], int]:
    """Return the links that a sheet has places for, and how many are left out."""
    return links[:_MOST_ROWS], max(0, len(links) - _MOST_ROWS)


def parts_of(site: SetPlace) -> list[tuple[float, float]]:
    """Return width and height of what is drawn beside the plan of a set, pt."""
    found = [(260.0, _LEAST)]
    return [*found, table_size(_HEADINGS, _rows(site))] if site.links else found


def _rows(site: SetPlace) -> list[list[list[str]]]:
    return [[list(wrapped(cell, 120, 4, NORMAL)) for cell in row] for row in site.links]


def draw_site(canvas: Canvas, site: SetPlace, box: Box) -> None:
    """Draw what the microphones are set to, and below it the storey with the place of the set.

    box: what is left of the sheet, pt.
    """
    left, top, right, bottom = box
    if site.links:
        canvas.text((left, top + 8), "What its microphones use on the air here", NORMAL, bold=True)
        _, _, _, top = table(canvas, (left, top + 14), _HEADINGS, _rows(site))
        if site.left_out:
            canvas.text((left, top + 10), f"{site.left_out} more on the page of states.", SMALL, colour=MUTED)
            top += 10
        top += 16
    lines = wrapped(site.where, right - left, 4, NORMAL)
    for n, words in enumerate(lines):
        canvas.text((left, top + 8 + 10 * n), words, NORMAL)
    top += 14 + 10 * len(lines)
    if bottom - top >= _LEAST:
        _storey(canvas, site, (left, top, right, bottom))


def _storey(canvas: Canvas, site: SetPlace, box: Box) -> None:
    """Draw the rooms of the storey and the place of the set, not to a scale of its own."""
    left, top, right, bottom = box
    points = [point for _, corners in site.rooms for point in corners] + list(site.stand)
    west, east = min(x for x, _ in points), max(x for x, _ in points)
    south, north = min(y for _, y in points), max(y for _, y in points)
    metre = min((right - left - 40) / max(east - west, 1.0), (bottom - top - 40) / max(north - south, 1.0))
    canvas.polygon(((left, top), (right, top), (right, bottom), (left, bottom)), PAPER, FRAME, 0.6)

    def on_paper(at: Point) -> Point:
        return (
            (left + right - (east - west) * metre) / 2 + (at[0] - west) * metre,
            (top + bottom + (north - south) * metre) / 2 - (at[1] - south) * metre,
        )

    ground = Ground(box)
    labels = []
    for tag, corners in site.rooms:
        drawn = [on_paper(corner) for corner in corners]
        canvas.polygon(drawn, BAND, FRAME, 0.6)
        ground.rule(closed(drawn))
        labels.append(Label((plain(tag),), _middle(drawn), size=SMALL, led=0, colour=MUTED))
    stand = [on_paper(corner) for corner in site.stand]
    x, y = _middle(stand)
    reach = max(3.0, *(abs(corner[0] - x) for corner in stand), *(abs(corner[1] - y) for corner in stand))
    canvas.circle((x, y), reach + 2, PAPER, FRAME, 0.6)
    canvas.polygon(stand, PAPER, INK, 1.6)
    ground.fill((x - reach - 2, y - reach - 2, x + reach + 2, y + reach + 2))
    placed, _ = placed_labels((Label(("the set",), (x, y), (reach + 2, reach + 2), SMALL), *labels), ground)
    for label in placed:
        draw_label(canvas, label)


def _middle(points: list[Point]) -> Point:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
