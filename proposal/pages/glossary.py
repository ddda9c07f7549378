"""Words of the trade, explained for a client."""

from typing import ClassVar

from proposal.field_classes import dataclass
from proposal.pages.page_context import PageContext


@dataclass(frozen=True, slots=True, kw_only=True)
class GlossaryPage:
    """Words of the trade that stand on the pages of the client; the template holds them."""

    template: ClassVar[str] = "glossary.md.jinja"


def glossary_page(here: PageContext) -> GlossaryPage:
    """Return the page of words explained.

    here: the page, which is the same for every client.
    """
    del here
    return GlossaryPage()
