"""Checks of the names, currencies and days in the commercial rules."""

import datetime
from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from proposal.model.equipment.library import KIND_OF_FIELD
from proposal.model.labour.labour import Labour
from proposal.model.price.commercial import Commercial, Price
from proposal.model.reading.tree import Path
from proposal.quantities.messages import wanted_one_of
from proposal.quantities.money import Money

FARTHEST_DAYS = 20 * 366
"""A programme is planned day by day; a day decades away is a typing error."""

Complaint = tuple[Path, str]
Sort = Literal["device", "cable", "other"]


def wrong_commercial(
    commercial: Commercial,
    labour: Labour,
    rooms: Iterable[str],
    equipment_rooms: Iterable[str],
    storeys: Iterable[str],
    models: Mapping[str, Sort],
    revision: datetime.date,
) -> Iterator[Complaint]:
    """Yield path, below the commercial rules, and message of names without a target and days too far off.

    rooms, equipment_rooms, storeys: tags; models: model codes of the library, and what each is.
    revision: date of the revision.
    """
    tags, codes = (*rooms, *equipment_rooms), tuple(models)
    kinds = (*KIND_OF_FIELD.values(), *labour.trades, "expenses")
    price, rules = commercial.price, commercial.price.rules
    yield from _unknown(("price", "rules", "kinds"), rules.kinds, kinds, "a kind of equipment or a trade")
    yield from _unknown(("price", "rules", "models"), rules.models, codes, "a model code")
    yield from _unknown(("price", "places"), price.places, tags, "a room or equipment room")
    for path, stated, sorts in _stated(price):
        known_codes = tuple(code for code, sort in models.items() if sort in sorts)
        wanted = "a cable's model code" if sorts == ("cable",) else "the model code of a device"
        yield from _unknown(path, stated, known_codes, wanted)
    hours: Path = ("price", "changes", "hours")
    yield from _unknown(hours, price.changes.hours, tuple(labour.trades), "a trade of the labour data")
    for path, money in own_amounts(commercial).items():
        if money.amount <= 0:
            yield path, f"wanted an amount above 0; found {money}"
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


def _stated(price: Price) -> Iterator[tuple[Path, Mapping[str, Money], tuple[Sort, ...]]]:
    """Yield where prices are stated by model code, the prices, and what can have one there."""
    yield ("price", "selling"), price.selling, ("device",)
    yield ("price", "yearly"), price.yearly, ("device",)
    yield ("price", "changes", "devices"), price.changes.devices, ("device",)
    yield ("price", "changes", "cables"), price.changes.cables, ("cable",)
    yield ("price", "changes", "ends"), price.changes.ends, ("cable",)


def own_amounts(commercial: Commercial) -> Mapping[Path, Money]:
    """Return the prices and rates that a project states as data of its own, by where they stand."""
    price = commercial.price
    found: dict[Path, Money] = {
        (*path, key): money for path, stated, _ in _stated(price) for key, money in stated.items()
    }
    found |= {("price", "changes", "hours", key): money for key, money in price.changes.hours.items()}
    for trade, rate in commercial.labour.rates.items():
        for name, money in (("cost", rate.cost), ("selling", rate.selling)):
            if money is not None:
                found["labour", "rates", trade, name] = money
    return found


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
    """Yield path and currency of every amount whose currency the project has no exchange rate for.

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
        amounts["price", "surcharges", key, "each"] = surcharge.each
        for name, step in surcharge.steps.items():
            amounts["price", "surcharges", key, "steps", name, "above"] = step.above
    for key, allowance in commercial.price.allowances.items():
        amounts["price", "allowances", key, "price"] = allowance.price
    amounts |= own_amounts(commercial)
    for path, money in amounts.items():
        if money is not None and money.currency != currency and money.currency not in rates:
            yield path, money.currency
