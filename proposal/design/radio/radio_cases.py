"""What becomes of a plan of carriers and slots under other assumptions, and how far they may be off."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from proposal.design.numbers.numbering import natural
from proposal.design.radio.air_plan import AirPlan
from proposal.design.radio.radio_links import Asked, RadioLinks
from proposal.design.radio.radio_neighbours import Interference
from proposal.design.radio.radio_states import on_air
from proposal.design.radio.received_margins import Margin
from proposal.design.radio.slot_plan import Outcome
from proposal.design.solving.halving import least
from proposal.field_classes import dataclass

Marks = NDArray[np.bool_]

MOST_OFF_DB = 15
"""Nobody asks about walls and floors that lose still less than computed."""

CaseName = Literal[
    "as designed", "interference stronger", "interference weaker", "one power setting lower",
    "no body loss",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What becomes of the plan, and of the weakest microphone, under another assumption."""

    name: CaseName
    outcome: Outcome
    worst_margin_db: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """How far the loss of walls and floors may be off before the plan breaks.

    off_db: by so much less than computed all of them may lose; breaks: whether the plan breaks beyond, or
        no more was asked, at MOST_OFF_DB.
    rooms: where it breaks, the two rooms between which a measurement would settle it: nearest to a conflict
        that is not there yet, one of them where several share; none where no rooms hear each other.
    loss_db: the least loss between antennas of theirs under which they would come into conflict.
    """

    off_db: int
    breaks: bool
    rooms: tuple[str, ...]
    loss_db: float | None


class Cases:
    """The outcome as designed and under other assumptions, each found out when it is first asked for."""

    def __init__(self, asked: Asked, made: RadioLinks, air: AirPlan) -> None:
        """Keep what the cases start from."""
        self.shift_db = asked.project.brief.rules.radio.interference_shift
        self._asked = asked
        self._made = made
        self._air = air

    @cached_property
    def as_designed(self) -> Case:
        """Nothing changed."""
        return self._case("as designed", self._air, self._made.margins)

    @cached_property
    def stronger(self) -> Case:
        """All interference stronger than computed."""
        there = self._air.under(self._air.disturbance.shifted(paths_db=self.shift_db))
        return self._case("interference stronger", there, self._made.margins)

    @cached_property
    def weaker(self) -> Case:
        """All interference weaker than computed."""
        there = self._air.under(self._air.disturbance.shifted(paths_db=-self.shift_db))
        return self._case("interference weaker", there, self._made.margins)

    @cached_property
    def lower_power(self) -> Case:
        """Every radio of ours one power setting lower."""
        lower = on_air(self._asked, dict.fromkeys(self._asked.project.rooms, 1))
        there = self._air.under(lower.disturbance)
        return self._case("one power setting lower", there, lower.made.margins)

    @cached_property
    def no_body_loss(self) -> Case:
        """No body between microphones and access points."""
        ours = np.array([link.body_db if link.kind != "other" else 0.0 for link in self._air.links])
        there = self._air.under(self._air.disturbance.shifted(wanted_db=ours))
        clear = [replace(one, received_dbm=one.received_dbm + one.body_db) for one in self._made.margins]
        return self._case("no body loss", there, clear)

    @property
    def all(self) -> tuple[Case, ...]:
        """Every case, as designed first."""
        return self.as_designed, self.stronger, self.weaker, self.lower_power, self.no_body_loss

    @cached_property
    def tolerance(self) -> Tolerance | None:
        """How far the loss of walls and floors may be off; None without a plan or with one room."""
        disturbance = self._air.disturbance
        apart = disturbance.between_rooms()
        if self._air.plan.outcome != "planned" or not apart.any():
            return None

        def walls_off(less_db: int) -> AirPlan:
            return self._air.under(disturbance.shifted(paths_db=np.where(apart, float(less_db), 0.0)))

        beyond = least(0, MOST_OFF_DB + 1, lambda less_db: walls_off(less_db).plan.outcome != "planned")
        if beyond > MOST_OFF_DB:
            return Tolerance(off_db=MOST_OFF_DB, breaks=False, rooms=(), loss_db=None)
        rooms, loss_db = _to_be_measured(disturbance, apart, float(beyond), walls_off(beyond))
        return Tolerance(off_db=beyond - 1, breaks=True, rooms=rooms, loss_db=loss_db)

    def _case(self, name: CaseName, air: AirPlan, margins: Sequence[Margin]) -> Case:
        worst_db = min((one.margin_db for one in margins), default=None)
        return Case(name=name, outcome=air.plan.outcome, worst_margin_db=worst_db)


def _to_be_measured(
    disturbance: Interference, apart: Marks, beyond_db: float, broken: AirPlan
) -> tuple[tuple[str, ...], float | None]:
    """Return two rooms that would come into conflict, and the loss between them under which they do.

    apart: which pairs of links are those of two rooms; beyond_db: at which the plan breaks.
    broken: what came of planning there.
    Among the rooms that are then too full, or have links without a place, those with the most such pairs.
    """
    proof = broken.plan.proof
    concerned = {broken.links[broken.owner[demand]].room for demand in (proof.members if proof else ())}
    concerned = concerned or {link.room for link in broken.missing}
    worst = disturbance.worst_db()
    new = apart & (worst < 0) & (worst >= -beyond_db)
    pairs: dict[tuple[str, ...], list[int]] = {}
    for number in np.nonzero(new)[0].tolist():
        links = [
            disturbance.links[int(one[number])] for one in (disturbance.disturbed, disturbance.disturber)
        ]
        rooms = tuple(sorted((link.room for link in links), key=natural))
        if concerned & set(rooms):
            pairs.setdefault(rooms, []).append(number)
    if not pairs:
        return (), None
    rooms = min(pairs, key=lambda one: (-len(pairs[one]), [natural(tag) for tag in one]))
    return rooms, max(_borne_loss_db(disturbance, number) for number in pairs[rooms])


def _borne_loss_db(disturbance: Interference, number: int) -> float:
    """Return the loss of a pair's worst path under which its links come into conflict."""
    here = disturbance.links[int(disturbance.disturbed[number])]
    there = disturbance.links[int(disturbance.disturber[number])]
    up = there.microphone_dbm + here.access_point_gain_db - (here.up_dbm - here.ratio_db)
    down = there.access_point_dbm + here.microphone_gain_db - (here.down_dbm - here.ratio_db)
    box = there.access_point_dbm + here.listening_gain_db - here.refused_dbm
    microphone = there.microphone_dbm + here.listening_gain_db - here.refused_dbm
    ends = (up, down, box, microphone)
    return ends[int(disturbance.over_db[number].argmax())]
