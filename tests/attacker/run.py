"""The long form of the attack: over many projects made by chance, acted upon, not acted upon, and as before.

.venv/bin/python -m tests.attacker.run 200

Over 200 projects whose houses act, 59 need no remedy, 59 one, 22 two, 17 three, and 43 from 4 to 10. No
finding is left. All 2,642 claims that are derived and right leave 25 % or more open below and above:
nothing is found out. Of guesses that there are no sums of the house's own where there are, 573 hold and
58 do not; of the 27 that look close 8 are right, and 70 more are near at one end alone, which only the
house sees. Guesses that there is the least of it look close 313 times and are right 55 times, where
chance would be 23. Of the same projects not acted upon, 107 give nothing away; the house is told of all
else. As before the rules, all 200 give away what is spread, a rule and hours of phases.
"""

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.attacker.acting import RULE
from tests.attacker.generated import made, made_and_acted, made_as_before
from tests.attacker.judging import Judged, hits, judged, recovered, untold

FOR_CERTAIN = ("consistent ranges",)
"""Attacks that take nothing for granted of how prices are made, so that they must never be wrong."""
GIVEN_AWAY_BEFORE = {"spread", "rule", "hours of a phase"}
"""What every project gives away where there are no rules, or the attacks are not worth their name."""


class Tally:
    """What attacks claim over many projects, and what of it holds.

    Whatever a claim that is no guess holds and leaves little open of, below or above, is found out. A guess
    is an assertion, and what a client may know of it is how close it is. Where those that look close are
    wrong more often, with every attack, a client cannot go by them. What else guesses hit is told beside it.
    """

    def __init__(self) -> None:
        """Begin with nothing."""
        self.claims: list[tuple[int, Judged]] = []

    def add(self, number: int, claims: list[Judged]) -> None:
        """Take in what is claimed of one project."""
        self.claims += [(number, one) for one in claims]

    @property
    def found_out(self) -> list[tuple[int, Judged]]:
        """Return what was found out, with the numbers of the projects."""
        return [(number, one) for number, one in self.claims if one.found_out]

    @property
    def wrong(self) -> list[tuple[int, Judged]]:
        """Return the claims for certain that do not hold what they are about."""
        return [(number, one) for number, one in self.claims if one.claim.by in FOR_CERTAIN and not one.held]

    def telling(self) -> list[str]:
        """Return the attacks whose guesses that look close are right at least as often as wrong."""
        found = []
        for attack in self.guesses():
            right, wrong = self.looking_narrow(attack)
            if right >= max(wrong, 1):
                found.append(attack)
        return found

    def looking_narrow(self, attack: str) -> tuple[int, int]:
        """Return how many guesses of an attack that look close are right, and how many wrong."""
        held = [
            one.held
            for _, one in self.claims
            if one.claim.by == attack and not one.derived and one.looks_narrow
        ]
        return held.count(True), held.count(False)

    def guesses(self) -> dict[str, tuple[int, int, int, float]]:
        """Return of how many guesses of each attack hold and leave little open, leave much, and are wrong.

        Last of all is how many would hold and leave little open by chance: those of one project are held to
        the values of all others.
        """
        found = {}
        for attack in sorted({one.claim.by for _, one in self.claims if not one.derived}):
            guesses = [
                (number, one) for number, one in self.claims if one.claim.by == attack and not one.derived
            ]
            right = sum(one.hits for _, one in guesses)
            wide = sum(one.held for _, one in guesses) - right
            chance = 0.0
            for number, one in guesses:
                others = [each.value for project, each in guesses if project != number]
                strangers = sum(hits(one.low, one.high, value) for value in others)
                chance += strangers / len(others) if others else 0.0
            found[attack] = (right, wide, len(guesses) - right - wide, chance)
        return found

    def print(self) -> None:
        """Print how often the claims of every attack are right, wrong, and leave enough open."""
        for attack in sorted({one.claim.by for _, one in self.claims if one.derived}):
            claims = [one for _, one in self.claims if one.claim.by == attack and one.derived]
            narrow, held = sum(one.hits for one in claims), sum(one.held for one in claims)
            wrong = len(claims) - held
            print(f"  {attack}: {narrow} right and narrow, {held - narrow} right and wide, {wrong} wrong")
        for attack, (right, wide, wrong, chance) in self.guesses().items():
            print(
                f"  {attack}, as guesses: {right} right and narrow ({chance:.0f} by chance), "
                f"{wide} right and wide, {wrong} wrong; of those that look narrow "
                "{} right, {} wrong".format(*self.looking_narrow(attack))
            )


def _plain(secret: str) -> str:
    """Return what a secret is called, whatever phase its hours are of."""
    return "hours of a phase" if secret.startswith("hours of ") else secret


def main() -> int:
    """Attack so many projects, print what was found out, and fail where something was that must not be.

    That is whatever is found out of projects acted upon, findings that they are left with, and whatever is
    found out of the others without the house having been told.
    """
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", type=int, nargs="?", default=200, help="How many projects.")
    parser.add_argument("--first", type=int, default=1, help="Number of the first.")
    chosen = parser.parse_args()
    numbers = range(chosen.first, chosen.first + chosen.count)
    acted, as_they_are = Tally(), Tally()
    remedies, ways = Counter[int](), Counter[str]()
    under, before = Counter[str](), Counter[str]()
    left: list[int] = []
    missed: list[tuple[int, Judged]] = []
    spared: list[int] = []
    clean = 0
    with tempfile.TemporaryDirectory() as folder:
        for number in numbers:
            one, house = made_and_acted(number, Path(folder) / f"acted-{number}")
            acted.add(number, judged(one))
            remedies[len(house.done)] += 1
            ways.update(house.done)
            left += [number for finding in one.findings if finding.rule == RULE]
            plain = made(number, Path(folder) / f"under-{number}")
            as_they_are.add(number, judged(plain))
            found = recovered(plain)
            clean += not found
            under.update({each.claim.secret for each in found})
            missed += [(number, each) for each in untold(plain)]
            old = made_as_before(number, Path(folder) / f"before-{number}")
            given_away = {_plain(each.claim.secret) for each in recovered(old)}
            before.update(given_away)
            spared += [number] if not given_away >= GIVEN_AWAY_BEFORE else []
            print(number, *house.done, sep=", ", flush=True)
    print(f"\n{chosen.count} projects whose houses act on their findings. So many needed so many remedies:")
    for count, projects in sorted(remedies.items()):
        print(f"  {count}: {projects}")
    print("Remedies:")
    for way, count in ways.most_common():
        print(f"  {way}: {count}")
    print(f"Findings left: {len(left)}{''.join(f' {number}' for number in left)}")
    print(f"Found out: {len(acted.found_out)}. Claims:")
    acted.print()
    for number, each in acted.found_out:
        print(f"  project {number}: {each}")
    print("Attacks whose guesses tell something:", ", ".join(acted.telling()) or "none")
    wrong = [*acted.wrong, *as_they_are.wrong]
    print(f"Claims for certain that are wrong: {len(wrong)}")
    for number, each in wrong:
        print(f"  project {number}: {each}")
    print(f"The same projects not acted upon; in {clean} nothing was found out. Found out in so many:")
    for secret, count in under.most_common():
        print(f"  {secret}: {count}")
    print(f"Of that the house was not told: {len(missed)}. Claims:")
    as_they_are.print()
    for number, each in missed:
        print(f"  project {number}: {each}")
    print(f"As before the rules, found out in so many of {chosen.count}:")
    for secret, count in before.most_common():
        print(f"  {secret}: {count}")
    print(f"Of {len(spared)} of them not all of that which all must give away was found out.")
    return 1 if acted.found_out or acted.telling() or wrong or left or missed or spared else 0


if __name__ == "__main__":
    sys.exit(main())
