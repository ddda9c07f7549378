"""The cut plan: every run of a cable type on a reel that is bought, and what to order.

The rule for pull groups. Cables are pulled group by group (a group is a storey in a phase), in a stated
order. A reel is set up for one group at a time; what is planned on it for later groups goes forward with it,
and no reel goes back. Cost is counted over the whole order of the type, so the cheapest order never grows to
keep a reel with one group; among equally cheap orders, plans that leave most reels with one group are tried
first, but their number of set-ups is not proven least. A remnant is what is left after the last run planned
on a reel; no run is planned on a remnant of another plan, and no run is joined from two lengths. How many
reels are pulled from side by side is not planned.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from decimal import Decimal
from functools import lru_cache
from math import ceil, floor, isfinite

from proposal.design.numbers.numbering import natural
from proposal.estimate.reels.cutting import Cutting, cut
from proposal.estimate.reels.cutting_bounds import Offer
from proposal.estimate.reels.packing import Piece
from proposal.field_classes import dataclass

STEPS_PER_M = 10
_KEPT = 64  # plans of types of cable
_NOISE_DIGITS = 5  # of a tenth of a metre: 4.1 * 10 is not 41 in binary


@dataclass(frozen=True, slots=True)
class Run:
    """One cable to be cut.

    length_m: with slack at both ends, m.  group: the pull group it belongs to.
    """

    identity: str
    length_m: float
    group: str = ""


@dataclass(frozen=True, slots=True)
class Stock:
    """One length in which the cable is sold.

    length_m: m.  cost: of one, in one currency for all stocks.
    """

    name: str
    length_m: float
    cost: Decimal


@dataclass(frozen=True, slots=True)
class Cut:
    """One run on a reel; length_m is rounded up to 0.1 m."""

    identity: str
    length_m: Decimal
    group: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reel:
    """One reel that is bought.

    number: by which it is called.
    stock: its name.  cuts: in the order of pulling.  remnant_m: what is left after them.
    groups: for which it is set up, in the order of pulling.
    """

    number: int
    stock: str
    length_m: Decimal
    cuts: tuple[Cut, ...]
    remnant_m: Decimal
    groups: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """How the runs of one cable type are cut.

    reels: in the order of their first group.
    counts: name of each stock that is used, and how many.
    too_long: runs longer than every stock, which are on no reel.
    cost: of all reels.  bound: no plan costs less.
    proven: whether no plan is better in cost, then number of reels, then remnant; where it is not, the cost
    may still be the least (it is if it equals the bound).
    set_ups: how often a reel is set up for a group.
    """

    reels: tuple[Reel, ...]
    counts: tuple[tuple[str, int], ...]
    too_long: tuple[Run, ...]
    cost: Decimal
    bound: Decimal
    proven: bool
    set_ups: int

    @property
    def cut_m(self) -> Decimal:
        """Return the length of all cuts, m."""
        return sum((cut.length_m for reel in self.reels for cut in reel.cuts), Decimal(0))

    @property
    def remnant_m(self) -> Decimal:
        """Return the length of all remnants, m."""
        return sum((reel.remnant_m for reel in self.reels), Decimal(0))


@dataclass(frozen=True, slots=True)
class KeptReel:
    """A reel of an earlier plan: the name of its stock, the identities cut from it, and its number.

    A reel without identities is there no more; its number is not given again.
    """

    stock: str
    identities: tuple[str, ...]
    number: int = 0


def cut_plan(
    runs: Iterable[Run],
    stocks: Iterable[Stock],
    pull_order: Sequence[str] = (),
    earlier: Sequence[KeptReel] = (),
) -> CutPlan:
    """Return how to cut every run from stocks at least cost, then fewest reels, then least remnant.

    runs: of one cable type, in any order.
    stocks: lengths it is sold in, any number of each.
    pull_order: groups in the order in which they are pulled; others follow in order of name.
    earlier: reels of a plan already given out; those that still hold are kept wherever the new plan is as
    good with them.
    Lengths of runs are rounded up, and of stocks down, to 0.1 m.
    Raises ValueError for an identity or a stock given twice, and lengths or costs that cannot be.
    """
    return _Planner(tuple(runs), tuple(stocks), pull_order).plan(earlier)


def length_step(length_m: float) -> int:
    """Return a run's length in steps of 0.1 m, rounded up.

    length_m: length, m.
    """
    return ceil(round(length_m * STEPS_PER_M, _NOISE_DIGITS))


def stock_steps(length_m: float) -> int:
    """Return a stock's length in steps of 0.1 m, rounded down.

    length_m: length, m.
    """
    return floor(round(length_m * STEPS_PER_M, _NOISE_DIGITS))


def spare_stock(runs: Iterable[Run], stocks: Iterable[Stock]) -> Stock | None:
    """Return the spare to order beside the plan: the cheapest stock from which any run can be pulled again.

    None where there is no run that a stock can hold.
    """
    stocks = tuple(stocks)
    longest_stock = max((stock_steps(stock.length_m) for stock in stocks), default=0)
    lengths = [length_step(run.length_m) for run in runs]
    longest = max((length for length in lengths if length <= longest_stock), default=None)
    if longest is None:
        return None
    enough = [stock for stock in stocks if stock_steps(stock.length_m) >= longest]
    return min(enough, key=lambda stock: (stock.cost, -stock_steps(stock.length_m), stock.name))


def count_by_percentage(total_length_m: float, waste: float, stock_length_m: float) -> int:
    """Return the stocks that a waste percentage would order, for comparison only.

    total_length_m: of all runs, m.  waste: share added, such as 0.07.  stock_length_m: of one stock, m.
    Equation: N = ceil(L·(1 + w)/l).  It knows nothing of remnants, and may order too few.
    """
    return ceil(round(total_length_m * (1 + waste) / stock_length_m, 9))


@lru_cache(maxsize=_KEPT)
def _cut_once(pieces: tuple[Piece, ...], offers: tuple[Offer, ...]) -> Cutting:
    """Return the best way to cut pieces; most types of cable stay with an alternate."""
    return cut(pieces, offers)


class _Planner:
    """The runs and stocks of one type in whole steps of 0.1 m."""

    def __init__(self, runs: Sequence[Run], stocks: Sequence[Stock], pull_order: Sequence[str]) -> None:
        _check(runs, stocks)
        self.stocks = _useful(stocks)
        longest = max((stock_steps(stock.length_m) for stock in self.stocks), default=0)
        others = sorted(
            {run.group for run in runs} - set(pull_order), key=lambda group: (natural(group), group)
        )
        self.groups = [*dict.fromkeys(pull_order), *others]
        place = {group: n for n, group in enumerate(self.groups)}
        ordered = sorted(runs, key=lambda run: (place[run.group], natural(run.identity), run.identity))
        self.too_long = tuple(run for run in ordered if length_step(run.length_m) > longest)
        self.runs = [run for run in ordered if length_step(run.length_m) <= longest]
        self.pieces = [
            Piece(place[run.group], length_step(run.length_m), n) for n, run in enumerate(self.runs)
        ]
        self.scale = max((-_exponent(stock.cost) for stock in self.stocks), default=0)
        self.offers = [
            Offer(stock_steps(stock.length_m), int(stock.cost.scaleb(self.scale))) for stock in self.stocks
        ]

    def plan(self, earlier: Sequence[KeptReel]) -> CutPlan:
        best = _cut_once(tuple(self.pieces), tuple(self.offers))
        reels = self._kept(earlier, best) or best.reels
        # Pieces are numbered group by group, each group in order of identities.
        ordered = sorted(reels, key=lambda one: min(piece.number for piece in one[1]))
        numbers = _numbers(
            [{self.runs[piece.number].identity for piece in pieces} for _, pieces in ordered], earlier
        )
        shown = [
            self._reel(number, offer, pieces)
            for number, (offer, pieces) in zip(numbers, ordered, strict=True)
        ]
        counts = Counter(reel.stock for reel in shown)
        return CutPlan(
            reels=tuple(shown),
            counts=tuple((stock.name, counts[stock.name]) for stock in self.stocks if counts[stock.name]),
            too_long=self.too_long,
            cost=self._money(self._objective(reels)[0]),
            bound=self._money(best.bound),
            proven=best.proven,
            set_ups=sum(len(reel.groups) for reel in shown),
        )

    def _money(self, units: int) -> Decimal:
        return Decimal(units).scaleb(-self.scale)

    def _reel(self, number: int, offer: int, pieces: Sequence[Piece]) -> Reel:
        runs = [self.runs[piece.number] for piece in sorted(pieces, key=lambda piece: piece.number)]
        cuts = tuple(Cut(run.identity, _metres(length_step(run.length_m)), run.group) for run in runs)
        length = self.offers[offer].length
        return Reel(
            number=number,
            stock=self.stocks[offer].name,
            length_m=_metres(length),
            cuts=cuts,
            remnant_m=_metres(length - sum(piece.length for piece in pieces)),
            groups=tuple(dict.fromkeys(cut.group for cut in cuts)),
        )

    def _kept(
        self, earlier: Sequence[KeptReel], best: Cutting
    ) -> tuple[tuple[int, tuple[Piece, ...]], ...] | None:
        """Return as good a plan with as many of the earlier reels as can be, or None.

        Reels with most to spare are given up first, twice as many each time.
        """
        valid = self._valid(earlier)
        target = self._objective(best.reels)
        released = 0
        while released < len(valid):
            kept = valid[: len(valid) - released]
            gone = {piece.number for _, pieces in kept for piece in pieces}
            rest = [piece for piece in self.pieces if piece.number not in gone]
            reels = (*kept, *cut(rest, self.offers).reels)
            if self._objective(reels) <= target:
                return reels
            released = max(1, 2 * released)
        return None

    def _objective(self, reels: Iterable[tuple[int, tuple[Piece, ...]]]) -> tuple[int, int, int]:
        offers = [self.offers[offer] for offer, _ in reels]
        return sum(offer.cost for offer in offers), len(offers), sum(offer.length for offer in offers)

    def _valid(self, earlier: Sequence[KeptReel]) -> list[tuple[int, tuple[Piece, ...]]]:
        """Return the earlier reels that can still be cut so, least to spare first."""
        by_identity = {self.runs[piece.number].identity: piece for piece in self.pieces}
        by_name = {stock.name: n for n, stock in enumerate(self.stocks)}
        found = []
        seen: set[str] = set()
        for reel in earlier:
            # What is gone from a reel leaves room on it; the rest may still be cut from it.
            pieces = tuple(by_identity[name] for name in reel.identities if name in by_identity)
            if not pieces or seen & set(reel.identities) or reel.stock not in by_name:
                continue
            spare = self.offers[by_name[reel.stock]].length - sum(piece.length for piece in pieces)
            if spare >= 0:
                seen |= set(reel.identities)
                found.append((spare, pieces[0].number, by_name[reel.stock], pieces))
        return [(offer, pieces) for _, _, offer, pieces in sorted(found)]


def _numbers(reels: Sequence[set[str]], earlier: Sequence[KeptReel]) -> list[int]:
    """Return the number of each reel: of the earlier reel that shares most runs with it, else a new one.

    reels: identities cut from each, in order.
    """
    shared = sorted(
        (-len(cuts & set(before.identities)), before.number, n)
        for n, cuts in enumerate(reels)
        for before in earlier
        if before.number and cuts & set(before.identities)
    )
    numbers: dict[int, int] = {}
    for _, number, n in shared:
        if n not in numbers and number not in numbers.values():
            numbers[n] = number
    used = {before.number for before in earlier}
    new = (number for number in range(1, len(reels) + len(used) + 1) if number not in used)
    return [numbers[n] if n in numbers else next(new) for n in range(len(reels))]


def _check(runs: Sequence[Run], stocks: Sequence[Stock]) -> None:
    """Raise ValueError for runs and stocks that cannot be."""
    for kind, names in (("run", [run.identity for run in runs]), ("stock", [stock.name for stock in stocks])):
        twice = [name for name, count in Counter(names).items() if count > 1]
        if twice:
            raise ValueError(f"{kind} {min(twice)!r} is given twice")
    for run in runs:
        if not isfinite(run.length_m) or length_step(run.length_m) <= 0:
            raise ValueError(f"run {run.identity!r}: wanted a length above 0 m, found {run.length_m} m")
    for stock in stocks:
        if not isfinite(stock.length_m) or stock_steps(stock.length_m) <= 0:
            raise ValueError(
                f"stock {stock.name!r}: wanted a length of 0.1 m or more, found {stock.length_m} m"
            )
        if not stock.cost.is_finite() or stock.cost < 0:
            raise ValueError(f"stock {stock.name!r}: wanted a cost of 0 or more, found {stock.cost}")


def _useful(stocks: Sequence[Stock]) -> list[Stock]:
    """Return one stock of each length, the cheapest, longest first."""
    chosen: dict[int, Stock] = {}
    for stock in sorted(stocks, key=lambda stock: (stock.cost, natural(stock.name))):
        chosen.setdefault(stock_steps(stock.length_m), stock)
    return [chosen[length] for length in sorted(chosen, reverse=True)]


def _exponent(amount: Decimal) -> int:
    exponent = amount.as_tuple().exponent
    assert isinstance(exponent, int)
    return min(0, exponent)


def _metres(steps: int) -> Decimal:
    return Decimal(steps).scaleb(-1)
