"""Equipment of rooms that is kept while prices change: what stands there now, written as decided by hand."""

from collections import Counter
from collections.abc import Iterator, Mapping

from proposal.imports.input_changes import InputChange
from proposal.imports.input_places import InputPlace
from proposal.pipeline import Computed

FIXED_FILE = "fixed.yaml"
FIXED_HEADS = ("# Decisions by hand. They are checked and never replaced.",)
_FIELDS: Mapping[str, str] = {
    "access_point": "access_points",
    "charger": "chargers",
    "breakout": "breakouts",
    "mixer": "mixers",
}
"""Fields of a room of fixed.yaml, by the kind of what they count."""


def kept_equipment(before: Computed, after: Computed) -> tuple[InputChange, ...]:
    """Return what is written so that rooms keep the equipment that they have, where it would change.

    before: the project as it is.  after: with other figures, equipment chosen anew.
    """
    now, then = _sizes(before), _sizes(after)
    return tuple(
        change
        for key, models in sorted(now.items())
        if models != then.get(key, Counter())
        for change in _written(*key, models)
    )


def _sizes(computed: Computed) -> Mapping[tuple[str, str], Counter[str]]:
    """Return how many of each model a room has, by its tag and the field that would say so."""
    return {
        (tag, _FIELDS[size.kind]): Counter(size.models)
        for kind in computed.design.kinds
        for size in kind.sizing.sizes
        for tag in kind.rooms
        if size.kind in _FIELDS and size.models
    }


def _written(tag: str, field: str, models: Counter[str]) -> Iterator[InputChange]:
    for model, count in sorted(models.items()):
        path = ("rooms", tag, field, model)
        where = InputPlace(FIXED_FILE, path, None)
        yield InputChange(".".join(("fixed", *path)), "", str(count), where, None)
