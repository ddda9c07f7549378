"""Plans of carriers and slots, each made once: an alternate that moves no microphone asks for the same again.

What a plan follows from is told by its key alone, so that a plan may also be kept from one run to the next.
"""

import hashlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import field
from functools import lru_cache
from typing import Protocol

from pydantic import TypeAdapter, ValidationError

from proposal.design.radio.slot_board import Cell
from proposal.design.radio.slot_graph import SlotGraph
from proposal.design.radio.slot_plan import Plan, slot_plan
from proposal.field_classes import dataclass

MOST_KEPT = 24
"""Plans that are kept at once; a building asks for about a dozen."""


class Keeping(Protocol):
    """What keeps plans from one run to the next."""

    def found(self, key: str) -> bytes | None:
        """Return what is kept, None where nothing is.

        key: SHA-256 of what the plan follows from.
        """

    def keep(self, key: str, content: bytes) -> None:
        """Keep a plan.

        key: SHA-256 of what it follows from.  content: the plan.
        """


_keeping: list[Keeping] = []


@dataclass(frozen=True)
class _Question:
    """What a plan follows from.

    told: all of it, as values that can be compared.
    """

    told: tuple[object, ...]
    quick: bool
    known: tuple[Cell | None, ...]
    graph: SlotGraph = field(compare=False, repr=False)

    def key(self) -> str:
        """Return SHA-256 of it, the same in every run."""
        told = repr((_ordered(self.told), self.quick, self.known))
        return hashlib.sha256(told.encode("utf-8")).hexdigest()


def slot_plan_once(graph: SlotGraph, known: Sequence[Cell | None] = (), *, quick: bool = False) -> Plan:
    """Return what `slot_plan` does.

    graph: what has to be planned.
    known: a plan of the same demands under other levels.
    quick: whether few steps are tried.
    """
    return _plan(_Question(_told(graph), quick, tuple(known), graph))


@contextmanager
def plans_kept(keeping: Keeping) -> Iterator[None]:
    """Take plans from what keeps them, and let it keep those that are made, until the block ends."""
    _keeping.append(keeping)
    try:
        yield
    finally:
        _keeping.remove(keeping)


@lru_cache(maxsize=MOST_KEPT)
def _plan(question: _Question) -> Plan:
    keeping, key = (_keeping[-1], question.key()) if _keeping else (None, "")
    kept = _read(keeping.found(key), len(question.graph.lengths)) if keeping else None
    plan = kept or slot_plan(question.graph, question.known, quick=question.quick)
    if keeping and not kept:
        keeping.keep(key, TypeAdapter(Plan).dump_json(plan))
    return plan


def _read(content: bytes | None, demands: int) -> Plan | None:
    """Return a plan that was kept, None where there is none of so many demands."""
    try:
        plan = None if content is None else TypeAdapter(Plan).validate_json(content)
    except ValidationError:
        return None
    return plan if plan is not None and len(plan.cells) == demands else None


def _told(graph: SlotGraph) -> tuple[object, ...]:
    """Return all that a graph holds, arrays as their bytes."""
    shares = graph.shares
    return (
        graph.carriers,
        graph.lengths,
        graph.access_point,
        graph.transceivers,
        graph.conflicts,
        tuple(sorted(graph.near_far.items())),
        graph.apart,
        None if shares is None else tuple((one.shape, one.tobytes()) for one in shares),
        graph.unlisted_share,
        graph.tuned,
        graph.complete,
    )


def _ordered(value: object) -> object:
    """Return a value whose sets are lists in order."""
    if isinstance(value, frozenset):
        return sorted(value)
    return tuple(_ordered(one) for one in value) if isinstance(value, tuple) else value
