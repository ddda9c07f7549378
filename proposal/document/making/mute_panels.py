"""What the sheet of a kind of room says of the panels or computers that mute in its rooms."""

from collections.abc import Mapping, Sequence
from typing import TypedDict

from proposal.design.mute_panels import PanelWay


class PanelParts(TypedDict):
    """The ports and the way of those panels."""

    mutes_joined_at: tuple[str, ...]
    mutes_run_m: float | None
    mutes_pass: tuple[str, ...]


def panel_parts(panels: Mapping[str, PanelWay], rooms: Sequence[str]) -> PanelParts:
    """Return where the panels of a kind of room join, and along which way, by name.

    panels: of all rooms.  rooms: tags of the kind.
    """
    ways = [panels[room] for room in rooms if room in panels]
    return {
        "mutes_joined_at": tuple(dict.fromkeys(f"{one.switch} {one.port}" for one in ways)),
        "mutes_run_m": max((one.longest_m for one in ways if one.longest_m is not None), default=None),
        "mutes_pass": tuple(dict.fromkeys(tag for one in ways for tag in one.openings)),
    }
