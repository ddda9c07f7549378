"""A house that acts on the findings of its price as they say, and on nothing else.

It reads the words of each finding's remedy, takes one of what is proposed, writes it into the project's
files, and looks again. It knows no attack. What it really costs to handle a change is its own affair: its
sums are above the least that a finding names, by chance, and earn no or a little margin.
"""

import random
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from proposal.review.finding import Finding
from tests.attacker.knowledge import read_yaml, write_yaml

RULE = "client-can-compute"
ROUNDS = 6
"""Most times that a house looks at its findings and acts."""
_AMOUNT = r"of at least (?P<amount>[\d.]+) [A-Z]{3}"
_OF_AN_ALTERNATE = re.compile(
    rf"sum of your own {_AMOUNT} under `changes\.project\.price\.surcharges\.(?P<key>[\w-]+)` "
    r"in (?P<file>\S+?),"
)
_OF_THE_PROJECT = re.compile(
    rf"sum of your own {_AMOUNT} under `price\.surcharges`, with (?P<further>[^;]*?) so that"
)
_KIND = re.compile(r"`tax_kind: (?P<kind>goods|services|exempt)`")
_ON_REQUEST = re.compile(r"\(`price: on request` in (?P<file>[^\s)]+)\)")
_FEWER_HOURS = re.compile(r"[Tt]ake at least (?P<hours>[\d.]+) h off what conditions under `labour` add")
_ONE_TAX = "`one_supply` under `price.taxes`"
_LESS_DETAIL = "`price.client_detail: room`"


class House:
    """A house: what its law lets it do, and what it did so far."""

    def __init__(self, chance: random.Random) -> None:
        """Begin with nothing done."""
        self.folder = Path()
        self.chance = chance
        self.done: list[str] = []
        self.one_supply = chance.random() < 0.5
        """Whether its law takes goods and work for one supply."""

    def acts_on(self, folder: Path, findings: Sequence[Finding]) -> bool:
        """Act on each finding that proposes something, and say whether there was one.

        A finding may have a sentence for each of several secrets: one of them is enough until the next look.
        """
        self.folder, acted = folder, False
        for finding in findings:
            if finding.rule == RULE:
                acted |= any(self._acts(sentence) for sentence in finding.remedy.split(". "))
        return acted

    def _acts(self, words: str) -> bool:
        if _ONE_TAX in words:
            self._tax_as_one()
        elif _LESS_DETAIL in words and self.chance.random() < 0.5:
            self._change("project.yaml", lambda file: file["price"].update(client_detail="room"))
            self.done.append("less detail")
        elif found := _FEWER_HOURS.search(words):
            self._fewer_hours(float(found["hours"]))
        elif self._alternate(words):
            return True
        elif found := _OF_THE_PROJECT.search(words):
            kind = _KIND.search(found["further"])
            self._sum_of_the_project(found["amount"], kind["kind"] if kind else "services")
        elif _LESS_DETAIL in words:
            self._change("project.yaml", lambda file: file["price"].update(client_detail="room"))
            self.done.append("less detail")
        else:
            return False
        return True

    def _alternate(self, words: str) -> bool:
        """Act on an alternate: mostly it states what the change costs, at times the price is on request."""
        stated, on_request = _OF_AN_ALTERNATE.search(words), _ON_REQUEST.search(words)
        if on_request and (stated is None or self.chance.random() < 0.2):
            self._change(on_request["file"], lambda file: file.update(price="on request"))
            self.done.append("on request")
            return True
        if stated is None:
            return False
        self._change(
            stated["file"],
            lambda file: self._state(
                file["changes"].setdefault("project", {}).setdefault("price", {}),
                stated["key"],
                stated["amount"],
            ),
        )
        self.done.append("own cost of an alternate")
        return True

    def _sum_of_the_project(self, amount: str, tax_kind: str) -> None:
        key = f"own_{len(self.done)}"
        self._change("project.yaml", lambda file: self._state(file["price"], key, amount, tax_kind))
        self.done.append("own cost")

    def _state(self, price: dict[str, Any], key: str, least: str, tax_kind: str = "services") -> None:
        """State a sum, or add to the one that is stated."""
        sums = price.setdefault("surcharges", {})
        before = float(sums[key]["amount"].split()[0]) if key in sums else 0.0
        amount = before + float(least) * self.chance.uniform(1.1, 2.5)
        markup = self.chance.choice((0, 0, 10))
        sums[key] = {
            "name": "Handling",
            "amount": f"{amount:.2f} EUR",
            "rule": {"markup": f"{markup} %"},
            "tax_kind": tax_kind,
        }

    def _tax_as_one(self) -> None:
        def change(file: dict[str, Any]) -> None:
            price = file["price"]
            if self.one_supply:
                price["taxes"]["here"]["one_supply"] = "goods"
            else:
                del price["taxes"], price["place"]

        self._change("project.yaml", change)
        self.done.append("one tax" if self.one_supply else "before tax")

    def _fewer_hours(self, hours: float) -> None:
        """Take one condition off, and state what it costs: so many hours, at a usual rate."""

        def change(file: dict[str, Any]) -> None:
            labour = file["labour"]
            name = "conditions" if labour["conditions"] else "project_conditions"
            labour[name].pop()
            self._state(file["price"], f"own_{len(self.done)}", f"{hours * 45:.2f}")

        self._change("project.yaml", change)
        self.done.append("fewer hours")

    def _change(self, name: str, change: Any) -> None:
        path = self.folder / name
        content = read_yaml(path)
        change(content)
        write_yaml(path, content)
