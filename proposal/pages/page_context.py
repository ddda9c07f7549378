"""What every page needs to write: figures in the project's units, and links relative to the page."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field
from decimal import Decimal
from functools import lru_cache
from posixpath import dirname, relpath

from proposal.differences.keys import natural_key
from proposal.document.document import Document
from proposal.document.readers import Shown
from proposal.document.rows.terms import Cover
from proposal.document.schedule import Link
from proposal.document.values import Values, values_of
from proposal.editions import Edition
from proposal.field_classes import dataclass
from proposal.pages.link_targets import Space, Targets
from proposal.pages.markdown import Html, join, link, text
from proposal.pages.marks import Marks
from proposal.pages.paths import alternate_path
from proposal.pages.phrases import code_runs, natural
from proposal.pages.tables import Cell
from proposal.quantities import computed_figures, formatting, percentages

_SPACES: Mapping[str, Space] = {
    "tag": "tag",
    "room": "room",
    "port": "tag",
    "alternate": "alternate",
    "sheet": "sheet",
    "number": "number",
    "drawing": "drawing",
    "model": "model",
    "activity": "activity",
}


@dataclass(frozen=True, slots=True)
class PageContext:
    """One page's place in an edition.

    path: of the page.  edition: what it shows.  targets: where everything stands.
    marks: of rows that are new or changed since the issue before.
    values: how the document writes values.
    """

    path: str
    edition: Edition
    targets: Targets
    marks: Marks = field(default_factory=dict)
    values: Values = field(init=False)

    def __post_init__(self) -> None:
        """Look up once how the document writes values: each cell asks for it."""
        object.__setattr__(self, "values", values_of(self.edition.document))

    @property
    def document(self) -> Document:
        """The document as the edition's reader may see it."""
        return self.edition.document

    @property
    def cover(self) -> Cover:
        """The cover, which holds units and locale."""
        return self.edition.document.cover

    def heading(self, key: str) -> str:
        """Return a heading of the table of words.

        key: of the heading.
        """
        return self.values.words.heading(key)

    # Links

    def href(self, path: str) -> str:
        """Return the way from this page to a file or another page, by its path in the site."""
        path, sign, fragment = path.partition("#")
        if path == self.path and fragment:
            return f"#{fragment}"
        return _way(dirname(self.path), path) + sign + fragment

    def to(self, path: str, label: object) -> Html:
        """Return a link to a page by its path.

        path: of the page, from the root of the site.
        label: text of the link.
        """
        return link(label, self.href(path))

    def tag(self, name: str, label: object = None) -> Html:
        """Return a room's, device's, storey's tag or a cable's identity, as a link where it has a row.

        name: the tag or identity.
        label: text of the link; left out, the name itself.
        """
        return self._linked("tag", name, label)

    def tags(self, names: Iterable[str]) -> Html:
        """Return several tags as a list in one line.

        names: tags or identities.
        """
        return join((self.tag(name) for name in names), ", ")

    def sheet(self, key: str, label: object) -> Html:
        """Return a link to the page of a kind of room.

        key: of the kind of room.
        label: text of the link.
        """
        return self._linked("sheet", key, label)

    def number(self, number: str) -> Html:
        """Return the number of a working, assumption, question or finding as a link where it stands."""
        return self._linked("number", number, None)

    def numbers(self, numbers: Iterable[str]) -> Html:
        """Return several numbers in order as a list in one line, neighbours joined: W3, W5 to W9."""
        runs = code_runs(sorted(numbers, key=natural))
        return join((join((self.number(end) for end in ends), " to ") for ends in runs), ", ")

    def drawing(self, number: str, label: object = None) -> Html:
        """Return a sheet number as a link to its page.

        label: text of the link; left out, the number itself.
        """
        return self._linked("drawing", number, label)

    def activity(self, key: str, label: object = None) -> Html:
        """Return an activity of the programme as a link to its row, by its key.

        label: text of the link; left out, the name of the activity.
        """
        return self._linked("activity", key, label)

    def subject(self, name: str) -> Html:
        """Return what something is about as a link: a tag, an identity, a kind of room by key or title.

        name: one of these.
        """
        if ("tag", name) not in self.targets:
            for sheet in self.document.room_sheets:
                if name in (sheet.key, sheet.title):
                    return self.sheet(sheet.key, sheet.title)
            if ("activity", name) in self.targets:
                return self.activity(name, self._called(name, "activity"))
        return self.tag(name)

    def stands_here(self, name: object) -> bool:
        """Say whether what has a name stands on this very page."""
        return any(
            self.targets.get((space, str(name)), "").startswith(f"{self.path}#")
            for space in ("tag", "model", "number")
        )

    def linked(self, name: str, link_to: Link, label: str | None = None) -> Html | str:
        """Return what a field names as a link where that stands on a page, by what the field declares.

        name: as the row has it.  label: what is shown; what it is called where left out.
        """
        if not link_to or not name:
            return name if label is None else label
        if link_to == "subject":
            return self.subject(name)
        if link_to == "ports":
            return self._linked("switch", name, label)
        if link_to == "room" and self.targets.get(("room", name), self.path) == self.path:
            # A room without a page, or on its own page: its row in the list of rooms says more.
            return self._linked("tag", name, self._called(name, link_to) if label is None else label)
        return self._linked(_SPACES[link_to], name, self._called(name, link_to) if label is None else label)

    def _called(self, name: str, link_to: Link) -> str:
        """Return what something is called that rows know by a key or a tag."""
        if link_to == "room":
            return self.room_name(name)
        if link_to == "activity":
            return next((row.name for row in self.document.activities if row.key == name), name)
        if link_to == "alternate":
            return next((one.row.name for one in self.edition.alternates if one.row.key == name), name)
        return name

    def _linked(self, space: Space, name: str, label: object) -> Html:
        shown = name if label is None else label
        if space == "alternate" and any(one.row.key == name for one in self.edition.alternates):
            return self.to(alternate_path(name), shown)
        target = self.targets.get((space, name))
        return text(shown) if target is None else self.to(target, shown)

    # Changes

    def mark(self, collection: str) -> Callable[[Shown], Html | None]:
        """Return the function that marks new or changed rows of a collection in a schedule."""
        return lambda row: self.marks.get((collection, natural_key(row)))

    # Figures

    def quantity(self, value: float, kind: str) -> str:
        """Return a value with its unit.

        value: in SI units.
        kind: kind of quantity.
        """
        return formatting.quantity(value, kind, self.cover.units, self.cover.locale)

    def short_quantity(self, value: float, kind: str) -> str:
        """Return a value with its unit for prose, without trailing zeros.

        value: in SI units.
        kind: kind of quantity.
        """
        return formatting.short_quantity(value, kind, self.cover.units, self.cover.locale)

    def cell(self, value: float | None, kind: str) -> Cell | None:
        """Return a value without its unit as a cell that sorts by size as shown; None stays empty.

        value: in SI units.
        kind: kind of quantity.
        """
        if value is None:
            return None
        units = self.cover.units
        # What is not shown is not compared either: a page changes only where a reader sees it change.
        order = formatting.rounded(
            formatting.converted(value, kind, units), formatting.places_of(kind, units)
        )
        return Cell(formatting.bare(value, kind, units, self.cover.locale), float(order))

    def count(self, value: int | None) -> Cell | None:
        """Return a whole number as a cell that sorts by size; None stays empty.

        value: the number.
        """
        if value is None:
            return None
        return Cell(formatting.number(value, self.cover.locale), value)

    def money(self, amount: Decimal | None) -> Cell | None:
        """Return an amount in the project's currency as a cell that sorts by size; None stays empty."""
        if amount is None:
            return None
        return Cell(formatting.money(amount, self.cover.currency, self.cover.locale), float(amount))

    def share(self, value: Decimal | None) -> Cell | None:
        """Return a share as a percentage, in a cell that sorts by size; None stays empty.

        value: 0 to 1.
        """
        if value is None:
            return None
        return Cell(percentages.percentage(value, self.cover.locale), float(value))

    def room_name(self, tag: str) -> str:
        """Return the tag of a room or equipment room with its name, for a heading."""
        names = {row.tag: row.name for row in self.document.equipment_rooms}
        names.update((row.tag, row.name) for row in self.document.rooms)
        return f"{tag} {names.get(tag, '')}".strip()

    def figure(self, value: float, unit: str) -> str:
        """Return a computed number with the unit it was computed in, as `computed_figures.figure` does.

        value: in `unit`.
        """
        return computed_figures.figure(value, unit, self.cover.units, self.cover.locale)


@lru_cache(maxsize=65_536)
def _way(folder: str, path: str) -> str:
    """Return the way from a folder of the site to a file of it."""
    return relpath(path, folder or ".")
