"""A library priced in another currency needs a rate of exchange."""

from proposal.model.price.exchange import library_without_rate
from tests.design.making import minimal


def test_a_library_in_another_currency_needs_a_rate() -> None:
    library = minimal().library
    assert list(library_without_rate(library, "EUR", {})) == []
    ((path, message),) = library_without_rate(library, "USD", {})
    assert path == ("terms", "exchange")
    assert "an exchange rate for EUR" in message
    assert list(library_without_rate(library, "USD", {"EUR": 1})) == []
