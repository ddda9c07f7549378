"""What is printed, computed again from what is printed: nothing below knows the program's own modules.

The schedules come from the command line as files. Lengths are read in the unit of their heading and computed
in metres; amounts are decimal.
"""

import csv
import datetime
import math
import re
import subprocess
import sys
from collections import Counter, defaultdict
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

pytestmark = pytest.mark.independent
ROOT = Path(__file__).resolve().parents[2]
PROJECTS = {"example": "example_project", "us": "tests/projects/us_customary"}
UNIT_M = {"m": Decimal(1), "ft": Decimal("0.3048")}
CENT = Decimal("0.01")
# As the starting rules of the two projects have them, which neither changes.
TOLERANCE, LEAD_AND_TAIL_M = Decimal("0.03"), Decimal(1)
Row = dict[str, str]


class Schedules:
    """Schedules of one project, read from files."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def __getitem__(self, name: str) -> list[Row]:
        with (self.folder / f"{name}.csv").open(newline="", encoding="utf-8-sig") as file:
            return list(csv.DictReader(file))


@pytest.fixture(scope="module", params=PROJECTS)
def printed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Schedules:
    folder = tmp_path_factory.mktemp("schedules") / "csv"
    command = [sys.executable, "-m", "proposal", "export", str(ROOT / PROJECTS[request.param])]
    command += ["--format", "csv", "--edition", "estimator", "--output", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr
    return Schedules(folder)


def cell(row: Row, heading: str) -> str:
    """Return the cell whose heading begins so, whatever unit or currency stands behind it."""
    (name,) = [name for name in row if name == heading or name.startswith(f"{heading} (")]
    return row[name]


def number(row: Row, heading: str) -> Decimal:
    return Decimal(cell(row, heading) or "0")


def metres(row: Row, heading: str) -> Decimal:
    (name,) = [name for name in row if name.startswith(f"{heading} (")]
    return Decimal(row[name]) * UNIT_M[name.removesuffix(")").rpartition("(")[2]]


def quantity_of(row: Row) -> Decimal:
    """Return the quantity of a line, of lengths in metres: the unit stands in the line."""
    return number(row, "Quantity") * UNIT_M.get(cell(row, "Unit"), Decimal(1))


def money_of_one(row: Row, heading: str) -> Decimal:
    """Return an amount for one unit of a line, of lengths for one metre."""
    return number(row, heading) / UNIT_M.get(cell(row, "Unit"), Decimal(1))


def half_up(amount: Decimal) -> Decimal:
    return amount.quantize(CENT, ROUND_HALF_UP)


def cut_m(row: Row) -> Decimal:
    """Return what a cable of the schedule is cut to: tolerance, lead and tail, up to 0.1 m."""
    length = metres(row, "Permanent link").quantize(Decimal("0.001"), ROUND_HALF_UP)
    if cell(row, "Measured") == "no":
        length *= 1 + TOLERANCE
    # Four printed places of a foot are a thirtieth of a millimetre.
    return (length + LEAD_AND_TAIL_M - Decimal("0.0001")).quantize(Decimal("0.1"), ROUND_CEILING)


def test_every_cable_is_cut_once_and_every_reel_holds_its_cuts(printed: Schedules) -> None:
    cables = {cell(row, "Cable"): row for row in printed["cables"] if cell(row, "Type")}
    cut: Counter[str] = Counter()
    for reel in printed["reel-orders-reels"]:
        taken = Decimal(0)
        for identity, printed_cut, unit, inches in re.findall(
            r"(\S+) ([\d.,]+)\s(m|ft)(?: (\d+)\sin)? ", cell(reel, "Cuts").replace("; ", " ; ") + " "
        ):
            row = cables[identity]
            assert cell(row, "Type") == cell(reel, "Cable")
            cut[identity] += 1
            own = cut_m(row)
            shown = Decimal(printed_cut.replace(",", "")) * UNIT_M[unit]
            shown += Decimal(inches or 0) * UNIT_M["ft"] / 12
            last = UNIT_M["ft"] / 12 if unit == "ft" else UNIT_M["m"] / 10
            assert abs(shown - own) <= Decimal("0.51") * last, identity
            taken += own
        length = metres(reel, "Length")
        assert taken <= length
        # A reel's own length is rounded down to 0.1 m.
        assert abs(length - taken - metres(reel, "Left over")) <= Decimal("0.1")
    assert cut == Counter(dict.fromkeys(cables, 1))


def test_the_take_off_counts_what_cables_and_devices_say(printed: Schedules) -> None:
    takeoff = printed["takeoff"]
    cables = [row for row in printed["cables"] if cell(row, "Type")]
    laid: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    cut: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    ends: Counter[tuple[str, str]] = Counter()
    for row in cables:
        key = (cell(row, "Room"), cell(row, "Type"))
        laid[key] += metres(row, "Permanent link")
        cut[key] += cut_m(row)
        ends[key] += 2
    for section, wanted in (("cable", laid), ("reels", cut)):
        found = {
            (cell(row, "Room"), cell(row, "Item")): quantity_of(row)
            for row in takeoff
            if cell(row, "Section") == section
        }
        assert set(found) == set(wanted)
        for key, quantity in found.items():
            assert abs(quantity - wanted[key]) <= Decimal("0.001"), (section, key)
    counted = {
        (cell(row, "Room"), cell(row, "Item")): int(cell(row, "Ends"))
        for row in takeoff
        if cell(row, "Section") == "cable"
    }
    assert counted == dict(ends)
    devices = printed["devices"]
    found_devices = {
        (cell(row, "Room"), cell(row, "Item")): int(cell(row, "Quantity"))
        for row in takeoff
        if cell(row, "Section") == "equipment"
    }
    assert found_devices == Counter(
        (cell(row, "Room"), cell(row, "Model")) for row in devices if cell(row, "Model")
    )
    labels = sum(number(row, "Quantity") for row in takeoff if cell(row, "Section") == "labels")
    assert labels == 2 * len(cables) + len(devices)


def test_wholes_are_bought_once_and_shared_to_the_cent(printed: Schedules) -> None:
    takeoff, purchases = printed["takeoff"], printed["purchases"]
    for row in purchases:
        bought = number(row, "Bought")
        assert number(row, "Cost") == half_up(bought * number(row, "Unit cost"))
        if cell(row, "Section") != "reels":
            assert bought == math.ceil(number(row, "Needed") / number(row, "Holds"))
            needs = [
                number(line, "Quantity") * (1 + number(line, "Waste"))
                for line in takeoff
                if (cell(line, "Section"), cell(line, "Item")) == (cell(row, "Section"), cell(row, "Item"))
            ]
            assert sum(needs) == number(row, "Needed")
    paid: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    for row in purchases:
        paid[cell(row, "Section"), cell(row, "Item")] += number(row, "Cost")
    for key, cost in paid.items():
        lines = [row for row in takeoff if (cell(row, "Section"), cell(row, "Item")) == key]
        need = [number(row, "Quantity") * (1 + number(row, "Waste")) for row in lines]
        assert sum(number(row, "Cost") for row in lines) == cost
        for row, own in zip(lines, need, strict=True):
            assert abs(number(row, "Cost") - cost * own / sum(need)) < CENT


def test_the_price_follows_from_cost_to_the_cent_and_adds_by_room(printed: Schedules) -> None:
    rooms: dict[str, dict[str, Decimal]] = defaultdict(lambda: defaultdict(Decimal))
    known = {cell(row, "Room") for row in printed["rooms"]} if printed["rooms"] else set()
    for row in printed["price-lines"]:
        quantity, rule = quantity_of(row), cell(row, "Rule")
        each, unit_price = (money_of_one(row, name) for name in ("Unit cost", "Unit price"))
        by_amount = rule in ("stated", "rate")
        value = money_of_one(row, "Share or amount") if by_amount else number(row, "Share or amount")
        exact = {
            "margin": lambda cost, share: cost / (1 - share),
            "markup": lambda cost, share: cost * (1 + share),
        }.get(rule)
        if exact is not None and cell(row, "Kind") != "overtime":
            # Prices are made in metres, to the cent or finer.
            step = min(CENT, Decimal(1).scaleb(unit_price.as_tuple().exponent))  # type: ignore[arg-type]
            assert abs(exact(each, value) - unit_price) <= step / 2
        if by_amount and cell(row, "Kind") != "overtime":
            assert unit_price == value
        if cell(row, "Kind") != "overtime":
            assert number(row, "Cost") == half_up(quantity * each) + number(row, "Cost of whole packs")
        wholes, spread = number(row, "Price of whole packs"), number(row, "Spread over it")
        price = half_up(quantity * unit_price) + wholes + spread
        assert number(row, "Price") == price
        assert number(row, "Tax") == half_up(price * number(row, "Tax rate"))
        room = cell(row, "Room") if cell(row, "Room") in known else ""
        for name in ("Cost", "Price", "Tax"):
            rooms[room][name] += number(row, name)
    shown = {
        cell(row, "Room") if cell(row, "Room") in known else "": tuple(
            number(row, name) for name in ("Cost", "Before tax", "Tax")
        )
        for row in printed["room-prices"]
    }
    assert shown == {room: (sums["Cost"], sums["Price"], sums["Tax"]) for room, sums in rooms.items()}
    (whole,) = printed["price"]
    total = sum((sums["Price"] + sums["Tax"] for sums in rooms.values()), Decimal(0))
    assert number(whole, "Total with tax") == total


WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
DAY = datetime.timedelta(days=1)


def optional(printed: Schedules, name: str) -> list[Row]:
    return printed[name] if (printed.folder / f"{name}.csv").exists() else []


def test_the_programme_follows_from_hours_crews_lead_times_and_days_off(printed: Schedules) -> None:
    (programme,) = printed["programme"]
    working = {WEEKDAYS.index(name) for name in cell(programme, "Working days").split(", ")}
    off: dict[str, set[datetime.date]] = {"holiday": set(), "site closure": set()}
    for row in optional(printed, "programme-days-off"):
        day, last = (datetime.date.fromisoformat(cell(row, name)) for name in ("First day", "Last day"))
        while day <= last:
            off[cell(row, "Kind")].add(day)
            day += DAY

    def is_day(calendar: str, day: datetime.date) -> bool:
        if calendar == "calendar":
            return True
        closed = day in off["holiday"] or (calendar == "site" and day in off["site closure"])
        return day.weekday() in working and not closed

    set_days = [
        row for row in optional(printed, "programme-days-set") if cell(row, "Rule") == "begin not before"
    ]
    done: dict[str, datetime.date] = {}
    for row in printed["activities"]:
        key, days, kind = cell(row, "Key"), int(cell(row, "Takes")), cell(row, "Kind")
        before = [done[name] for name in cell(row, "Predecessors").split(", ") if name]
        crew = re.findall(r"(\d+) × [^,;]+, ([\d,.]+) h", cell(row, "Crew"))
        if crew:
            day_h = number(programme, "Hours per person per day")
            needed = [Decimal(hours.replace(",", "")) / (int(people) * day_h) for people, hours in crew]
            assert days == max(math.ceil(one) for one in needed), key
        if not before:
            order = datetime.date.fromisoformat(cell(programme, "Order by"))
            assert cell(row, "Begins") == order.isoformat()
            done[key] = order - DAY
            continue
        last = max(before)
        if not days:
            assert cell(row, "Completed") == last.isoformat(), key
            done[key] = last
            continue
        start = last + DAY
        for one in set_days:
            holds = kind in cell(one, "Phases").split(", ")
            if holds and cell(one, "Storeys") in ("all", cell(row, "Storey")):
                start = max(start, datetime.date.fromisoformat(cell(one, "Day")))
        while not is_day(cell(row, "Days of"), start):
            start += DAY
        assert cell(row, "Begins") == start.isoformat(), key
        left, day = days - 1, start
        while left:
            day += DAY
            left -= is_day(cell(row, "Days of"), day)
        assert cell(row, "Completed") == day.isoformat(), key
        done[key] = day
    assert cell(programme, "Acceptance") == max(done.values()).isoformat() == done["accepted"].isoformat()
    critical = cell(programme, "On the critical path").split(", ")
    without_float = {cell(row, "Key"): row for row in printed["activities"] if cell(row, "Critical") == "yes"}
    assert critical == [key for key in without_float if key in critical]
    for key in without_float.keys() - set(critical):
        # A milestone off the path has no float either where what sets its day has none.
        row = without_float[key]
        assert int(cell(row, "Takes")) == 0
        setting = [name for name in cell(row, "Predecessors").split(", ") if done.get(name) == done[key]]
        assert set(setting) & without_float.keys(), key
    dates = {cell(row, "What"): cell(row, "Day") for row in printed["programme-events"]}
    for event, day in dates.items():
        if event != "order":
            assert day == done[event].isoformat()
