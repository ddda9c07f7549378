"""Who may read what: every field of the document names its readers."""

from dataclasses import dataclass
from typing import Annotated, Literal, TypeVar, get_args

from pydantic import BaseModel, ConfigDict

Reader = Literal["client", "reviewer", "estimator", "installer"]
READERS: tuple[Reader, ...] = get_args(Reader)


@dataclass(frozen=True, slots=True)
class ReadBy:
    """The readers of a field."""

    readers: frozenset[Reader]


T = TypeVar("T")
Everyone = Annotated[T, ReadBy(frozenset(READERS))]
NotClient = Annotated[T, ReadBy(frozenset({"reviewer", "estimator", "installer"}))]
Checkers = Annotated[T, ReadBy(frozenset({"reviewer", "estimator"}))]
NotInstaller = Annotated[T, ReadBy(frozenset({"client", "reviewer", "estimator"}))]
Buyers = Annotated[T, ReadBy(frozenset({"client", "estimator"}))]
House = Annotated[T, ReadBy(frozenset({"estimator"}))]


class Shown(BaseModel):
    """A part of the document: frozen, every field with its readers and a description.

    A field that not everyone reads has a default, which is what the others see.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
