"""What the offer comes to as the client reads it: room by room, and system by system where it tells them."""

from collections.abc import Iterable, Sequence

from proposal.document.rows.price import NOTHING, OfferRow, PriceSum


def offered_rooms(offer: Sequence[OfferRow]) -> tuple[PriceSum, ...]:
    """Return the sums of the offer by room, in its order; what serves several rooms has an empty key."""
    return tuple(_sum(room, (row for row in offer if row.room == room)) for room in _names(offer, "room"))


def offered_systems(offer: Sequence[OfferRow]) -> tuple[PriceSum, ...]:
    """Return the sums of the offer by system, in its order; nothing where a lump holds several systems."""
    systems = _names(offer, "system")
    if "" in systems:
        return ()
    return tuple(_sum(system, (row for row in offer if row.system == system)) for system in systems)


def _names(offer: Sequence[OfferRow], field: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(getattr(row, field)) for row in offer))


def _sum(key: str, rows: Iterable[OfferRow]) -> PriceSum:
    members = list(rows)
    price = sum((row.price for row in members), NOTHING)
    tax = sum((row.tax for row in members), NOTHING)
    return PriceSum(key=key, price=price, tax=tax, total=price + tax)
