"""What an attacker knows: everything that the client was ever sent, the program, and the shared library.

The client's edition is read as data, the library from its YAML files by the attacker's own code. Hours are
those that the shared labour library gives for the printed design, by room and trade, before anything of the
project's own; whoever has the program gets them from it. The program computes no price for the attacker.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal

import yaml

SHARED = Path(__file__).resolve().parents[2] / "shared"


def read_yaml(path: Path) -> Any:
    """Return what a YAML file holds, read by the quick parser."""
    return yaml.load(path.read_text("utf-8"), yaml.CSafeLoader)


def write_yaml(path: Path, content: Any) -> None:
    path.write_text(yaml.dump(content, Dumper=yaml.CSafeDumper, allow_unicode=True), encoding="utf-8")


@cache
def costs() -> Mapping[str, float]:
    """Return what each model of the shared library costs, in euros."""
    found: dict[str, float] = {}
    for folder in ("equipment", "materials"):
        for path in sorted((SHARED / folder).glob("*.yaml")):
            for section, entries in read_yaml(path).items():
                if section == "source" or not isinstance(entries, dict):
                    continue
                for model, entry in entries.items():
                    if isinstance(entry, dict) and "cost" in entry:
                        found[model] = float(str(entry["cost"]).split()[0])
    return found


@cache
def list_prices() -> Mapping[str, float]:
    """Return the list price of each device of the shared library, in euros."""
    found: dict[str, float] = {}
    for path in sorted((SHARED / "equipment").glob("*.yaml")):
        for section, entries in read_yaml(path).items():
            if section != "source" and isinstance(entries, dict):
                for model, entry in entries.items():
                    if isinstance(entry, dict) and "list_price" in entry:
                        found[model] = float(str(entry["list_price"]).split()[0])
    return found


@cache
def crews() -> Mapping[str, int]:
    """Return how many people of each trade come at once, by the shared library."""
    trades = read_yaml(SHARED / "labour" / "trades.yaml")["trades"]
    return {trade["name"]: int(trade["crew"]) for trade in trades.values()}


@cache
def rates() -> Mapping[str, float]:
    """Return what an hour of each trade costs by the shared library, in euros."""
    trades = read_yaml(SHARED / "labour" / "trades.yaml")["trades"]
    return {trade["name"]: float(str(trade["cost"]).split()[0]) for trade in trades.values()}


@dataclass(frozen=True)
class Seen:
    """One state of the price as the client reads it.

    total: before tax.  goods: what of it is taxed as goods, None where the taxes do not tell.
    stated: allowances, which the client reads by themselves.
    rooms: price by tag; empty for what serves several.
    items: room, model, quantity, price of one.  lumps: room, what it is called, price.
    rates: price of one more hour by trade.  changes: price of one more device by model.
    devices: model of each device by its room.  days: of each activity of the programme, and its phase.
    """

    label: str
    total: float
    goods: float | None
    stated: float
    rooms: Mapping[str, float]
    items: tuple[tuple[str, str, float, float], ...]
    lumps: tuple[tuple[str, str, float], ...]
    rates: Mapping[str, float]
    changes: Mapping[str, float]
    devices: tuple[tuple[str, str], ...]
    days: tuple[tuple[str, int], ...]


def seen(label: str, edition: Mapping[str, Any]) -> Seen:
    """Return what a client reads; edition: the document of the client's edition, as JSON."""
    offer = edition["offer"]
    rooms: dict[str, float] = {}
    for row in offer:
        rooms[row["room"]] = rooms.get(row["room"], 0.0) + float(row["price"])
    taxes = edition["taxes"]
    split = len({row["kind"] for row in taxes} - {"exempt"}) > 1
    return Seen(
        label=label,
        total=float(edition["price"]["price"]),
        goods=sum(float(row["price"]) for row in taxes if row["kind"] == "goods") if split else None,
        stated=sum(float(row["price"]) for row in offer if row["group"] == "allowance"),
        rooms=rooms,
        items=tuple(
            (row["room"], row["item"], float(row["quantity"]), float(row["unit_price"]))
            for row in offer
            if row["item"]
        ),
        lumps=tuple(
            (row["room"], row["description"], float(row["price"]))
            for row in offer
            if not row["item"] and row["group"] != "allowance"
        ),
        rates={
            row["description"]: float(row["price"]) for row in edition["unit_prices"] if row["to"] == "hour"
        },
        changes={row["item"]: float(row["price"]) for row in edition["unit_prices"] if row["to"] == "device"},
        devices=tuple((row["room"], row["model"]) for row in edition["devices"]),
        days=tuple((row["kind"], int(row["days"])) for row in edition["activities"]),
    )


@dataclass(frozen=True)
class Public:
    """What follows from the shared library alone for one state of the design.

    hours: by room and trade, without anything of the project's own.  materials: their cost by room.
    phases: hours by phase and trade.
    """

    hours: Mapping[tuple[str, str], float]
    materials: Mapping[str, float]
    phases: Mapping[tuple[str, str], float]


@dataclass(frozen=True)
class State:
    """One state of the price with all that the attacker knows of it."""

    seen: Seen
    public: Public


Supposes = Literal["", "no sums", "sums up to half", "least sums"]
"""Nothing; that two states hold no sums of the house's own, or the same; that a sum is at most half of what a
change adds; that it is exactly the least that a finding names."""


@dataclass(frozen=True)
class Claim:
    """What an attack says of one secret: between what it lies.

    secret: margin, rule, spread, hours, or hours of a phase.  by: name of the attack.
    supposes: what it takes for granted of sums of the house's own, where it does.
    """

    secret: str
    low: float
    high: float
    by: str
    note: str = field(default="", compare=False)
    supposes: Supposes = field(default="", compare=False)
