"""What the offer comes to as the client reads it: room by room, and system by system where it tells them."""

from collections.abc import Iterable, Sequence
from typing import TypeVar

from proposal.document.rows.price import NOTHING, OfferRow, PriceSum, RoomPrice, SystemPrice


def offered_rooms(offer: Sequence[OfferRow]) -> tuple[RoomPrice, ...]:
    """Return the sums of the offer by room, in its order; what serves several rooms has an empty key."""
    return tuple(
        _sum(RoomPrice, room, (row for row in offer if row.room == room)) for room in _names(offer, "room")
    )


def offered_systems(offer: Sequence[OfferRow]) -> tuple[SystemPrice, ...]:
    """Return the sums of the offer by system, in its order; nothing where a lump holds several systems."""
    systems = _names(offer, "system")
    if "" in systems:
        return ()
    return tuple(
        _sum(SystemPrice, system, (row for row in offer if row.system == system)) for system in systems
    )


def _names(offer: Sequence[OfferRow], field: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(getattr(row, field)) for row in offer))


P = TypeVar("P", bound=PriceSum)


def _sum(part: type[P], key: str, rows: Iterable[OfferRow]) -> P:
    members = list(rows)
    price = sum((row.price for row in members), NOTHING)
    tax = sum((row.tax for row in members), NOTHING)
    return part(key=key, price=price, tax=tax, total=price + tax)
