"""The page of a part of a long schedule that has nothing else on it."""

from typing import ClassVar

from proposal.field_classes import dataclass
from proposal.pages.markdown import Html, text
from proposal.pages.page_context import PageContext


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPage:
    """A part of a long schedule: its title, the way to the page of the whole, and its rows."""

    template: ClassVar[str] = "part.md.jinja"
    title: Html
    overview: Html
    rows: Html


def part_page(here: PageContext, title: str, whole: tuple[str, str], rows: Html) -> PartPage:
    """Return the page of a part of a schedule.

    title: not escaped.
    whole: path of the page of the whole, and what stands there.
    rows: the table.
    """
    return PartPage(title=text(title), overview=here.to(*whole), rows=rows)
