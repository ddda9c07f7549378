"""Who sells a thing and which list its prices come from: an entry, or one reel of a cable."""

import datetime

from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Entry
from proposal.model.equipment.materials import Cable


@dataclass(frozen=True, slots=True)
class PriceOrigin:
    """Where the prices of one thing that is sold come from.

    supplier: who is asked for a quote, and sells it.  article: its own number for it.
    source, day: price list or quote of the prices, and its day; empty and None for none.
    holds_until: last day of the prices, None where they hold.
    """

    supplier: str
    article: str
    source: str
    day: datetime.date | None
    holds_until: datetime.date | None

    @property
    def told(self) -> str:
        """Return which price list or quote, and of which day; empty for none."""
        return ", ".join(part for part in (self.source, self.day.isoformat() if self.day else "") if part)


def origin_of(entry: Entry, reel: str = "") -> PriceOrigin:
    """Return where the prices of an entry come from, or those of one of its reels.

    A reel that names its supplier takes nothing from its cable; one that does not takes what it leaves out.

    reel: its name; empty for the entry itself, and for anything that is no reel of it.
    """
    whole = PriceOrigin(
        entry.bought_from, entry.article, entry.price_source, entry.priced_on, entry.prices_hold_until
    )
    one = entry.reels.get(reel) if isinstance(entry, Cable) else None
    if one is None:
        return whole
    if one.supplier:
        return PriceOrigin(one.supplier, one.article, one.price_source, one.priced_on, one.prices_hold_until)
    return PriceOrigin(
        whole.supplier,
        one.article or whole.article,
        one.price_source or whole.source,
        one.priced_on or whole.day,
        one.prices_hold_until or whole.holds_until,
    )
