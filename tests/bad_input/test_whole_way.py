"""Random edits of small good projects: each is refused with messages, or shown on pages.

`PROPOSAL_LONG_TESTS=24 python -m pytest tests/bad_input/test_whole_way.py` takes six hundred, and
`python -m tests.bad_input.generator` does the same by the thousand, with larger projects and every edition.
"""

from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.bad_input.bases import WEIGHTS, base, write
from tests.bad_input.deep_edits import edited
from tests.bad_input.generator import LEAST_SHARE_SHOWN, Outcome, outcome
from tests.bad_input.whole_way import whole_way
from tests.long_form import cases

# Small ones, which take a fifth of a second each.
SMALL: Mapping[str, int] = {"minimal": 90, "two rooms": 5, "every part": 5}
FIRST = 10_000_000
PARTS, EACH = cases(1), 25


def _outcomes(part: int, folder: Path) -> list[Outcome]:
    first = FIRST + part * EACH
    return [outcome(seed, folder / str(seed), edited(seed, SMALL)) for seed in range(first, first + EACH)]


@pytest.mark.parametrize("part", range(PARTS))
def test_random_edits_end_in_pages_or_messages(part: int, tmp_path: Path) -> None:
    found = _outcomes(part, tmp_path)
    failed = [
        f"{one.seed} ({', '.join(one.made)}): {one.failure}\n{one.traceback}" for one in found if one.failure
    ]
    assert not failed, "\n\n".join(failed)
    # Edits that break everything would test no page, and those that break nothing no message.
    assert EACH * LEAST_SHARE_SHOWN * 0.6 < sum(one.pages > 0 for one in found) < EACH * 0.9
    assert all(one.pages == 0 or one.pages > 10 for one in found)


@pytest.mark.parametrize("name", sorted(WEIGHTS))
def test_the_projects_that_are_edited_are_good(name: str, tmp_path: Path) -> None:
    one = base(name)
    write(tmp_path / "project", one.files)
    write(tmp_path / "company", one.company)
    assert whole_way(tmp_path / "project", tmp_path / "company", ("installer",)) > 20
