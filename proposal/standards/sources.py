"""Where a value or a rule comes from: a publication, common practice, or an editable default."""

from dataclasses import dataclass
from typing import Literal

Kind = Literal["published", "common practice", "editable default"]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value or a rule comes from.

    title, edition, clause: the publication, empty for a rule without a single source
    kind: published, common practice or editable default
    memory: whether nobody has yet seen the published page
    """

    title: str = ""
    edition: str = ""
    clause: str = ""
    kind: Kind = "published"
    memory: bool = False

    def __post_init__(self) -> None:
        """Refuse a published source without a name."""
        if self.kind == "published" and not self.title:
            raise ValueError("wanted the title of the publication; found none")

    def __str__(self) -> str:
        """Return the source as the pages print it, such as `ANSI/TIA-568.2-D, 6.4 (memory)`."""
        name = self.title
        if self.edition:
            name += f", {self.edition}" if " " in self.edition else f"-{self.edition}"
        if self.clause:
            name += f", {self.clause}"
        if self.kind != "published":
            name = f"{self.kind}: {name}" if name else self.kind
        return f"{name} (memory)" if self.memory else name


COMMON_PRACTICE = Source(kind="common practice")
EDITABLE_DEFAULT = Source(kind="editable default")
