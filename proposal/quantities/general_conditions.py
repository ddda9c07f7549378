"""What every job needs besides goods and the work on them, in the order in which estimators list it.

Some of it is counted by how long people work on site.
"""

from typing import Literal, get_args

GeneralCondition = Literal[
    "supervision",
    "mobilisation",
    "lifts",
    "delivery",
    "storage",
    "waste",
    "parking",
    "permits",
    "insurance",
    "bond",
    "safety",
    "closeout",
]
GENERAL_CONDITIONS: tuple[GeneralCondition, ...] = get_args(GeneralCondition)
TimeCount = Literal["day on site", "week on site", "phase on site"]
COUNTED_IN_TIME: tuple[TimeCount, ...] = get_args(TimeCount)
"""What is counted in the programme; all else is counted in the design."""
