"""Until when an order is taken, and which day of acceptance it leads to: said once for pages and prose."""

from proposal.document.document import Document
from proposal.quantities import formatting


def order_days(document: Document) -> str:
    """Return until when an order is taken at the price, and what each later day of it means, in sentences.

    document: with its cover and programme; without a programme the price alone has a day.
    """
    programme, locale = document.programme, document.cover.locale
    last = formatting.date(document.cover.valid_until, locale)
    if programme is None or not document.activities:
        return f"You can order at this price until {last}."
    order, done = (formatting.date(day, locale) for day in (programme.start, programme.finish))
    if programme.start > document.cover.valid_until:
        return (
            f"You can order at this price until {last}; the programme begins later, on {order}, and ends "
            f"with acceptance on {done}. Order by {last}, or ask us to prolong the price."
        )
    first = programme.order_not_before == programme.start
    by = (
        f"With an order on {order}, the first day on which you can," if first else f"With an order by {order}"
    )
    return (
        f"{by} the work is complete and accepted on {done}, and you can use all rooms after that day. We "
        f"take an order at this price until {last}; each working day that it comes later may move "
        "acceptance, and the other days with it, by a working day."
    )
