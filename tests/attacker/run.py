"""The long form of the attack: over many projects made by chance, acted upon, not acted upon, and as before.

.venv/bin/python -m tests.attacker.run 200

Over 200 projects whose houses act, so many need 0, 1, 2 … 6 remedies: 37, 58, 60, 24, 12, 6, 3. No finding
is left. No attack whose narrow claims are mostly right finds anything out. Those that suppose that there
are no sums of the house's own hit 230 times and are wrong 554 times; that there is the least of it, 42 and
384 times; that it is at most half of a change, once and 10 times. Of the same projects not acted upon, 39
give nothing away; the house is told of all else. As before the rules, all 200 give away what is spread, a
rule and hours of phases.
"""

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.attacker.acting import RULE
from tests.attacker.generated import made, made_and_acted, made_as_before
from tests.attacker.judging import Judged, judged, recovered, untold


class Tally:
    """What attacks claim over many projects, and what of it holds.

    An attack that supposes how prices are made may hit a value by accident. Where its claims are wrong more
    often than they are right and leave little open, nobody can tell which to believe.
    """

    def __init__(self) -> None:
        """Begin with nothing."""
        self.right, self.wrong, self.wide = Counter[str](), Counter[str](), Counter[str]()
        self.hits: list[tuple[int, Judged]] = []

    def add(self, number: int, claims: list[Judged]) -> None:
        """Count what is claimed of one project."""
        for one in claims:
            kind = self.right if one.found_out else self.wide if one.held else self.wrong
            kind[one.claim.by] += 1
            if one.found_out:
                self.hits.append((number, one))

    def is_supported(self, one: Judged) -> bool:
        """Say whether claims of its attack that leave little open are right at least as often as wrong."""
        return self.right[one.claim.by] >= self.wrong[one.claim.by]

    def print(self) -> None:
        """Print how often the claims of every attack are right, wrong, and leave enough open."""
        for attack in sorted({*self.right, *self.wrong, *self.wide}):
            print(
                f"  {attack}: {self.right[attack]} right and narrow, {self.wide[attack]} right and wide, "
                f"{self.wrong[attack]} wrong"
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
            before.update({_plain(each.claim.secret) for each in recovered(old)})
            print(number, *house.done, sep=", ", flush=True)
    supported = [(number, each) for number, each in acted.hits if acted.is_supported(each)]
    unknown = [(number, each) for number, each in missed if as_they_are.is_supported(each)]
    print(f"\n{chosen.count} projects whose houses act on their findings. So many needed so many remedies:")
    for count, projects in sorted(remedies.items()):
        print(f"  {count}: {projects}")
    print("Remedies:")
    for way, count in ways.most_common():
        print(f"  {way}: {count}")
    print(f"Findings left: {len(left)}{''.join(f' {number}' for number in left)}")
    print(f"Found out: {len(supported)}; hit by accident: {len(acted.hits) - len(supported)}. Claims:")
    acted.print()
    for number, each in supported:
        print(f"  project {number}: {each}")
    print(f"The same projects not acted upon; in {clean} nothing was found out. Found out in so many:")
    for secret, count in under.most_common():
        print(f"  {secret}: {count}")
    print(
        f"Of that the house was not told: {len(unknown)}; by accident: {len(missed) - len(unknown)}. Claims:"
    )
    as_they_are.print()
    for number, each in missed:
        print(f"  project {number}: {each}")
    print(f"As before the rules, found out in so many of {chosen.count}:")
    for secret, count in before.most_common():
        print(f"  {secret}: {count}")
    return 1 if supported or left or unknown else 0


if __name__ == "__main__":
    sys.exit(main())
