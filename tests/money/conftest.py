"""The three projects, computed once, with their alternates and combinations."""

from dataclasses import dataclass
from functools import cached_property

import pytest

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.making.proposal import alternate_document, combination, combinations_of, proposal_of
from proposal.document.whole_proposal import Proposal
from proposal.editions import Edition, edition_of_proposal
from proposal.exports.table import Table, schedules
from proposal.exports.workbook.book import workbook
from proposal.model.loading import load_source
from proposal.pipeline import Computed, compute
from tests.exports.workbook.price_sheets import tables_of
from tests.money.projects import CURRENCIES, PLACES, money_project


@dataclass(frozen=True, kw_only=True)
class Priced:
    """A project in a currency: what was computed, its proposal, and what its estimator reads."""

    currency: str
    computed: Computed
    proposal: Proposal
    edition: Edition

    @cached_property
    def tables(self) -> tuple[Table, ...]:
        """All schedules of the estimator."""
        return schedules(self.edition)

    @cached_property
    def with_money(self) -> tuple[Table, ...]:
        """Those that the price is made of, or that hold money."""
        price = tables_of(self.tables)
        money = {"money", "unit price", "price by unit"}
        return tuple(
            one for one in self.tables if one in price or money & {column.quantity for column in one.columns}
        )

    @cached_property
    def book(self) -> bytes:
        """The workbook of these."""
        return workbook(self.edition, self.with_money)

    @property
    def document(self) -> Document:
        return self.proposal.document

    @property
    def places(self) -> int:
        return PLACES[self.currency]


@pytest.fixture(scope="session", params=CURRENCIES)
def priced(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Priced:
    currency: str = request.param
    source = load_source(money_project(tmp_path_factory.mktemp("money") / currency, currency))
    computed = compute(source.base)
    proposal = proposal_of(
        source,
        document_of(computed),
        {key: alternate_document(source, key) for key in source.open},
        [combination(source, chosen) for chosen in combinations_of(source.open)],
        None,
    )
    return Priced(
        currency=currency,
        computed=computed,
        proposal=proposal,
        edition=edition_of_proposal(proposal, "estimator"),
    )
