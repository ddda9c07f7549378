"""The table of words: what headings, coded values, composed texts and rows are called."""

import re
from collections.abc import Mapping

from proposal.field_classes import dataclass

_PART = re.compile(r"\{(\w+)\}")


@dataclass(frozen=True, slots=True)
class Words:
    """The words of one document.

    table: words by section and key, such as `headings.length`.
    """

    table: Mapping[str, str]

    def heading(self, key: str) -> str:
        """Return a heading.

        Raises KeyError where the table has none of this key.
        """
        return self.table[f"headings.{key}"]

    def value(self, code: str, kind: str = "") -> str:
        """Return what a coded value is called; the code itself where the table has no other word.

        kind: set of words that spells it, where the code means other things elsewhere.
        """
        own = self.table.get(f"values.{kind}.{code}") if kind else None
        return self.table.get(f"values.{code}", code) if own is None else own

    def text(self, key: str, **parts: str) -> str:
        """Return a composed text with its parts put in where the table names them in braces.

        Raises KeyError where the table has none of this key.
        """
        return _PART.sub(lambda found: parts.get(found[1], found[0]), self.table[f"texts.{key}"])

    def row(self, schedule: str) -> str:
        """Return what a row of a schedule is called; nothing where its key says it."""
        return self.table.get(f"rows.{schedule}", "")

    def subject(self, name: str) -> str:
        """Return the heading under which changes of a subject are listed.

        name: of the subject.
        """
        return self.table[f"subjects.{name}"]
