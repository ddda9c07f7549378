"""Tables of portable sets, for the page of states and the pages of the rooms where they are used."""

from collections.abc import Sequence

from proposal.document.rows.portable_sets import PortableLinkRow, PortableSetRow, PortableUseRow
from proposal.pages.markdown import Html
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_table import fields_of, schedule


def portable_sets_table(here: PageContext, rows: Sequence[PortableSetRow]) -> Html:
    """Return what is the same of portable sets in all states."""
    return schedule(
        "Portable sets",
        [
            *fields_of(here, PortableSetRow, "tag", "name", "microphones", "charger"),
            *fields_of(here, PortableSetRow, "lowest", "reserve", "put_away_in"),
        ],
        rows,
    )


def portable_uses_table(here: PageContext, rows: Sequence[PortableUseRow]) -> Html:
    """Return where portable sets are used, what they need there and what is there."""
    return schedule(
        "Where portable sets are used, and what they need there",
        [
            *fields_of(here, PortableUseRow, "set", "states", "place", "room", "needs", "outlet"),
            *fields_of(here, PortableUseRow, "outlet_marks", "outcome", "missing", "worst_margin_db"),
        ],
        rows,
    )


def portable_links_table(here: PageContext, rows: Sequence[PortableLinkRow]) -> Html:
    """Return the links of portable microphones in each place."""
    return schedule(
        "Portable microphones, place by place",
        [
            *fields_of(here, PortableLinkRow, "microphone", "states", "place", "access_point"),
            *fields_of(here, PortableLinkRow, "distance_m", "loss_db", "margin_db", "carrier"),
            *fields_of(here, PortableLinkRow, "slots", "further"),
        ],
        rows,
    )
