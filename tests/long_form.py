"""What takes long has a short form, which the suite runs, and a long one by command.

`PROPOSAL_LONG_TESTS=10 python -m pytest tests/publish/test_interruptions.py` tries ten times as many cases;
where one project stands for another (`tests/test_pipeline.py`), any number above 1 takes the whole example.
"""

import os

TIMES = int(os.environ.get("PROPOSAL_LONG_TESTS", "1"))
LONG = TIMES > 1


def cases(short: int) -> int:
    """Return how many cases to try where the suite tries a number of them."""
    return short * TIMES
