"""General conditions that are priced by what the design counts: each a line of its own, counted by hand."""

from decimal import Decimal
from pathlib import Path

import pytest

from proposal.document.making.document import document_of
from proposal.editions import edition_of
from proposal.estimate.price.general_counts import general_counts
from proposal.exports.table import schedules
from proposal.exports.workbook.book import workbook
from proposal.exports.workbook.links import WANTED
from proposal.model.labour.labour import SITE_PHASES
from proposal.model.loading import load_project
from proposal.model.price.commercial import CountedBy, Surcharge
from proposal.pipeline import Computed, compute
from proposal.quantities.money import Money
from tests.design.making import changed
from tests.exports.workbook.test_book import cells

FOLDER = Path(__file__).resolve().parents[2] / "projects" / "us_customary"
BY: tuple[CountedBy, ...] = ("room", "storey", "delivery", "room at height", "trade on site")
EACH = Money(Decimal("37.35"), "USD")


@pytest.fixture(scope="module")
def computed() -> Computed:
    project = load_project(FOLDER)
    asked = {
        by.replace(" ", "_"): Surcharge(name=f"By {by}", each=EACH, by=by, covers=("lifts",)) for by in BY
    }
    return compute(changed(project, "brief.price.surcharges", asked))


def wanted(computed: Computed) -> dict[CountedBy, int]:
    library, rooms = computed.project.library, computed.project.rooms.values()
    makers = {library.entry(line.model).maker for line in computed.estimate.lines}
    high = {one.room for one in computed.labour.lines if "height of the work" in dict(one.additions)}
    trades = {one.trade for one in computed.labour.lines if one.phase in SITE_PHASES}
    return {
        "room": 4,
        "storey": len({room.storey for room in rooms}),
        "delivery": len(makers),
        "room at height": len(high),
        "trade on site": len(trades),
    }


@pytest.mark.independent
def test_each_is_counted_and_becomes_a_line_of_its_own(computed: Computed) -> None:
    counts = wanted(computed)
    assert counts["delivery"] > 1
    assert counts["room at height"] > 0
    assert counts["trade on site"] > 3
    lines = {line.item: line for line in computed.price.lines if line.group == "surcharge"}
    for by in BY:
        assert lines[by.replace(" ", "_")].cost == counts[by] * EACH.amount, by
    found = general_counts(computed.project, computed.price.lines, computed.labour)
    assert found == counts


@pytest.mark.independent
def test_the_workbook_multiplies_the_input_by_the_count(computed: Computed) -> None:
    document = document_of(computed)
    edition = edition_of(document, "estimator")
    tables = [one for one in schedules(edition) if one.name in (*WANTED, "surcharges")]
    book = cells(workbook(edition, tables))
    formulas = {formula for sheet in book.values() for _, formula in sheet.values() if "_each" in formula}
    for by, count in wanted(computed).items():
        assert f"ROUND(ROUND(in_price_surcharges_{by.replace(' ', '_')}_each,8),2)*{count}" in formulas, (
            formulas
        )
    (left,) = [
        value for value, _ in book["Recap"].values() if value.startswith("Without a line of their own")
    ]
    assert "lifts" not in left
    assert "supervision, mobilisation, delivery" in left


def test_a_count_without_an_amount_is_refused() -> None:
    from pydantic import ValidationError

    with pytest.raises(ValidationError, match="wanted each beside by; found none"):
        Surcharge(name="Lifts", amount=EACH, by="storey")
    with pytest.raises(ValidationError, match="one of a share, an amount, each and share_of_sum"):
        Surcharge(name="Lifts", amount=EACH, each=EACH)
