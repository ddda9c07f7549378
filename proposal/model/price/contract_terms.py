"""Terms of a contract that are printed: bonds, damages for delay, price rises, exemption from tax."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from proposal.model.base import Name, Written
from proposal.quantities.dates import Date
from proposal.quantities.messages import refusal
from proposal.quantities.parsing import Fraction

_Share = Annotated[Fraction, Field(gt=0, le=1)]


class Damages(Written):
    """What is deducted for delay, as a share of the contract sum; a term, and never a line of the price."""

    share: _Share = Field(description="Share of the contract sum that is deducted, such as 0.5 %.")
    each: Literal["day", "week"] = Field(default="week", description="For each day or each week of delay.")
    most: _Share = Field(description="The most that is deducted, as a share of the contract sum.")

    @model_validator(mode="after")
    def _reaches_it(self) -> "Damages":
        """Refuse damages whose first step is more than all of them."""
        if self.share > self.most:
            raise refusal("a share of at most `most`, such as `share: 0.5 %` beside `most: 5 %`", "more")
        return self


class PriceRise(Written):
    """By how much the price rises where the order comes after a day; a term beside the price, not in it."""

    after: Date = Field(description="Last day on which the order is at this price, such as 2031-06-01.")
    share: _Share = Field(
        description="Share of the price of this proposal by which it rises, such as 3 %; of several, the "
        "one of the last day that has passed."
    )


class Bond(Written):
    """A bond that the client asks for; what it costs is a surcharge of the price."""

    name: Name = Field(description="What it is called, such as `Performance bond`.")
    share: _Share = Field(description="Share of the contract sum that it stands for, such as 10 %.")


class TaxExemption(Written):
    """Why no tax is charged; beside it no taxes are written."""

    reason: Name = Field(description="Why, in words that the client can read, such as `teaching equipment`.")
    certificate: str = Field(default="", description="Number of the certificate, if there is one.")
