"""Names, currencies and days of the commercial rules that cannot be what they should be."""

import datetime
from collections.abc import Iterable, Iterator, Mapping

from proposal.model.equipment.library import KIND_OF_FIELD
from proposal.model.labour.labour import Labour
from proposal.model.price.commercial import Commercial
from proposal.model.reading.tree import Path
from proposal.quantities.messages import wanted_one_of
from proposal.quantities.money import Money

FARTHEST_DAYS = 20 * 366
"""A programme is planned day by day; a day decades away is a slip of the pen."""

Complaint = tuple[Path, str]


def wrong_commercial(
    commercial: Commercial,
    labour: Labour,
    rooms: Iterable[str],
    equipment_rooms: Iterable[str],
    storeys: Iterable[str],
    models: Iterable[str],
    revision: datetime.date,
) -> Iterator[Complaint]:
    """Yield path, below the commercial rules, and message of what names nothing or lies too far off.

    rooms, equipment_rooms, storeys: tags; models: model codes of the library.
    revision: date of the revision.
    """
    tags = (*rooms, *equipment_rooms)
    kinds = (*KIND_OF_FIELD.values(), *labour.trades, "expenses")
    price, rules = commercial.price, commercial.price.rules
    yield from _unknown(("price", "rules", "kinds"), rules.kinds, kinds, "a kind of equipment or a trade")
    yield from _unknown(("price", "rules", "models"), rules.models, tuple(models), "a model code")
    yield from _unknown(("price", "places"), price.places, tags, "a room or equipment room")
    for key, allowance in price.allowances.items():
        if allowance.room and allowance.room not in tags:
            message = wanted_one_of(allowance.room, tags, "a room or equipment room")
            yield ("price", "allowances", key, "room"), message
    known = tuple(storeys)
    for key, day in commercial.programme.dates.items():
        for index, storey in enumerate(day.storeys):
            if storey not in known:
                message = wanted_one_of(storey, known, "a storey of building.yaml")
                yield ("programme", "dates", key, "storeys", index), message
    yield from _far_days(commercial, revision)


def _unknown(path: Path, names: Iterable[str], known: tuple[str, ...], wanted: str) -> Iterator[Complaint]:
    for name in names:
        if name not in known:
            yield (*path, name), wanted_one_of(name, known, wanted)


def _far_days(commercial: Commercial, revision: datetime.date) -> Iterator[Complaint]:
    programme = commercial.programme
    dates: dict[Path, datetime.date | None] = {("programme", "order"): programme.order}
    dates |= {("programme", "dates", key, "date"): day.date for key, day in programme.dates.items()}
    for path, date in dates.items():
        if date is not None and abs((date - revision).days) > FARTHEST_DAYS:
            message = f"wanted a day within 20 years of the revision's date, {revision}; found {date}"
            yield path, message


def currencies_without_rate(
    commercial: Commercial, labour: Labour, currency: str, rates: Mapping[str, object]
) -> Iterator[Complaint]:
    """Yield path and message of every amount whose currency the project has no exchange rate for.

    currency: the project's; rates: exchange rates by currency. Paths begin with `price` or `labour`.
    """
    amounts: dict[Path, Money | None] = {}
    for key, trade in labour.trades.items():
        amounts["labour", "trades", key, "cost"] = trade.cost
        amounts["labour", "trades", key, "selling"] = trade.selling
    if labour.travel:
        amounts["labour", "travel", "expenses_a_day"] = labour.travel.expenses_a_day
    for key, surcharge in commercial.price.surcharges.items():
        amounts["price", "surcharges", key, "amount"] = surcharge.amount
    for key, allowance in commercial.price.allowances.items():
        amounts["price", "allowances", key, "price"] = allowance.price
    for path, money in amounts.items():
        if money is not None and money.currency != currency and money.currency not in rates:
            yield path, f"wanted an exchange rate for {money.currency} in terms.exchange; found none"
