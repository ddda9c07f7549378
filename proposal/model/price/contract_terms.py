"""Terms of a contract that are printed: bonds, damages, price rises, services, exemption from tax."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from proposal.model.base import Name, Written, asked
from proposal.quantities.dates import Date
from proposal.quantities.messages import refusal
from proposal.quantities.money import Money
from proposal.quantities.parsing import Fraction

_Share = Annotated[Fraction, Field(gt=0, le=1)]


def _more_than_nothing(money: Money) -> Money:
    if money.amount <= 0:
        raise refusal("an amount above 0, such as 250.00 USD", str(money))
    return money


class Damages(Written):
    """What is deducted for delay, as a share of the contract sum; a term, and never a line of the price.

    What the client has left open is a question, and is told as such.
    """

    share: _Share | None = asked(
        lambda: None,
        "Share of the contract sum that is deducted, such as 0.5 %; the client is asked where left out.",
        "Share of the contract sum that is deducted for delay",
    )
    each: Literal["day", "week"] = Field(default="week", description="For each day or each week of delay.")
    most: _Share | None = asked(
        lambda: None,
        "The most that is deducted, as a share of the contract sum, such as 5 %; asked where left out.",
        "The most that is deducted for delay, as a share of the contract sum",
    )

    @model_validator(mode="before")
    @classmethod
    def _is_a_share(cls, written: object) -> object:
        """Say where a fixed sum is written."""
        if isinstance(written, Mapping) and "amount" in written:
            raise refusal(
                "a share, such as `share: 0.5 %`; a fixed sum under damages_sum, such as `damages_sum: "
                "{amount: 250.00 USD, each: day}`",
                "amount",
            )
        return written

    @model_validator(mode="after")
    def _reaches_it(self) -> "Damages":
        """Refuse damages whose first step is more than all of them."""
        if self.share is not None and self.most is not None and self.share > self.most:
            raise refusal("a share of at most `most`, such as `share: 0.5 %` beside `most: 5 %`", "more")
        return self


class DamagesSum(Written):
    """What is deducted for delay, as a fixed sum; a term, and never a line of the price."""

    amount: Annotated[Money, AfterValidator(_more_than_nothing)] = Field(
        description="What is deducted, such as 250.00 USD."
    )
    each: Literal["day", "week"] = Field(default="day", description="For each day or each week of delay.")
    most: Money | None = Field(
        default=None, description="The most that is deducted, such as 10000.00 USD; left out: no limit."
    )

    @model_validator(mode="after")
    def _reaches_it(self) -> "DamagesSum":
        """Refuse a most in another currency, or under the first step."""
        if self.most is not None and self.most.currency != self.amount.currency:
            raise refusal(
                f"a most in the currency of the amount, such as `most: 9000 {self.amount.currency}`",
                str(self.most),
            )
        if self.most is not None and self.most.amount < self.amount.amount:
            raise refusal(f"a most of at least the amount, such as `most: {self.amount}`", str(self.most))
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
    share: _Share | None = asked(
        lambda: None,
        "Share of the contract sum that it stands for, such as 10 %; the client is asked where left out.",
        "Share of the contract sum that a bond stands for",
    )


class Service(Written):
    """What is done beside the installation: training, visits, response to faults, spare parts."""

    name: Name = Field(description="What it is called, such as `Maintenance visits`.")
    times: Annotated[int, Field(ge=1, le=1000)] | None = Field(
        default=None, description="How often, such as 2; left out where that is not counted."
    )
    a_year: bool = Field(default=False, description="Whether it is so often in each year.")
    hours: Annotated[Decimal, Field(gt=0, le=1000)] | None = Field(
        default=None, description="How long each time, h, such as 2 of a training session."
    )
    within: Annotated[Decimal, Field(gt=0, le=10000)] | None = Field(
        default=None, description="Within how many hours somebody answers or comes, h, such as 4."
    )
    within_working_days: Annotated[int, Field(ge=1, le=1000)] | None = Field(
        default=None, description="Within how many working days somebody answers or repairs, such as 2."
    )
    months: Annotated[int, Field(ge=1, le=600)] | None = Field(
        default=None, description="For how many months from acceptance on, such as 60 of spare parts."
    )
    task: str = Field(
        default="",
        description="Task of the labour data that it is, done to the project, such as `train who runs it`: "
        "labour, price and programme have it by its name, so often and so long, instead of that task.",
    )

    @model_validator(mode="after")
    def _says_how_much(self) -> "Service":
        """Refuse a service of which nothing is said that can be held against it."""
        if self.times is None and not self.has_answer_time and self.months is None:
            raise refusal(
                "how often, how soon or how long, such as `times: 2` or `within: 4`", "none of these"
            )
        if self.within is not None and self.within_working_days is not None:
            raise refusal("hours (within) or working days (within_working_days), such as `within: 4`", "both")
        if self.a_year and self.times is None:
            raise refusal("how often in a year, such as `times: 2, a_year: yes`", "a year alone")
        if self.task and (self.times is None or self.hours is None or self.a_year or self.months):
            raise refusal(
                "times and hours of a task done before acceptance, such as `times: 2, hours: 2`",
                "a task that is not counted so",
            )
        return self

    @property
    def has_answer_time(self) -> bool:
        """Return whether it says how soon somebody answers or comes."""
        return self.within is not None or self.within_working_days is not None


class TaxExemption(Written):
    """Why no tax is charged; beside it no taxes are written."""

    reason: Name = Field(description="Why, in words that the client can read, such as `teaching equipment`.")
    certificate: str = Field(default="", description="Number of the certificate, if there is one.")
