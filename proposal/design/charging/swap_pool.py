"""Spare microphones that change places with those in use through the meeting day."""

import math
from collections.abc import Sequence
from functools import lru_cache

from proposal.design.charging.meeting_day import FULL, Pack, Stretch, charging
from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Rotation:
    """A day in which spare microphones change places with those in use.

    spares: how many take part.
    lowest: lowest state of charge of a microphone in use.
    swaps: when one changes places, minutes after midnight, in order.
    """

    spares: int
    lowest: float
    swaps: tuple[float, ...]


def rotation(pack: Pack, day: Sequence[Stretch], talkers: int, spares: int, start: float) -> Rotation:
    """Return the day of microphones in use together with spare ones, in steps of a minute at most.

    spares: microphones besides those.
    talkers: microphones in use at once; start: state of charge of all of them in the morning, 0 to 1.
    The rule that people can keep to: when a spare in its slot is full and the emptiest microphone in use has
    fallen to where charging is fast, the two change places. Before that its slot could do little for it.
    """
    return _rotation(pack, tuple(day), talkers, spares, start)


@lru_cache(maxsize=1024)
def _rotation(pack: Pack, day: tuple[Stretch, ...], talkers: int, spares: int, start: float) -> Rotation:
    """Return what `rotation` does: rooms of a kind, and alternates, often have the same day."""
    used = [start] * (talkers if spares else 1)  # without spares one is like the other
    resting = [start] * spares
    lowest = start
    swaps: list[float] = []
    for part in _before_the_night(day):
        steps = max(math.ceil(part.end - part.start), 1)
        minutes = (part.end - part.start) / steps
        for step in range(1, steps + 1):
            resting = _charged(pack, resting, minutes)
            if part.state == "docked":
                used = _charged(pack, used, minutes)
                continue
            lost = pack.drain_w(part.state) / pack.capacity_wh / 60 * minutes
            used = [max(charge - lost, 0.0) for charge in used]
            lowest = min(lowest, *used)
            for n, charge in enumerate(resting):
                if charge < FULL:
                    continue
                emptiest = min(range(len(used)), key=used.__getitem__)
                if used[emptiest] <= pack.taper_from:
                    resting[n], used[emptiest] = used[emptiest], charge
                    swaps.append(part.start + step * minutes)
    return Rotation(spares=spares, lowest=lowest, swaps=tuple(swaps))


def _charged(pack: Pack, charges: Sequence[float], minutes: float) -> list[float]:
    """Return states of charge after some minutes in a slot; most microphones are alike."""
    after = {charge: charging(pack, charge, 0.0, minutes)[-1][1] for charge in set(charges)}
    return [after[charge] for charge in charges]


def pool_needed(
    pack: Pack, day: Sequence[Stretch], talkers: int, reserve: float, start: float
) -> Rotation | None:
    """Return the day with the fewest spares with which every microphone in use keeps its reserve.

    talkers, start: as `rotation` takes them.  reserve: least state of charge, 0 to 1.
    None where as many spares as microphones in use do not suffice.
    """
    for spares in range(talkers + 1):
        found = rotation(pack, day, talkers, spares, start)
        if found.lowest >= reserve - 1e-9:
            return found
    return None


def _before_the_night(day: Sequence[Stretch]) -> Sequence[Stretch]:
    return day[:-1] if day and day[-1].state in ("docked", "off") else day
