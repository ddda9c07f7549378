"""The long form of the attack: over many projects made by chance, with the rules and as before them.

.venv/bin/python -m tests.attacker.run 200
"""

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.attacker.generated import made, made_as_before
from tests.attacker.judging import judged, recovered, untold


def _plain(secret: str) -> str:
    """Return what a secret is called, whatever phase its hours are of."""
    return "hours of a phase" if secret.startswith("hours of ") else secret


def main() -> int:
    """Attack so many projects, print what was found out, and fail where the house was not told of it.

    An attack that supposes how prices are made may hit a value by accident. What it claims counts only where
    its claims hold more often than not: nobody can support the others.
    """
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", type=int, nargs="?", default=200, help="How many projects.")
    parser.add_argument("--first", type=int, default=1, help="Number of the first.")
    chosen = parser.parse_args()
    under, before = Counter[str](), Counter[str]()
    claimed, held = Counter[str](), Counter[str]()
    clean = 0
    missed = []
    with tempfile.TemporaryDirectory() as folder:
        for number in range(chosen.first, chosen.first + chosen.count):
            one = made(number, Path(folder) / f"under-{number}")
            for each in judged(one):
                claimed[each.claim.by] += 1
                held[each.claim.by] += each.held
            found = recovered(one)
            clean += not found
            under.update({each.claim.secret for each in found})
            missed += [(number, each) for each in untold(one)]
            old = made_as_before(number, Path(folder) / f"before-{number}")
            before.update({_plain(each.claim.secret) for each in recovered(old)})
            print(number, sorted({each.claim.secret for each in found}), flush=True)
    print(
        f"\n{chosen.count} projects under the rules; in {clean} nothing was found out. Found out in so many:"
    )
    for secret, count in under.most_common():
        print(f"  {secret}: {count}")
    print("How often what an attack claims holds:")
    for attack, count in claimed.most_common():
        print(f"  {attack}: {held[attack]} of {count}")
    supported = [
        (number, each) for number, each in missed if 2 * held[each.claim.by] > claimed[each.claim.by]
    ]
    print(f"Of that the house was not told: {len(supported)}; by accident: {len(missed) - len(supported)}")
    for number, each in missed:
        print(f"  project {number}: {each}")
    print(f"As before the rules, found out in so many of {chosen.count}:")
    for secret, count in before.most_common():
        print(f"  {secret}: {count}")
    return 1 if supported else 0


if __name__ == "__main__":
    sys.exit(main())
