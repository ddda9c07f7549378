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
    for code in sorted({money.currency for entry in library.entries() for money in _amounts(entry)}):
        if code != currency and code not in rates:
            yield ("terms", "exchange"), rate_wanted(code, LIBRARY_PRICED)


LIBRARY_PRICED = ", in which the library and the labour data have prices"


def rate_wanted(code: str, where: str = "") -> str:
    """Return what is said where a currency has no exchange rate.

    code: of the currency.  where: what is in it, as a clause.
    """
    return (
        f"wanted an exchange rate for {code}{where} (terms.exchange), such as "
        f'`{code}: {{rate: "1.10", date: 2031-02-10, source: our bank}}`; found none'
    )


def _amounts(entry: Entry) -> Iterator[Money]:
    yield entry.list_price
    yield entry.cost
    if entry.yearly_cost is not None:
        yield entry.yearly_cost
    if isinstance(entry, Cable):
        for reel in entry.reels.values():
            yield reel.list_price
            yield reel.cost
