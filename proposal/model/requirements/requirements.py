"""What requirements.yaml holds: the client's own sentences, where they stand, and what answers each."""

from typing import Annotated

from pydantic import Field, RootModel

from proposal.model.base import Name, Written
from proposal.model.requirements.answers import Answer

FILE = "requirements.yaml"


class Requirement(Written):
    """One requirement of the client."""

    document: Name = Field(description="Document in which the client says it, such as Brief of 14 January.")
    clause: str = Field(default="", description="Clause or page of that document, such as 3.2.1.")
    text: Name = Field(description="The client's own words.")
    answers: Annotated[tuple[Answer, ...], Field(max_length=20)] = Field(
        default=(), description="What answers it; it is open where left out. The worst answer counts."
    )


class Requirements(RootModel[dict[str, Requirement]]):
    """Requirements by tag, such as R-014."""
