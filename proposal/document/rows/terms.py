"""Rows of the cover, parties, revisions, cautions and duties."""

import datetime
from collections.abc import Sequence
from decimal import Decimal
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from proposal.document.rows.owner_equipment import OwnerEquipmentRow, PlannedRooms
from proposal.document.rows.programme import Planned, begins
from proposal.document.schedule import ALL, BUYERS, HOUSE, Row, Schedule, Shows, composed, gathered


class Party(Row):
    """A company or public body."""

    schedule: ClassVar = Schedule("party", subject="terms")

    name: Annotated[str, Shows("name", ALL)] = Field(description="Name.")
    contact: Annotated[str, Shows("contact", ALL)] = Field(description="Person or office to write to.")
    address: Annotated[tuple[str, ...], Shows("address", ALL, lines=True)] = Field(
        description="Address, a line an entry."
    )


class RevisionRow(Row):
    """A revision of the proposal."""

    schedule: ClassVar = Schedule("revision", subject="terms", key=("identity",))

    identity: Annotated[str, Shows("revision", ALL, "tag")] = Field(description="Letter or number.")
    date: Annotated[datetime.date, Shows("date", ALL, "date")] = Field(description="Date.")
    purpose: Annotated[str, Shows("purpose", ALL)] = Field(description="What it is issued for.")
    prepared_by: Annotated[str, Shows("prepared_by", ALL)] = Field(description="Who prepared it.")
    checked_by: Annotated[str, Shows("checked_by", ALL)] = Field(description="Who checked it.")
    changes: Annotated[str, Shows("changes", ALL)] = Field(description="What changed since the last one.")
    issued: Annotated[bool, Shows("issued", ALL, "flag")] = Field(
        default=False, description="Whether its record is kept."
    )

    @composed(Shows("state", ALL, "verdict", together=True))
    def state(self) -> str:
        """Whether it is issued, as a mark."""
        return "issued" if self.issued else ""


class Cover(Row):
    """What stands on the cover and rules the look of every page."""

    schedule: ClassVar = Schedule("cover", subject="terms")

    name: Annotated[str, Shows("name", ALL)] = Field(description="Name of the project.")
    number: Annotated[str, Shows("proposal_number", ALL, "tag")] = Field(
        description="The integrator's number."
    )
    site: Annotated[str, Shows("site", ALL)] = Field(description="The building.")
    client: Annotated[Party, Shows("client", ALL, "rows")] = Field(description="Who receives the proposal.")
    integrator: Annotated[Party, Shows("integrator", ALL, "rows")] = Field(description="Who makes it.")
    goals: Annotated[tuple[str, ...], Shows("goals", ALL)] = Field(
        description="What the client wants to reach."
    )
    revision: Annotated[RevisionRow, Shows("revision", ALL, "rows")] = Field(description="This revision.")
    history: Annotated[tuple[RevisionRow, ...], Shows("history", ALL, "rows")] = Field(
        description="Earlier revisions, oldest first."
    )
    valid_until: Annotated[datetime.date, Shows("valid_until", ALL, "date")] = Field(
        description="Last day on which the proposal holds."
    )
    warranty_months: Annotated[int | None, Shows("warranty_of_the_work", ALL, "count")] = Field(
        default=None, description="Months of warranty for the work; None where the project states none."
    )
    region: Annotated[str, Shows("radio_region", ALL)] = Field(description="Radio region, in words.")
    units: Annotated[str, Shows("units", ALL)] = Field(description="metric or us_customary.")
    locale: Annotated[str, Shows("locale", ALL)] = Field(
        description="Language and country that set numbers and dates."
    )
    origin: Annotated[str, Shows("origin_of_coordinates", ALL)] = Field(
        default="", description="Point of the building from which coordinates are measured, in words."
    )
    currency: Annotated[str, Shows("currency", ALL)] = Field(description="ISO code of the currency.")
    colour: Annotated[str, Shows("colour", ALL)] = Field(description="Leading colour.")
    logo: Annotated[str, Shows("logo", ALL)] = Field(
        description="File name of the logo, empty where there is none."
    )
    draft: Annotated[bool, Shows("draft", ALL, "flag")] = Field(
        default=False, description="Whether it is a draft of a revision that is not issued."
    )
    with_errors: Annotated[str, Shows("reason_for_issuing_it_so", ALL)] = Field(
        default="", description="Why it was issued with errors that are not resolved; empty where none stood."
    )
    record_digest: Annotated[str, Shows("record", ALL, "code")] = Field(
        default="", description="Digest of the issued record, or its beginning; empty before it is issued."
    )
    rebuilt: Annotated[str, Shows("rebuilt", ALL)] = Field(
        default="",
        description="What it was made with again, and before, where other versions made it from the figures "
        "of its record; empty where it is as it was issued.",
    )
    internal_note: Annotated[str, Shows("internal_note", HOUSE)] = Field(
        default="", description="For the integrator's own estimators only."
    )

    @composed(Shows("state", ALL, "verdict", words="cover", together=True))
    def state(self) -> str:
        """Whether it is a draft, or issued with errors; empty where it is neither."""
        return "draft" if self.draft else "with errors" if self.with_errors else ""


EXEMPTION = "tax exemption"
"""The term that says why no tax is charged."""


class ContractTermRow(Row):
    """A term of the contract, in one short form."""

    schedule: ClassVar = Schedule("contract_term", subject="terms", key=("what", "words"))

    what: Annotated[str, Shows("term", ALL, "word", words="contract_term")] = Field(description="What it is.")
    words: Annotated[str, Shows("agreed", ALL)] = Field(description="What is agreed.")
    price_then: Annotated[Decimal | None, Shows("price_before_tax_then", BUYERS, "money")] = Field(
        default=None, description="Of a rise: the price before tax of an order after its day."
    )


class Caution(Row):
    """Something that can hurt somebody."""

    schedule: ClassVar = Schedule("caution", subject="terms", key=("title",))

    title: Annotated[str, Shows("title", ALL)] = Field(description="What it is about.")
    text: Annotated[str, Shows("text", ALL)] = Field(description="The caution.")


OWN_EQUIPMENT = "Equipment furnished by the owner"
"""Name of the duty to bring what the owner furnishes, which has a day of its own on each storey."""


class Furnished(PlannedRooms, Protocol):
    """What has a programme, and what the owner furnishes."""

    @property
    def owner_equipment(self) -> Sequence[OwnerEquipmentRow]:
        """What the owner furnishes."""


class DutyRow(Row):
    """Who does what about one thing."""

    schedule: ClassVar = Schedule("duty", subject="terms", key=("about",))

    about: Annotated[str, Shows("what", ALL)] = Field(description="What it is about.")
    duties: Annotated[tuple[tuple[str, str], ...], Shows("duties", ALL, ("text", "text"))] = Field(
        description="Duty and letters of the party that has it, empty where nobody has."
    )
    before: Annotated[str, Shows("ready_for", ALL, "word")] = Field(
        default="", description="Work before which others have it ready; empty where it is ours, or of none."
    )

    @gathered(Shows("ready_by", ALL, ("date",)))
    def ready_by(self, document: Furnished) -> tuple[datetime.date, ...]:
        """Day on which that work begins; of the owner's equipment all its days; none without a programme."""
        first = self.first_day(document)
        days = {first}
        if self.about == OWN_EQUIPMENT:
            days |= {row.in_place_by(document) for row in document.owner_equipment}
        return tuple(sorted(day for day in days if day is not None))

    def first_day(self, document: Planned) -> datetime.date | None:
        """Return the day on which that work begins; none where the programme has none of it."""
        return begins(document.activities, self.before)

    @composed(Shows("furnish", ALL))
    def furnish(self) -> str:
        """Letters of the party that has this duty."""
        return dict(self.duties).get("furnish", "")

    @composed(Shows("install", ALL))
    def install(self) -> str:
        """Letters of the party that has this duty."""
        return dict(self.duties).get("install", "")

    @composed(Shows("terminate", ALL))
    def terminate(self) -> str:
        """Letters of the party that has this duty."""
        return dict(self.duties).get("terminate", "")

    @composed(Shows("configure", ALL))
    def configure(self) -> str:
        """Letters of the party that has this duty."""
        return dict(self.duties).get("configure", "")

    @composed(Shows("test", ALL))
    def test(self) -> str:
        """Letters of the party that has this duty."""
        return dict(self.duties).get("test", "")

    @composed(Shows("maintain", ALL))
    def maintain(self) -> str:
        """Letters of the party that has this duty."""
        return dict(self.duties).get("maintain", "")
