"""Projects made by chance, priced under the rules or as before them, and what their clients receive."""

import json
import random
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

from proposal.document.document import Document
from proposal.document.making.document import document_of
from proposal.document.making.proposal import combinations_of
from proposal.editions import edition_of
from proposal.estimate.drawing_list import charged_sheets
from proposal.estimate.labour.labour import labour_estimate
from proposal.model.labour.labour_choices import LabourChoices
from proposal.model.loading import load_source
from proposal.pipeline import Computed, compute
from proposal.review.disclosure import Disclosed
from proposal.review.finding import Finding
from proposal.review.received import Received, received
from proposal.review.received import State as ReceivedState
from tests.attacker.acting import ROUNDS, House
from tests.attacker.knowledge import SHARED, Public, Seen, State, costs, read_yaml, seen, write_yaml
from tests.estimate.labour_data import shared_labour

STARTER = SHARED / "starter"
EARLIER = "revision A"
CENT = Decimal("0.01")
USUAL_SUMS = ("freight", "permit", "contingency")
"""What every project adds; all else is of a house that acts."""
TRADES: Mapping[str, Any] = read_yaml(SHARED / "labour" / "trades.yaml")["trades"]
DEVICES = tuple(
    sorted(
        model
        for path in (SHARED / "equipment").glob("*.yaml")
        for section, entries in read_yaml(path).items()
        if section != "source" and isinstance(entries, dict)
        for model, entry in entries.items()
        if isinstance(entry, dict) and "cost" in entry
    )
)
ALTERNATES = {
    "spares": {"room_types": {"committee_room": {"spare_microphones": {"gooseneck": "2"}}}},
    "goosenecks": {
        "room_types": {
            "meeting_room": {
                "microphones": {"M1": {"form": "gooseneck", "pattern": "cardioid"}},
                "spare_microphones": {"gooseneck": "1"},
            }
        }
    },
    "one_more": {
        "rooms": {
            "Z901": {"name": "One more", "type": "meeting_room", "storey": "L1", "x": "61 m", "y": "1 m"}
        }
    },
}


@dataclass(frozen=True)
class Truth:
    """What stays in the house.

    margin: of the whole; equipment: price of all devices over their cost; spread: share of the rest.
    rules: margins that several models share.  hours: all; phases: by phase.
    differences: margin of what each later state has more than an earlier one, by the labels of both.
    goods: margin on what is taxed as goods.
    totals, own: whole price of each state, and what of it are sums of the house's own, by label.
    """

    margin: float
    equipment: float
    materials: float
    spread: float
    rules: tuple[float, ...]
    hours: float
    phases: Mapping[str, float]
    differences: Mapping[str, float]
    goods: float
    totals: Mapping[str, float]
    own: Mapping[str, float]


@dataclass(frozen=True)
class Made:
    """A project made by chance: what its client receives, what stays in the house, what the house is told."""

    states: tuple[State, ...]
    truth: Truth
    disclosed: tuple[Disclosed, ...]
    findings: tuple[Finding, ...]


def made(number: int, folder: Path) -> Made:
    """Return the project of a number, priced under the rules.

    folder: where it is written; it must not be there yet.
    """
    return _received_by_the_client(_by_chance(number, folder))


def _by_chance(number: int, folder: Path) -> dict[str, Computed]:
    """Return every state of the price of the project of a number, written into a folder."""
    chance = random.Random(number)
    price = _price(chance)
    _write(chance, folder, price, _labour(chance))
    before = _earlier_revision(chance, folder)
    return _prices(folder, compute(load_source(before).base))


def made_and_acted(number: int, folder: Path) -> tuple[Made, House]:
    """Return the project of a number, whose house acts on its findings before it sends anything.

    Revision A is looked at, acted on and sent; revision B is made of it and looked at in turn.
    """
    chance = random.Random(number)
    price = _price(chance)
    _write(chance, folder, price, _labour(chance))
    before = _earlier_revision(chance, folder)
    house = House(chance)
    for _ in range(ROUNDS):
        earlier = compute(load_source(before).base)
        if not house.acts_on(before, earlier.house_findings(earlier.disclosed())):
            break
    shutil.copy(before / "project.yaml", folder / "project.yaml")
    for _ in range(ROUNDS):
        computed = _prices(folder, earlier)
        disclosed = computed["base"].disclosed(_others(computed))
        if not house.acts_on(folder, computed["base"].house_findings(disclosed)):
            break
    return _received_by_the_client(computed), house


def _prices(folder: Path, earlier: Computed) -> dict[str, Computed]:
    """Return every state of the price that a client reads, by its label; the base first.

    earlier: the revision sent before.
    """
    source = load_source(folder)
    found = {"base": compute(source.base), EARLIER: earlier}
    for chosen in combinations_of(source.priced)[1:]:
        found[" ".join(chosen)] = compute(source.project(chosen))
    return found


def _others(computed: Mapping[str, Computed]) -> list[Received]:
    """Return what a client receives beside the base."""
    return [
        received(label, label, _kind(label), one.project, one.price, one.library_hours)
        for label, one in computed.items()
        if label != "base"
    ]


def _kind(label: str) -> ReceivedState:
    if label == EARLIER:
        return "revision"
    return "combination" if " " in label else "alternate"


def _received_by_the_client(computed: Mapping[str, Computed]) -> Made:
    """Return what the client of a project receives.

    computed: every state of its price.
    """
    later = computed["base"]
    disclosed = later.disclosed(_others(computed))
    return Made(
        states=tuple(
            _combined(label, one) if _kind(label) == "combination" else _state(label, one, document_of(one))
            for label, one in computed.items()
        ),
        truth=_truth(later, computed),
        disclosed=disclosed,
        findings=later.house_findings(disclosed),
    )


def made_as_before(number: int, folder: Path) -> Made:
    """Return the project of a number as it was priced before there were rules.

    Every price is cost by a margin that its kind shares; what is spread is a factor on every unit price and
    every printed rate; work is printed by room and phase; rates and margins are in whole numbers.
    """
    chance = random.Random(number)
    price = _price(chance)
    for name in ("selling", "changes", "client_detail"):
        price.pop(name)
    price["rules"]["rest"] = {"margin": f"{chance.randint(15, 38)} %"}
    # The share that is spread is laid over unit prices below, and not by the program.
    share = Decimal(price["surcharges"].pop("contingency")["share"].removesuffix(" %")) / 100
    _write(chance, folder, price, {})
    source = load_source(folder)
    base = compute(source.base)
    document = document_of(base)
    edition = json.loads(edition_of(document, "client").document.model_dump_json())
    edition = {**edition, **_printed_as_before(document, share)}
    truth = _truth(base, {"base": base})
    spread = float(share)
    return Made(
        states=(State(seen("base", edition), _public(base)),),
        truth=Truth(
            **{
                **vars(truth),
                "spread": spread,
                "equipment": truth.equipment * (1 + spread),
                "materials": truth.materials * (1 + spread),
            }
        ),
        disclosed=(),
        findings=(),
    )


def _printed_as_before(document: Document, share: Decimal) -> dict[str, Any]:
    """Return offer, price, taxes and rates as they were printed: every unit price times one factor."""
    rows: dict[tuple[str, str, str], list[tuple[Decimal, Decimal]]] = {}
    goods = services = Decimal(0)
    rooms = {row.tag for row in document.rooms}
    for line in document.price_lines:
        spread = line.group in ("equipment", "materials", "labour", "travel")
        each = line.unit_price
        if spread:
            each = (each * (1 + share)).quantize(
                CENT if line.group != "materials" else CENT / 100, ROUND_HALF_UP
            )
        price = (line.quantity * each).quantize(CENT, ROUND_HALF_UP)
        name = line.phase if line.group == "labour" else line.group
        key = (line.room if line.room in rooms else "", line.item if line.group == "equipment" else "", name)
        rows.setdefault(key, []).append((line.quantity, each) if key[1] else (Decimal(1), price))
        if line.tax_kind == "goods":
            goods += price
        else:
            services += price
    offer = []
    for (room, item, name), parts in rows.items():
        price = sum((quantity * each for quantity, each in parts), Decimal(0)).quantize(CENT, ROUND_HALF_UP)
        offer.append(
            {
                "room": room,
                "item": item,
                "group": "allowance" if name == "allowance" else "lump",
                "description": name,
                "quantity": str(sum(quantity for quantity, _ in parts)) if item else "1",
                "unit_price": str(parts[0][1]) if item else str(price),
                "price": str(price),
            }
        )
    hours = [
        {
            "to": "hour",
            "description": trade.trade,
            "item": "",
            "price": str(((trade.selling or Decimal(0)) * (1 + share)).quantize(CENT, ROUND_HALF_UP)),
        }
        for trade in document.trades
    ]
    return {
        "offer": offer,
        "price": {"price": str(goods + services)},
        "taxes": [{"kind": "goods", "price": str(goods)}, {"kind": "services", "price": str(services)}],
        "unit_prices": hours,
    }


def _write(chance: random.Random, folder: Path, price: Mapping[str, Any], labour: Mapping[str, Any]) -> None:
    """Write a project of a few rooms of two kinds, with alternates."""
    shutil.copytree(STARTER, folder)
    shutil.rmtree(folder / "schema")
    rows = ["tag,name,room type,storey,x (m),y (m),rotation (°),mirrored"]
    for storey in ("L0", "L1"):
        for n in range(chance.randint(2, 5)):
            kind = chance.choice(("meeting_room", "committee_room"))
            rows.append(f"{storey}{n + 1:02d},Room {storey}-{n + 1},{kind},{storey},{1 + 12 * n},1.0,0,no")
    (folder / "rooms.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    (folder / "fixed.yaml").unlink()
    brief = read_yaml(folder / "project.yaml")
    brief = json.loads(json.dumps(brief, default=str))
    brief |= {"price": price, "labour": labour}
    brief["revision"]["identity"] = "B"
    write_yaml(folder / "project.yaml", brief)
    (folder / "alternates").mkdir()
    for key in chance.sample(sorted(ALTERNATES), chance.randint(0, 3)):
        content = {"name": key, "description": "By chance.", "changes": ALTERNATES[key]}
        write_yaml(folder / "alternates" / f"{key}.yaml", content)


def _earlier_revision(chance: random.Random, folder: Path) -> Path:
    """Return the folder of the revision issued before: a room fewer, or one elsewhere."""
    lines = (folder / "rooms.csv").read_text("utf-8").splitlines()
    kept = (
        lines[:-1]
        if len(lines) > 4 and chance.random() < 0.6
        else [*lines[:-1], lines[-1].replace(",1.0,0,", ",3.0,0,")]
    )
    before = folder.with_name(folder.name + "-before")
    shutil.copytree(folder, before)
    shutil.rmtree(before / "alternates")
    (before / "rooms.csv").write_text("\n".join(kept) + "\n", encoding="utf-8")
    return before


def _price(chance: random.Random) -> dict[str, Any]:
    margin = chance.uniform(0.18, 0.36)
    selling = {}
    for model in DEVICES:
        own = min(0.55, max(0.08, margin + chance.uniform(-0.09, 0.09)))
        each = costs()[model] / (1 - own)
        step = 5 if each > 100 else 1
        selling[model] = f"{max(step, round(each / step) * step)}.00 EUR"
    hours = {
        key: f"{round(_rates_of(chance, trade)[1] * chance.uniform(1.06, 1.22))}.50 EUR"
        for key, trade in TRADES.items()
    }
    kind = chance.choice(("alike", "alike", "one supply", "none", "differing"))
    taxes = {"goods": "20 %", "services": "20 %" if kind == "alike" else "10 %"}
    if kind == "one supply":
        taxes["one_supply"] = "goods"
    return {
        "client_detail": chance.choice(("room", "room", "system", "line")),
        "selling": selling,
        "changes": {"hours": hours},
        "rules": {
            "rest": {"margin": f"{round(margin * 100)} %"},
            "groups": {"materials": {"markup": "45 %"}},
        },
        "surcharges": {
            "freight": {"name": "Freight", "share": f"{chance.randint(1, 3)} %", "of": ["equipment"]},
            "permit": {"name": "Permit", "amount": f"{chance.randint(2, 9) * 50}.00 EUR"},
            "contingency": {"name": "Contingency", "share": f"{chance.randint(2, 8)} %", "spread": "yes"},
        },
        **({} if kind == "none" else {"taxes": {"here": {"name": "VAT", **taxes}}, "place": "here"}),
        "shared_items": chance.choice(("building group", "shared out")),
    }


def _rates_of(chance: random.Random, trade: Mapping[str, Any]) -> tuple[float, float]:
    cost = float(str(trade["cost"]).split()[0]) * chance.uniform(0.8, 1.35)
    return cost, cost * chance.uniform(1.4, 1.7)


def _labour(chance: random.Random) -> dict[str, Any]:
    rates = {}
    for key, trade in TRADES.items():
        cost, selling = _rates_of(chance, trade)
        rates[key] = {"cost": f"{cost:.2f} EUR", "selling": f"{selling:.2f} EUR"}
    return {
        "rates": rates,
        "crews": {key: str(chance.randint(1, 4)) for key in TRADES},
        "conditions": chance.sample(["congested", "occupied"], chance.randint(0, 2)),
        "project_conditions": chance.choice([["access"], ["security escort"]]),
        "overtime": f"{chance.randint(0, 10)} %",
    }


def _state(label: str, computed: Computed, document: Document) -> State:
    edition = json.loads(edition_of(document, "client").document.model_dump_json())
    return State(seen(label, edition), _public(computed))


def _combined(label: str, computed: Computed) -> State:
    """Return several alternates together: the client reads their price, and knows what would be built."""
    design = computed.design
    return State(
        Seen(
            label=label,
            total=float(computed.price.whole.price),
            goods=None,
            stated=0.0,
            rooms=dict.fromkeys(computed.project.rooms, 0.0),
            items=(),
            lumps=(),
            rates={},
            changes={},
            devices=tuple((one.room, one.model) for one in design.devices if one.tag in design.entries),
            days=(),
        ),
        _public(computed),
    )


def _public(computed: Computed) -> Public:
    """Return what the shared library alone gives for a design: hours and costs of materials."""
    project = computed.project
    brief = project.brief.model_copy(update={"labour": LabourChoices()})
    plain = project.model_copy(update={"brief": brief, "labour": shared_labour()})
    estimate = labour_estimate(
        plain,
        computed.design,
        [sheet.number for sheet in charged_sheets(computed)],
        shared_labour(),
        LabourChoices(),
        brief.programme.hours_a_day,
    )
    names = {key: trade["name"] for key, trade in TRADES.items()}
    hours: dict[tuple[str, str], float] = {}
    phases: dict[tuple[str, str], float] = {}
    for line in estimate.lines:
        at, of = (line.room, names[line.trade]), (line.phase, names[line.trade])
        hours[at] = hours.get(at, 0.0) + float(line.charged_hours)
        phases[of] = phases.get(of, 0.0) + float(line.charged_hours)
    for row in estimate.travel:
        at = ("", names[row.trade])
        hours[at] = hours.get(at, 0.0) + float(row.hours)
    materials: dict[str, float] = {}
    for one in computed.estimate.lines:
        if one.section != "equipment":
            materials[one.room] = materials.get(one.room, 0.0) + float(one.cost)
    return Public(hours=hours, materials=materials, phases=phases)


def _own_sums(computed: Computed) -> float:
    """Return what the sums come to that a house states because it acts on its findings."""
    lines = [line for line in computed.price.lines if line.group == "surcharge"]
    return float(sum((line.price for line in lines if line.item not in USUAL_SUMS), Decimal(0)))


def _truth(base: Computed, states: Mapping[str, Computed]) -> Truth:
    lines = base.price.lines
    whole = base.price.whole

    def factor(group: str) -> float:
        members = [line for line in lines if line.group == group]
        return float(sum(line.price for line in members) / sum(line.cost for line in members))

    spread = sum((line.spread for line in lines), Decimal(0))
    shared: dict[str, set[str]] = {}
    for line in lines:
        if line.group == "equipment" and line.rule == "margin":
            shared.setdefault(str(line.rule_value), set()).add(line.item)
    phases: dict[str, float] = {}
    for row in base.labour.summary:
        phases[row.phase] = phases.get(row.phase, 0.0) + float(row.hours)
    differences = {}
    for one, first in states.items():
        for other, second in states.items():
            more = second.price.whole.price - first.price.whole.price
            if more > 0:
                cost = second.price.whole.cost - first.price.whole.cost
                differences[f"{one} → {other}"] = float(1 - cost / more)
    goods = [line for line in lines if line.group in ("equipment", "materials")]
    return Truth(
        margin=float((whole.price - whole.cost) / whole.price),
        equipment=factor("equipment"),
        materials=factor("materials"),
        spread=float(spread / (whole.price - spread)),
        rules=tuple(float(value) for value, models in shared.items() if len(models) >= 3),
        hours=float(base.labour.hours),
        phases=phases,
        differences=differences,
        goods=float(1 - sum(line.cost for line in goods) / sum(line.price for line in goods)),
        totals={label: float(one.price.whole.price) for label, one in states.items()},
        own={label: _own_sums(one) for label, one in states.items()},
    )
