"""What a client is taken to know, and how much has to stay open to them: shared/price/client.yaml."""

from typing import Annotated

from pydantic import Field

from proposal.model.base import Name, Written
from proposal.quantities.parsing import Fraction

Factor = Annotated[float, Field(ge=1, le=100)]


class Share(Written):
    """A share, and where it comes from."""

    share: Annotated[Fraction, Field(gt=0, le=1)] = Field(description="The share.")
    source: Name = Field(description="Source word.")


class Span(Written):
    """How far something may lie from its usual value, up and down, and where that comes from."""

    factor: Factor = Field(description="Greatest ratio to the usual value, or of it to the other.")
    source: Name = Field(description="Source word.")


class Factors(Written):
    """Factors that are tried, and where they come from."""

    least: Factor = Field(description="First factor.")
    greatest: Factor = Field(description="Last factor.")
    step: Annotated[float, Field(gt=0, le=1)] = Field(description="Step from one to the next.")
    share: Annotated[Fraction, Field(gt=0, le=1)] = Field(
        description="Share of the prices that a factor makes whole, from which it is found out."
    )
    source: Name = Field(description="Source word.")


class ClientKnowledge(Written):
    """What a client is taken to know, and how much has to stay open to them."""

    least_range: Share = Field(description="How far below and above its value each secret has to stay open.")
    hours_factor: Span = Field(description="How far a company's own hours may lie from the shared library's.")
    rates_factor: Span = Field(description="How far its own rates may lie from the shared library's.")
    costs_factor: Span = Field(
        description="How far off a client has to take costs of goods of a company's own to be."
    )
    most_spread: Share = Field(description="Most that a client takes to be spread over the lines.")
    factors: Factors = Field(description="Factors by which printed prices are divided.")
