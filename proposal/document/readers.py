"""Who may read what: every field of the document names its readers."""

from typing import Literal, get_args

from pydantic import BaseModel, ConfigDict

Reader = Literal["client", "reviewer", "estimator", "installer"]
READERS: tuple[Reader, ...] = get_args(Reader)


class Shown(BaseModel):
    """A part of the document: frozen, every field with its readers and a description.

    A field that not everyone reads has a default, which is what the others see.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
