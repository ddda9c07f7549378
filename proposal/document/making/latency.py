"""Rows of the time that sound takes, made from the design."""

from collections.abc import Sequence
from typing import TypedDict

from proposal.design.network.switch_paths import OWNERS_NETWORK
from proposal.design.sound.delay_path import DelayPath
from proposal.design.sound.latency_parts import NETWORK, Part
from proposal.document.making.by_name import ByName
from proposal.document.rows.latency import LatencyRow

_MIXING = ("mixer", "mixer with echo canceller", "breakout")
_ROW = ByName(LatencyRow, DelayPath, "largest", "unknown")


class LatencyParts(TypedDict):
    """The rows about the time that sound takes."""

    latencies: tuple[LatencyRow, ...]


def latency_parts(paths: Sequence[DelayPath]) -> LatencyParts:
    """Return the fields of the document that hold the time that sound takes, by name.

    paths: of the design.
    """
    return {"latencies": tuple(_row(path) for path in paths)}


def _row(path: DelayPath) -> LatencyRow:
    return _ROW.of(
        path,
        total_s=path.known_s,
        microphone_s=_sum(path, "microphone"),
        radio_s=_sum(path, "radio link"),
        access_point_s=_sum(path, "access point"),
        network_s=_sum(path, NETWORK),
        mixing_s=_sum(path, *_MIXING),
        amplifier_s=_sum(path, "amplifier"),
        largest=path.largest.name if path.largest else "",
        unknown=tuple(_asked(part) for part in path.unknown),
    )


def _sum(path: DelayPath, *names: str) -> float | None:
    """Return what the parts of some names take together, s; None where there are none or one is not known."""
    delays = [part.delay_s for part in path.parts if part.name in names]
    known = [delay_s for delay_s in delays if delay_s is not None]
    return sum(known) if known and len(known) == len(delays) else None


def _asked(part: Part) -> str:
    who = "the owner's network team" if part.asked == OWNERS_NETWORK else f"the maker of {part.asked}"
    return f"{part.name} {part.at[0]}: ask {who}"
