"""Pieces put into reels of given lengths, pull group by pull group, each reel as full as can be.

All lengths are whole numbers of one unit, so that sums are exact.
"""

from collections.abc import Iterator, Sequence

from proposal.field_classes import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Piece:
    """One piece to be cut.

    group: place of its pull group in the order of pulling.
    length: whole units.
    number: its place in the list of all pieces.
    """

    group: int
    length: int
    number: int


@dataclass(frozen=True, slots=True)
class Filled:
    """A reel and the pieces cut from it."""

    capacity: int
    pieces: tuple[Piece, ...]

    @property
    def spare(self) -> int:
        """Return the length that is left on it."""
        return self.capacity - sum(piece.length for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class FillingRule:
    """How reels are filled.

    slack_share: what part of an even share of the length to spare may be left on a reel rather than go on
    to the next group.
    finish_groups: whether what is left of a group, if all of it fits, is taken before anything else.
    by_group: whether earlier groups come first; else all pieces are one group.
    """

    slack_share: float
    finish_groups: bool
    by_group: bool = True


_BY_GROUP = FillingRule(1.0, True)
_HALF = FillingRule(0.5, True)
_FULL = FillingRule(0.0, False)
_TOGETHER = FillingRule(0.0, False, by_group=False)
# In the order in which they are tried: those that leave most reels with one group come first.
FILLING_RULES = (_BY_GROUP, _HALF, _FULL, _TOGETHER)
BY_GROUP = (_BY_GROUP, _FULL)
TIGHT = (_FULL, _TOGETHER)


class _Waiting:
    """The pieces not yet cut, by group and length, longest first."""

    def __init__(self, pieces: Sequence[Piece], by_group: bool) -> None:
        self.groups: dict[int, dict[int, list[Piece]]] = {}
        self.totals: dict[int, int] = {}
        for group, _, _, piece in sorted(
            (piece.group if by_group else 0, -piece.length, -piece.number, piece) for piece in pieces
        ):
            self.groups.setdefault(group, {}).setdefault(piece.length, []).append(piece)
            self.totals[group] = self.totals.get(group, 0) + piece.length
        self.count = len(pieces)

    def take(self, group: int, length: int) -> Piece:
        """Remove and return the first piece of a group and a length."""
        lengths = self.groups[group]
        piece = lengths[length].pop()
        if not lengths[length]:
            del lengths[length]
            if not lengths:
                del self.groups[group]
        self.count -= 1
        self.totals[group] -= length
        return piece


def packed(
    pieces: Sequence[Piece], capacities: Sequence[int], rule: FillingRule
) -> tuple[list[Filled], bool]:
    """Return reels that hold all pieces, and whether those given were enough.

    pieces: none longer than the longest reel.  capacities: lengths of the reels at hand.
    Where they are not enough, more of the longest are taken.
    """
    waiting = _Waiting(pieces, rule.by_group)
    reels = sorted(capacities, reverse=True)
    slack = sum(reels) - sum(piece.length for piece in pieces)
    filled: list[Filled] = []
    longest = max(capacities)
    enough = True
    for place, capacity in enumerate(_with_more(reels, longest)):
        if not waiting.count:
            break
        enough = place < len(reels)
        share = max(0, slack) / (len(reels) - place) if enough else 0.0
        taken = _fill(waiting, capacity, int(share * rule.slack_share), rule.finish_groups)
        if taken:
            filled.append(Filled(capacity, tuple(taken)))
        slack -= capacity - sum(piece.length for piece in taken)
    return filled, enough


def _with_more(reels: Sequence[int], longest: int) -> Iterator[int]:
    yield from reels
    while True:
        yield longest


def _fill(waiting: _Waiting, capacity: int, may_spare: int, finish_groups: bool) -> list[Piece]:
    """Take from what waits the pieces of one reel, earliest groups first.

    The longest piece of the first group that fits goes first: it finds room least easily later. The rest is
    a subset sum, kept as a whole number whose bits are the lengths that can be reached.
    """
    taken: list[Piece] = []
    room = capacity
    for group in list(waiting.groups):
        if finish_groups and waiting.totals[group] <= room:
            for length in list(waiting.groups[group]):
                for _ in range(len(waiting.groups[group][length])):
                    taken.append(waiting.take(group, length))
                    room -= length
            continue
        longest = next((length for length in waiting.groups[group] if length <= room), None)
        if longest is not None:
            taken.append(waiting.take(group, longest))
            room -= longest
        break
    reached = 1
    mask = (1 << (room + 1)) - 1
    steps: list[tuple[int, int, int]] = []
    for group, lengths in waiting.groups.items():
        for length, same in lengths.items():
            if length > room:
                continue
            for _ in range(min(len(same), room // length)):
                more = (reached | reached << length) & mask
                if more == reached:
                    break
                steps.append((group, length, reached))
                reached = more
            if reached >> room:
                break
        if room - (reached.bit_length() - 1) <= may_spare:
            break
    left = reached.bit_length() - 1
    for group, length, before in reversed(steps):
        if not before >> left & 1:
            taken.append(waiting.take(group, length))
            left -= length
    return taken
