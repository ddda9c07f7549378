"""What is known of sheets, kept from one build to the next: what each shows is not worked out again.

Beside it stands what the sheet read of the edition, as for pages (`kept_pages.py`).
"""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from proposal.document.rows.sheets import SheetRow
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.publish.cache import Cache
from proposal.publish.kept_reads import digest_of, held_under, keep_under, kept_for, names_in

if TYPE_CHECKING:
    from proposal.pages.page_reads import Reads


@dataclass(frozen=True, slots=True)
class SheetFacts:
    """What is told of a sheet beside its drawing.

    key: under which its drawing is kept.  alternative: what it shows, in words.
    change: what became of it since the last issue, as drawings tell it.
    """

    key: str
    alternative: str
    change: str


class KeptSheets:
    """What is known of the sheets of one edition."""

    def __init__(self, reads: "Reads", cache: Cache) -> None:
        """Take what sheets read, and what keeps it."""
        self._reads, self._cache = reads, cache
        self._key = kept_for("sheets", reads.edition.reader)
        self._held = held_under(self._key, cache)
        self._kept: dict[str, object] = {}

    def facts(self, sheet: SheetRow, made: Callable[[Edition], SheetFacts]) -> SheetFacts:
        """Return what is known of a sheet, or make it.

        made: works it out from the edition as sheets see it.
        """
        basis = self._reads.digest_of(sheet)
        held = self._held.get(sheet.number)
        known = self._known(basis, held)
        if known is not None:
            self._kept[sheet.number] = held
            return known
        with self._reads.noting() as names:
            facts = made(self._reads.edition)
        digest = digest_of(self._reads, names)
        if digest is not None:
            self._kept[sheet.number] = {
                "basis": basis,
                "reads": sorted(names),
                "digest": digest,
                "facts": [facts.key, facts.alternative, facts.change],
            }
        return facts

    def keep(self) -> None:
        """Keep what was made, once all sheets were asked for."""
        keep_under(self._key, self._kept, self._held, self._cache)

    def _known(self, basis: str, held: Any) -> SheetFacts | None:
        """Return what was made of a sheet before, None where it has to be made anew."""
        try:
            if held["basis"] != basis or held["digest"] != digest_of(self._reads, names_in(held)):
                return None
            key, alternative, change = held["facts"]
        except (LookupError, TypeError, ValueError):
            return None
        return SheetFacts(key, alternative, change)
