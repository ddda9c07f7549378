"""Attacks on the prices that a client received; each claims what it finds and can support."""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, permutations

import highspy

from tests.attacker.knowledge import Claim, State, costs, crews, rates

HIGHEST = 4.0
"""Most that a price is taken to be, as a multiple of its cost; nobody sells below cost."""
OWN = 1.6
"""How far hours and rates of the house may each lie from the shared library's, up and down."""
MOST_SPREAD = 0.15
MOST_ADDED = 0.1
"""Most of a price that is freight, permits and the like, of which a client reads nothing."""
SMALLEST = 100
"""Smallest difference of prices that is looked at."""
MOST_OF_ITS_OWN = 0.5
"""Most of what a change adds that is a sum of the house's own: no more is ever proposed to a house."""
LEAST_OPEN = 0.25
FACTORS = tuple(n / 1000 for n in range(1001, 1501))


def all_claims(states: Sequence[State]) -> list[Claim]:
    """Return what all attacks claim; the base is the first state."""
    found: list[Claim] = []
    for attack in (
        lump_by_rate,
        factor_of_rates,
        ratios_of_items,
        goods_by_tax,
        regression_over_rooms,
        regression_over_states,
        pairs_of_states,
        pairs_with_sums,
        least_sums,
        equal_rooms,
        consistent_ranges,
        days_of_the_programme,
    ):
        found += attack(states)
    return found


def lump_by_rate(states: Sequence[State]) -> Iterator[Claim]:
    """Divide lumps of one name by each printed rate: where all give hundredths of an hour, it is hours."""
    base = states[0].seen
    by_name: dict[str, list[float]] = {}
    for _, name, price in base.lumps:
        by_name.setdefault(name, []).append(price)
    for name, prices in by_name.items():
        fitting = []
        for trade, rate in base.rates.items():
            hours = [round(price / rate, 2) for price in prices]
            if len(prices) >= 3 and all(
                abs(h * rate - p) <= 0.0051 for h, p in zip(hours, prices, strict=True)
            ):
                fitting.append((trade, sum(hours)))
        if len(fitting) == 1:
            trade, hours_of_it = fitting[0]
            yield Claim(f"hours of {name}", hours_of_it, hours_of_it, "lump ÷ rate", trade)


def factor_of_rates(states: Sequence[State]) -> Iterator[Claim]:
    """Look for the factor from 1.001 to 1.500 by which all printed rates become whole."""
    printed = list(states[0].seen.rates.values())
    if len(printed) < 4:
        return
    step = _step(printed)
    for grid in (1.0, 5.0, 10.0, 50.0):
        if grid < 10 * step:
            continue
        for factor in FACTORS:
            if all(_whole(price, step, grid, factor) for price in printed):
                accident = (step / grid / factor + 1e-9) ** len(printed) * len(FACTORS)
                if accident < 0.01:
                    yield Claim("spread", factor - 1, factor - 1, "factor of the rates")
                    return


def _step(prices: Sequence[float]) -> float:
    steps = (100.0, 50.0, 10.0, 5.0, 1.0, 0.5, 0.1, 0.05)
    return next((step for step in steps if all(abs(p / step - round(p / step)) < 1e-6 for p in prices)), 0.01)


def _whole(price: float, step: float, grid: float, factor: float) -> bool:
    low, high = (price - step / 2) / factor, (price + step / 2) / factor
    return math.floor(high / grid + 1e-9) * grid >= low - 1e-9


def ratios_of_items(states: Sequence[State]) -> Iterator[Claim]:
    """Divide printed prices by the library's costs: what several models share is a rule, with what is spread.

    What is spread is taken from the rates where they give it away.
    """
    spreads = list(factor_of_rates(states))
    spread = spreads[0].low if spreads else None
    ratios = {
        model: (each / costs()[model], 0.005 / costs()[model])
        for _, model, _, each in states[0].seen.items
        if model in costs()
    }
    taken: set[str] = set()
    for model, (ratio, half) in ratios.items():
        if model in taken:
            continue
        alike = [
            other
            for other, (r, h) in ratios.items()
            if abs(r - ratio) <= 2 * (half + h) and other not in taken
        ]
        if len(alike) >= 3:
            taken |= set(alike)
            least = 0.0 if spread is None else spread
            most = MOST_SPREAD if spread is None else spread
            low, high = 1 - (1 + most) / ratio, 1 - (1 + least) / ratio
            yield Claim("rule", low, high, "ratios of items", f"{len(alike)} models")


def goods_by_tax(states: Sequence[State]) -> Iterator[Claim]:
    """Where the taxes tell what goods come to, divide it by what the library says that they cost."""
    base = states[0]
    if base.seen.goods is None:
        return
    cost = sum(costs().get(model, 0.0) for _, model in base.seen.devices) + sum(
        base.public.materials.values()
    )
    price = base.seen.goods - base.seen.stated
    if price > cost:
        low, high = 1 - cost * (1 + MOST_SPREAD) / price, 1 - cost / price
        yield Claim("margin of goods", max(0.0, low), high, "goods by tax")


class Linear:
    """Everything that fits some equations: the least and the most of each unknown."""

    def __init__(self) -> None:
        self.model = highspy.Highs()
        self.model.setOptionValue("output_flag", False)
        self.model.setOptionValue("threads", 1)  # as the program has it: all solvers of a process alike
        self.names: dict[str, int] = {}

    def unknown(self, name: str, low: float, high: float) -> str:
        if name not in self.names:
            self.names[name] = len(self.names)
            self.model.addVar(low, high)
        return name

    def equation(self, terms: Mapping[str, float], low: float, high: float) -> None:
        kept = {name: factor for name, factor in terms.items() if factor}
        self.model.addRow(low, high, len(kept), [self.names[name] for name in kept], list(kept.values()))

    def ends(self, terms: Mapping[str, float]) -> tuple[float, float] | None:
        """Return the least and the most of a sum, None where nothing fits."""
        found = []
        for sense in (highspy.ObjSense.kMinimize, highspy.ObjSense.kMaximize):
            self.model.changeObjectiveSense(sense)
            for name, column in self.names.items():
                self.model.changeColCost(column, terms.get(name, 0.0))
            self.model.run()
            if self.model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
                return None
            found.append(self.model.getInfo().objective_function_value)
        return found[0], found[1]


def _equipment(state: State, room: str | None) -> float:
    """Return what the devices of a room cost by the library; of what is in no room where it is empty."""
    tags = set(state.seen.rooms)
    return sum(
        costs().get(model, 0.0)
        for where, model in state.seen.devices
        if room is None or (where if where in tags else "") == room
    )


def _shared_factors(linear: Linear, state: State, room: str | None) -> dict[str, float]:
    """Return what a price would be made of, were costs of goods and hours of trades times one factor each."""
    terms = {linear.unknown("equipment", 1.0, HIGHEST): _equipment(state, room)}
    materials = state.public.materials
    tags = set(state.seen.rooms)

    def here(where: str) -> bool:
        return room is None or (where if where in tags else "") == room

    terms[linear.unknown("materials", 1.0, HIGHEST)] = sum(c for where, c in materials.items() if here(where))
    for (where, trade), hours in state.public.hours.items():
        if here(where):
            name = linear.unknown(f"hour of {trade}", 0.0, 1000.0)
            terms[name] = terms.get(name, 0.0) + hours
    return terms


def regression_over_rooms(states: Sequence[State]) -> Iterator[Claim]:
    """Take the price of every room as costs and hours times one factor each, and solve for the factors."""
    base, linear = states[0], Linear()
    count = 0
    for room, price in base.seen.rooms.items():
        if room:
            terms = _shared_factors(linear, base, room)
            linear.equation(terms, price * 0.9995 - 1, price * 1.0005 + 1)
            count += 1
    ends = linear.ends({"equipment": 1.0}) if count >= 2 else None
    if ends is not None and min(ends) > 1:
        yield Claim("equipment factor", *ends, "regression over rooms", f"{count} rooms")


def regression_over_states(states: Sequence[State]) -> Iterator[Claim]:
    """Take every total as the library's costs and hours at its rates times one factor each, and solve."""
    linear = Linear()
    for state in states:
        terms = {
            linear.unknown("equipment", 1.0, HIGHEST): _equipment(state, None)
            + sum(state.public.materials.values()),
            linear.unknown("work", 0.0, 10.0): sum(
                hours * rates()[trade] for (_, trade), hours in state.public.hours.items()
            ),
        }
        total = state.seen.total - state.seen.stated
        linear.equation(terms, total * 0.9999, total * 1.0001)
    ends = linear.ends({"equipment": 1.0})
    if len(states) > 2 and ends is not None:
        yield Claim("equipment factor", *ends, "regression over states", f"{len(states)} states")


def pairs_of_states(states: Sequence[State]) -> Iterator[Claim]:
    """Set what two states differ by in price against what they differ by in cost, as far as that is known.

    It supposes that no state holds a sum of the house's own.
    """
    for first, second in permutations(states, 2):
        more = second.seen.total - first.seen.total
        if more >= SMALLEST:
            low, high = _cost_of_a_difference(first, second)
            high += MOST_ADDED * more
            note = f"{first.seen.label} → {second.seen.label}"
            yield Claim(
                "margin of a difference", 1 - high / more, 1 - low / more, "pairs of states", note, "no sums"
            )


def pairs_with_sums(states: Sequence[State]) -> Iterator[Claim]:
    """Do the same knowing that every change may hold a sum of the house's own, as the program proposes."""
    base = states[0]
    for first, second in permutations(states, 2):
        more = second.seen.total - first.seen.total
        if more >= SMALLEST:
            low, high = _cost_of_a_difference(first, second)
            low -= MOST_OF_ITS_OWN * may_hold_sums(
                first.seen.label, second.seen.label, first.seen.total - base.seen.total, more
            )
            high += MOST_OF_ITS_OWN * more + MOST_ADDED * more
            note = f"{first.seen.label} → {second.seen.label}"
            yield Claim(
                "margin of a difference",
                1 - high / more,
                1 - low / more,
                "pairs with sums",
                note,
                "sums up to half",
            )


def may_hold_sums(first: str, second: str, beside: float, more: float) -> float:
    """Return how much of a state may hold sums that another, dearer one does not.

    first, second: labels of both.  beside: what the first has more than the base, or less.
    more: what the second has more than the first.
    """
    if first.startswith("revision"):
        # What was in it is mostly in what came after.
        return 0.0
    since = more if second.startswith("revision") else 0.0
    return abs(beside) + since


def least_sums(states: Sequence[State]) -> Iterator[Claim]:
    """Suppose that the house states exactly the least that its findings name, so that no more is left open.

    The most that the margin can be, with goods alone for certain, is then a quarter above the margin.
    """
    base = states[0]
    for one in states[1:]:
        more = one.seen.total - base.seen.total
        if more >= SMALLEST:
            goods = sum(
                sign * (_equipment(state, None) + sum(state.public.materials.values()))
                for state, sign in ((one, 1.0), (base, -1.0))
            )
            open_below = 1 - 1 / OWN / OWN
            margin = (1 - goods / more) / (1 + LEAST_OPEN / open_below)
            note = f"{base.seen.label} → {one.seen.label}"
            yield Claim(
                "margin of a difference", margin * 0.97, margin * 1.03, "least sums", note, "least sums"
            )


def _cost_of_a_difference(first: State, second: State) -> tuple[float, float]:
    """Return between what the goods and the work cost by which two states differ."""
    low = high = sum(
        sign * (_equipment(one, None) + sum(one.public.materials.values()))
        for one, sign in ((second, 1.0), (first, -1.0))
    )
    for key in {*first.public.hours, *second.public.hours}:
        work = (second.public.hours.get(key, 0.0) - first.public.hours.get(key, 0.0)) * rates()[key[1]]
        ends = sorted((work / OWN / OWN, work * OWN * OWN))
        low, high = low + ends[0], high + ends[1]
    return low, high


def equal_rooms(states: Sequence[State]) -> Iterator[Claim]:
    """Compare rooms with the same devices: what they differ by is cable, at one factor on its cost."""
    base = states[0].seen
    of_room: dict[tuple[str, ...], list[str]] = {}
    for room in base.rooms:
        if room:
            models = tuple(sorted(model for where, model in base.devices if where == room))
            of_room.setdefault(models, []).append(room)
    hours, materials = states[0].public.hours, states[0].public.materials
    prices = []
    for rooms in of_room.values():
        for one, other in combinations(rooms, 2):
            longer = materials.get(one, 0.0) - materials.get(other, 0.0)
            work = sum(h for (room, _), h in hours.items() if room == one) - sum(
                h for (room, _), h in hours.items() if room == other
            )
            if abs(longer) > 1 and abs(work) < 0.02:
                prices.append((base.rooms[one] - base.rooms[other]) / longer)
    if len(prices) >= 3 and max(prices) - min(prices) < 0.05 * abs(max(prices)) and min(prices) >= 1:
        yield Claim("materials factor", min(prices), max(prices), "equal rooms", f"{len(prices)} pairs")


def consistent_ranges(states: Sequence[State]) -> Iterator[Claim]:
    """Take everything as unknown that is: each model's price, each trade's hours and rate, what is spread.

    What is left is all that the figures support, whatever the house does.
    """
    linear = Linear()
    base = states[0]
    for state in states:
        terms: dict[str, float] = {}
        for _, model in state.seen.devices:
            cost = costs().get(model)
            if cost:
                name = linear.unknown(f"price of {model}", cost, HIGHEST * cost)
                terms[name] = terms.get(name, 0.0) + 1
        goods = sum(state.public.materials.values())
        terms[linear.unknown("materials", 1.0, HIGHEST)] = goods
        for (_, trade), hours in state.public.hours.items():
            name = linear.unknown(f"hour of {trade}", 0.0, HIGHEST * OWN * OWN * rates()[trade])
            terms[name] = terms.get(name, 0.0) + hours
        terms[linear.unknown(f"spread in {state.seen.label}", 0.0, MOST_SPREAD)] = state.seen.total
        terms[linear.unknown(f"added in {state.seen.label}", 0.0, MOST_ADDED)] = state.seen.total
        total = state.seen.total - state.seen.stated
        linear.equation(terms, total - 0.01, total + 0.01)
    for _, model, _, each in base.seen.items:
        if f"price of {model}" in linear.names:
            linear.equation({f"price of {model}": 1.0}, each, each)
    # Hours and what an hour costs may each be another than the library says.
    cost = _equipment(base, None) + sum(base.public.materials.values()) + base.seen.stated
    work = sum(hours * rates()[trade] for (_, trade), hours in base.public.hours.items())
    total = base.seen.total
    low, high = cost + work / OWN / OWN, cost + work * OWN * OWN + MOST_ADDED * total
    yield Claim("margin", max(0.0, 1 - high / total), 1 - low / total, "consistent ranges")
    hours = sum(base.public.hours.values())
    yield Claim("hours", hours / OWN, hours * OWN, "consistent ranges")
    ends = linear.ends({f"spread in {base.seen.label}": 1.0})
    if ends is not None:
        yield Claim("spread", *ends, "consistent ranges")


def days_of_the_programme(states: Sequence[State]) -> Iterator[Claim]:
    """Turn days into hours with crews of any size from one to twice the library's."""
    base = states[0]
    least = most = 0.0
    trades: dict[str, set[str]] = {}
    for phase, trade in base.public.phases:
        trades.setdefault(phase, set()).add(trade)
    for phase, days in base.seen.days:
        people = [crews()[trade] for trade in trades.get(phase, ())]
        if people and days:
            least += 8.0 * (days - 1)
            most += 8.0 * days * 2 * sum(people)
    if most:
        yield Claim("hours", least, most, "days of the programme")
