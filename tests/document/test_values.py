"""Values as cells show them."""

from decimal import Decimal

from proposal.document.schedule import HOUSE, Shows
from proposal.document.values import Values, cell_text
from proposal.document.words import Words
from tests.sample_document import words


def how() -> Values:
    return Values("metric", "en_GB", "EUR", Words(words("en_GB")))


def test_nought_is_shown_unless_its_cell_is_to_stay_empty() -> None:
    shown, empty = Shows("tax", HOUSE, "money"), Shows("tax", HOUSE, "money", nought=False)
    assert cell_text(Decimal("0.00"), shown, how()) == "€0.00"
    assert cell_text(Decimal("0.00"), empty, how()) == ""
    assert cell_text(Decimal("0.10"), empty, how()) == "€0.10"
