"""Standing wording: cautions, scope, exclusions and duties, printed unless the author writes others."""

from collections.abc import Mapping
from typing import Literal

from pydantic import Field

from proposal.model.base import Written

Party = str
Duty = str


class StandingCaution(Written):
    """Something that can hurt somebody."""

    title: str = Field(description="What it is about.")
    text: str = Field(description="The caution.")
    readers: tuple[Literal["users", "work"], ...] = Field(
        description="users for everybody who uses the rooms, work for those who build and maintain."
    )


class Cautions(Written):
    """What shared/wording/cautions.yaml holds."""

    source: str = Field(default="common practice", description="Where the wording comes from.")
    cautions: Mapping[str, StandingCaution] = Field(default={}, description="Cautions by name.")


class DefaultWording(Written):
    """What shared/wording/defaults.yaml holds."""

    source: str = Field(default="common practice", description="Where the wording comes from.")
    scope: tuple[str, ...] = Field(default=(), description="What is done, a line an item.")
    exclusions: tuple[str, ...] = Field(default=(), description="What is not done.")
    assumptions: tuple[str, ...] = Field(default=(), description="What is taken for granted.")


class Responsibilities(Written):
    """What shared/wording/responsibilities.yaml holds."""

    source: str = Field(default="common practice", description="Where the wording comes from.")
    parties: Mapping[str, str] = Field(default={}, description="Parties by their letters.")
    duties: tuple[Duty, ...] = Field(default=(), description="Duties, in order.")
    rows: Mapping[str, Mapping[Duty, Party]] = Field(
        default={}, description="Who has which duty, by what it is about."
    )


class Standing(Written):
    """All standing wording."""

    cautions: Cautions = Field(default=Cautions(), description="Cautions.")
    defaults: DefaultWording = Field(default=DefaultWording(), description="Scope, exclusions, assumptions.")
    responsibilities: Responsibilities = Field(default=Responsibilities(), description="Duties.")
