"""What a mounting detail tells: a kind of thing at one sort of place, with its models as they are held."""

from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True)
class HeldModel:
    """A model as it is held: its code and description, its weight, and what holds it.

    wire: what secures it a second time; empty where nothing does.
    behind: how far it reaches behind its face; empty where it is all in front.
    """

    model: str
    weight: str
    held_by: str
    wire: str = ""
    behind: str = ""


@dataclass(frozen=True, slots=True)
class Detail:
    """A kind of device at one sort of place.

    heights: each height with the rooms where it holds.  told_height: beside the section.
    """

    kind: str
    location: str
    count: int
    models: tuple[HeldModel, ...]
    heights: tuple[tuple[str, tuple[str, ...]], ...]
    told_height: str
