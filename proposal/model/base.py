"""What every model of a project folder has in common."""

from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field
from pydantic.config import JsonDict

M = TypeVar("M", bound=BaseModel)
ASKED = "asked"
"""In place of the source of an assumption: the value is asked for, and nothing is assumed of it."""
Name = Annotated[str, Field(min_length=1)]
"""A text that has to name something."""


class Written(BaseModel):
    """Something a person writes into a project folder: frozen, and strict about its keys."""

    # What holds a model builds a validator that covers it too, so most need none of their own.
    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        populate_by_name=True,
        allow_inf_nan=False,
        str_max_length=100_000,
        defer_build=True,
    )


def unwritten(model: type[M]) -> M:
    """Return a part of which nothing is written, as the default of what holds it.

    model: class of the part.
    Its defaults need no validator, which is built once for all that holds it.
    """
    return model.model_construct()


def assumed(default: Any, description: str, title: str, source: str = "editable default") -> Any:
    """Return a field whose default is listed as an assumption wherever it is not written.

    default: the value taken where nothing is written, in SI.
    description: the editor's help.
    title: how the assumption reads in the proposal.
    source: `published …`, `common practice` or `editable default`.
    """
    extra: JsonDict = {"assumption": title, "assumption_source": source}
    if callable(default):
        return Field(default_factory=default, description=description, json_schema_extra=extra)
    return Field(default=default, description=description, json_schema_extra=extra)


def asked(default: Any, description: str, title: str) -> Any:
    """Return a field that is an open question wherever it is not written, since nothing usual can be taken.

    default: the value taken meanwhile.
    description: the editor's help.
    title: what is not known, as a finding says it.
    """
    extra: JsonDict = {"assumption": title, "assumption_source": ASKED}
    return Field(default_factory=default, description=description, json_schema_extra=extra)
