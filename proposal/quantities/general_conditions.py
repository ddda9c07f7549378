"""What every job needs besides goods and the work on them, in the order in which estimators list it."""

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
