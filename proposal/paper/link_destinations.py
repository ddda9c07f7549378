"""Where links lead on paper: to a page, to a row or a heading of it, or to an address outside."""

from collections.abc import Mapping, Set
from posixpath import dirname, normpath
from urllib.parse import unquote, urlsplit

from proposal.field_classes import dataclass
from proposal.paper.html_tree import Element

_OUTSIDE = frozenset({"http", "https", "mailto"})


@dataclass(frozen=True, slots=True)
class Destinations:
    """All that can be led to.

    identities: of each page, by its path, the ids that stand on it.
    drawings: path of the page of each drawing's file.
    used: names of the rows and headings that a link leads to.
    """

    identities: Mapping[str, Set[str]]
    drawings: Mapping[str, str]
    used: Set[str]

    def target(self, page: str, href: str) -> str:
        """Return where a link leads: `#` and a name, an address outside, or nothing.

        page: path of the page that it stands on.  href: as the page has it.
        """
        try:
            parts = urlsplit(href)
        except ValueError:
            return ""
        if parts.scheme:
            return href if parts.scheme in _OUTSIDE else ""
        place = place_of(page, href) if parts.path else page
        if place in self.drawings:
            return f"#{self.drawings[place]}"
        path = f"{place.removesuffix('.html')}.md" if place.endswith(".html") else place
        if path not in self.identities:
            return ""
        identity = unquote(parts.fragment)
        return f"#{path}#{identity}" if identity in self.identities[path] else f"#{path}"

    def name(self, page: str, identity: str) -> str:
        """Return the name of an id, empty where nothing leads to it.

        page: path of its page.  identity: the id.
        """
        name = f"{page}#{identity}"
        return name if name in self.used else ""


def destinations(trees: Mapping[str, Element], drawings: Mapping[str, str]) -> Destinations:
    """Return all that can be led to on pages.

    trees: the pages by their paths.  drawings: path of the page of each drawing's file.
    """
    identities = {
        path: frozenset(one.attributes["id"] for one in tree.every() if one.attributes.get("id"))
        for path, tree in trees.items()
    }
    all_of_them = Destinations(identities, drawings, frozenset())
    used = frozenset(
        all_of_them.target(path, one.attributes.get("href", "")).removeprefix("#")
        for path, tree in trees.items()
        for one in tree.every()
        if one.tag == "a"
    )
    return Destinations(identities, drawings, used)


def place_of(page: str, address: str) -> str:
    """Return the path in the site of what a page shows or leads to.

    page: path of the page.  address: as the page has it, relative to it.
    """
    return normpath(f"{dirname(page) or '.'}/{unquote(urlsplit(address).path)}")
