"""The words by which a search finds the pages of a site, and which pages come first."""

from collections.abc import Mapping
from fnmatch import fnmatchcase

from proposal.document.document import Document
from proposal.field_classes import dataclass
from proposal.pages.paths import room_sheet_path


@dataclass(frozen=True, slots=True)
class FoundBy:
    """How a page is found.

    boost: by how much its score is multiplied: what people ask for most comes first.
    words: that people type for it, besides those that it holds.
    """

    boost: float
    words: tuple[str, ...] = ()


def _found_by(boost: float, words: str = "") -> FoundBy:
    return FoundBy(boost, tuple(words.split()))


_FOUND_BY: Mapping[str, FoundBy] = {
    "summary.md": _found_by(
        5,
        "overview management decide decision decisions need needed order ordering sign contact telephone get",
    ),
    "price.md": _found_by(
        6,
        "price prices cost costs how much budget money quote total tax VAT payment payments pay pays invoice "
        "invoices",
    ),
    "programme.md": _found_by(
        6,
        "programme schedule dates date timeline deadline deadlines calendar Gantt milestones duration "
        "finish finished ready delivery delivered when",
    ),
    "rooms.md": _found_by(5, "room rooms seats floor floors"),
    "rooms/*/*.md": _found_by(0.5),
    "rooms/*.md": _found_by(4),
    "room-list/*.md": _found_by(4),
    "alternates.md": _found_by(
        2, "alternates alternatives options option choices choice variants decide decision"
    ),
    "alternates/*.md": _found_by(0.3),
    "changes.md": _found_by(0.5, "changes changed differences revision update"),
    "scope.md": _found_by(
        4,
        "scope guarantee guarantees warranty training support maintenance service terms ordering acceptance",
    ),
    "assumptions.md": _found_by(
        4, "assumptions exclusions excluded not included questions risks hearing loop aids listening"
    ),
    "responsibilities.md": _found_by(
        5, "responsibilities responsibility duties others matrix who contractor electrician"
    ),
    "changes/*.md": _found_by(0.2),
    "findings.md": _found_by(1, "warnings problems risks errors issues"),
    "cautions.md": _found_by(2, "cautions safety hazards batteries"),
    "glossary.md": _found_by(1, "glossary words terms meaning jargon explained abbreviations"),
    "unit-prices.md": _found_by(3, "rates hourly extras additions variations"),
    "network.md": _found_by(2, "IT firewall VLAN ports"),
    "mains.md": _found_by(2, "electricity energy power heat"),
    "equipment.md": _found_by(2, "equipment products parts models"),
    "drawings.md": _found_by(1, "drawings plans sheets"),
    # A word in a title counts a thousandfold: after that too, drawings come last.
    "drawings/*.md": _found_by(0.0001),
    "*": _found_by(0.5),
}
"""By pattern of the page's path, the first that fits; schedules come after what people ask for."""


MOST_WORDS = 50
"""So many words of a page are searched for one by one; each is an element of its own in the results."""


def words_of_rooms(document: Document) -> Mapping[str, tuple[str, ...]]:
    """Return the tags and names of rooms by the path of the page of their kind, those of many in one text."""
    names = {row.tag: row.name for row in document.rooms}
    found: dict[str, tuple[str, ...]] = {}
    for sheet in document.room_sheets:
        words = [word for tag in sheet.rooms for word in (tag, names.get(tag, "")) if word]
        found[room_sheet_path(sheet.key)] = tuple(words if len(words) <= MOST_WORDS else [" ".join(words)])
    return found


def found_by(path: str) -> FoundBy:
    """Return how the search finds a page.

    path: of the page.
    """
    return next(one for pattern, one in _FOUND_BY.items() if fnmatchcase(path, pattern))
