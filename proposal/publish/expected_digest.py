"""Whether a record has the digest that somebody was given."""

import re
from pathlib import Path

from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.publish.editions_from_record import SHORTEST_DIGEST
from proposal.publish.program_folders import ISSUED
from proposal.publish.record import records_of
from proposal.publish.verifying import refuse_no_project, refuse_unknown
from proposal.quantities.messages import shown

_DIGITS = re.compile(rf"[0-9a-f]{{{SHORTEST_DIGEST},64}}")


@dataclass(frozen=True, slots=True)
class Held:
    """A record compared with a digest.

    revision: whose record.  expected: the digest, or its beginning.  found: of the record as it lies there.
    """

    revision: str
    expected: str
    found: str

    @property
    def agrees(self) -> bool:
        """Whether the record has the digest."""
        return self.found.startswith(self.expected)

    def __str__(self) -> str:
        """Return the line a person reads."""
        if self.agrees:
            return f"revision {self.revision}: its record is the one of digest {self.expected}"
        return f"revision {self.revision}: wanted a record of digest {self.expected}; found {self.found}"


def held_against(folder: Path, revision: str | None, expected: str) -> Held:
    """Return the record of a revision compared with a digest; the digest is computed from its files.

    folder: the project folder.
    revision: whose record; None for the one issued last.
    expected: the digest, or its beginning as a cover shows it; capitals and spaces do not matter.
    Raises InputError where there is no such record, or it cannot be read, or the digest is none.
    """
    refuse_no_project(folder)
    digest = "".join(expected.split()).lower()
    if not _DIGITS.fullmatch(digest):
        message = (
            f"wanted {SHORTEST_DIGEST} to 64 hexadecimal digits, as a cover shows; found {shown(expected)}"
        )
        raise InputError([Problem(Place("--expect"), "", message)])
    records = records_of(folder)
    if not records:
        raise InputError([Problem(Place(ISSUED), "", "wanted an issued revision; found none")])
    if revision is not None:
        refuse_unknown(revision, [one.manifest.revision for one in records])
    record = next((one for one in records if one.manifest.revision == revision), records[-1])
    return Held(record.manifest.revision, digest, record.digest())
