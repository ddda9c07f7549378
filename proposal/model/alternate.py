"""What an alternate is: something the client may choose instead of the base design."""

from typing import Any, Literal

from pydantic import Field

from proposal.model.base import Written

AlternatePrice = Literal["stated", "on request"]
ALTERNATES = "alternates"
"""Folder of the alternates in a project folder."""


class Alternate(Written):
    """What an alternate is called, and why somebody might want it."""

    name: str = Field(min_length=1, description="What it is called in the proposal.")
    description: str = Field(
        min_length=1, description="Why the client might want it, in a sentence or two the client will read."
    )
    price: AlternatePrice = Field(
        default="stated",
        description="Whether the client reads what it comes to, by itself and with others, or asks for it.",
    )
    deductive: bool = Field(
        default=False,
        description="Whether it is meant to lower the price; one that does not is not offered.",
    )
    one_of: str = Field(
        default="",
        description="What one of several alternates is chosen for, such as `microphones of the dais`: of "
        "those with the same words exactly one has to be chosen.",
    )
    gives_up: tuple[str, ...] = Field(
        default=(),
        max_length=100,
        description="What the client asks for and does not get with it, by the tags of its requirements, "
        "such as R-014: the client wants to know what the proposal comes to without it.",
    )
    internal_note: str = Field(default="", description="For the integrator's own estimators only.")


class AlternateFile(Alternate):
    """An alternate with what it changes of the project."""

    changes: dict[str, Any] = Field(
        min_length=1,
        examples=[{"room_types": {"hall": {"spare_microphones": {"handheld": "1"}}}}],
        description="Merge patch (RFC 7396) on the project: project, building, room_types, rooms, fixed.",
    )
