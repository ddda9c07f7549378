"""Whether every currency of the library can be turned into the project's."""

from collections.abc import Iterator, Mapping

from proposal.model.equipment.entry import Entry
from proposal.model.equipment.library import Library
from proposal.model.equipment.materials import Cable
from proposal.model.reading.tree import Path
from proposal.quantities.money import Money


def library_without_rate(
    library: Library, currency: str, rates: Mapping[str, object]
) -> Iterator[tuple[Path, str]]:
    """Yield path, below project.yaml, and message of every currency of the library without an exchange rate.

    currency: the project's; rates: exchange rates by currency.
    """
    priced: dict[str, str] = {}
    for entry in library.entries():
        for money in _amounts(entry):
            priced.setdefault(money.currency, entry.model)
    for code, model in sorted(priced.items()):
        if code != currency and code not in rates:
            message = (
                f"wanted an exchange rate for {code}, in which the library prices {model}, such as "
                f'`{code}: {{rate: "1.10", date: 2031-02-10, source: our bank}}`; found none'
            )
            yield ("terms", "exchange"), message


def _amounts(entry: Entry) -> Iterator[Money]:
    yield entry.list_price
    yield entry.cost
    if entry.yearly_cost is not None:
        yield entry.yearly_cost
    if isinstance(entry, Cable):
        for reel in entry.reels.values():
            yield reel.list_price
            yield reel.cost
