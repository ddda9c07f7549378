"""The long form of the attack: over many projects made by chance, with the rules and as before them.

.venv/bin/python -m tests.attacker.run 200
"""

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path

from tests.attacker.generated import made, made_as_before
from tests.attacker.judging import recovered, untold


def _plain(secret: str) -> str:
    """Return what a secret is called, whatever phase its hours are of."""
    return "hours of a phase" if secret.startswith("hours of ") else secret


def main() -> int:
    """Attack so many projects, print what was found out, and fail where the house was not told of it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", type=int, nargs="?", default=200, help="How many projects.")
    parser.add_argument("--first", type=int, default=1, help="Number of the first.")
    chosen = parser.parse_args()
    under, before = Counter[str](), Counter[str]()
    clean = 0
    missed = []
    with tempfile.TemporaryDirectory() as folder:
        for number in range(chosen.first, chosen.first + chosen.count):
            one = made(number, Path(folder) / f"under-{number}")
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
    print(f"Of that the house was not told: {len(missed)}")
    for number, each in missed:
        print(f"  project {number}: {each}")
    print(f"As before the rules, found out in so many of {chosen.count}:")
    for secret, count in before.most_common():
        print(f"  {secret}: {count}")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
